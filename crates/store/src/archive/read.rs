//! Taking an archive in: everything is checked before anything is changed.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::{self, Read, Seek, Write};
use std::path::Path;

use rusqlite::Connection;
use zip::ZipArchive;

use super::names::{self, What};
use super::write::{pictures, texts};
use super::{ArchiveError, Limits};
use crate::backup::{Backup, make_ready, stamped};
use crate::documents::MOST_TEXT;
use crate::error::Error;
use crate::files::{self, Scratch};
use crate::open::Store;
use crate::pictures::{MOST_PICTURE, PictureKind, name_of};
use crate::time::Time;

/// Files up to this many bytes may be packed as well as they like.
const SMALL: u64 = 1 << 20;

impl Store {
    /// Puts the shop of an archive in this one's place. The present state is backed up first; that backup is
    /// returned. Devices, pairing codes and locks stay as they are.
    ///
    /// # Errors
    /// [`ArchiveError`] says what is wrong with it; then nothing is changed.
    pub fn read_archive<R: Read + Seek>(
        &self,
        from: R,
        limits: Limits,
        now: Time,
    ) -> Result<Backup, ArchiveError> {
        let mut archive = ZipArchive::new(from)?;
        let list = look_over(&mut archive, limits)?;
        let scratch = Scratch::new(self.folder());
        let found = unpack(&mut archive, &list, limits, scratch.file())?;
        let ready = make_ready(scratch.file(), names::DATABASE)?;
        compare(&ready, &found)?;
        // Everything is as it should be. Pictures first: without the database that names them they do no harm.
        for (index, entry) in list.iter().enumerate() {
            if let What::Picture(kind) = entry.what {
                let mut bytes = Vec::new();
                pour(&mut archive, (index, entry), &mut Room::new(MOST_PICTURE as u64), &mut bytes)?;
                keep_picture(self, &entry.name, &bytes, kind)?;
            }
        }
        Ok(self.take(&ready, &stamped("before-archive", now))?)
    }
}

/// A file of the archive whose name is good.
struct Entry {
    name: String,
    what: What,
}

/// What an archive brought beside the database.
struct Found {
    texts: BTreeMap<String, Vec<u8>>,
    pictures: BTreeSet<String>,
}

/// Looks at the list of files without unpacking any.
fn look_over<R: Read + Seek>(
    archive: &mut ZipArchive<R>,
    limits: Limits,
) -> Result<Vec<Entry>, ArchiveError> {
    if archive.len() > limits.entries {
        return Err(ArchiveError::Entries { given: archive.len(), most: limits.entries });
    }
    let mut list = Vec::new();
    let mut seen = BTreeSet::new();
    for index in 0..archive.len() {
        let file = archive.by_index_raw(index)?;
        let raw = String::from_utf8_lossy(file.name_raw()).into_owned();
        let bad = |says| ArchiveError::Name { name: raw.chars().take(120).collect(), says };
        let what = names::what(&raw).map_err(bad)?;
        // Also pipes and devices: nothing but plain files and folders.
        let plain = file.unix_mode().is_none_or(|mode| matches!(mode & 0o170_000, 0 | 0o040_000 | 0o100_000));
        if file.is_symlink() || !plain {
            return Err(bad("is a link or a device, not a file"));
        }
        if file.encrypted() {
            return Err(bad("is locked with a password"));
        }
        if !seen.insert(raw.clone()) {
            return Err(bad("is there twice"));
        }
        list.push(Entry { name: raw, what });
    }
    if archive.has_duplicate_names() {
        return Err(ArchiveError::NotAnArchive { says: "it holds two files of one name".to_owned() });
    }
    if archive.has_overlapping_files()? {
        return Err(ArchiveError::NotAnArchive { says: "its files lie over one another".to_owned() });
    }
    if !list.iter().any(|entry| entry.what == What::Database) {
        return Err(ArchiveError::NoDatabase);
    }
    Ok(list)
}

/// Unpacks everything once: the database to a file, texts to memory, pictures to be checked only.
fn unpack<R: Read + Seek>(
    archive: &mut ZipArchive<R>,
    list: &[Entry],
    limits: Limits,
    database: &Path,
) -> Result<Found, ArchiveError> {
    let mut left = limits.bytes;
    let mut found = Found { texts: BTreeMap::new(), pictures: BTreeSet::new() };
    for (index, entry) in list.iter().enumerate() {
        let packed = archive.by_index_raw(index)?.compressed_size();
        let most = match entry.what {
            What::Database => u64::MAX,
            What::Text | What::Nothing => MOST_TEXT as u64,
            What::Picture(_) => MOST_PICTURE as u64,
        };
        let by_ratio = packed.saturating_mul(limits.ratio).max(SMALL);
        let mut room = Room::new(left.min(most).min(by_ratio));
        let mut bytes = Vec::new();
        let poured = match entry.what {
            What::Database => {
                let mut file = File::create(database).map_err(|error| Error::file(database, &error))?;
                pour(archive, (index, entry), &mut room, &mut file)
            }
            _ => pour(archive, (index, entry), &mut room, &mut bytes),
        };
        if room.is_over {
            return Err(if by_ratio < left.min(most) {
                ArchiveError::Bomb { name: entry.name.clone(), most: limits.ratio }
            } else if most < left {
                ArchiveError::Name {
                    name: entry.name.clone(),
                    says: "is larger than any such file of a shop",
                }
            } else {
                ArchiveError::TooLarge { most: limits.bytes }
            });
        }
        poured?;
        left -= room.used;
        match entry.what {
            What::Text => {
                found.texts.insert(entry.name.clone(), bytes);
            }
            What::Picture(kind) => {
                must_be_named(&entry.name, &bytes, kind)?;
                found.pictures.insert(entry.name.clone());
            }
            What::Database | What::Nothing => {}
        }
    }
    Ok(found)
}

/// Checks that texts and pictures are those that the database names.
fn compare(db: &Connection, found: &Found) -> Result<(), ArchiveError> {
    let texts = texts(db)?;
    let differs = |name: &str, says| Err(ArchiveError::Differs { name: name.to_owned(), says });
    for (name, bytes) in &found.texts {
        match texts.get(name) {
            None => return differs(name, "the database does not know it"),
            Some(text) if text.as_bytes() != bytes => return differs(name, "its text is another"),
            Some(_) => {}
        }
    }
    if let Some(name) = texts.keys().find(|name| !found.texts.contains_key(*name)) {
        return differs(name, "it is missing");
    }
    let named: BTreeSet<String> =
        pictures(db)?.into_iter().map(|name| format!("{}{name}", names::PICTURES)).collect();
    if let Some(name) = named.difference(&found.pictures).next() {
        return differs(name, "it is missing");
    }
    match found.pictures.difference(&named).next() {
        Some(name) => differs(name, "the database does not know it"),
        None => Ok(()),
    }
}

/// Unpacks one file, as far as there is room.
fn pour<R: Read + Seek>(
    archive: &mut ZipArchive<R>,
    (index, entry): (usize, &Entry),
    room: &mut Room,
    to: &mut impl Write,
) -> Result<(), ArchiveError> {
    let mut from = archive.by_index(index)?;
    let mut piece = [0_u8; 16 << 10];
    loop {
        let count = from
            .read(&mut piece)
            .map_err(|error| ArchiveError::NotAnArchive { says: format!("{}: {error}", entry.name) })?;
        let Some(read) = piece.get(..count).filter(|read| !read.is_empty()) else { return Ok(()) };
        room.take(read.len())?;
        to.write_all(read).map_err(|error| Error::file(Path::new(&entry.name), &error))?;
    }
}

/// How much may still be unpacked: counted as it comes, whatever the archive says about itself.
struct Room {
    most: u64,
    used: u64,
    is_over: bool,
}

impl Room {
    fn new(most: u64) -> Self {
        Self { most, used: 0, is_over: false }
    }

    /// Takes so many bytes of it.
    fn take(&mut self, bytes: usize) -> Result<(), ArchiveError> {
        self.used = self.used.saturating_add(bytes as u64);
        self.is_over = self.used > self.most;
        if self.is_over { Err(ArchiveError::TooLarge { most: self.most }) } else { Ok(()) }
    }
}

/// Refuses a picture whose bytes are not those that its name says.
fn must_be_named(name: &str, bytes: &[u8], kind: PictureKind) -> Result<(), ArchiveError> {
    let is_so =
        name_of(bytes, kind).is_ok_and(|real| name.strip_prefix(names::PICTURES) == Some(real.as_str()));
    if is_so {
        Ok(())
    } else {
        Err(ArchiveError::Name { name: name.to_owned(), says: "is another picture than its name says" })
    }
}

/// Keeps a picture of the archive.
fn keep_picture(store: &Store, name: &str, bytes: &[u8], kind: PictureKind) -> Result<(), ArchiveError> {
    must_be_named(name, bytes, kind)?;
    let Some(name) = name.strip_prefix(names::PICTURES) else { return Ok(()) };
    let file = store.picture_file(name);
    if file.exists() {
        return Ok(());
    }
    let kept: io::Result<()> = files::write_whole(&file, bytes);
    Ok(kept.map_err(|error| Error::file(&file, &error))?)
}
