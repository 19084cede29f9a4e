//! Documents: boxes, boards and the shop, each a name, an address and the head of its versions.

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::error::Error;
use crate::history::note;
use crate::ids::{DocumentId, VersionId};
use crate::open::Store;
use crate::rows::{id, maybe_id, time, word, words};
use crate::time::{By, Time};
use crate::versions;

/// The longest name, in bytes.
pub const MOST_NAME: usize = 200;
/// The longest text of a document, in bytes: hundreds of times what a box takes.
pub const MOST_TEXT: usize = 1 << 20;
/// The longest address, in bytes.
const MOST_SLUG: usize = 60;
/// Words that pages want for addresses of their own, and names that some systems refuse for files.
const NO_SLUGS: [&str; 16] = [
    "new", "bin", "from", "import", "export", "all", "compare", "con", "nul", "prn", "aux", "com1", "com2",
    "lpt1", "lpt2", "index",
];

words! {
    /// What a document is.
    Kind {
        /// The statement of a box.
        Box = "box",
        /// A board of the rack.
        Board = "board",
        /// The shop: saws, blades, rates, defaults. A folder holds one.
        Shop = "shop",
    }
}

words! {
    /// Where a document lies.
    Shelf {
        /// In its list.
        Kept = "kept",
        /// In the bin; nothing is lost there.
        Bin = "bin",
    }
}

/// A document, without its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Document {
    /// Its number.
    pub id: DocumentId,
    /// What it is.
    pub kind: Kind,
    /// Its address: lower-case letters, digits and hyphens; one of its own within the kind; never changes.
    pub slug: String,
    /// Its name.
    pub name: String,
    /// Where it lies.
    pub shelf: Shelf,
    /// The version that is in force.
    pub head: VersionId,
    /// What it was copied from.
    pub copied_from: Option<DocumentId>,
    /// When it was made.
    pub made_at: Time,
    /// When its text, name or shelf changed last.
    pub changed_at: Time,
}

impl Store {
    /// Makes a document with its first version; `says` names what was done, such as `from contents`.
    ///
    /// # Errors
    /// [`Error::NoName`], [`Error::TooLong`], [`Error::ShopIsThere`], or the database's.
    pub fn create(
        &self,
        kind: Kind,
        name: &str,
        text: &str,
        says: &str,
        by: By<'_>,
    ) -> Result<Document, Error> {
        let name = good_name(name)?;
        self.write(|db| {
            let made = New { kind, name, text, says, copied_from: None };
            add(db, &made, by)
        })
    }

    /// The document at an address, also one in the bin.
    ///
    /// # Errors
    /// [`Error::NoSlug`], or the database's.
    pub fn document(&self, kind: Kind, slug: &str) -> Result<Document, Error> {
        let missing = || Error::NoSlug { kind: kind.word(), slug: slug.to_owned() };
        self.read(|db| {
            let sql = "SELECT * FROM document WHERE kind = ?1 AND slug = ?2";
            let found = db.prepare_cached(sql)?.query_row(params![kind.word(), slug], document).optional()?;
            found.ok_or_else(missing)
        })
    }

    /// The document with a number.
    ///
    /// # Errors
    /// [`Error::NoDocument`], or the database's.
    pub fn document_by_id(&self, id: DocumentId) -> Result<Document, Error> {
        self.read(|db| must_be_there(db, id))
    }

    /// The shop's document; none before it is made.
    ///
    /// # Errors
    /// The database's.
    pub fn shop(&self) -> Result<Option<Document>, Error> {
        self.read(|db| {
            Ok(db.query_row("SELECT * FROM document WHERE kind = 'shop'", [], document).optional()?)
        })
    }

    /// All documents of a kind on a shelf, last changed first.
    ///
    /// # Errors
    /// The database's.
    pub fn documents(&self, kind: Kind, shelf: Shelf) -> Result<Vec<Document>, Error> {
        self.read(|db| {
            let mut rows = db.prepare_cached(
                "SELECT * FROM document WHERE kind = ?1 AND shelf = ?2 ORDER BY changed_at DESC, id DESC",
            )?;
            Ok(rows.query_map(params![kind.word(), shelf.word()], document)?.collect::<Result<_, _>>()?)
        })
    }

    /// Makes another document of the same kind, with its own name and the text given, which is the original's
    /// with the name in it changed.
    ///
    /// # Errors
    /// As [`Store::create`]; [`Error::NoDocument`].
    pub fn copy(&self, id: DocumentId, name: &str, text: &str, by: By<'_>) -> Result<Document, Error> {
        let name = good_name(name)?;
        self.write(|db| {
            let original = must_be_there(db, id)?;
            let says = format!("copy of {}", original.name);
            let made = New { kind: original.kind, name, text, says: &says, copied_from: Some(id) };
            let copy = add(db, &made, by)?;
            note(db, copy.id, "copied", (&original.name, &copy.name), by)?;
            Ok(copy)
        })
    }

    /// Gives a document another name. Its address stays.
    ///
    /// # Errors
    /// [`Error::NoName`], [`Error::TooLong`], [`Error::NoDocument`], or the database's.
    pub fn rename(&self, id: DocumentId, name: &str, by: By<'_>) -> Result<Document, Error> {
        let name = good_name(name)?;
        self.write(|db| {
            let was = must_be_there(db, id)?;
            if was.name != name {
                db.execute(
                    "UPDATE document SET name = ?2, changed_at = ?3 WHERE id = ?1",
                    params![id.get(), name, by.at.to_seconds()],
                )?;
                note(db, id, "name", (&was.name, name), by)?;
            }
            must_be_there(db, id)
        })
    }

    /// Puts a document into the bin.
    ///
    /// # Errors
    /// [`Error::NoDocument`]; [`Error::BoardTaken`] for a board that is reserved; or the database's.
    pub fn bin(&self, id: DocumentId, by: By<'_>) -> Result<Document, Error> {
        self.write(|db| {
            crate::boards::must_not_be_reserved(db, id)?;
            shelve(db, id, Shelf::Bin, by)
        })
    }

    /// Takes a document out of the bin.
    ///
    /// # Errors
    /// [`Error::NoDocument`], or the database's.
    pub fn unbin(&self, id: DocumentId, by: By<'_>) -> Result<Document, Error> {
        self.write(|db| shelve(db, id, Shelf::Kept, by))
    }
}

/// A document about to be made.
pub(crate) struct New<'a> {
    pub(crate) kind: Kind,
    pub(crate) name: &'a str,
    pub(crate) text: &'a str,
    pub(crate) says: &'a str,
    pub(crate) copied_from: Option<DocumentId>,
}

/// Makes a document, its first version and what belongs to its kind.
pub(crate) fn add(db: &Connection, new: &New<'_>, by: By<'_>) -> Result<Document, Error> {
    versions::must_fit(new.text)?;
    if new.kind == Kind::Shop
        && db.query_row("SELECT 1 FROM document WHERE kind = 'shop'", [], |_| Ok(())).optional()?.is_some()
    {
        return Err(Error::ShopIsThere);
    }
    let slug = free_slug(db, new.kind, new.name)?;
    let at = by.at.to_seconds();
    // The head is put right below, in the same transaction: document and version refer to each other.
    db.execute(
        "INSERT INTO document (kind, slug, name, shelf, head, copied_from, made_at, changed_at)
         VALUES (?1, ?2, ?3, 'kept', 0, ?4, ?5, ?5)",
        params![new.kind.word(), slug, new.name, new.copied_from.map(DocumentId::get), at],
    )?;
    let id = DocumentId::new(db.last_insert_rowid());
    let head = versions::add(db, id, None, (new.text, new.says), by)?;
    versions::move_head(db, id, head, by.at)?;
    match new.kind {
        Kind::Box => {
            db.execute("INSERT INTO job (document, state, customer) VALUES (?1, 'idea', '')", [id.get()])?;
        }
        Kind::Board => {
            db.execute("INSERT INTO stock (document, state) VALUES (?1, 'free')", [id.get()])?;
        }
        Kind::Shop => {}
    }
    note(db, id, "made", ("", new.name), by)?;
    must_be_there(db, id)
}

/// The document with a number, or the error that there is none.
pub(crate) fn must_be_there(db: &Connection, id: DocumentId) -> Result<Document, Error> {
    let found = db
        .prepare_cached("SELECT * FROM document WHERE id = ?1")?
        .query_row([id.get()], document)
        .optional()?;
    found.ok_or(Error::NoDocument { id })
}

/// The document with a number, if it is of this kind.
pub(crate) fn must_be(db: &Connection, id: DocumentId, kind: Kind) -> Result<Document, Error> {
    let found = must_be_there(db, id)?;
    if found.kind == kind {
        Ok(found)
    } else {
        Err(Error::WrongKind { name: found.name, kind: found.kind.word(), wanted: kind.word() })
    }
}

/// A document from its row.
pub(crate) fn document(row: &Row<'_>) -> rusqlite::Result<Document> {
    Ok(Document {
        id: id(row, "id", DocumentId::new)?,
        kind: word(row, "kind", Kind::from_word)?,
        slug: row.get("slug")?,
        name: row.get("name")?,
        shelf: word(row, "shelf", Shelf::from_word)?,
        head: id(row, "head", VersionId::new)?,
        copied_from: maybe_id(row, "copied_from", DocumentId::new)?,
        made_at: time(row, "made_at")?,
        changed_at: time(row, "changed_at")?,
    })
}

/// Puts a document on a shelf.
fn shelve(db: &Connection, id: DocumentId, shelf: Shelf, by: By<'_>) -> Result<Document, Error> {
    let was = must_be_there(db, id)?;
    if was.shelf != shelf {
        db.execute(
            "UPDATE document SET shelf = ?2, changed_at = ?3 WHERE id = ?1",
            params![id.get(), shelf.word(), by.at.to_seconds()],
        )?;
        note(db, id, "shelf", (was.shelf.word(), shelf.word()), by)?;
    }
    must_be_there(db, id)
}

/// A name without blanks around it, if it is one.
pub(crate) fn good_name(name: &str) -> Result<&str, Error> {
    let name = name.trim();
    if !name.chars().any(char::is_alphanumeric) {
        return Err(Error::NoName);
    }
    must_be_short("the name", name, MOST_NAME)?;
    Ok(name)
}

/// Refuses a text that is longer than it may be.
pub(crate) fn must_be_short(what: &'static str, text: &str, most: usize) -> Result<(), Error> {
    if text.len() > most { Err(Error::TooLong { what, given: text.len(), most }) } else { Ok(()) }
}

/// An address made from a name, one that no document of the kind has.
fn free_slug(db: &Connection, kind: Kind, name: &str) -> Result<String, Error> {
    let stem = match slug_of(name) {
        stem if stem.is_empty() => kind.word().to_owned(),
        stem if NO_SLUGS.contains(&stem.as_str()) => format!("{stem}-{}", kind.word()),
        stem => stem,
    };
    let mut taken = db.prepare_cached("SELECT 1 FROM document WHERE kind = ?1 AND slug = ?2")?;
    let mut slug = stem.clone();
    let mut number = 1_u64;
    while taken.exists(params![kind.word(), slug])? {
        number += 1;
        slug = format!("{stem}-{number}");
    }
    Ok(slug)
}

/// A name as an address: letters and digits of ASCII, lower case, anything else a hyphen.
fn slug_of(name: &str) -> String {
    let mut slug = String::new();
    for letter in name.chars() {
        if letter.is_ascii_alphanumeric() {
            slug.push(letter.to_ascii_lowercase());
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
        if slug.len() >= MOST_SLUG {
            break;
        }
    }
    slug.trim_end_matches('-').to_owned()
}
