//! `keepwright packet`: everything that goes over the bench, as files.

use crate::desk::Desk;
use crate::failure::{Failure, Verdict};
use crate::job::JobArgs;
use crate::report;
use crate::show::count_of;
use clap::{Args, ValueEnum};
use keepwright_packet::packet::{OutFile, files};
use keepwright_packet::page::Paper;
use keepwright_packet::sheets::PacketSettings;
use std::fs;
use std::path::{Path, PathBuf};

/// Write the shop packet: pages to print, drawings, templates, solids, part list, timeline, plan
#[derive(Debug, Args)]
pub(crate) struct Packet {
    #[command(flatten)]
    job: JobArgs,
    /// The folder to write to; it is made if it is not there
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// The paper
    #[arg(long, value_enum, default_value_t = PaperChoice::Letter)]
    paper: PaperChoice,
    /// Write over files of an earlier packet
    #[arg(long)]
    force: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum PaperChoice {
    /// 8 1/2 by 11 in
    Letter,
    /// 210 by 297 mm
    A4,
}

impl Packet {
    /// Plans the box and writes the packet.
    ///
    /// # Errors
    /// When the box cannot be planned, a file is there already, or the folder cannot be written.
    pub(super) fn run(&self, desk: &mut Desk) -> Result<Verdict, Failure> {
        let job = self.job.plan()?;
        let paper = match self.paper {
            PaperChoice::Letter => Paper::Letter,
            PaperChoice::A4 => Paper::A4,
        };
        let settings = PacketSettings { paper, date: job.today.to_string() };
        let files = files(&job.plan, &settings).map_err(|e| Failure::Output { says: e.to_string() })?;
        write_all(&self.out, &files, self.force)?;
        let mut out = String::new();
        for file in &files {
            out.push_str(&self.out.join(&file.path).display().to_string());
            out.push('\n');
        }
        desk.data(&out)?;
        desk.talk(&format!(
            "{}: {} in {}; {}\n",
            job.plan.statement.name,
            count_of(files.len(), "file"),
            self.out.display(),
            report::tally(&job.plan.cautions)
        ))?;
        Ok(Verdict::of(job.plan.worst(), self.job.fail_on()))
    }
}

/// Writes all files or none: first beside their places under other names, then renamed.
fn write_all(folder: &Path, files: &[OutFile], force: bool) -> Result<(), Failure> {
    if folder.is_file() {
        return Err(Failure::input(
            format!("{} is a file, not a folder", folder.display()),
            "give --out the name of a folder",
        ));
    }
    let there: Vec<PathBuf> = files.iter().map(|f| folder.join(&f.path)).filter(|p| p.exists()).collect();
    if let (Some(first), false) = (there.first(), force) {
        let more = if there.len() > 1 { format!(" and {} more", there.len() - 1) } else { String::new() };
        return Err(Failure::input(
            format!("{} is there already{more}; nothing was written", first.display()),
            "choose another folder, or add --force to write over them",
        ));
    }
    let mut drafts: Vec<(PathBuf, PathBuf)> = Vec::with_capacity(files.len());
    let written = files.iter().try_for_each(|file| {
        let place = folder.join(&file.path);
        let mut name = place.file_name().unwrap_or_default().to_os_string();
        name.push(".part");
        let draft = place.with_file_name(name);
        if let Some(parent) = place.parent() {
            fs::create_dir_all(parent).map_err(|e| unwritable(parent, &e))?;
        }
        fs::write(&draft, &file.bytes).map_err(|e| unwritable(&draft, &e))?;
        drafts.push((draft, place));
        Ok(())
    });
    let placed = written.and_then(|()| {
        drafts
            .iter()
            .try_for_each(|(draft, place)| fs::rename(draft, place).map_err(|e| unwritable(place, &e)))
    });
    if placed.is_err() {
        for (draft, _) in &drafts {
            // A draft that cannot be taken away either is named in the first error's folder.
            let _ = fs::remove_file(draft);
        }
    }
    placed
}

fn unwritable(path: &Path, error: &std::io::Error) -> Failure {
    Failure::input(
        format!("cannot write {}: {error}", path.display()),
        "give --out a folder that may be written, with room on its disk",
    )
}
