//! Boards of the rack: free, reserved by a cutting run, or used; where an offcut came from.

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::documents::{Document, Kind, New, Shelf, add, good_name, must_be};
use crate::error::Error;
use crate::history::note;
use crate::ids::{DocumentId, RunId};
use crate::jobs::heads;
use crate::open::Store;
use crate::rows::{maybe_id, word, words};
use crate::runs::{self, RunState};
use crate::time::By;
use crate::versions::Version;

words! {
    /// Whether a board can be planned with.
    StockState {
        /// It can.
        Free = "free",
        /// An accepted cutting run has it.
        Reserved = "reserved",
        /// It is cut up.
        Used = "used",
    }
}

/// What a maker may say of a board by hand; reserving is for cutting runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoardMark {
    /// It is in the rack after all.
    Free,
    /// It is gone.
    Used,
}

/// What a board is to the rack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Whether it can be planned with.
    pub state: StockState,
    /// The run that has it, or that used it.
    pub run: Option<RunId>,
    /// The board that it was cut from.
    pub offcut_of: Option<DocumentId>,
}

/// A board as the list of boards shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Board {
    /// The board.
    pub document: Document,
    /// What it is to the rack.
    pub stock: Stock,
    /// The version in force, with its text.
    pub head: Version,
}

/// An offcut that goes back to the rack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewBoard {
    /// Its name.
    pub name: String,
    /// Its text.
    pub text: String,
    /// The board that it was cut from.
    pub from: DocumentId,
}

impl Store {
    /// What a board is to the rack.
    ///
    /// # Errors
    /// [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn stock(&self, id: DocumentId) -> Result<Stock, Error> {
        self.read(|db| {
            must_be(db, id, Kind::Board)?;
            load(db, id)
        })
    }

    /// The boards on a shelf with their states and texts, last changed first.
    ///
    /// # Errors
    /// The database's.
    pub fn boards(&self, shelf: Shelf) -> Result<Vec<Board>, Error> {
        self.read(|db| {
            let heads = heads(db, Kind::Board, shelf)?;
            heads
                .into_iter()
                .map(|(document, head)| Ok(Board { stock: load(db, document.id)?, document, head }))
                .collect()
        })
    }

    /// Says by hand that a board is gone, or there after all.
    ///
    /// # Errors
    /// [`Error::BoardTaken`] when a run has it; [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn mark_board(&self, id: DocumentId, mark: BoardMark, by: By<'_>) -> Result<Stock, Error> {
        self.write(|db| {
            must_be(db, id, Kind::Board)?;
            must_not_be_reserved(db, id)?;
            let state = match mark {
                BoardMark::Free => StockState::Free,
                BoardMark::Used => StockState::Used,
            };
            put(db, id, state, None, by)?;
            load(db, id)
        })
    }

    /// Accepts a finished cutting run: its boards are reserved for its boxes, all of them or none.
    ///
    /// # Errors
    /// [`Error::BoardTaken`] with the first board that is not free and who has it; [`Error::RunState`],
    /// [`Error::NoRun`], [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn reserve(
        &self,
        run: RunId,
        boards: &[DocumentId],
        boxes: &[DocumentId],
        by: By<'_>,
    ) -> Result<(), Error> {
        self.write(|db| {
            runs::must_be(db, run, RunState::Done)?;
            db.execute("DELETE FROM run_box WHERE run = ?1", [run.get()])?;
            for &id in boxes {
                must_be(db, id, Kind::Box)?;
                db.execute(
                    "INSERT INTO run_box (run, document) VALUES (?1, ?2) ON CONFLICT DO NOTHING",
                    params![run.get(), id.get()],
                )?;
            }
            for &id in boards {
                let board = must_be(db, id, Kind::Board)?;
                if load(db, id)?.run == Some(run) {
                    continue; // named twice
                }
                must_be_free(db, &board)?;
                put(db, id, StockState::Reserved, Some(run), by)?;
            }
            runs::put_state(db, run, RunState::Accepted, by.at)
        })
    }

    /// Gives up an accepted cutting run: its boards are free again.
    ///
    /// # Errors
    /// [`Error::RunState`], [`Error::NoRun`], or the database's.
    pub fn release(&self, run: RunId, by: By<'_>) -> Result<(), Error> {
        self.write(|db| {
            runs::must_be(db, run, RunState::Accepted)?;
            for id in of_run(db, run)? {
                put(db, id, StockState::Free, None, by)?;
            }
            runs::put_state(db, run, RunState::Dropped, by.at)
        })
    }

    /// Notes that an accepted cutting run was cut: its boards are used, and the offcuts go to the rack.
    ///
    /// # Errors
    /// [`Error::StrangeOffcut`], [`Error::RunState`], [`Error::NoRun`], [`Error::NoName`], or the database's.
    pub fn consume(&self, run: RunId, offcuts: &[NewBoard], by: By<'_>) -> Result<Vec<Document>, Error> {
        self.write(|db| {
            let title = runs::must_be(db, run, RunState::Accepted)?.title;
            let boards = of_run(db, run)?;
            let mut made = Vec::new();
            for offcut in offcuts {
                if !boards.contains(&offcut.from) {
                    return Err(Error::StrangeOffcut { offcut: offcut.name.clone() });
                }
                let says = format!("offcut of {title}");
                let new = New {
                    kind: Kind::Board,
                    name: good_name(&offcut.name)?,
                    text: &offcut.text,
                    says: &says,
                    copied_from: None,
                };
                let board = add(db, &new, by)?;
                db.execute(
                    "UPDATE stock SET offcut_of = ?2 WHERE document = ?1",
                    params![board.id.get(), offcut.from.get()],
                )?;
                made.push(board);
            }
            for id in boards {
                put(db, id, StockState::Used, Some(run), by)?;
            }
            runs::put_state(db, run, RunState::Cut, by.at)?;
            Ok(made)
        })
    }

    /// The offcuts that a board left, oldest first.
    ///
    /// # Errors
    /// [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn offcuts(&self, id: DocumentId) -> Result<Vec<DocumentId>, Error> {
        self.read(|db| {
            must_be(db, id, Kind::Board)?;
            ids(db, "SELECT document FROM stock WHERE offcut_of = ?1 ORDER BY document", id.get())
        })
    }
}

/// Refuses a board that a run has, with the run's title; documents of other kinds pass.
pub(crate) fn must_not_be_reserved(db: &Connection, id: DocumentId) -> Result<(), Error> {
    let board = crate::documents::must_be_there(db, id)?;
    if board.kind == Kind::Board && load(db, id)?.state == StockState::Reserved {
        return Err(Error::BoardTaken { held: held(db, &board)?, board: board.name });
    }
    Ok(())
}

/// Refuses a board that cannot be reserved.
fn must_be_free(db: &Connection, board: &Document) -> Result<(), Error> {
    if board.shelf == Shelf::Bin {
        return Err(Error::BoardTaken { board: board.name.clone(), held: "it is in the bin".to_owned() });
    }
    if load(db, board.id)?.state != StockState::Free {
        return Err(Error::BoardTaken { board: board.name.clone(), held: held(db, board)? });
    }
    Ok(())
}

/// Who has a board that is not free, as part of a sentence.
fn held(db: &Connection, board: &Document) -> Result<String, Error> {
    let stock = load(db, board.id)?;
    let verb = if stock.state == StockState::Used { "used" } else { "reserved" };
    let Some(run) = stock.run else { return Ok(format!("it is {verb}")) };
    let run = runs::load(db, run)?;
    let mut boxes = db.prepare_cached(
        "SELECT d.name FROM run_box r JOIN document d ON d.id = r.document WHERE r.run = ?1 ORDER BY d.name",
    )?;
    let boxes: Vec<String> = boxes
        .query_map([run.id.get()], |row| Ok(format!("`{}`", row.get::<_, String>(0)?)))?
        .collect::<Result<_, _>>()?;
    let whose = if boxes.is_empty() { String::new() } else { format!(" for {}", boxes.join(", ")) };
    Ok(format!("it is {verb}{whose} by the cutting run `{}`", run.title))
}

/// What a board is to the rack.
fn load(db: &Connection, id: DocumentId) -> Result<Stock, Error> {
    let found = db
        .prepare_cached("SELECT state, run, offcut_of FROM stock WHERE document = ?1")?
        .query_row([id.get()], stock)
        .optional()?;
    found.ok_or(Error::NoDocument { id })
}

/// Changes a board's state and writes that into its history.
fn put(
    db: &Connection,
    id: DocumentId,
    state: StockState,
    run: Option<RunId>,
    by: By<'_>,
) -> Result<(), Error> {
    let was = load(db, id)?;
    if was.state == state && was.run == run {
        return Ok(());
    }
    db.prepare_cached("UPDATE stock SET state = ?2, run = ?3 WHERE document = ?1")?.execute(params![
        id.get(),
        state.word(),
        run.map(RunId::get)
    ])?;
    let became = match run {
        Some(run) => format!("{} by {}", state.word(), runs::load(db, run)?.title),
        None => state.word().to_owned(),
    };
    note(db, id, "stock", (was.state.word(), &became), by)
}

/// The boards that a run has.
pub(crate) fn of_run(db: &Connection, run: RunId) -> Result<Vec<DocumentId>, Error> {
    ids(db, "SELECT document FROM stock WHERE run = ?1 ORDER BY document", run.get())
}

/// The documents that a question finds.
pub(crate) fn ids(db: &Connection, sql: &str, of: i64) -> Result<Vec<DocumentId>, Error> {
    let mut rows = db.prepare_cached(sql)?;
    Ok(rows.query_map([of], |row| row.get(0).map(DocumentId::new))?.collect::<Result<_, _>>()?)
}

/// A board's state from its row.
fn stock(row: &Row<'_>) -> rusqlite::Result<Stock> {
    Ok(Stock {
        state: word(row, "state", StockState::from_word)?,
        run: maybe_id(row, "run", RunId::new)?,
        offcut_of: maybe_id(row, "offcut_of", DocumentId::new)?,
    })
}
