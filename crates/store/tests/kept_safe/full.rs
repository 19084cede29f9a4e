//! No room on the disk: told, nothing lost, and working again when there is room.
//!
//! On a real small disk here; `src/open.rs` has the same failure without one, on any system.

#![cfg(target_os = "linux")]

use std::fs;
use std::path::Path;

use keepwright_store::{Error, Kind, OpenError, PictureKind, Saved, Store};

use crate::child;
use crate::common::{me, noon, open};
use crate::look;

#[test]
fn a_full_disk_is_told_and_nothing_is_lost() {
    if let Some(disk) = child::folder() {
        on_a_full_disk(&disk);
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    child::again_on_a_small_disk("full::a_full_disk_is_told_and_nothing_is_lost", folder.path());
}

/// Fills the disk to the last block.
fn fill(disk: &Path) {
    let mut filler = fs::File::create(disk.join("filler")).unwrap();
    while std::io::Write::write_all(&mut filler, &[0; 4096]).is_ok() {}
}

fn on_a_full_disk(disk: &Path) {
    let shop = disk.join("shop");
    let file = shop.join("shop.sqlite");

    // A folder on a disk that is full from the beginning.
    fill(disk);
    let error = Store::open(&shop, noon()).unwrap_err();
    assert_eq!(error, OpenError::Full { folder: shop.clone() });
    fs::remove_file(disk.join("filler")).unwrap();

    // A disk that gets full at work.
    let store = open(&shop);
    let made = store.create(Kind::Box, "Tea box", "0", "new", me()).unwrap();
    fill(disk);
    let mut head = made.head;
    let mut count = 0;
    let error = loop {
        match store.save(made.id, head, &format!("{} {}", count + 1, "x".repeat(3000)), "edit", me()) {
            Ok(Saved::Kept(version)) => {
                count += 1;
                head = version.id;
            }
            Ok(other) => panic!("{other:?}"),
            Err(error) => break error,
        }
        assert!(count < 10_000, "the disk does not get full");
    };
    assert_eq!(error, Error::Full);
    assert_eq!(
        error.to_string(),
        "the disk is full: this change was not kept, everything before it is. Free some space, then save again"
    );
    assert_eq!(store.head(made.id).unwrap().id, head, "what was acknowledged is in force");
    assert_eq!(store.backup(noon()).unwrap_err(), Error::Full);
    let picture = [b"\x89PNG\r\n\x1a\n".to_vec(), vec![7; 100_000]].concat();
    assert_eq!(store.put_picture(&picture, PictureKind::Png, noon()), Err(Error::Full));
    let leftovers = look::files(&shop).into_keys().filter(|path| path.to_string_lossy().contains(".part"));
    assert_eq!(leftovers.count(), 0, "no half files");

    // Room again: the same store goes on.
    fs::remove_file(disk.join("filler")).unwrap();
    let Ok(Saved::Kept(last)) = store.save(made.id, head, "after", "edit", me()) else { panic!("not kept") };
    drop(store);

    // Full when the program starts: told, nothing damaged; then all of it is there.
    fill(disk);
    match Store::open(&shop, noon()) {
        Err(error) => assert_eq!(error, OpenError::Full { folder: shop.clone() }),
        Ok(store) => assert_eq!(store.head(made.id).unwrap(), last),
    }
    fs::remove_file(disk.join("filler")).unwrap();
    let store = open(&shop);
    assert_eq!(store.head(made.id).unwrap(), last);
    assert_eq!(store.versions(made.id, None, usize::MAX).unwrap().len(), count + 2);
    assert_eq!(look::integrity(&file), "ok");
}
