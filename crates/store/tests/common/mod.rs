//! A store to test, in a folder that goes with it.

use std::path::Path;

use keepwright_store::{By, OpenError, Store, Time};
use tempfile::TempDir;

/// A store in a folder of its own.
pub(crate) struct Fresh {
    pub(crate) store: Store,
    pub(crate) folder: TempDir,
}

impl std::ops::Deref for Fresh {
    type Target = Store;

    fn deref(&self) -> &Store {
        &self.store
    }
}

impl AsRef<Path> for Fresh {
    fn as_ref(&self) -> &Path {
        self.folder.path()
    }
}

/// The beginning of all tests: noon, 25 November 2026.
pub(crate) fn noon() -> Time {
    Time::seconds(1_795_608_000)
}

/// Somebody at noon.
pub(crate) fn me() -> By<'static> {
    By::new("the bench", noon())
}

/// An empty store. The tests in `contract/` come to a store by this alone.
pub(crate) fn store() -> Fresh {
    let folder = tempfile::tempdir().expect("a folder");
    Fresh { store: open(folder.path()), folder }
}

/// Opens a folder that must open, at noon.
pub(crate) fn open(folder: &Path) -> Store {
    open_at(folder, noon())
}

/// Opens a folder that must open. Another test that starts a process holds all locks of this one for a moment,
/// and on a busy machine that moment can be long.
pub(crate) fn open_at(folder: &Path, now: Time) -> Store {
    for _ in 0..40 {
        match Store::open(folder, now) {
            Err(OpenError::InUse { .. }) => {}
            opened => return opened.unwrap_or_else(|error| panic!("{error}")),
        }
    }
    panic!("{} stays in use", folder.display())
}
