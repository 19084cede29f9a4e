//! Opening a shop folder, and the two ways into its database: to read and to write.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};

use crate::error::{Error, OpenError};
use crate::time::Time;
use crate::{backup, files, migrate};

/// The database's name in the shop folder.
pub(crate) const DATABASE: &str = "shop.sqlite";
/// The file that the program at work holds locked.
const LOCK: &str = "shop.lock";
/// Where pictures lie.
pub(crate) const PICTURES: &str = "pictures";
/// Where backups lie.
pub(crate) const BACKUPS: &str = "backups";

/// Connections for reading, so that a long list does not make a short question wait.
const READERS: usize = 3;
/// How long to wait for another program that looks into the database.
const PATIENCE: Duration = Duration::from_secs(5);
/// How long to wait for a program that is just ending, or that started another (which holds all its files open
/// for a moment), to let go of the folder.
const PARTING: Duration = Duration::from_millis(500);

/// An open shop folder. Clones share it; the last one to go closes it.
#[derive(Clone, Debug)]
pub struct Store {
    inner: Arc<Inner>,
}

/// What the clones of a store share.
#[derive(Debug)]
struct Inner {
    folder: PathBuf,
    writer: Mutex<Connection>,
    readers: Vec<Mutex<Connection>>,
    turn: AtomicUsize,
    backup_trouble: Option<Error>,
    /// Held as long as the folder is open; dropped last, after the connections.
    _lock: File,
}

impl Store {
    /// Opens a shop folder, making it and what belongs in it where missing, and keeps the day's first backup.
    ///
    /// # Errors
    /// [`OpenError`] says what stands in the way and what to do; the folder is then as it was before.
    pub fn open(folder: &Path, now: Time) -> Result<Self, OpenError> {
        fs::create_dir_all(folder).map_err(|error| about_folder(folder, &error))?;
        let lock = lock(folder)?;
        let file = folder.join(DATABASE);
        look_before(folder, &file)?;
        let writer = open_database(folder, &file, now).map_err(|trouble| trouble.about(folder, &file))?;
        let readers = (0..READERS)
            .map(|_| connect(&file).map(Mutex::new))
            .collect::<Result<_, _>>()
            .map_err(|error| Trouble::from(error).about(folder, &file))?;
        let mut inner = Inner {
            folder: folder.to_owned(),
            writer: Mutex::new(writer),
            readers,
            turn: AtomicUsize::new(0),
            backup_trouble: None,
            _lock: lock,
        };
        inner.backup_trouble = backup::daily(&inner.folder, &file, now).err();
        Ok(Self { inner: Arc::new(inner) })
    }

    /// Why the backup at the start could not be kept. The store works nevertheless; the maker should know.
    pub fn backup_trouble(&self) -> Option<&Error> {
        self.inner.backup_trouble.as_ref()
    }

    /// The shop folder.
    pub fn folder(&self) -> &Path {
        &self.inner.folder
    }

    /// Does something to the database, all of it or nothing.
    pub(crate) fn write<T>(
        &self,
        act: impl FnOnce(&Transaction<'_>) -> Result<T, Error>,
    ) -> Result<T, Error> {
        let mut writer = held(&self.inner.writer);
        let transaction = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let made = act(&transaction)?;
        transaction.commit()?;
        Ok(made)
    }

    /// Looks at the database as it is at one moment.
    pub(crate) fn read<T>(&self, look: impl FnOnce(&Connection) -> Result<T, Error>) -> Result<T, Error> {
        let mut reader = self.reader();
        let transaction = reader.transaction()?;
        look(&transaction)
    }

    /// A connection for reading: one that is not in use where there is one.
    fn reader(&self) -> MutexGuard<'_, Connection> {
        let readers = &self.inner.readers;
        if let Some(idle) = readers.iter().find_map(|reader| reader.try_lock().ok()) {
            return idle;
        }
        let turn = self.inner.turn.fetch_add(1, Ordering::Relaxed) % READERS;
        // There are READERS of them, so the first stands in for one that cannot be missing.
        held(readers.get(turn).unwrap_or(&readers[0]))
    }

    /// Has the database alone: nobody reads or writes until `act` is done.
    pub(crate) fn alone<T>(&self, act: impl FnOnce(&mut Connection) -> Result<T, Error>) -> Result<T, Error> {
        let mut writer = held(&self.inner.writer);
        let _readers: Vec<_> = self.inner.readers.iter().map(held).collect();
        act(&mut writer)
    }
}

/// What a mutex guards. A thread that panicked left a transaction that was rolled back, so it is sound.
fn held(mutex: &Mutex<Connection>) -> MutexGuard<'_, Connection> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Takes the folder for this program alone; the system lets go of it however the program ends.
pub(crate) fn lock(folder: &Path) -> Result<File, OpenError> {
    let file = folder.join(LOCK);
    let lock = OpenOptions::new()
        .create(true)
        .truncate(false)
        .read(true)
        .write(true)
        .open(&file)
        .map_err(|error| about_folder(folder, &error))?;
    let asked = Instant::now();
    loop {
        match lock.try_lock() {
            Ok(()) => return Ok(lock),
            Err(TryLockError::Error(error)) => {
                return Err(OpenError::Other { file, says: error.to_string() });
            }
            Err(TryLockError::WouldBlock) if asked.elapsed() < PARTING => {
                thread::sleep(Duration::from_millis(20));
            }
            Err(TryLockError::WouldBlock) => {
                return Err(OpenError::InUse { folder: folder.to_owned() });
            }
        }
    }
}

/// What the system says about the folder, sorted.
fn about_folder(folder: &Path, error: &std::io::Error) -> OpenError {
    let (folder, says) = (folder.to_owned(), error.to_string());
    match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => OpenError::ReadOnly { folder, says },
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => OpenError::Full { folder },
        _ => OpenError::Folder { folder, says },
    }
}

/// Refuses a file that is no database, and the lack of one where backups say that there was one.
fn look_before(folder: &Path, file: &Path) -> Result<(), OpenError> {
    let mut head = Vec::new();
    match File::open(file).and_then(|opened| opened.take(16).read_to_end(&mut head)) {
        Ok(_) => {}
        Err(error) if error.kind() == ErrorKind::NotFound => {}
        Err(error) if error.kind() == ErrorKind::PermissionDenied => {
            return Err(about_folder(folder, &error));
        }
        Err(error) => {
            return Err(OpenError::NotAShop { file: file.to_owned(), says: error.to_string() });
        }
    }
    let newest_backup = backup::newest(folder);
    match head.as_slice() {
        b"SQLite format 3\0" => Ok(()),
        [] if newest_backup.is_none() => Ok(()),
        [] => Err(OpenError::Damaged {
            file: file.to_owned(),
            says: "it is missing or empty, yet there are backups of it".to_owned(),
            newest_backup,
        }),
        _ => Err(OpenError::NotAShop { file: file.to_owned(), says: "it is no database".to_owned() }),
    }
}

/// What stands in the way of opening the database.
pub(crate) enum Trouble {
    /// Written by a later program.
    Newer(i64),
    /// A database of another program.
    Stranger,
    /// The check of it found something.
    Damaged(String),
    /// It may only be read.
    ReadOnly,
    /// A call failed.
    Failed(Error),
}

impl From<rusqlite::Error> for Trouble {
    fn from(error: rusqlite::Error) -> Self {
        Self::Failed(error.into())
    }
}

impl From<Error> for Trouble {
    fn from(error: Error) -> Self {
        Self::Failed(error)
    }
}

impl Trouble {
    /// As the error of a folder that does not open.
    fn about(self, folder: &Path, file: &Path) -> OpenError {
        let (folder, file) = (folder.to_owned(), file.to_owned());
        match self {
            Self::Newer(found) => OpenError::Newer { file, found, known: migrate::known() },
            Self::Stranger => {
                OpenError::NotAShop { file, says: "it is the database of another program".to_owned() }
            }
            Self::Damaged(says) | Self::Failed(Error::Damaged { says }) => {
                OpenError::Damaged { newest_backup: backup::newest(&folder), file, says }
            }
            Self::ReadOnly | Self::Failed(Error::ReadOnly) => {
                OpenError::ReadOnly { folder, says: format!("{} may not be written", file.display()) }
            }
            Self::Failed(Error::Full) => OpenError::Full { folder },
            Self::Failed(other) => OpenError::Other { file, says: other.to_string() },
        }
    }

    /// As part of a sentence about a copy.
    pub(crate) fn says(self) -> String {
        match self {
            Self::Newer(found) => format!(
                "it was written by a newer Keepwright (its store is of version {found}, this program knows up to \
                 {})",
                migrate::known()
            ),
            Self::Stranger => "it is not the database of a Keepwright shop".to_owned(),
            Self::Damaged(says) => format!("it is damaged ({says})"),
            Self::ReadOnly => "it may not be written".to_owned(),
            Self::Failed(error) => error.to_string(),
        }
    }
}

/// Opens, checks and brings up to date the database of a folder.
fn open_database(folder: &Path, file: &Path, now: Time) -> Result<Connection, Trouble> {
    let is_new = fs::metadata(file).map_or(true, |about| about.len() == 0);
    let mut db = connect(file)?;
    if db.is_readonly(rusqlite::MAIN_DB)? {
        return Err(Trouble::ReadOnly);
    }
    let found = inspect(&db)?;
    // Only now is it known to be ours, so only now may anything be made or changed.
    for each in [folder.to_owned(), folder.join(PICTURES), folder.join(BACKUPS)] {
        fs::create_dir_all(&each)
            .and_then(|()| files::sweep(&each))
            .map_err(|error| Error::file(&each, &error))?;
    }
    db.pragma_update(None, "journal_mode", "WAL")?;
    if !is_new && found < migrate::known() && found > 0 {
        backup::before_update(folder, &db, found, now)?;
    }
    migrate::migrate(&mut db)?;
    // What the program was computing when it last ended is computing no more.
    db.execute(
        "UPDATE run SET state = 'dropped', changed_at = ?1 WHERE state = 'running'",
        [now.to_seconds()],
    )?;
    if is_new {
        files::sync_folder(folder).map_err(|error| Error::file(folder, &error))?;
    }
    Ok(db)
}

/// Looks whether a database is ours, whole and not too new; its version.
pub(crate) fn inspect(db: &Connection) -> Result<i64, Trouble> {
    let version = migrate::version(db)?;
    let mark: i64 = db.query_row("PRAGMA application_id", [], |row| row.get(0))?;
    if version > migrate::known() && mark == migrate::OURS {
        return Err(Trouble::Newer(version));
    }
    let tables: i64 = db.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if mark != migrate::OURS && (version != 0 || mark != 0 || tables != 0) {
        return Err(Trouble::Stranger);
    }
    let found: Vec<String> =
        db.prepare("PRAGMA quick_check(3)")?.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    match found.as_slice() {
        [fine] if fine == "ok" => Ok(version),
        _ => Err(Trouble::Damaged(found.join("; "))),
    }
}

/// A connection with the settings that all of ours have.
pub(crate) fn connect(file: &Path) -> rusqlite::Result<Connection> {
    let flags =
        OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let db = Connection::open_with_flags(file, flags)?;
    db.busy_timeout(PATIENCE)?;
    db.pragma_update(None, "foreign_keys", "ON")?;
    db.pragma_update(None, "trusted_schema", "OFF")?;
    // Each commit reaches the disk before it is acknowledged, not only the program's side of it.
    db.pragma_update(None, "synchronous", "FULL")?;
    Ok(db)
}

#[cfg(test)]
mod tests {
    //! What only the inside can bring about: a database that may not grow.

    use crate::{By, Error, Kind, OpenError, Saved, Store, Time};

    #[test]
    fn a_database_that_may_not_grow_tells_it_and_loses_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let me = By::new("me", Time::seconds(1_795_608_000));
        let store = Store::open(folder.path(), me.at).unwrap();
        let made = store.create(Kind::Box, "Tea box", "0", "new", me).unwrap();
        let pages = |most: i64| {
            store.alone(|db| {
                let now: i64 = db.query_row("PRAGMA page_count", [], |row| row.get(0))?;
                Ok(db.pragma_update(None, "max_page_count", now + most)?)
            })
        };
        pages(3).unwrap();
        let mut head = made.head;
        let mut count = 0;
        let error = loop {
            match store.save(made.id, head, &format!("{count} {}", "x".repeat(3000)), "edit", me) {
                Ok(Saved::Kept(version)) => (head, count) = (version.id, count + 1),
                Ok(other) => panic!("{other:?}"),
                Err(error) => break error,
            }
            assert!(count < 100, "it does not get full");
        };
        assert_eq!(error, Error::Full);
        assert_eq!(store.head(made.id).unwrap().id, head);
        assert_eq!(store.versions(made.id, None, 999).unwrap().len(), count + 1);
        pages(1000).unwrap();
        assert!(matches!(store.save(made.id, head, "room again", "edit", me), Ok(Saved::Kept(_))));
    }

    #[test]
    fn the_settings_that_keep_it_safe_are_on() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path(), Time::seconds(0)).unwrap();
        let settings = |db: &rusqlite::Connection| {
            let number = |name| db.query_row(&format!("PRAGMA {name}"), [], |row| row.get::<_, i64>(0));
            let journal: String = db.query_row("PRAGMA journal_mode", [], |row| row.get(0))?;
            Ok((journal, number("synchronous")?, number("foreign_keys")?, number("trusted_schema")?))
        };
        let want = ("wal".to_owned(), 2, 1, 0);
        assert_eq!(store.alone(|db| settings(db)).unwrap(), want);
        assert_eq!(store.read(settings).unwrap(), want);
        assert!(matches!(Store::open(folder.path(), Time::seconds(0)), Err(OpenError::InUse { .. })));
    }
}
