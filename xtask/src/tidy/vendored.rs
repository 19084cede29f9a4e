//! What others made stands with its license and its origin.

use super::Finding;
use crate::tree::Tree;
use std::collections::BTreeSet;

/// Folders whose sub-folders each hold somebody else's work.
const FOLDERS: [&str; 2] = ["assets/fonts", "assets/vendor"];

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    let mut works = BTreeSet::new();
    let mut found = Vec::new();
    for name in tree.names() {
        let Some((above, inside)) = FOLDERS.iter().find_map(|folder| {
            let (before, after) = name.split_once(folder)?;
            Some((format!("{before}{folder}"), after.strip_prefix('/')?))
        }) else {
            continue;
        };
        if let Some((work, _)) = inside.split_once('/') {
            works.insert((above, work.to_owned()));
        } else if inside != "ORIGIN" {
            found.push(Finding::new(name, 0, "put it in a folder of its own, with LICENSE beside it"));
        }
    }
    for (above, work) in works {
        let folder = format!("{above}/{work}");
        if tree.text(&format!("{folder}/LICENSE")).is_none_or(|text| text.trim().is_empty()) {
            found.push(Finding::new(&folder, 0, "no LICENSE beside it"));
        }
        let origin = [format!("{folder}/ORIGIN"), format!("{above}/ORIGIN")];
        if !origin.iter().any(|file| tree.text(file).is_some_and(|text| text.contains(&work))) {
            found.push(Finding::new(
                &folder,
                0,
                "no ORIGIN that names it (version and checksum), here or one above",
            ));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use crate::tidy::told;

    #[test]
    fn a_font_needs_license_and_origin() {
        let font = ("crates/packet/assets/fonts/serif/Serif.ttf", "x");
        let license = ("crates/packet/assets/fonts/serif/LICENSE", "OFL");
        let origin = ("crates/packet/assets/fonts/ORIGIN", "serif/Serif.ttf 1.0 sha256\n");
        assert!(told(super::findings, &[font, license, origin]).is_empty());
        assert_eq!(told(super::findings, &[font, origin]).len(), 1, "no license");
        assert_eq!(told(super::findings, &[font, license]).len(), 1, "no origin");
        assert_eq!(told(super::findings, &[font, license, (origin.0, "other\n")]).len(), 1, "not named");
        assert_eq!(
            told(super::findings, &[("a/assets/vendor/lib.js", "x")]).len(),
            1,
            "in no folder of its own"
        );
        assert!(told(super::findings, &[("a/src/fonts.rs", "x")]).is_empty());
    }
}
