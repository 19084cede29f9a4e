//! A box as a job: how far it is, when it is due, what the customer wants. Every change is in the history.

use rusqlite::{Connection, Row, params};

use crate::documents::{Document, Kind, Shelf, document, must_be, must_be_short};
use crate::error::Error;
use crate::history::note;
use crate::ids::DocumentId;
use crate::open::Store;
use crate::rows::{word, words};
use crate::time::By;
use crate::versions::{Version, version};

/// The longest note on a customer, in bytes.
const MOST_CUSTOMER: usize = 10_000;

words! {
    /// How far a box is.
    JobState {
        /// Not decided.
        Idea = "idea",
        /// To be made.
        Planned = "planned",
        /// At the saw.
        Cutting = "cutting",
        /// Glued up.
        Glued = "glued",
        /// Being finished.
        Finishing = "finishing",
        /// Made.
        Done = "done",
        /// With its owner.
        Delivered = "delivered",
    }
}

/// A box as a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// How far it is.
    pub state: JobState,
    /// When it is due, as `2026-12-24`; none if nobody waits.
    pub due: Option<String>,
    /// A note on the customer; may be empty.
    pub customer: String,
}

/// A box as the list of boxes shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoxLine {
    /// The box.
    pub document: Document,
    /// Its job.
    pub job: Job,
    /// The version in force, with its text.
    pub head: Version,
}

impl Store {
    /// A box's job.
    ///
    /// # Errors
    /// [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn job(&self, id: DocumentId) -> Result<Job, Error> {
        self.read(|db| load(db, id))
    }

    /// The boxes on a shelf with their jobs and texts, last changed first.
    ///
    /// # Errors
    /// The database's.
    pub fn boxes(&self, shelf: Shelf) -> Result<Vec<BoxLine>, Error> {
        self.read(|db| {
            let heads = heads(db, Kind::Box, shelf)?;
            heads
                .into_iter()
                .map(|(document, head)| Ok(BoxLine { job: load(db, document.id)?, document, head }))
                .collect()
        })
    }

    /// Says how far a box is.
    ///
    /// # Errors
    /// [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn set_job_state(&self, id: DocumentId, state: JobState, by: By<'_>) -> Result<Job, Error> {
        self.change_job(id, by, "state", |job| job.state = state)
    }

    /// Says when a box is due, as `2026-12-24`, or that nobody waits.
    ///
    /// # Errors
    /// [`Error::NoDate`], [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn set_due(&self, id: DocumentId, due: Option<&str>, by: By<'_>) -> Result<Job, Error> {
        let due = due.map(good_date).transpose()?;
        self.change_job(id, by, "due", |job| job.due = due)
    }

    /// Notes who a box is for.
    ///
    /// # Errors
    /// [`Error::TooLong`], [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn set_customer(&self, id: DocumentId, customer: &str, by: By<'_>) -> Result<Job, Error> {
        must_be_short("the note on the customer", customer, MOST_CUSTOMER)?;
        self.change_job(id, by, "customer", |job| customer.clone_into(&mut job.customer))
    }

    /// Changes one thing of a job and writes it into the history, if it is a change.
    fn change_job(
        &self,
        id: DocumentId,
        by: By<'_>,
        what: &str,
        change: impl FnOnce(&mut Job),
    ) -> Result<Job, Error> {
        self.write(|db| {
            let was = load(db, id)?;
            let mut job = was.clone();
            change(&mut job);
            if job != was {
                db.execute(
                    "UPDATE job SET state = ?2, due = ?3, customer = ?4 WHERE document = ?1",
                    params![id.get(), job.state.word(), job.due, job.customer],
                )?;
                note(db, id, what, (shown(&was, what), shown(&job, what)), by)?;
            }
            Ok(job)
        })
    }
}

/// What stands in one field of a job, as the history keeps it.
fn shown<'a>(job: &'a Job, what: &str) -> &'a str {
    match what {
        "state" => job.state.word(),
        "due" => job.due.as_deref().unwrap_or(""),
        _ => &job.customer,
    }
}

/// A box's job.
fn load(db: &Connection, id: DocumentId) -> Result<Job, Error> {
    must_be(db, id, Kind::Box)?;
    let mut rows = db.prepare_cached("SELECT state, due, customer FROM job WHERE document = ?1")?;
    Ok(rows.query_row([id.get()], job)?)
}

/// A job from its row.
fn job(row: &Row<'_>) -> rusqlite::Result<Job> {
    Ok(Job {
        state: word(row, "state", JobState::from_word)?,
        due: row.get("due")?,
        customer: row.get("customer")?,
    })
}

/// The documents of a kind on a shelf with their heads, last changed first.
pub(crate) fn heads(db: &Connection, kind: Kind, shelf: Shelf) -> Result<Vec<(Document, Version)>, Error> {
    let mut documents = db.prepare_cached(
        "SELECT * FROM document WHERE kind = ?1 AND shelf = ?2 ORDER BY changed_at DESC, id DESC",
    )?;
    let mut version_of = db.prepare_cached("SELECT * FROM version WHERE id = ?1")?;
    let mut found = Vec::new();
    for document in documents.query_map(params![kind.word(), shelf.word()], document)? {
        let document = document?;
        let head = version_of.query_row([document.head.get()], version)?;
        found.push((document, head));
    }
    Ok(found)
}

/// A date that is in the calendar, as `2026-12-24`.
fn good_date(given: &str) -> Result<String, Error> {
    let no_date = || Error::NoDate { given: given.chars().take(40).collect() };
    let date: jiff::civil::Date = given.trim().parse().map_err(|_| no_date())?;
    if date.year() < 1970 { Err(no_date()) } else { Ok(date.to_string()) }
}
