//! Looking at a shop folder from outside: everything in it, as text to compare.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::types::Value;
use rusqlite::{Connection, OpenFlags};

/// Tables that stay with the machine.
pub(crate) const ACCESS: [&str; 3] = ["pairing", "device", "failure"];

/// A look at a database that changes nothing.
pub(crate) fn database(file: &Path) -> Connection {
    Connection::open_with_flags(file, OpenFlags::SQLITE_OPEN_READ_WRITE).expect("a database")
}

/// All rows of all tables.
pub(crate) fn rows(file: &Path) -> BTreeMap<String, Vec<String>> {
    let db = database(file);
    let mut tables = db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").expect("a schema");
    let tables = tables.query_map([], |row| row.get::<_, String>(0)).expect("tables");
    tables
        .map(|table| {
            let table = table.expect("a table");
            let mut rows = db.prepare(&format!("SELECT * FROM {table} ORDER BY 1, 2")).expect("rows");
            let width = rows.column_count();
            let rows = rows
                .query_map([], |row| {
                    let values: Result<Vec<Value>, _> = (0..width).map(|column| row.get(column)).collect();
                    Ok(format!("{:?}", values?))
                })
                .expect("rows")
                .map(|row| row.expect("a row"))
                .collect();
            (table, rows)
        })
        .collect()
}

/// All rows of all tables but those of who gets in.
pub(crate) fn rows_without_access(file: &Path) -> BTreeMap<String, Vec<String>> {
    let mut rows = rows(file);
    rows.retain(|table, _| !ACCESS.contains(&table.as_str()));
    rows
}

/// All files under a folder with their bytes, but for those of a database that is open.
pub(crate) fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if !path.to_string_lossy().contains("shop.sqlite") {
                let bytes = fs::read(&path).expect("a file");
                found.insert(path, bytes);
            }
        }
    }
    found
}

/// The whole check that the database library has.
pub(crate) fn integrity(file: &Path) -> String {
    database(file).query_row("PRAGMA integrity_check", [], |row| row.get(0)).expect("a check")
}
