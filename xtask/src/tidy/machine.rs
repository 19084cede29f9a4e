//! Nothing points into one particular machine.

use super::Finding;
use crate::tree::Tree;

// Written in two halves so that this file does not find itself.
const PLACES: [&str; 4] =
    [concat!("/wo", "rk"), concat!("/tm", "p"), concat!("/ho", "me"), concat!("/ro", "ot")];

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (name, text) in tree.texts() {
        for (index, line) in text.lines().enumerate() {
            if let Some(place) = PLACES.into_iter().find(|place| names(line, place)) {
                let says =
                    format!("`{place}` is a place on somebody's machine: use a path from the repository");
                found.push(Finding::new(name, index + 1, says));
            }
        }
    }
    found
}

/// Whether the line holds this place as the beginning of a path, not as a part of a longer one.
fn names(line: &str, place: &str) -> bool {
    line.match_indices(place).any(|(at, _)| {
        let before = line.get(..at).and_then(|text| text.chars().next_back());
        let after = line.get(at + place.len()..).and_then(|text| text.chars().next());
        let begins = before.is_none_or(|c| !c.is_alphanumeric() && !matches!(c, '/' | '.' | '_' | '-' | '}'));
        begins && after == Some('/')
    })
}

#[cfg(test)]
mod tests {
    use super::{PLACES, names};
    use crate::tidy::told;

    #[test]
    fn a_path_from_the_root_of_a_machine_is_found() {
        for place in PLACES {
            for line in [format!("see {place}/x"), format!("\"{place}/x\""), format!("{place}/")] {
                assert!(names(&line, place), "{line}");
                assert_eq!(told(super::findings, &[("a.md", &line)]).len(), 1, "{line}");
            }
            for line in [
                format!("a{place}/x"),
                format!("https://example.org{place}/x"),
                format!("{place}shop"),
                format!("..{place}/x"),
            ] {
                assert!(!names(&line, place), "{line}");
            }
        }
    }
}
