//! Files written whole or not at all: under a temporary name, to the disk, then renamed.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

/// What the name of an unfinished file ends with.
pub(crate) const UNFINISHED: &str = ".part";

/// What the database library adds to a database's name for the files beside it, and the database itself.
pub(crate) const SIDE_FILES: [&str; 4] = ["", "-journal", "-wal", "-shm"];

/// The temporary name of a file that is being written.
pub(crate) fn unfinished(file: &Path) -> PathBuf {
    let mut name = file.file_name().unwrap_or_default().to_owned();
    name.push(UNFINISHED);
    file.with_file_name(name)
}

/// Writes a file so that after a crash at any moment either all of it is there or none.
pub(crate) fn write_whole(file: &Path, bytes: &[u8]) -> io::Result<()> {
    let part = unfinished(file);
    let written = File::create(&part).and_then(|mut out| {
        out.write_all(bytes)?;
        out.sync_all()
    });
    let done = written.and_then(|()| put_in_place(&part, file));
    if done.is_err() {
        // The first failure is the one to tell; a leftover is swept at the next start.
        let _ = fs::remove_file(&part);
    }
    done
}

/// Renames a finished file that is on the disk already, and sees the new name to the disk too.
pub(crate) fn put_in_place(part: &Path, file: &Path) -> io::Result<()> {
    fs::rename(part, file)?;
    match file.parent() {
        Some(folder) => sync_folder(folder),
        None => Ok(()),
    }
}

/// Sees a file's contents to the disk.
pub(crate) fn sync_file(file: &Path) -> io::Result<()> {
    OpenOptions::new().read(true).write(true).open(file)?.sync_all()
}

/// Sees a folder's list of names to the disk.
#[cfg(unix)]
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Sees a folder's list of names to the disk: elsewhere a folder cannot be opened for that, and the file system
/// keeps names in its own journal.
#[cfg(not(unix))]
pub(crate) fn sync_folder(_folder: &Path) -> io::Result<()> {
    Ok(())
}

/// Removes what an earlier program, ended in the middle, left unfinished in a folder.
pub(crate) fn sweep(folder: &Path) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name();
        let left = name.to_string_lossy();
        let ours = SIDE_FILES
            .iter()
            .any(|ending| left.strip_suffix(ending).is_some_and(|rest| rest.ends_with(UNFINISHED)));
        if ours && entry.file_type()?.is_file() {
            fs::remove_file(entry.path())?;
        }
    }
    Ok(())
}

/// A file of its own to work in, gone when this goes.
pub(crate) struct Scratch {
    file: PathBuf,
}

impl Scratch {
    /// In this folder, under a name that nobody else in this program has.
    pub(crate) fn new(folder: &Path) -> Self {
        static MADE: AtomicU64 = AtomicU64::new(0);
        let number = MADE.fetch_add(1, Ordering::Relaxed);
        Self { file: folder.join(format!("scratch-{number}.sqlite{UNFINISHED}")) }
    }

    /// Where it is.
    pub(crate) fn file(&self) -> &Path {
        &self.file
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        for ending in SIDE_FILES {
            let mut name = self.file.clone().into_os_string();
            name.push(ending);
            // It may not be there; what cannot be removed now is swept at the next start.
            let _ = fs::remove_file(name);
        }
    }
}
