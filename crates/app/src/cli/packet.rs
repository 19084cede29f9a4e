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
            report::tally(&report::to_know(&job.plan))
        ))?;
        Ok(Verdict::of(job.plan.worst(), self.job.fail_on()))
    }
}

/// Writes all files or none: first beside their places under other names, then each is renamed; what was there before
/// is kept until all are in place, and put back if one cannot be.
fn write_all(folder: &Path, files: &[OutFile], force: bool) -> Result<(), Failure> {
    if folder.is_file() {
        return Err(Failure::input(
            format!("{} is a file, not a folder", folder.display()),
            "give --out the name of a folder",
        ));
    }
    let there: Vec<PathBuf> =
        files.iter().map(|f| folder.join(&f.path)).filter(|p| p.symlink_metadata().is_ok()).collect();
    if let (Some(first), false) = (there.first(), force) {
        let more = if there.len() > 1 { format!(" and {} more", there.len() - 1) } else { String::new() };
        return Err(Failure::input(
            format!("{} is there already{more}; nothing was written", first.display()),
            "choose another folder, or add --force to write over them",
        ));
    }
    let mut under_way = UnderWay::default();
    let done = under_way.draft(folder, files).and_then(|()| under_way.place());
    if done.is_ok() {
        under_way.forget_old();
    } else {
        under_way.undo();
    }
    done
}

/// What has been done to the folder so far, so that it can be undone.
#[derive(Default)]
struct UnderWay {
    /// Folders that were made, outer ones first.
    folders: Vec<PathBuf>,
    /// Files written under other names, and their places.
    drafts: Vec<(PathBuf, PathBuf)>,
    /// Old files moved aside, and their places.
    old: Vec<(PathBuf, PathBuf)>,
    /// Places that hold new files.
    placed: Vec<PathBuf>,
}

impl UnderWay {
    fn draft(&mut self, folder: &Path, files: &[OutFile]) -> Result<(), Failure> {
        for file in files {
            let place = folder.join(&file.path);
            if let Some(parent) = place.parent() {
                self.make(parent)?;
            }
            let draft = beside(&place, "new");
            self.drafts.push((draft.clone(), place));
            fs::write(&draft, &file.bytes).map_err(|e| unwritable(&draft, &e))?;
        }
        Ok(())
    }

    /// Makes a folder and those above it, noting each that was not there.
    fn make(&mut self, folder: &Path) -> Result<(), Failure> {
        let missing: Vec<&Path> =
            folder.ancestors().take_while(|p| !p.as_os_str().is_empty() && !p.exists()).collect();
        for part in missing.into_iter().rev() {
            fs::create_dir(part).map_err(|e| unwritable(part, &e))?;
            self.folders.push(part.to_owned());
        }
        Ok(())
    }

    fn place(&mut self) -> Result<(), Failure> {
        for (draft, place) in &self.drafts {
            if place.is_dir() {
                return Err(Failure::input(
                    format!("{} is a folder, where a file must go", place.display()),
                    "move it away, or give --out another folder",
                ));
            }
            if place.symlink_metadata().is_ok() {
                let aside = beside(place, "old");
                fs::rename(place, &aside).map_err(|e| unwritable(place, &e))?;
                self.old.push((aside, place.clone()));
            }
            fs::rename(draft, place).map_err(|e| unwritable(place, &e))?;
            self.placed.push(place.clone());
        }
        Ok(())
    }

    fn forget_old(&self) {
        for (aside, _) in &self.old {
            // The new packet is whole; an old file that stays beside it does no harm.
            let _ = fs::remove_file(aside);
        }
    }

    /// Puts the folder back as it was, as far as it lets itself be.
    fn undo(&self) {
        for place in &self.placed {
            let _ = fs::remove_file(place);
        }
        for (aside, place) in &self.old {
            let _ = fs::rename(aside, place);
        }
        for (draft, _) in &self.drafts {
            let _ = fs::remove_file(draft);
        }
        for folder in self.folders.iter().rev() {
            let _ = fs::remove_dir(folder);
        }
    }
}

/// A name in the same folder that no packet and no other run of this program has.
fn beside(place: &Path, what: &str) -> PathBuf {
    let mut name = std::ffi::OsString::from(".");
    name.push(place.file_name().unwrap_or_default());
    name.push(format!(".{}.{what}", std::process::id()));
    place.with_file_name(name)
}

fn unwritable(path: &Path, error: &std::io::Error) -> Failure {
    Failure::input(
        format!("cannot write {}: {error}", path.display()),
        "give --out a folder that may be written, with room on its disk",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .into_iter()
            .flatten()
            .filter_map(|e| e.ok()?.file_name().into_string().ok())
            .collect();
        names.sort();
        names
    }

    fn file(path: &str, text: &str) -> OutFile {
        OutFile { path: path.to_owned(), bytes: text.as_bytes().to_vec() }
    }

    /// A folder of this test's own under the system's folder for such, empty.
    fn scratch(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("keepwright-packet-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        folder
    }

    #[test]
    fn a_packet_that_cannot_be_placed_leaves_the_folder_as_it_was() {
        let folder = scratch("undo");
        fs::create_dir_all(folder.join("b.txt")).unwrap();
        fs::write(folder.join("a.txt"), "old").unwrap();
        let new = [file("a.txt", "new"), file("loose/c.txt", "new"), file("b.txt", "new")];
        let refused = write_all(&folder, &new, true).unwrap_err().text();
        assert!(refused.contains("b.txt is a folder"), "{refused}");
        assert_eq!(names(&folder), ["a.txt", "b.txt"]);
        assert_eq!(fs::read_to_string(folder.join("a.txt")).unwrap(), "old");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn force_replaces_and_leaves_nothing_beside() {
        let folder = scratch("force");
        write_all(&folder, &[file("a.txt", "1"), file("loose/c.txt", "1")], false).unwrap();
        let refused = write_all(&folder, &[file("a.txt", "2"), file("loose/c.txt", "2")], false);
        let refused = refused.unwrap_err().text();
        assert!(refused.contains("a.txt is there already and 1 more"), "{refused}");
        assert_eq!(fs::read_to_string(folder.join("a.txt")).unwrap(), "1");
        write_all(&folder, &[file("a.txt", "2"), file("loose/c.txt", "2")], true).unwrap();
        assert_eq!(fs::read_to_string(folder.join("loose/c.txt")).unwrap(), "2");
        assert_eq!(names(&folder), ["a.txt", "loose"]);
        assert_eq!(names(&folder.join("loose")), ["c.txt"]);
        fs::remove_dir_all(&folder).unwrap();
    }
}
