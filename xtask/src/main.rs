//! Check and tidy: the one command that CI and a developer both run.
//!
//! `cargo xtask check` runs everything; `cargo xtask tidy` only the house rules about the files themselves;
//! `cargo xtask words` writes the spellings of `typos.toml` into the files.

mod browser;
mod check;
mod run;
mod tidy;
mod tree;

use run::say;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What to type.
const USAGE: &str = "\
cargo xtask check   all of it: tidy, format, lints, docs, tests, snapshots, licenses
cargo xtask tidy    only the house rules about the files themselves
cargo xtask words   write the spellings of typos.toml into the files";

fn main() -> ExitCode {
    let mut words = std::env::args().skip(1);
    let (asked, more) = (words.next(), words.next());
    if more.is_some() {
        say(USAGE);
        return ExitCode::from(2);
    }
    let root = root();
    let outcome = match asked.as_deref() {
        Some("check") => check::check(&root),
        Some("tidy") => tree::Tree::read(&root).map(|tree| tidy::report(&tree)),
        Some("words") => tree::Tree::read(&root).and_then(|tree| tidy::words::mend(&root, &tree)),
        _ => {
            say(USAGE);
            return ExitCode::from(2);
        }
    };
    match outcome {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(problem) => {
            say(&format!("xtask: {problem}"));
            ExitCode::FAILURE
        }
    }
}

/// The folder of the workspace: the one above this crate. Cargo says at run time where that is, which
/// also holds when a build folder is shared between copies of the repository.
fn root() -> PathBuf {
    let here = std::env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    here.parent().unwrap_or(Path::new(".")).to_path_buf()
}
