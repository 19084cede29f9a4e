//! A folder that may not be written. Root may write whatever the mode says, so as root this is tried as another
//! user, and once more on a disk that is mounted for reading only.

#![cfg(target_os = "linux")]

use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::Command;

use keepwright_store::{Kind, OpenError, Store};

use crate::child;
use crate::common::{me, noon, open};
use crate::look;

/// A user who owns nothing here.
const NOBODY: u32 = 65_534;

fn mode(path: &Path, mode: u32) {
    fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
}

#[test]
fn a_folder_without_the_right_to_write_is_told() {
    if let Some(outer) = child::folder() {
        as_another_user(&outer);
        return;
    }
    let outer = tempfile::tempdir().unwrap();
    let shop = outer.path().join("shop");
    let store = open(&shop);
    store.create(Kind::Box, "Tea box", "x", "new", me()).unwrap();
    drop(store);
    let before = look::rows(&shop.join("shop.sqlite"));
    // Where the other user can start it.
    let program = outer.path().join("test-program");
    fs::copy(std::env::current_exe().unwrap(), &program).unwrap();
    for (path, bits) in [(outer.path(), 0o755), (&program, 0o755), (&shop, 0o555)] {
        mode(path, bits);
    }
    for name in ["shop.sqlite", "shop.lock"] {
        mode(&shop.join(name), 0o444);
    }
    let mut other =
        child::again(&program, "read_only::a_folder_without_the_right_to_write_is_told", outer.path());
    if fs::metadata(outer.path()).unwrap().uid() == 0 {
        other.uid(NOBODY).gid(NOBODY);
    }
    let done = other.current_dir(outer.path()).output().unwrap();
    mode(&shop, 0o755);
    let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    assert!(done.status.success() && said.contains("1 passed"), "{said}");
    assert_eq!(look::rows(&shop.join("shop.sqlite")), before);
}

fn as_another_user(outer: &Path) {
    let shop = outer.join("shop");
    assert!(
        fs::write(shop.join("new"), "x").is_err(),
        "this user must not be able to write, or nothing is shown"
    );
    let error = Store::open(&shop, noon()).unwrap_err();
    assert_eq!(
        error.to_string().replace(&outer.display().to_string(), "OUTER"),
        "the shop folder OUTER/shop is read-only: Permission denied (os error 13). Nothing was changed. Allow \
         this user to write to the folder and to the files in it, or choose another folder"
    );
    let error = Store::open(&outer.join("shop/below"), noon()).unwrap_err();
    assert!(matches!(error, OpenError::ReadOnly { .. }), "{error}");
}

#[test]
fn a_disk_for_reading_only_is_told() {
    if let Some(disk) = child::folder() {
        on_a_read_only_disk(&disk);
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    child::again_on_a_small_disk("read_only::a_disk_for_reading_only_is_told", folder.path());
}

fn on_a_read_only_disk(disk: &Path) {
    let shop = disk.join("shop");
    let store = open(&shop);
    let made = store.create(Kind::Box, "Tea box", "x", "new", me()).unwrap();
    drop(store);
    let mount = |how: &str| {
        let done = Command::new("mount").args(["-o", how]).arg(disk).status().unwrap();
        assert!(done.success(), "{how}");
    };
    mount("remount,ro");
    let error = Store::open(&shop, noon()).unwrap_err();
    assert_eq!(
        error.to_string().replace(&disk.display().to_string(), "DISK"),
        "the shop folder DISK/shop is read-only: Read-only file system (os error 30). Nothing was changed. Allow \
         this user to write to the folder and to the files in it, or choose another folder"
    );
    mount("remount,rw");
    let store = open(&shop);
    assert_eq!(store.head(made.id).unwrap().text, "x");
}
