//! Bringing a database of any earlier version to the present one, step by step.

use rusqlite::{Connection, TransactionBehavior};

/// Every step, in order; the first makes version 1 of an empty database. Never changed once published.
const STEPS: &[&str] = &[include_str!("../migrations/0001_start.sql")];

/// The mark in a database's head that says it is ours ("KWBT").
pub(crate) const OURS: i64 = 1_264_009_812;

/// The version that this program writes.
pub(crate) fn known() -> i64 {
    i64::try_from(STEPS.len()).unwrap_or(i64::MAX)
}

/// A database's version; 0 for an empty one.
pub(crate) fn version(db: &Connection) -> rusqlite::Result<i64> {
    db.query_row("PRAGMA user_version", [], |row| row.get(0))
}

/// Takes each missing step in a transaction of its own: after a crash the database is of some version, whole.
pub(crate) fn migrate(db: &mut Connection) -> rusqlite::Result<()> {
    migrate_to(db, known())
}

/// Takes the missing steps up to a version.
fn migrate_to(db: &mut Connection, last: i64) -> rusqlite::Result<()> {
    for (number, step) in (1..=last).zip(STEPS) {
        if version(db)? >= number {
            continue;
        }
        let act = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
        act.execute_batch(step)?;
        act.pragma_update(None, "user_version", number)?;
        act.commit()?;
    }
    Ok(())
}

/// What a database consists of: type, name, table and statement of each table, index, trigger and view.
type Schema = Vec<(String, String, String, Option<String>)>;

/// Everything that a database declares.
pub(crate) fn schema(db: &Connection) -> rusqlite::Result<Schema> {
    let mut rows = db.prepare("SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name")?;
    rows.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?)))?.collect()
}

/// Whether a database declares exactly what its version does: no table less, no trigger or view more.
pub(crate) fn is_as_made(db: &Connection) -> rusqlite::Result<bool> {
    let mut fresh = Connection::open_in_memory()?;
    migrate_to(&mut fresh, version(db)?)?;
    Ok(schema(db)? == schema(&fresh)?)
}
