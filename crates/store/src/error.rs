//! What can go wrong: each message says what was met, that nothing was lost, and what to do next.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;
use rusqlite::ffi::SQLITE_IOERR_SHMSIZE;

use crate::ids::{DocumentId, RunId, VersionId};

/// Why a shop folder could not be opened. Nothing in it was changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum OpenError {
    /// The folder cannot be made or is not a folder.
    #[error(
        "the shop folder {} cannot be made or entered: {says}. Choose another folder, or move what stands in \
         its place", folder.display()
    )]
    Folder {
        /// The folder asked for.
        folder: PathBuf,
        /// What the system said.
        says: String,
    },
    /// Files in the folder may not be written.
    #[error(
        "the shop folder {} is read-only: {says}. Nothing was changed. Allow this user to write to the folder \
         and to the files in it, or choose another folder", folder.display()
    )]
    ReadOnly {
        /// The folder asked for.
        folder: PathBuf,
        /// What the system said.
        says: String,
    },
    /// Another program has the folder open.
    #[error(
        "the shop folder {} is in use: another Keepwright has it open. Nothing was changed. Use its window, or \
         close it first", folder.display()
    )]
    InUse {
        /// The folder asked for.
        folder: PathBuf,
    },
    /// The database was written by a later version of the program.
    #[error(
        "{} was written by a newer Keepwright (its store is of version {found}, this program knows up to \
         {known}). Nothing was changed. Start the newer program, or open another shop folder", file.display()
    )]
    Newer {
        /// The database.
        file: PathBuf,
        /// Its version.
        found: i64,
        /// The latest version that this program knows.
        known: i64,
    },
    /// The file in the database's place is something else.
    #[error(
        "{} is not a Keepwright shop: {says}. Nothing was changed. Move that file away, or choose another \
         folder", file.display()
    )]
    NotAShop {
        /// The file.
        file: PathBuf,
        /// What it is instead.
        says: String,
    },
    /// The database is damaged.
    #[error(
        "{} is damaged: {says}. Nothing was changed. {}", file.display(), mend(newest_backup.as_deref())
    )]
    Damaged {
        /// The database.
        file: PathBuf,
        /// What the check of it found.
        says: String,
        /// The newest copy in `backups/`, if there is one.
        newest_backup: Option<String>,
    },
    /// There is no room on the disk.
    #[error(
        "the disk that holds {} is full: the shop could not be opened. Nothing was lost. Free some space, then \
         start again", folder.display()
    )]
    Full {
        /// The folder asked for.
        folder: PathBuf,
    },
    /// The database could not be opened for another reason.
    #[error("{} could not be opened: {says}. Nothing was changed. Try again; if it stays so, restart the \
             machine", file.display())]
    Other {
        /// The file.
        file: PathBuf,
        /// What the system or the database said.
        says: String,
    },
}

/// What to do about a damaged database.
fn mend(newest_backup: Option<&str>) -> String {
    match newest_backup {
        Some(name) => format!(
            "The newest backup is backups/{name}: open the folder with it (the damaged file is kept aside)"
        ),
        None => {
            "There is no backup beside it: bring back the folder from a copy of your own, or choose another \
                 folder"
                .to_owned()
        }
    }
}

/// Why a call to an open store failed. What it should have changed is unchanged, all of it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// There is no room on the disk.
    #[error(
        "the disk is full: this change was not kept, everything before it is. Free some space, then save again"
    )]
    Full,
    /// The database may no longer be written.
    #[error(
        "the shop folder has become read-only: this change was not kept, everything before it is. Allow writing \
         to the folder, then save again"
    )]
    ReadOnly,
    /// The database is damaged.
    #[error(
        "the shop's database is damaged ({says}): stop working in it, close the program and open it again"
    )]
    Damaged {
        /// What the database said.
        says: String,
    },
    /// Some other program holds the database.
    #[error(
        "the shop's database is held by another program: this change was not kept. Close what looks into \
         shop.sqlite, then save again"
    )]
    Busy,
    /// The database refused for another reason.
    #[error("the shop's database refused: {says}. This change was not kept, everything before it is")]
    Database {
        /// What the database said.
        says: String,
    },
    /// A file of the folder could not be read or written.
    #[error("{} could not be read or written: {says}. Nothing else was changed", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// What the system said.
        says: String,
    },
    /// No document has this address.
    #[error("there is no {kind} called `{slug}`. It may have another name; look at the list")]
    NoSlug {
        /// What was asked for.
        kind: &'static str,
        /// Its address.
        slug: String,
    },
    /// No document has this number.
    #[error("there is no document with the number {id}")]
    NoDocument {
        /// The number.
        id: DocumentId,
    },
    /// The document is of another kind.
    #[error("`{name}` is a {kind}; this can be done to a {wanted} only")]
    WrongKind {
        /// Its name.
        name: String,
        /// What it is.
        kind: &'static str,
        /// What it would have to be.
        wanted: &'static str,
    },
    /// No version has this number, or it is another document's.
    #[error("there is no version with the number {id} here")]
    NoVersion {
        /// The number.
        id: VersionId,
    },
    /// A name without a letter.
    #[error("the name is empty: write a name, such as `Letter box`")]
    NoName,
    /// A text longer than the store takes.
    #[error("{what} is {given} bytes long; the most is {most}. Make it shorter")]
    TooLong {
        /// Which text.
        what: &'static str,
        /// Its length in bytes.
        given: usize,
        /// The most, in bytes.
        most: usize,
    },
    /// A date that is none.
    #[error("`{given}` is no date: write year, month and day, such as 2026-12-24")]
    NoDate {
        /// What was given.
        given: String,
    },
    /// A folder holds one shop.
    #[error("this folder has its shop already: change that one")]
    ShopIsThere,
    /// A board that is not free.
    #[error("board `{board}` is not free: {held}. Choose another board, or release that first")]
    BoardTaken {
        /// The board's name.
        board: String,
        /// Who has it, as part of a sentence.
        held: String,
    },
    /// No cutting run has this number.
    #[error("there is no cutting run with the number {id}")]
    NoRun {
        /// The number.
        id: RunId,
    },
    /// A cutting run in another state than needed.
    #[error("the cutting run `{title}` is {state}; this can be done only while it is {wanted}")]
    RunState {
        /// Its title.
        title: String,
        /// Its state.
        state: &'static str,
        /// The state it would have to be in.
        wanted: &'static str,
    },
    /// An offcut of a board that the run does not have.
    #[error("the offcut `{offcut}` is said to come from a board that this cutting run does not have")]
    StrangeOffcut {
        /// The offcut's name.
        offcut: String,
    },
    /// A picture that is too large, empty, or under a name that no picture has.
    #[error("this picture cannot be kept: {says}")]
    Picture {
        /// Why.
        says: String,
    },
    /// No picture has this name.
    #[error("there is no picture `{name}`")]
    NoPicture {
        /// The name.
        name: String,
    },
    /// No backup has this name.
    #[error("there is no backup `{name}`: choose one from the list")]
    NoBackup {
        /// The name.
        name: String,
    },
    /// A backup or an archive that cannot be taken in its place.
    #[error("`{name}` cannot be taken: {says}. The shop is unchanged")]
    BadCopy {
        /// Backup or archive.
        name: String,
        /// Why.
        says: String,
    },
    /// A pairing code or a device's token that somebody has already.
    #[error("this code is in use already: make a new one")]
    CodeTaken,
}

impl From<rusqlite::Error> for Error {
    fn from(error: rusqlite::Error) -> Self {
        let says = error.to_string();
        // The index of the journal, a file of its own, could not be made larger.
        if error.sqlite_error().is_some_and(|error| error.extended_code == SQLITE_IOERR_SHMSIZE) {
            return Self::Full;
        }
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Self::Full,
            Some(ErrorCode::ReadOnly) => Self::ReadOnly,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => Self::Damaged { says },
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy,
            _ => match error {
                rusqlite::Error::FromSqlConversionFailure(..) => Self::Damaged { says },
                _ => Self::Database { says },
            },
        }
    }
}

impl Error {
    /// What the system said about a file.
    pub(crate) fn file(file: &Path, error: &std::io::Error) -> Self {
        match error.kind() {
            std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => Self::Full,
            _ => Self::File { file: file.to_owned(), says: error.to_string() },
        }
    }
}
