//! Versions of a document's text: kept one after another, or beside, when two windows saved at once.
//!
//! Each version knows the one it was made from. The head is the version in force; undo moves it to its parent,
//! redo to the child that it last came from. A save made from a version that is no longer the head becomes a
//! version beside: it is kept and told, and the head stays where the other save put it.

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::documents::{MOST_TEXT, must_be_short, must_be_there};
use crate::error::Error;
use crate::ids::{DocumentId, VersionId};
use crate::open::Store;
use crate::rows::{id, maybe_id, time, word, words};
use crate::time::{By, Time};

/// One version of a document's text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Version {
    /// Its number in the store.
    pub id: VersionId,
    /// Whose text it is.
    pub document: DocumentId,
    /// Its number in the document: 1, 2, 3 in the order of saving.
    pub number: i64,
    /// What it was made from; none for the first.
    pub parent: Option<VersionId>,
    /// Where redo leads from here.
    pub redo: Option<VersionId>,
    /// The text.
    pub text: String,
    /// What changed, in the maker's words.
    pub says: String,
    /// Who saved it.
    pub by: String,
    /// When.
    pub at: Time,
}

words! {
    /// How a version stands to the one in force.
    Standing {
        /// It is in force.
        Head = "head",
        /// The head came from it.
        Past = "past",
        /// On a branch: undone, or saved beside.
        Beside = "beside",
    }
}

/// A version in a list, without its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VersionLine {
    /// Its number in the store.
    pub id: VersionId,
    /// Its number in the document.
    pub number: i64,
    /// What it was made from.
    pub parent: Option<VersionId>,
    /// How it stands to the head.
    pub standing: Standing,
    /// What changed.
    pub says: String,
    /// Who saved it.
    pub by: String,
    /// When.
    pub at: Time,
}

/// What became of a save.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Saved {
    /// It is the head now.
    Kept(Version),
    /// Another save came first: this one is kept beside, and the head is the other.
    Beside {
        /// What was saved now.
        version: Version,
        /// What is in force.
        head: Version,
    },
    /// It changes nothing against the head given here, so no version was made.
    Same(Version),
}

/// What became of an undo or redo.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stepped {
    /// This is the head now.
    To(Version),
    /// There is nothing before or after the head.
    End(Version),
    /// Another window moved the head to this one in the meantime; nothing was done.
    Moved(Version),
}

impl Store {
    /// The version in force.
    ///
    /// # Errors
    /// [`Error::NoDocument`], or the database's.
    pub fn head(&self, id: DocumentId) -> Result<Version, Error> {
        self.read(|db| head(db, id))
    }

    /// Any version, by its number in the store.
    ///
    /// # Errors
    /// [`Error::NoVersion`], or the database's.
    pub fn version(&self, id: VersionId) -> Result<Version, Error> {
        self.read(|db| load(db, id))
    }

    /// Saves a text that was made from the version `base`. Sending the same again changes nothing.
    ///
    /// # Errors
    /// [`Error::TooLong`], [`Error::NoDocument`], [`Error::NoVersion`] when `base` is another document's, or
    /// the database's.
    pub fn save(
        &self,
        id: DocumentId,
        base: VersionId,
        text: &str,
        says: &str,
        by: By<'_>,
    ) -> Result<Saved, Error> {
        must_fit(text)?;
        self.write(|db| {
            let head = head(db, id)?;
            let base = load_of(db, id, base)?;
            if text == head.text || (text == base.text && base.id != head.id) {
                return Ok(Saved::Same(head));
            }
            if base.id == head.id {
                let made = add(db, id, Some(base.id), (text, says), by)?;
                move_head(db, id, made, by.at)?;
                return Ok(Saved::Kept(load(db, made)?));
            }
            let version = match child_with_text(db, base.id, text)? {
                Some(already) => already,
                None => add(db, id, Some(base.id), (text, says), by)?,
            };
            Ok(Saved::Beside { version: load(db, version)?, head })
        })
    }

    /// Goes back to what the head was made from, if the head is still `base`.
    ///
    /// # Errors
    /// [`Error::NoDocument`], or the database's.
    pub fn undo(&self, id: DocumentId, base: VersionId, at: Time) -> Result<Stepped, Error> {
        self.write(|db| {
            let head = head(db, id)?;
            let Some(parent) = head.parent else { return Ok(end_or_moved(head, base)) };
            if head.id != base {
                return Ok(Stepped::Moved(head));
            }
            db.prepare_cached("UPDATE version SET redo = ?2 WHERE id = ?1")?
                .execute(params![parent.get(), head.id.get()])?;
            move_head(db, id, parent, at)?;
            Ok(Stepped::To(load(db, parent)?))
        })
    }

    /// Goes forward again to what was last undone, if the head is still `base`.
    ///
    /// # Errors
    /// [`Error::NoDocument`], or the database's.
    pub fn redo(&self, id: DocumentId, base: VersionId, at: Time) -> Result<Stepped, Error> {
        self.write(|db| {
            let head = head(db, id)?;
            let Some(child) = head.redo else { return Ok(end_or_moved(head, base)) };
            if head.id != base {
                return Ok(Stepped::Moved(head));
            }
            move_head(db, id, child, at)?;
            Ok(Stepped::To(load(db, child)?))
        })
    }

    /// The versions of a document without their texts, newest first, at most so many; those before a number,
    /// to turn the page.
    ///
    /// # Errors
    /// [`Error::NoDocument`], or the database's.
    pub fn versions(
        &self,
        id: DocumentId,
        before: Option<i64>,
        most: usize,
    ) -> Result<Vec<VersionLine>, Error> {
        self.read(|db| {
            let head = must_be_there(db, id)?.head;
            let mut rows = db.prepare_cached(
                "WITH RECURSIVE
                 page AS (SELECT * FROM version WHERE document = ?1 AND number < ?2
                          ORDER BY number DESC LIMIT ?3),
                 past (id, parent, number) AS (
                     SELECT id, parent, number FROM version WHERE id = ?4
                     UNION ALL
                     SELECT v.id, v.parent, v.number FROM version v JOIN past ON v.id = past.parent
                     WHERE v.number >= (SELECT min(number) FROM page))
                 SELECT id, number, parent, says, by, at,
                        CASE WHEN id = ?4 THEN 'head'
                             WHEN id IN (SELECT id FROM past) THEN 'past'
                             ELSE 'beside' END AS standing
                 FROM page ORDER BY number DESC",
            )?;
            let before = before.unwrap_or(i64::MAX);
            let most = i64::try_from(most).unwrap_or(i64::MAX);
            let lines = rows.query_map(params![id.get(), before, most, head.get()], line)?;
            Ok(lines.collect::<Result<_, _>>()?)
        })
    }

    /// Makes a new version with an old one's text and puts it in force.
    ///
    /// # Errors
    /// [`Error::NoDocument`], [`Error::NoVersion`], or the database's.
    pub fn restore_version(&self, id: DocumentId, version: VersionId, by: By<'_>) -> Result<Saved, Error> {
        self.write(|db| {
            let head = head(db, id)?;
            let old = load_of(db, id, version)?;
            if old.text == head.text {
                return Ok(Saved::Same(head));
            }
            let says = format!("back to version {}: {}", old.number, old.says);
            let made = add(db, id, Some(head.id), (&old.text, &says), by)?;
            move_head(db, id, made, by.at)?;
            Ok(Saved::Kept(load(db, made)?))
        })
    }
}

/// Refuses a text that is too long for a document.
pub(crate) fn must_fit(text: &str) -> Result<(), Error> {
    must_be_short("the text", text, MOST_TEXT)
}

/// Adds a version; `content` is its text and what it says.
pub(crate) fn add(
    db: &Connection,
    document: DocumentId,
    parent: Option<VersionId>,
    content: (&str, &str),
    by: By<'_>,
) -> Result<VersionId, Error> {
    db.prepare_cached(
        "INSERT INTO version (document, number, parent, text, says, by, at)
         SELECT ?1, coalesce(max(number), 0) + 1, ?2, ?3, ?4, ?5, ?6 FROM version WHERE document = ?1",
    )?
    .execute(params![
        document.get(),
        parent.map(VersionId::get),
        content.0,
        content.1,
        by.who,
        by.at.to_seconds()
    ])?;
    Ok(VersionId::new(db.last_insert_rowid()))
}

/// Puts a version in force.
pub(crate) fn move_head(
    db: &Connection,
    document: DocumentId,
    version: VersionId,
    at: Time,
) -> Result<(), Error> {
    db.prepare_cached("UPDATE document SET head = ?2, changed_at = ?3 WHERE id = ?1")?.execute(params![
        document.get(),
        version.get(),
        at.to_seconds()
    ])?;
    Ok(())
}

/// The version in force.
pub(crate) fn head(db: &Connection, document: DocumentId) -> Result<Version, Error> {
    load(db, must_be_there(db, document)?.head)
}

/// A version by its number.
fn load(db: &Connection, id: VersionId) -> Result<Version, Error> {
    let found = db
        .prepare_cached("SELECT * FROM version WHERE id = ?1")?
        .query_row([id.get()], version)
        .optional()?;
    found.ok_or(Error::NoVersion { id })
}

/// A version by its number, if it is this document's.
fn load_of(db: &Connection, document: DocumentId, id: VersionId) -> Result<Version, Error> {
    load(db, id).and_then(
        |found| {
            if found.document == document { Ok(found) } else { Err(Error::NoVersion { id }) }
        },
    )
}

/// The version made from another that has this text already: a save that was sent twice.
fn child_with_text(db: &Connection, parent: VersionId, text: &str) -> Result<Option<VersionId>, Error> {
    let found = db
        .prepare_cached("SELECT id FROM version WHERE parent = ?1 AND text = ?2")?
        .query_row(params![parent.get(), text], |row| id(row, "id", VersionId::new))
        .optional()?;
    Ok(found)
}

/// There is nowhere to go from this head, or it is not the one the caller saw.
fn end_or_moved(head: Version, base: VersionId) -> Stepped {
    if head.id == base { Stepped::End(head) } else { Stepped::Moved(head) }
}

/// A version from its row.
pub(crate) fn version(row: &Row<'_>) -> rusqlite::Result<Version> {
    Ok(Version {
        id: id(row, "id", VersionId::new)?,
        document: id(row, "document", DocumentId::new)?,
        number: row.get("number")?,
        parent: maybe_id(row, "parent", VersionId::new)?,
        redo: maybe_id(row, "redo", VersionId::new)?,
        text: row.get("text")?,
        says: row.get("says")?,
        by: row.get("by")?,
        at: time(row, "at")?,
    })
}

/// A line of the list from its row.
fn line(row: &Row<'_>) -> rusqlite::Result<VersionLine> {
    Ok(VersionLine {
        id: id(row, "id", VersionId::new)?,
        number: row.get("number")?,
        parent: maybe_id(row, "parent", VersionId::new)?,
        standing: word(row, "standing", Standing::from_word)?,
        says: row.get("says")?,
        by: row.get("by")?,
        at: time(row, "at")?,
    })
}
