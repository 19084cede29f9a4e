//! The whole shop as one file: out to keep or to carry, and in again.
//!
//! ```text
//! README.txt         what this is
//! shop.sqlite        the database: every version, all history, ticks, runs, settings
//! shop.toml          the shop
//! boxes/SLUG.toml    each box in force, as the command line reads it
//! boards/SLUG.toml   each board in force
//! pictures/SUM.jpg   every picture
//! ```
//!
//! The texts are there for people and for the command line; coming in, the database counts, and an archive whose
//! texts say something else is refused rather than half believed. Devices, pairing codes and locks do not travel:
//! an archive from elsewhere must not let anybody in.

mod names;
mod read;
mod write;

use crate::error::Error;

/// How much an archive may bring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Most files and folders in it.
    pub entries: usize,
    /// Most bytes that it may unpack to.
    pub bytes: u64,
    /// Most times its packed length that a file of more than a mebibyte may unpack to.
    pub ratio: u64,
}

impl Limits {
    /// For a shop of decades: 20,000 files, 4 GiB. The best that packing can do with texts of many versions is
    /// about 170 to 1 (a match of 258 bytes takes some 12 bits); a file of zeros packs 1,000 to 1. So 400.
    pub fn usual() -> Self {
        Self { entries: 20_000, bytes: 4 << 30, ratio: 400 }
    }
}

/// Why an archive was not taken. Nothing in the shop was changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ArchiveError {
    /// It cannot be read as an archive.
    #[error(
        "this is no shop archive, or it is damaged: {says}. The shop is unchanged. Choose a file that the \
             bench wrote, and copy it again if it came by a stick or by mail"
    )]
    NotAnArchive {
        /// What the reader said.
        says: String,
    },
    /// More files than allowed.
    #[error("the archive holds {given} files; the most is {most}. The shop is unchanged")]
    Entries {
        /// How many it holds.
        given: usize,
        /// The most.
        most: usize,
    },
    /// It unpacks to more than allowed.
    #[error("the archive unpacks to more than {most} bytes. The shop is unchanged")]
    TooLarge {
        /// The most, in bytes.
        most: u64,
    },
    /// One file in it unpacks to far more than it is long.
    #[error(
        "`{name}` in the archive unpacks to more than {most} times its length: no shop does that. The shop \
             is unchanged"
    )]
    Bomb {
        /// The file.
        name: String,
        /// The most times.
        most: u64,
    },
    /// A file in it with a name that no shop has.
    #[error("`{name}` in the archive {says}. The shop is unchanged")]
    Name {
        /// The name.
        name: String,
        /// What is wrong, as part of a sentence.
        says: &'static str,
    },
    /// The database is not in it.
    #[error(
        "there is no `shop.sqlite` in the archive: it is not a whole shop. The shop is unchanged. A single \
             box is taken in on the page of boxes"
    )]
    NoDatabase,
    /// A text or picture that the database in it does not know, or one that it lacks.
    #[error(
        "`{name}` and the database in the archive do not go together: {says}. The shop is unchanged. To \
             take in a text that was changed by hand, take it in by itself"
    )]
    Differs {
        /// The file.
        name: String,
        /// What differs, as part of a sentence.
        says: &'static str,
    },
    /// The store refused or failed.
    #[error(transparent)]
    Store(#[from] Error),
}

impl From<zip::result::ZipError> for ArchiveError {
    fn from(error: zip::result::ZipError) -> Self {
        Self::NotAnArchive { says: error.to_string() }
    }
}
