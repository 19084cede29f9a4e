//! Help texts, kept as snapshots: what a maker reads first changes only on purpose.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise in its own scene")]

use std::process::Command;

fn help(args: &[&str]) -> String {
    let output =
        Command::new(env!("CARGO_BIN_EXE_keepwright")).args(args).env("COLUMNS", "40").output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{args:?}");
    assert!(output.stderr.is_empty(), "{args:?}");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn help_of_every_command() {
    for name in ["", "bench", "new", "check", "plan", "packet", "why", "words", "completions", "man"] {
        let args: Vec<&str> = [name, "-h"].into_iter().filter(|a| !a.is_empty()).collect();
        let text = help(&args);
        assert!(text.lines().all(|l| l.chars().count() <= 100), "{name}: too wide");
        insta::assert_snapshot!(if name.is_empty() { "keepwright" } else { name }, text);
    }
}

/// Nothing in the help or the man page relies on color.
#[test]
fn no_escape_codes() {
    for args in [&["--help"][..], &["plan", "--help"], &["man"], &["words"]] {
        assert!(!help(args).contains('\u{1b}'), "{args:?}");
    }
}
