//! Folders that must not be opened: each is told in words, and left as it was.

use std::fs;
use std::path::Path;

use keepwright_store::{OpenError, Store};
use rusqlite::Connection;

use crate::child;
use crate::common::{noon, open};
use crate::sample;

/// Tries to open a folder; what is said, without the folder's own path. Its database is left byte for byte.
fn refused(folder: &Path) -> String {
    let file = folder.join("shop.sqlite");
    let before = fs::read(&file).ok();
    let error = Store::open(folder, noon()).map(|_| ()).expect_err("it must not open");
    assert_eq!(fs::read(&file).ok(), before, "the file was changed");
    error.to_string().replace(&folder.display().to_string(), "FOLDER")
}

/// A folder with one of everything, closed.
fn filled() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    sample::fill(&open(folder.path()));
    folder
}

#[test]
fn a_store_of_a_newer_version() {
    let folder = filled();
    let db = Connection::open(folder.path().join("shop.sqlite")).unwrap();
    db.execute_batch("PRAGMA user_version = 99; CREATE TABLE later (x)").unwrap();
    drop(db);
    assert_eq!(
        refused(folder.path()),
        "FOLDER/shop.sqlite was written by a newer Keepwright (its store is of version 99, this program knows up \
         to 1). Nothing was changed. Start the newer program, or open another shop folder"
    );
}

#[test]
fn a_second_program_on_the_same_folder() {
    if let Some(folder) = child::folder() {
        assert_eq!(
            refused(&folder),
            "the shop folder FOLDER is in use: another Keepwright has it open. Nothing was changed. Use its \
             window, or close it first"
        );
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path());
    sample::fill(&store);
    // From another process, and from this one.
    let program = std::env::current_exe().unwrap();
    let test = "refused::a_second_program_on_the_same_folder";
    let done = child::again(&program, test, folder.path()).output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stdout));
    assert!(matches!(Store::open(folder.path(), noon()), Err(OpenError::InUse { .. })));
    assert!(matches!(Store::mend(folder.path(), "x", noon()), Err(OpenError::InUse { .. })));
    sample::check(&store);
    let clone = store.clone();
    drop(store);
    assert!(matches!(Store::open(folder.path(), noon()), Err(OpenError::InUse { .. })), "a clone has it yet");
    drop(clone);
    sample::check(&open(folder.path()));
}

#[test]
fn something_else_in_its_place() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("shop.sqlite"), "a letter to a customer").unwrap();
    assert_eq!(
        refused(folder.path()),
        "FOLDER/shop.sqlite is not a Keepwright shop: it is no database. Nothing was changed. Move that file \
         away, or choose another folder"
    );
    fs::remove_file(folder.path().join("shop.sqlite")).unwrap();
    let db = Connection::open(folder.path().join("shop.sqlite")).unwrap();
    db.execute_batch("CREATE TABLE recipe (name TEXT)").unwrap();
    drop(db);
    let said = refused(folder.path());
    assert!(said.contains("not a Keepwright shop: it is the database of another program"), "{said}");

    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("shop");
    fs::write(&place, "a file where the folder should be").unwrap();
    let said = Store::open(&place, noon()).unwrap_err().to_string();
    assert_eq!(
        said.replace(&folder.path().display().to_string(), "OUTER"),
        "the shop folder OUTER/shop cannot be made or entered: File exists (os error 17). Choose another folder, \
         or move what stands in its place"
    );
    fs::create_dir(folder.path().join("other")).unwrap();
    fs::create_dir(folder.path().join("other/shop.sqlite")).unwrap();
    let said = Store::open(&folder.path().join("other"), noon()).unwrap_err().to_string();
    assert!(said.contains("is not a Keepwright shop: Is a directory"), "{said}");
}
