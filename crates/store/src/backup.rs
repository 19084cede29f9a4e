//! Copies of the database: made, checked, rotated, taken back.
//!
//! Pictures are never changed or removed, so a copy of the database with the `pictures/` folder beside it is
//! the whole shop. Who gets in is not part of it: taking back an old copy must not let in a device that was
//! dismissed since, so the present devices, codes and locks stay.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use rusqlite::Connection;
use rusqlite::backup::{Backup as Copying, StepResult};

use crate::error::Error;
use crate::files::{self, Scratch};
use crate::migrate;
use crate::open::{BACKUPS, DATABASE, Store, Trouble, connect, inspect};
use crate::rows::words;
use crate::time::Time;

/// Newest copies made at the day's first start that are kept.
pub const DAILY_KEPT: usize = 7;
/// Of the older ones, the newest of each of so many weeks is kept.
pub const WEEKLY_KEPT: usize = 4;
/// Newest copies that are kept of those asked for, and as many of those made before something large.
pub const ASKED_KEPT: usize = 5;

/// Tables that stay with the machine.
const STAYS: [&str; 3] = ["pairing", "device", "failure"];
/// The length of a page of every database of ours, in bytes: what the library makes by itself.
const PAGE: i64 = 4096;
/// What a copy's name ends with.
const ENDING: &str = ".sqlite";

words! {
    /// Why a backup was made.
    Reason {
        /// At the day's first start.
        Daily = "daily",
        /// Somebody asked.
        Asked = "asked",
        /// Before something that replaces or changes all of the database.
        Before = "before",
    }
}

/// A copy of the database in `backups/`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Backup {
    /// The file's name; what [`Store::restore`] takes.
    pub name: String,
    /// Why it was made.
    pub reason: Reason,
    /// When; to the second, or to the day where it was made at the start.
    pub at: Time,
    /// Its length in bytes.
    pub size: u64,
}

impl Store {
    /// Copies the database now; the copy is checked before it gets its name. Rotates the older ones.
    ///
    /// # Errors
    /// [`Error`] when the disk is full or a copy fails its check; the older ones are then all still there.
    pub fn backup(&self, now: Time) -> Result<Backup, Error> {
        self.read(|db| make(self.folder(), db, &stamped("asked", now)))
    }

    /// The backups, newest first.
    ///
    /// # Errors
    /// [`Error::File`] when the folder cannot be read.
    pub fn backups(&self) -> Result<Vec<Backup>, Error> {
        list(self.folder())
    }

    /// Puts a backup in the database's place, whichever version wrote it. The present state is backed up first;
    /// that backup is returned. Devices, pairing codes and locks stay as they are.
    ///
    /// # Errors
    /// [`Error::NoBackup`], or [`Error::BadCopy`] when it fails its checks; then nothing is changed.
    pub fn restore(&self, name: &str, now: Time) -> Result<Backup, Error> {
        // Only names from the list: what comes in may be anything, also a path that leads elsewhere.
        let known = self.backups()?.into_iter().find(|backup| backup.name == name);
        let known = known.ok_or_else(|| Error::NoBackup { name: name.to_owned() })?;
        let incoming = Scratch::new(self.folder());
        let file = self.folder().join(BACKUPS).join(&known.name);
        fs::copy(&file, incoming.file()).map_err(|error| Error::file(&file, &error))?;
        let ready = make_ready(incoming.file(), name)?;
        self.take(&ready, &stamped("before-restore", now))
    }

    /// Puts a copy that is ready in the database's place, in one transaction; the present state is kept as the
    /// backup `before`.
    pub(crate) fn take(&self, ready: &Connection, before: &str) -> Result<Backup, Error> {
        self.alone(|live| {
            let kept = make(self.folder(), live, before)?;
            keep_access(ready, &self.folder().join(DATABASE))?;
            copy(ready, live)?;
            Ok(kept)
        })
    }
}

/// Checks a copy from outside through and through and brings it up to date, where it lies; `name` is for the
/// message.
pub(crate) fn make_ready(file: &Path, name: &str) -> Result<Connection, Error> {
    let bad = |trouble: Trouble| match trouble {
        Trouble::Failed(Error::Full) => Error::Full,
        other => Error::BadCopy { name: name.to_owned(), says: other.says() },
    };
    bring_up(file).map_err(bad)
}

/// As [`make_ready`], before it is put into words.
fn bring_up(file: &Path) -> Result<Connection, Trouble> {
    let mut db = connect(file)?;
    // A rollback journal: the copy must be one file.
    db.pragma_update(None, "journal_mode", "DELETE")?;
    if inspect(&db)? == 0 {
        return Err(Trouble::Stranger);
    }
    check(&db)?;
    if !migrate::is_as_made(&db)? {
        return Err(Trouble::Damaged("it declares other tables than its version has".to_owned()));
    }
    let page: i64 = db.query_row("PRAGMA page_size", [], |row| row.get(0))?;
    if page != PAGE {
        // Both must have pages of one size to be copied page by page.
        db.execute_batch(&format!("PRAGMA page_size = {PAGE}; VACUUM"))?;
    }
    migrate::migrate(&mut db)?;
    check(&db)?;
    Ok(db)
}

/// The whole check: pages, indexes, and that every reference leads somewhere.
fn check(db: &Connection) -> Result<(), Trouble> {
    let found: Vec<String> = db
        .prepare("PRAGMA integrity_check(3)")?
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    if found != ["ok"] {
        return Err(Trouble::Damaged(found.join("; ")));
    }
    let mut strays = db.prepare("PRAGMA foreign_key_check")?;
    let stray: Option<String> = strays.query_map([], |row| row.get(0))?.next().transpose()?;
    match stray {
        Some(table) => Err(Trouble::Damaged(format!("a row of `{table}` refers to one that is not there"))),
        None => Ok(()),
    }
}

/// Gives a copy the present devices, codes and locks instead of those it brought.
fn keep_access(copy: &Connection, live: &Path) -> Result<(), Error> {
    copy.execute("ATTACH ?1 AS live", [live.to_string_lossy()])?;
    for table in STAYS {
        copy.execute_batch(&format!(
            "DELETE FROM main.{table}; INSERT INTO main.{table} SELECT * FROM live.{table}"
        ))?;
    }
    copy.execute_batch("DETACH live")?;
    Ok(())
}

/// Empties the tables that stay with the machine, also of what deleted rows leave in the file.
fn drop_access(copy: &Connection) -> Result<(), Error> {
    for table in STAYS {
        copy.execute_batch(&format!("DELETE FROM {table}"))?;
    }
    copy.execute_batch("VACUUM")?;
    Ok(())
}

/// Copies a database over another, in one transaction of the other.
fn copy(from: &Connection, to: &mut Connection) -> Result<(), Error> {
    match Copying::new(from, to)?.step(-1)? {
        StepResult::Done => Ok(()),
        _ => Err(Error::Busy),
    }
}

/// The name of a copy made at a moment.
pub(crate) fn stamped(reason: &str, now: Time) -> String {
    let stamp: String = now.to_string().replace(' ', "-").replace(':', "");
    format!("{reason}-{stamp}")
}

/// Keeps the day's first copy, if it is not there already.
pub(crate) fn daily(folder: &Path, file: &Path, now: Time) -> Result<(), Error> {
    let day: String = now.to_string().chars().take(10).collect();
    let name = format!("daily-{day}");
    if folder.join(BACKUPS).join(format!("{name}{ENDING}")).exists() {
        return Ok(());
    }
    make(folder, &connect(file)?, &name).map(|_| ())
}

/// Keeps a copy of a database of an earlier version before it is brought up to date.
pub(crate) fn before_update(folder: &Path, db: &Connection, version: i64, now: Time) -> Result<(), Error> {
    make(folder, db, &stamped(&format!("before-update-of-{version}"), now)).map(|_| ())
}

/// Makes a copy under a name that is still free, checks it, and only then gives it that name; then rotates.
fn make(folder: &Path, db: &Connection, name: &str) -> Result<Backup, Error> {
    let backups = folder.join(BACKUPS);
    let file = backups.join(format!("{}{ENDING}", free_stem(&list(folder)?, name)));
    let part = files::unfinished(&file);
    let written = write_copy(db, &part).and_then(|()| {
        files::sync_file(&part)
            .and_then(|()| files::put_in_place(&part, &file))
            .map_err(|error| Error::file(&file, &error))
    });
    if let Err(error) = written {
        // The copy's trouble is the one to tell; what is left of it is swept at the next start too.
        let _ = fs::remove_file(&part);
        return Err(error);
    }
    let made = list(folder)?.into_iter().find(|backup| file.ends_with(&backup.name));
    let made = made.ok_or_else(|| Error::NoBackup { name: name.to_owned() })?;
    rotate(folder, &made.name)?;
    Ok(made)
}

/// A name for one more backup of the same second: later ones have higher numbers, also when earlier ones are gone.
fn free_stem(backups: &[Backup], name: &str) -> String {
    let last =
        backups.iter().filter(|backup| backup.name.starts_with(name)).map(|backup| turn(&backup.name)).max();
    match last {
        None => name.to_owned(),
        Some(turn) => format!("{name}-{}", turn + 1),
    }
}

/// The place of a backup among those of the same second: 1 for the first, whose name does not say it.
fn turn(name: &str) -> u32 {
    let last = name.strip_suffix(ENDING).and_then(|stem| stem.rsplit('-').next()).unwrap_or("");
    // A clock time has six digits, a day two of them after `daily`; those are no turns.
    let after_clock = name.strip_suffix(ENDING).is_some_and(|stem| {
        let mut steps = stem.rsplit('-').skip(1);
        steps.next().is_some_and(|step| step.len() == 6 && step.bytes().all(|byte| byte.is_ascii_digit()))
    });
    if after_clock { last.parse().unwrap_or(1) } else { 1 }
}

/// Writes the copy and checks it.
fn write_copy(db: &Connection, part: &Path) -> Result<(), Error> {
    let mut to = connect(part)?;
    copy(db, &mut to)?;
    to.pragma_update(None, "journal_mode", "DELETE")?;
    check(&to).map_err(|trouble| Error::BadCopy { name: "the new backup".to_owned(), says: trouble.says() })
}

/// The newest backup's name, for a message; none when there is none or the folder cannot be read.
pub(crate) fn newest(folder: &Path) -> Option<String> {
    list(folder).ok()?.into_iter().next().map(|backup| backup.name)
}

/// The backups of a folder, newest first. Files with other names are left alone.
pub(crate) fn list(folder: &Path) -> Result<Vec<Backup>, Error> {
    let folder = folder.join(BACKUPS);
    let entries = fs::read_dir(&folder).map_err(|error| Error::file(&folder, &error))?;
    let mut found = Vec::new();
    for entry in entries {
        let entry = entry.map_err(|error| Error::file(&folder, &error))?;
        let about = entry.metadata().map_err(|error| Error::file(&folder, &error))?;
        if let Some((reason, at)) = entry.file_name().to_str().and_then(read_name)
            && about.is_file()
        {
            let name = entry.file_name().to_string_lossy().into_owned();
            found.push(Backup { name, reason, at, size: about.len() });
        }
    }
    found.sort_by(|a, b| (b.at, turn(&b.name), &b.name).cmp(&(a.at, turn(&a.name), &a.name)));
    Ok(found)
}

/// What the name of a backup says: why, and when.
fn read_name(name: &str) -> Option<(Reason, Time)> {
    let stem = name.strip_suffix(ENDING)?;
    let (word, _) = stem.split_once('-')?;
    let reason = Reason::from_word(word)?;
    // The stamp begins at the first digit group of four: `before-update-of-1-2026-11-25-170611`.
    let start = stem.match_indices('-').map(|(at, _)| at + 1).find(|&at| {
        stem.get(at..at + 5)
            .is_some_and(|year| year.ends_with('-') && year.bytes().take(4).all(|byte| byte.is_ascii_digit()))
    })?;
    let date: jiff::civil::Date = stem.get(start..start + 10)?.parse().ok()?;
    let clock = match stem.get(start + 11..start + 17) {
        Some(six) if six.bytes().all(|byte| byte.is_ascii_digit()) => six.parse().unwrap_or(0),
        _ => 0,
    };
    let days = date.since(jiff::civil::date(1970, 1, 1)).ok()?.get_days();
    let seconds = clock / 10_000 * 3600 + clock / 100 % 100 * 60 + clock % 100;
    Some((reason, Time::of_day(i64::from(days)).plus(seconds)))
}

/// Removes the backups whose turn is over; never the one just made, whatever the clock says.
fn rotate(folder: &Path, made: &str) -> Result<(), Error> {
    let backups = list(folder)?;
    let mut stay = BTreeSet::from([made]);
    for reason in [Reason::Asked, Reason::Before] {
        stay.extend(of(&backups, reason).take(ASKED_KEPT).map(|backup| backup.name.as_str()));
    }
    stay.extend(of(&backups, Reason::Daily).take(DAILY_KEPT).map(|backup| backup.name.as_str()));
    let mut weeks = BTreeSet::new();
    for backup in of(&backups, Reason::Daily).skip(DAILY_KEPT) {
        // 1970 began on a Thursday; three days on, weeks begin on Monday.
        let week = (backup.at.day() + 3) / 7;
        if weeks.len() < WEEKLY_KEPT && weeks.insert(week) {
            stay.insert(&backup.name);
        }
    }
    for backup in backups.iter().filter(|backup| !stay.contains(backup.name.as_str())) {
        let file = folder.join(BACKUPS).join(&backup.name);
        fs::remove_file(&file).map_err(|error| Error::file(&file, &error))?;
    }
    Ok(())
}

/// The backups made for one reason, in the list's order.
fn of(backups: &[Backup], reason: Reason) -> impl Iterator<Item = &Backup> {
    backups.iter().filter(move |backup| backup.reason == reason)
}

/// Writes a copy of the database without what stays with the machine, as one closed file.
pub(crate) fn copy_for_others(store: &Store, file: &Path) -> Result<Connection, Error> {
    let mut to = connect(file)?;
    store.read(|db| copy(db, &mut to))?;
    to.pragma_update(None, "journal_mode", "DELETE")?;
    drop_access(&to)?;
    Ok(to)
}
