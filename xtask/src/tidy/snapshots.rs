//! Snapshots belong to a test that is still there.
//!
//! Which snapshots the tests really read is seen when they run; `check` compares that too.

use super::Finding;
use crate::tree::Tree;

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for name in tree.names().filter(|name| name.ends_with(".snap.new")) {
        found.push(Finding::new(name, 0, "read the new snapshot, then accept or drop it"));
    }
    for (name, text) in tree.ending("snap") {
        let source = text.lines().take(12).find_map(|line| line.strip_prefix("source: "));
        match source.map(|path| path.trim().trim_matches('"')) {
            None => found.push(Finding::new(name, 0, "the head does not name the test: write it anew")),
            Some(path) if tree.text(path).is_none() => {
                found.push(Finding::new(name, 0, format!("its test {path} is gone: remove the snapshot")));
            }
            Some(_) => {}
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use crate::tidy::told;

    #[test]
    fn a_snapshot_without_its_test_is_found() {
        let snap = "---\nsource: crates/a/tests/b.rs\nexpression: x\n---\n1\n";
        let test = ("crates/a/tests/b.rs", "//! B.\n");
        let at = "crates/a/tests/snapshots/b__one.snap";
        assert!(told(super::findings, &[(at, snap), test]).is_empty());
        assert_eq!(told(super::findings, &[(at, snap)]).len(), 1, "the test is gone");
        assert_eq!(told(super::findings, &[(at, "1\n"), test]).len(), 1, "no head");
        assert_eq!(told(super::findings, &[("x.snap.new", snap), test]).len(), 1, "not yet read");
    }
}
