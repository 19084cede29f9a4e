//! A database that is damaged: never opened as if it were whole, and mended from a backup.

use std::fs;
use std::path::Path;

use keepwright_store::{OpenError, Store};

use crate::common::{noon, open};
use crate::{look, sample};

fn filled() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path());
    sample::fill(&store);
    store.backup(noon()).unwrap();
    folder
}

fn refused(folder: &Path) -> String {
    let file = folder.join("shop.sqlite");
    let before = fs::read(&file).ok();
    let error = Store::open(folder, noon()).map(|_| ()).expect_err("it must not open");
    assert!(matches!(error, OpenError::Damaged { .. } | OpenError::NotAShop { .. }), "{error}");
    assert_eq!(fs::read(&file).ok(), before, "the file was changed");
    error.to_string().replace(&folder.display().to_string(), "FOLDER")
}

#[test]
fn a_damaged_page_is_found_and_the_folder_mended() {
    let folder = filled();
    let file = folder.path().join("shop.sqlite");
    let mut bytes = fs::read(&file).unwrap();
    for page in 2..bytes.len() / 4096 {
        bytes[page * 4096..page * 4096 + 64].fill(0xa5);
    }
    fs::write(&file, &bytes).unwrap();
    let said = refused(folder.path());
    assert!(said.starts_with("FOLDER/shop.sqlite is damaged: "), "{said}");
    assert!(
        said.ends_with(
            "Nothing was changed. The newest backup is backups/asked-2026-11-25-120000.sqlite: open the folder \
             with it (the damaged file is kept aside)"
        ),
        "{said}"
    );
    let bad = Store::mend(folder.path(), "../../shop.sqlite", noon()).unwrap_err();
    assert!(bad.to_string().contains("there is no backup `../../shop.sqlite`"), "{bad}");
    assert_eq!(fs::read(&file).unwrap(), bytes);
    let aside = Store::mend(folder.path(), "asked-2026-11-25-120000.sqlite", noon()).unwrap();
    assert_eq!(fs::read(aside.join("shop.sqlite")).unwrap(), bytes, "the damaged file is kept");
    let store = open(folder.path());
    sample::check(&store);
    sample::check_picture(&store);
    assert_eq!(look::integrity(&file), "ok");
}

#[test]
fn a_file_cut_short_or_emptied_is_found() {
    let folder = filled();
    let file = folder.path().join("shop.sqlite");
    let bytes = fs::read(&file).unwrap();
    for length in [100, 4096, bytes.len() / 2, bytes.len() - 4096] {
        fs::write(&file, &bytes[..length]).unwrap();
        let said = refused(folder.path());
        assert!(said.contains("backups/"), "{length}: {said}");
    }
    fs::write(&file, "").unwrap();
    let said = refused(folder.path());
    assert!(said.contains("it is missing or empty, yet there are backups of it"), "{said}");
    fs::remove_file(&file).unwrap();
    let said = refused(folder.path());
    assert!(said.contains("it is missing or empty, yet there are backups of it"), "{said}");
    fs::write(&file, &bytes).unwrap();
    sample::check(&open(folder.path()));
}

#[test]
fn a_damaged_backup_is_not_taken() {
    let folder = filled();
    let file = folder.path().join("backups/asked-2026-11-25-120000.sqlite");
    let mut bytes = fs::read(&file).unwrap();
    bytes[4096..4096 * 4].fill(0xa5);
    fs::write(&file, &bytes).unwrap();
    let store = open(folder.path());
    let before = look::rows(&folder.path().join("shop.sqlite"));
    let error = store.restore("asked-2026-11-25-120000.sqlite", noon()).unwrap_err().to_string();
    assert!(error.starts_with("`asked-2026-11-25-120000.sqlite` cannot be taken: it is damaged"), "{error}");
    assert!(error.ends_with("The shop is unchanged"), "{error}");
    assert_eq!(look::rows(&folder.path().join("shop.sqlite")), before);
    drop(store);
    let error = Store::mend(folder.path(), "asked-2026-11-25-120000.sqlite", noon()).unwrap_err().to_string();
    assert!(error.contains("cannot be taken"), "{error}");
    sample::check(&open(folder.path()));
}
