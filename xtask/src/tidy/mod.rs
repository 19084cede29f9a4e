//! The house rules about the files themselves, each in a file of its own.

mod heads;
mod machine;
mod rooms;
mod snapshots;
mod tables;
mod unfinished;
mod vendored;
pub(crate) mod words;

use crate::run::say;
use crate::tree::Tree;
use std::fmt;

/// Something that breaks a rule.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Finding {
    /// Path from the root.
    pub(crate) file: String,
    /// Line from 1; 0 for the file as a whole.
    pub(crate) line: usize,
    /// What is wrong and what to do.
    pub(crate) says: String,
}

impl Finding {
    fn new(file: &str, line: usize, says: impl Into<String>) -> Self {
        Self { file: file.to_owned(), line, says: says.into() }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            0 => write!(f, "{}: {}", self.file, self.says),
            line => write!(f, "{}:{line}: {}", self.file, self.says),
        }
    }
}

/// All findings, by file and line.
pub(crate) fn findings(tree: &Tree) -> Vec<Finding> {
    let rules = [
        heads::findings,
        unfinished::findings,
        machine::findings,
        tables::findings,
        rooms::findings,
        snapshots::findings,
        vendored::findings,
        words::findings,
    ];
    let mut all: Vec<Finding> = rules.iter().flat_map(|rule| rule(tree)).collect();
    all.sort();
    all
}

/// Prints the findings; whether there are none.
pub(crate) fn report(tree: &Tree) -> bool {
    let all = findings(tree);
    for finding in &all {
        say(&format!("  {finding}"));
    }
    say(&format!("  tidy: {} files, {} findings", tree.names().count(), all.len()));
    all.is_empty()
}

/// The findings of one rule as text, for its test.
#[cfg(test)]
fn told(rule: fn(&Tree) -> Vec<Finding>, files: &[(&str, &str)]) -> Vec<String> {
    rule(&Tree::of(files)).iter().map(ToString::to_string).collect()
}
