//! All checks in one command, the same at home and in CI.

use crate::browser;
use crate::run::{Outcome, git, has, run, say};
use crate::tidy;
use crate::tree::Tree;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// Runs every step, also after one has failed, and says at the end how each went; whether all is well.
///
/// # Errors
/// Says what could not even be begun.
pub(crate) fn check(root: &Path) -> Result<bool, String> {
    let before = changed_files(root);
    let mut steps: Vec<(&str, Outcome)> = Vec::new();
    let mut step = |name: &'static str, work: &dyn Fn() -> Outcome| {
        say(&format!("\n== {name}"));
        let outcome = work();
        if let Outcome::Skipped(why) = &outcome {
            say(&format!("  skipped: {why}"));
        }
        steps.push((name, outcome));
    };
    let tree = Tree::read(root)?;
    let references = references(root)?;
    step("tidy", &|| tidy::report(&tree).into());
    step("format", &|| format(root, &tree));
    step("lints", &|| lints(root));
    step("docs", &|| docs(root));
    step("what the page's tests need", &browser::ready);
    step("script", &|| browser::script(root));
    step("tests", &|| tests(root, &references));
    step("snapshots", &|| snapshots(root, &references));
    step("licenses", &|| licenses(root));
    step("clean tree", &|| clean(before.as_deref(), changed_files(root).as_deref()));
    say("\n== summary");
    for (name, outcome) in &steps {
        say(&match outcome {
            Outcome::Passed => format!("  {name}: passed"),
            Outcome::Skipped(why) => format!("  {name}: skipped, {why}"),
            Outcome::Failed => format!("  {name}: FAILED"),
        });
    }
    Ok(steps.iter().all(|(_, outcome)| *outcome != Outcome::Failed))
}

/// What a missing component means: at home it is passed over aloud, in CI it fails.
fn missing(component: &str) -> Outcome {
    let why = format!("{component} is not installed (rustup component add {component})");
    if std::env::var_os("CI").is_some() {
        say(&format!("  {why}"));
        Outcome::Failed
    } else {
        Outcome::Skipped(why)
    }
}

fn format(root: &Path, tree: &Tree) -> Outcome {
    if !has("fmt") {
        return missing("rustfmt");
    }
    let main = run(root, &["fmt", "--all", "--", "--check"], &[]);
    if main != Outcome::Passed || tree.text("fuzz/Cargo.toml").is_none() {
        return main;
    }
    // The fuzz targets are a workspace of their own.
    run(root, &["fmt", "--manifest-path", "fuzz/Cargo.toml", "--", "--check"], &[])
}

fn lints(root: &Path) -> Outcome {
    if !has("clippy") {
        return missing("clippy");
    }
    run(root, &["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"], &[])
}

fn docs(root: &Path) -> Outcome {
    let strict = [("RUSTDOCFLAGS", OsString::from("-D warnings"))];
    run(root, &["doc", "--workspace", "--no-deps", "--document-private-items"], &strict)
}

/// Tests by nextest where it is installed, else by cargo; then the examples in the docs.
fn tests(root: &Path, references: &Path) -> Outcome {
    let settings =
        [("INSTA_UPDATE", OsString::from("no")), ("INSTA_SNAPSHOT_REFERENCES_FILE", references.into())];
    if !has("nextest") {
        say("  cargo-nextest is not installed: cargo test runs the same tests");
        return run(root, &["test", "--workspace", "--no-fail-fast"], &settings);
    }
    let all = run(root, &["nextest", "run", "--workspace", "--no-fail-fast"], &settings);
    let examples = run(root, &["test", "--workspace", "--doc", "--no-fail-fast"], &settings);
    (all == Outcome::Passed && examples == Outcome::Passed).into()
}

/// An empty file into which the tests write which snapshots they read.
fn references(root: &Path) -> Result<PathBuf, String> {
    let target =
        std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root.join("target"), |set| root.join(set));
    let file = target.join("snapshot-references");
    std::fs::create_dir_all(&target)
        .and_then(|()| std::fs::write(&file, ""))
        .map_err(|problem| format!("{}: {problem}", file.display()))?;
    Ok(file)
}

/// Each snapshot was read by a test of this run.
fn snapshots(root: &Path, references: &Path) -> Outcome {
    let (Ok(read), Ok(tree)) = (std::fs::read_to_string(references), Tree::read(root)) else {
        say("  the list of snapshots that were read is gone");
        return Outcome::Failed;
    };
    let all: Vec<&str> = tree.ending("snap").map(|(name, _)| name).collect();
    let left = unread(&all, &read);
    for name in &left {
        say(&format!("  {name}: no test reads it: remove it"));
    }
    say(&format!("  {} snapshots, {} of them unread", all.len(), left.len()));
    left.is_empty().into()
}

/// The snapshots that are not among the paths read, one to a line.
fn unread<'a>(snapshots: &[&'a str], read: &str) -> Vec<&'a str> {
    let slashed = read.replace('\\', "/");
    snapshots.iter().copied().filter(|name| !slashed.lines().any(|line| line.ends_with(name))).collect()
}

fn licenses(root: &Path) -> Outcome {
    if !has("deny") {
        return Outcome::Skipped("cargo-deny is not installed (cargo install cargo-deny)".to_owned());
    }
    // These three need no database from outside; advisories do.
    run(root, &["deny", "--all-features", "check", "bans", "licenses", "sources"], &[])
}

/// What git holds to be changed, or `None` without git.
fn changed_files(root: &Path) -> Option<String> {
    Some(String::from_utf8_lossy(&git(root, &["status", "--porcelain"])?).into_owned())
}

/// The checks leave nothing behind in a tree that was clean.
fn clean(before: Option<&str>, after: Option<&str>) -> Outcome {
    match (before, after) {
        (Some(""), Some("")) => Outcome::Passed,
        (Some(""), Some(left)) => {
            say(&format!("  the checks changed the tree:\n{left}"));
            Outcome::Failed
        }
        (Some(_), _) => Outcome::Skipped("the tree had changes from the start".to_owned()),
        (None, _) => Outcome::Skipped("this is no git repository".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::{Outcome, clean, unread};

    #[test]
    fn a_snapshot_that_no_test_reads_is_told() {
        let all = ["crates/a/tests/snapshots/a__one.snap", "crates/a/tests/snapshots/a__two.snap"];
        let read = "/x/crates/a/tests/snapshots/a__one.snap\n/x/crates/b/tests/snapshots/a__two.snap\n";
        assert_eq!(unread(&all, read), ["crates/a/tests/snapshots/a__two.snap"]);
        assert_eq!(unread(&all, ""), all);
    }

    #[test]
    fn a_tree_that_was_clean_stays_clean() {
        assert_eq!(clean(Some(""), Some("")), Outcome::Passed);
        assert_eq!(clean(Some(""), Some(" M Cargo.lock\n")), Outcome::Failed);
        assert!(matches!(clean(Some(" M a\n"), Some("")), Outcome::Skipped(_)));
        assert!(matches!(clean(None, None), Outcome::Skipped(_)));
    }
}
