//! Settings of the bench: which cautions are folded, which units are shown.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, params};

use crate::documents::must_be_short;
use crate::error::Error;
use crate::open::Store;

/// The longest key, in bytes.
const MOST_KEY: usize = 200;
/// The longest value, in bytes.
const MOST_VALUE: usize = 64 << 10;

impl Store {
    /// A setting; none where it was never set.
    ///
    /// # Errors
    /// The database's.
    pub fn setting(&self, key: &str) -> Result<Option<String>, Error> {
        self.read(|db| {
            let mut rows = db.prepare_cached("SELECT value FROM setting WHERE key = ?1")?;
            Ok(rows.query_row([key], |row| row.get(0)).optional()?)
        })
    }

    /// All settings.
    ///
    /// # Errors
    /// The database's.
    pub fn settings(&self) -> Result<BTreeMap<String, String>, Error> {
        self.read(|db| {
            let mut rows = db.prepare_cached("SELECT key, value FROM setting")?;
            Ok(rows.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<Result<_, _>>()?)
        })
    }

    /// Sets a setting.
    ///
    /// # Errors
    /// [`Error::TooLong`], or the database's.
    pub fn set(&self, key: &str, value: &str) -> Result<(), Error> {
        must_be_short("the setting's name", key, MOST_KEY)?;
        must_be_short("the setting", value, MOST_VALUE)?;
        self.write(|db| {
            db.prepare_cached(
                "INSERT INTO setting (key, value) VALUES (?1, ?2)
                 ON CONFLICT (key) DO UPDATE SET value = excluded.value",
            )?
            .execute(params![key, value])?;
            Ok(())
        })
    }

    /// Forgets a setting.
    ///
    /// # Errors
    /// The database's.
    pub fn unset(&self, key: &str) -> Result<(), Error> {
        self.write(|db| {
            db.execute("DELETE FROM setting WHERE key = ?1", [key])?;
            Ok(())
        })
    }
}
