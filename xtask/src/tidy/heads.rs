//! Every Rust file opens by saying what it is for.

use super::Finding;
use crate::tree::Tree;

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    tree.ending("rs")
        .filter(|(_, text)| !text.lines().next().is_some_and(|first| first.starts_with("//! ")))
        .map(|(name, _)| {
            Finding::new(name, 1, "the first line says what the file is for: begin it with `//! `")
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::tidy::told;

    #[test]
    fn a_file_without_a_head_is_found() {
        let files = [
            ("a.rs", "//! What it is.\nfn a() {}\n"),
            ("b.rs", "// A comment is no head.\n"),
            ("c.rs", ""),
            ("d.rs", "#![expect(dead_code)]\n//! Late.\n"),
            ("e.txt", "no Rust\n"),
        ];
        let found = told(super::findings, &files);
        assert_eq!(found.len(), 3, "{found:?}");
        assert!(
            found.iter().zip(["b.rs:1", "c.rs:1", "d.rs:1"]).all(|(f, start)| f.starts_with(start)),
            "{found:?}"
        );
    }
}
