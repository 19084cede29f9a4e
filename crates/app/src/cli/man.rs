//! `keepwright man`: the man page, with every subcommand on it.

use super::Cli;
use crate::desk::Desk;
use crate::failure::{CODES, Failure, Verdict};
use clap::{Args, CommandFactory};
use clap_mangen::Man as Page;
use std::io;

/// Print the man page (roff), every command on one page
#[derive(Debug, Args)]
#[command(after_help = "To read it: keepwright man > keepwright.1; man ./keepwright.1")]
pub(crate) struct Man {}

impl Man {
    /// Prints the page.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn run(desk: &mut Desk) -> Result<Verdict, Failure> {
        let mut page = Vec::new();
        render(&mut page)
            .map_err(|error| Failure::Output { says: format!("cannot write the man page: {error}") })?;
        desk.bytes(&page)?;
        Ok(Verdict::Fine)
    }
}

fn render(page: &mut Vec<u8>) -> io::Result<()> {
    let mut all = Cli::command();
    all.build();
    let commands: Vec<clap::Command> = all.get_subcommands().cloned().collect();
    let whole = Page::new(all).manual("Keepwright");
    whole.render_title(page)?;
    whole.render_name_section(page)?;
    whole.render_synopsis_section(page)?;
    whole.render_description_section(page)?;
    whole.render_options_section(page)?;
    for command in commands {
        page.extend_from_slice(format!(".SH \"COMMAND {}\"\n", command.get_name().to_uppercase()).as_bytes());
        let more = command.get_after_help().map(ToString::to_string);
        let part = Page::new(command);
        // The parts' own headings become sub-headings of the command.
        let mut body = Vec::new();
        part.render_synopsis_section(&mut body)?;
        part.render_description_section(&mut body)?;
        part.render_options_section(&mut body)?;
        if let Some(more) = more {
            body.extend_from_slice(format!(".SS NOTE\n.nf\n{}\n.fi\n", roff(&more)).as_bytes());
        }
        let text = String::from_utf8_lossy(&body).replace("\n.SH ", "\n.SS ");
        let text = text.strip_prefix(".SH ").map_or(text.clone(), |rest| format!(".SS {rest}"));
        page.extend_from_slice(text.as_bytes());
    }
    page.extend_from_slice(format!(".SH \"EXIT STATUS\"\n.nf\n{}\n.fi\n", roff(CODES)).as_bytes());
    whole.render_version_section(page)?;
    whole.render_authors_section(page)
}

/// Plain text as the page wants it: no line begins with a sign that gives an order, no backslash and no dash by itself.
fn roff(text: &str) -> String {
    let lines: Vec<String> = text
        .lines()
        .map(|line| {
            let line = line.replace('\\', "\\\\").replace('-', "\\-");
            if line.starts_with(['.', '\'']) { format!("\\&{line}") } else { line }
        })
        .collect();
    lines.join("\n")
}
