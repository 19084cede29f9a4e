//! `keepwright completions`: completion scripts for shells.

use super::Cli;
use crate::desk::Desk;
use crate::failure::{Failure, Verdict};
use clap::{Args, CommandFactory};
use clap_complete::Shell;

/// Print a shell's completion script
#[derive(Debug, Args)]
#[command(
    after_help = "For bash: keepwright completions bash > ~/.local/share/bash-completion/completions/keepwright"
)]
pub(crate) struct Completions {
    /// The shell
    shell: Shell,
}

impl Completions {
    /// Prints the script.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn run(&self, desk: &mut Desk) -> Result<Verdict, Failure> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut Cli::command(), "keepwright", &mut script);
        desk.bytes(&script)?;
        Ok(Verdict::Fine)
    }
}
