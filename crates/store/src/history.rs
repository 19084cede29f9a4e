//! What happened to a document other than a change of its text.

use rusqlite::{Connection, params};

use crate::documents::must_be_there;
use crate::error::Error;
use crate::ids::DocumentId;
use crate::open::Store;
use crate::rows::time;
use crate::time::{By, Time};

/// One line of a document's history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// What changed: `made`, `copied`, `name`, `shelf`, `state`, `due`, `customer`, `stock`.
    pub what: String,
    /// What it was before; empty when there was nothing.
    pub was: String,
    /// What it became; empty when it was taken away.
    pub became: String,
    /// Who did it.
    pub by: String,
    /// When.
    pub at: Time,
}

impl Store {
    /// What happened to a document, latest first, at most so many lines.
    ///
    /// # Errors
    /// [`Error::NoDocument`], or the database's.
    pub fn history(&self, id: DocumentId, most: usize) -> Result<Vec<Event>, Error> {
        self.read(|db| {
            must_be_there(db, id)?;
            let mut lines = db.prepare_cached(
                "SELECT what, was, became, by, at FROM event WHERE document = ?1 ORDER BY id DESC LIMIT ?2",
            )?;
            let most = i64::try_from(most).unwrap_or(i64::MAX);
            let lines = lines.query_map(params![id.get(), most], |row| {
                Ok(Event {
                    what: row.get("what")?,
                    was: row.get("was")?,
                    became: row.get("became")?,
                    by: row.get("by")?,
                    at: time(row, "at")?,
                })
            })?;
            Ok(lines.collect::<Result<_, _>>()?)
        })
    }
}

/// Adds a line to a document's history.
pub(crate) fn note(
    db: &Connection,
    id: DocumentId,
    what: &str,
    change: (&str, &str),
    by: By<'_>,
) -> Result<(), Error> {
    db.prepare_cached(
        "INSERT INTO event (document, what, was, became, by, at) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    )?
    .execute(params![id.get(), what, change.0, change.1, by.who, by.at.to_seconds()])?;
    Ok(())
}
