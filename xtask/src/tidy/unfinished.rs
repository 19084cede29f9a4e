//! No test that passes by failing or never runs, and no code left for later.

use super::Finding;
use crate::tree::Tree;

// Written in two halves so that this file does not find itself.
const BANNED: [(&str, &str); 5] = [
    (concat!("should", "_panic"), "assert on the error value instead"),
    (concat!("#[", "ignore"), "a test that does not run proves nothing: make it fast or remove it"),
    (concat!("todo", "!("), "finish it, or leave it out"),
    (concat!("unimplemented", "!("), "finish it, or leave it out"),
    (concat!("dbg", "!("), "remove it"),
];

/// An example in a doc comment that is never run.
const UNRUN: [&str; 2] = [concat!("```", "ignore"), concat!("```", "should", "_panic")];

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (name, text) in tree.ending("rs") {
        for (index, line) in text.lines().enumerate() {
            let (code, comment) = line.split_at(line.find("//").unwrap_or(line.len()));
            for (banned, remedy) in BANNED {
                if code.contains(banned) {
                    found.push(Finding::new(name, index + 1, format!("`{banned}`: {remedy}")));
                }
            }
            if UNRUN.iter().any(|fence| comment.contains(fence)) {
                found.push(Finding::new(
                    name,
                    index + 1,
                    "an example that is not run proves nothing: let it run",
                ));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::{BANNED, UNRUN};
    use crate::tidy::told;

    #[test]
    fn each_banned_word_is_found_in_code_but_not_in_comments() {
        for (banned, _) in BANNED {
            let (code, comment) = (format!("x {banned}\n"), format!("x // {banned}\n"));
            let found =
                told(super::findings, &[("code.rs", &code), ("comment.rs", &comment), ("a.md", &code)]);
            assert_eq!(found.len(), 1, "{banned}: {found:?}");
            assert!(found.iter().all(|f| f.starts_with("code.rs:1")), "{found:?}");
        }
    }

    #[test]
    fn an_example_that_is_not_run_is_found() {
        for fence in UNRUN {
            let text = format!("//! Head.\n/// {fence}\n/// x\n/// ```\n");
            assert_eq!(told(super::findings, &[("a.rs", &text)]).len(), 1);
        }
        assert!(told(super::findings, &[("a.rs", "/// ```\n/// x();\n/// ```\n")]).is_empty());
    }
}
