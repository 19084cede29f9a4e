//! Ticks set beside the saw, also those that a tablet made without the network and sends later.

use rusqlite::{Row, params};

use crate::documents::{Kind, must_be, must_be_short};
use crate::error::Error;
use crate::ids::DocumentId;
use crate::open::Store;
use crate::rows::{time, word, words};
use crate::time::Time;

/// The longest key of a plan, set-up or part, and the longest token, in bytes.
const MOST_KEY: usize = 200;

words! {
    /// What a press made of the tick.
    Mark {
        /// Set.
        On = "on",
        /// Taken away.
        Off = "off",
    }
}

/// A press of a tick, as it comes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NewTick<'a> {
    /// Made where it was pressed and never twice; the same token sent again changes nothing.
    pub token: &'a str,
    /// The plan whose cards are shown; a changed box has another plan, whose cards begin empty.
    pub plan: &'a str,
    /// The set-up.
    pub setup: &'a str,
    /// The part.
    pub part: &'a str,
    /// Set or taken away.
    pub mark: Mark,
    /// The device.
    pub by: &'a str,
    /// When it was pressed, by the device's clock.
    pub at: Time,
}

/// The last press for a part in a set-up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tick {
    /// The set-up.
    pub setup: String,
    /// The part.
    pub part: String,
    /// Set or taken away.
    pub mark: Mark,
    /// The device.
    pub by: String,
    /// When it was pressed.
    pub at: Time,
}

/// The last press for a part in a set-up of some plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanTick {
    /// The plan.
    pub plan: String,
    /// How it stands.
    pub tick: Tick,
}

/// What became of a press.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ticked {
    /// It is kept.
    New,
    /// Its token was there already: it came twice.
    Known,
}

impl Store {
    /// Keeps presses for a box in one go, in the order given; one answer for each.
    ///
    /// # Errors
    /// [`Error::TooLong`], [`Error::NoDocument`], [`Error::WrongKind`], or the database's; then none is kept.
    pub fn tick(&self, id: DocumentId, ticks: &[NewTick<'_>]) -> Result<Vec<Ticked>, Error> {
        for tick in ticks {
            must_be_short("the tick's token", tick.token, MOST_KEY)?;
            must_be_short("the plan's key", tick.plan, MOST_KEY)?;
            must_be_short("the set-up's key", tick.setup, MOST_KEY)?;
            must_be_short("the part's key", tick.part, MOST_KEY)?;
        }
        self.write(|db| {
            must_be(db, id, Kind::Box)?;
            let mut add = db.prepare_cached(
                "INSERT INTO tick (token, document, plan, setup, part, mark, by, at)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) ON CONFLICT (token) DO NOTHING",
            )?;
            let mut answers = Vec::new();
            for tick in ticks {
                let added = add.execute(params![
                    tick.token,
                    id.get(),
                    tick.plan,
                    tick.setup,
                    tick.part,
                    tick.mark.word(),
                    tick.by,
                    tick.at.to_seconds()
                ])?;
                answers.push(if added == 0 { Ticked::Known } else { Ticked::New });
            }
            Ok(answers)
        })
    }

    /// How each part of a plan stands: its last press by the devices' clocks, and of presses in one second the
    /// one that came in last.
    ///
    /// # Errors
    /// [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn ticks(&self, id: DocumentId, plan: &str) -> Result<Vec<Tick>, Error> {
        self.read(|db| {
            must_be(db, id, Kind::Box)?;
            let mut rows = db.prepare_cached(
                "SELECT setup, part, mark, by, at FROM (
                     SELECT *, row_number() OVER (PARTITION BY setup, part ORDER BY at DESC, id DESC) AS turn
                     FROM tick WHERE document = ?1 AND plan = ?2)
                 WHERE turn = 1 ORDER BY setup, part",
            )?;
            Ok(rows.query_map(params![id.get(), plan], tick)?.collect::<Result<_, _>>()?)
        })
    }

    /// How each part of every plan of a box stands, the plans ticked last first.
    ///
    /// # Errors
    /// [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn all_ticks(&self, id: DocumentId) -> Result<Vec<PlanTick>, Error> {
        self.read(|db| {
            must_be(db, id, Kind::Box)?;
            let mut rows = db.prepare_cached(
                "SELECT plan, setup, part, mark, by, at FROM (
                     SELECT *, row_number() OVER (PARTITION BY plan, setup, part ORDER BY at DESC, id DESC) AS turn
                     FROM tick WHERE document = ?1)
                 WHERE turn = 1 ORDER BY at DESC, plan, setup, part",
            )?;
            let each = |row: &Row<'_>| Ok(PlanTick { plan: row.get("plan")?, tick: tick(row)? });
            Ok(rows.query_map(params![id.get()], each)?.collect::<Result<_, _>>()?)
        })
    }
}

/// A tick from its row.
fn tick(row: &Row<'_>) -> rusqlite::Result<Tick> {
    Ok(Tick {
        setup: row.get("setup")?,
        part: row.get("part")?,
        mark: word(row, "mark", Mark::from_word)?,
        by: row.get("by")?,
        at: time(row, "at")?,
    })
}
