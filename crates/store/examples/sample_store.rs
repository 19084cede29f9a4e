//! Writes a store with one of everything, as this version makes it: what `tests/stores/` keeps of every version.
//!
//! `cargo run -p keepwright-store --example sample_store -- crates/store/tests/stores/0001.sqlite`

#[path = "../tests/common/sample.rs"]
#[expect(dead_code, reason = "the tests look into the store; this only makes it")]
mod sample;

use std::error::Error;
use std::path::Path;

use keepwright_store::{Store, Time};

fn main() -> Result<(), Box<dyn Error>> {
    let to = std::env::args().nth(1).ok_or("say where to write the store")?;
    if Path::new(&to).exists() {
        return Err(
            format!("{to} is there already: stores that were published are never written again").into()
        );
    }
    let folder = tempfile::tempdir()?;
    let now = Time::seconds(1_795_608_100);
    let store = Store::open(folder.path(), now)?;
    sample::fill(&store);
    // A backup is one closed file, checked.
    let backup = store.backup(now)?;
    std::fs::copy(folder.path().join("backups").join(backup.name), to)?;
    Ok(())
}
