//! A store that any earlier version wrote opens, and becomes what a fresh one is.

use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::Connection;

use crate::common::{noon, open};
use crate::{look, sample};

fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut found: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    found.retain(|path| path.extension().is_some_and(|found| found == ending));
    found.sort();
    found
}

fn schema(file: &Path) -> Vec<(String, Option<String>)> {
    let db = look::database(file);
    let mut rows = db.prepare("SELECT type || ' ' || name, sql FROM sqlite_schema ORDER BY 1").unwrap();
    let rows = rows.query_map([], |row| Ok((row.get(0)?, row.get(1)?))).unwrap();
    rows.map(Result::unwrap).collect()
}

fn version(file: &Path) -> i64 {
    look::database(file).query_row("PRAGMA user_version", [], |row| row.get(0)).unwrap()
}

#[test]
fn every_version_has_a_migration_and_a_store_kept() {
    let (steps, stores) = (files("migrations", "sql"), files("tests/stores", "sqlite"));
    for (number, (step, store)) in (1..).zip(steps.iter().zip(&stores)) {
        let stem = format!("{number:04}");
        assert!(step.file_name().unwrap().to_string_lossy().starts_with(&stem), "{}", step.display());
        assert!(store.file_stem().unwrap().to_string_lossy() == stem, "{}", store.display());
        assert_eq!(version(store), number, "{}", store.display());
    }
    assert_eq!(
        steps.len(),
        stores.len(),
        "see migrations/README.md for how to keep a store of a new version"
    );
    let folder = tempfile::tempdir().unwrap();
    drop(open(folder.path()));
    assert_eq!(version(&folder.path().join("shop.sqlite")), i64::try_from(steps.len()).unwrap());
}

#[test]
fn every_store_kept_opens_and_is_then_as_a_fresh_one() {
    let fresh = tempfile::tempdir().unwrap();
    drop(open(fresh.path()));
    let want = schema(&fresh.path().join("shop.sqlite"));
    let known = version(&fresh.path().join("shop.sqlite"));
    for old in files("tests/stores", "sqlite") {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("shop.sqlite");
        fs::copy(&old, &file).unwrap();
        let store = open(folder.path());
        sample::check(&store);
        assert_eq!(schema(&file), want, "{}", old.display());
        assert_eq!(look::integrity(&file), "ok");
        // One of an earlier version was backed up before it was changed.
        let before =
            store.backups().unwrap().iter().filter(|b| b.name.starts_with("before-update-of-")).count();
        assert_eq!(before, usize::from(version(&old) < known), "{}", old.display());
        // And it works.
        let made = store.create(keepwright_store::Kind::Box, "New", "x", "new", crate::common::me()).unwrap();
        assert_eq!(store.head(made.id).unwrap().text, "x");
    }
}

#[test]
fn an_old_backup_is_restored_and_brought_up_to_date() {
    let oldest = files("tests/stores", "sqlite").remove(0);
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path());
    fs::copy(oldest, folder.path().join("backups/asked-2020-01-01-000000.sqlite")).unwrap();
    store.restore("asked-2020-01-01-000000.sqlite", noon()).unwrap();
    sample::check(&store);
}

#[test]
fn a_migration_that_was_killed_in_the_middle_left_an_empty_database_that_opens() {
    // What a kill between creating the file and the first commit leaves.
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("shop.sqlite"), "").unwrap();
    drop(open(folder.path()));
    // A database that has its head, but no tables yet.
    let folder = tempfile::tempdir().unwrap();
    let db = Connection::open(folder.path().join("shop.sqlite")).unwrap();
    db.execute_batch("PRAGMA journal_mode = WAL; VACUUM").unwrap();
    drop(db);
    let store = open(folder.path());
    sample::fill(&store);
    sample::check(&store);
}
