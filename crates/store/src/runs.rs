//! Cutting runs: what was asked, what came out, and how far it is.

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::boards;
use crate::documents::{good_name, must_be_short};
use crate::error::Error;
use crate::ids::{DocumentId, RunId};
use crate::open::Store;
use crate::rows::{id, time, word, words};
use crate::time::Time;

/// The longest inputs or outcome of a run, in bytes.
const MOST_RUN: usize = 16 << 20;

words! {
    /// How far a cutting run is.
    RunState {
        /// Being computed. What is so when the program ends is dropped at the next start.
        Running = "running",
        /// Computed, not decided.
        Done = "done",
        /// Taken: its boards are reserved.
        Accepted = "accepted",
        /// Sawn: its boards are used.
        Cut = "cut",
        /// Given up.
        Dropped = "dropped",
    }
}

/// A cutting run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Its number.
    pub id: RunId,
    /// Its title.
    pub title: String,
    /// What was asked, as the caller wrote it.
    pub inputs: String,
    /// What came out, as the caller wrote it; the best so far while it runs.
    pub outcome: Option<String>,
    /// How far it is.
    pub state: RunState,
    /// When it was begun.
    pub made_at: Time,
    /// When it changed last.
    pub changed_at: Time,
}

impl Store {
    /// Begins a run.
    ///
    /// # Errors
    /// [`Error::NoName`], [`Error::TooLong`], or the database's.
    pub fn add_run(&self, title: &str, inputs: &str, now: Time) -> Result<Run, Error> {
        let title = good_name(title)?;
        must_be_short("what is asked of the run", inputs, MOST_RUN)?;
        self.write(|db| {
            db.execute(
                "INSERT INTO run (title, inputs, state, made_at, changed_at) VALUES (?1, ?2, 'running', ?3, ?3)",
                params![title, inputs, now.to_seconds()],
            )?;
            load(db, RunId::new(db.last_insert_rowid()))
        })
    }

    /// Keeps what a run has found so far.
    ///
    /// # Errors
    /// [`Error::RunState`] unless it is running; [`Error::NoRun`], [`Error::TooLong`], or the database's.
    pub fn note_outcome(&self, id: RunId, outcome: &str, now: Time) -> Result<Run, Error> {
        self.put_outcome(id, outcome, RunState::Running, now)
    }

    /// Keeps what a run found in the end.
    ///
    /// # Errors
    /// As [`Store::note_outcome`].
    pub fn finish_run(&self, id: RunId, outcome: &str, now: Time) -> Result<Run, Error> {
        self.put_outcome(id, outcome, RunState::Done, now)
    }

    /// Gives up a run that is running or done; one that is accepted is given up by [`Store::release`].
    ///
    /// # Errors
    /// [`Error::RunState`], [`Error::NoRun`], or the database's.
    pub fn drop_run(&self, id: RunId, now: Time) -> Result<Run, Error> {
        self.write(|db| {
            let run = load(db, id)?;
            if !matches!(run.state, RunState::Running | RunState::Done) {
                return Err(wrong(run, "running or done"));
            }
            put_state(db, id, RunState::Dropped, now)?;
            load(db, id)
        })
    }

    /// A run.
    ///
    /// # Errors
    /// [`Error::NoRun`], or the database's.
    pub fn run(&self, id: RunId) -> Result<Run, Error> {
        self.read(|db| load(db, id))
    }

    /// The last runs, newest first, at most so many.
    ///
    /// # Errors
    /// The database's.
    pub fn runs(&self, most: usize) -> Result<Vec<Run>, Error> {
        self.read(|db| {
            let mut rows = db.prepare_cached("SELECT * FROM run ORDER BY id DESC LIMIT ?1")?;
            let most = i64::try_from(most).unwrap_or(i64::MAX);
            Ok(rows.query_map([most], run)?.collect::<Result<_, _>>()?)
        })
    }

    /// The boards that a run has reserved or used.
    ///
    /// # Errors
    /// [`Error::NoRun`], or the database's.
    pub fn run_boards(&self, id: RunId) -> Result<Vec<DocumentId>, Error> {
        self.read(|db| {
            load(db, id)?;
            boards::of_run(db, id)
        })
    }

    /// The boxes that a run was accepted for.
    ///
    /// # Errors
    /// [`Error::NoRun`], or the database's.
    pub fn run_boxes(&self, id: RunId) -> Result<Vec<DocumentId>, Error> {
        self.read(|db| {
            load(db, id)?;
            boards::ids(db, "SELECT document FROM run_box WHERE run = ?1 ORDER BY document", id.get())
        })
    }

    /// Keeps an outcome of a run that is running.
    fn put_outcome(&self, id: RunId, outcome: &str, state: RunState, now: Time) -> Result<Run, Error> {
        must_be_short("what the run found", outcome, MOST_RUN)?;
        self.write(|db| {
            must_be(db, id, RunState::Running)?;
            db.execute("UPDATE run SET outcome = ?2 WHERE id = ?1", params![id.get(), outcome])?;
            put_state(db, id, state, now)?;
            load(db, id)
        })
    }
}

/// A run by its number.
pub(crate) fn load(db: &Connection, id: RunId) -> Result<Run, Error> {
    let found =
        db.prepare_cached("SELECT * FROM run WHERE id = ?1")?.query_row([id.get()], run).optional()?;
    found.ok_or(Error::NoRun { id })
}

/// A run by its number, if it is in this state.
pub(crate) fn must_be(db: &Connection, id: RunId, wanted: RunState) -> Result<Run, Error> {
    let run = load(db, id)?;
    if run.state == wanted { Ok(run) } else { Err(wrong(run, wanted.word())) }
}

/// Puts a run into a state.
pub(crate) fn put_state(db: &Connection, id: RunId, state: RunState, now: Time) -> Result<(), Error> {
    db.prepare_cached("UPDATE run SET state = ?2, changed_at = ?3 WHERE id = ?1")?.execute(params![
        id.get(),
        state.word(),
        now.to_seconds()
    ])?;
    Ok(())
}

/// The error that a run is in another state.
fn wrong(run: Run, wanted: &'static str) -> Error {
    Error::RunState { title: run.title, state: run.state.word(), wanted }
}

/// A run from its row.
fn run(row: &Row<'_>) -> rusqlite::Result<Run> {
    Ok(Run {
        id: id(row, "id", RunId::new)?,
        title: row.get("title")?,
        inputs: row.get("inputs")?,
        outcome: row.get("outcome")?,
        state: word(row, "state", RunState::from_word)?,
        made_at: time(row, "made_at")?,
        changed_at: time(row, "changed_at")?,
    })
}
