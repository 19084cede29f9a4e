//! What others made and the bench carries is what its ORIGIN says it is: every file is listed, every checksum is right.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// The checksums of an ORIGIN: lines of the form `sha256 FILE: HEX`.
fn listed(origin: &str) -> BTreeMap<String, String> {
    origin
        .lines()
        .filter_map(|line| line.strip_prefix("sha256 ")?.split_once(": "))
        .map(|(file, hex)| (file.to_owned(), hex.trim().to_owned()))
        .collect()
}

fn sha256(path: &Path) -> String {
    Sha256::digest(fs::read(path).unwrap()).iter().fold(String::new(), |mut hex, byte| {
        write!(hex, "{byte:02x}").unwrap();
        hex
    })
}

#[test]
fn vendored_files_are_those_of_their_origin() {
    let vendor = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/vendor");
    let mut folders = 0;
    for entry in fs::read_dir(vendor).unwrap() {
        let folder = entry.unwrap().path();
        if !folder.is_dir() {
            continue;
        }
        folders += 1;
        let name = folder.display();
        let origin = fs::read_to_string(folder.join("ORIGIN")).unwrap_or_else(|_| {
            panic!("{name} has no ORIGIN: say where it is from, and the sha256 of each file")
        });
        let listed = listed(&origin);
        assert!(listed.contains_key("LICENSE"), "{name}: the license is not listed");
        let mut found = Vec::new();
        for file in fs::read_dir(&folder).unwrap() {
            let path = file.unwrap().path();
            let file = path.file_name().unwrap().to_str().unwrap().to_owned();
            if file != "ORIGIN" {
                assert_eq!(listed.get(&file), Some(&sha256(&path)), "{name}: {file} is not what ORIGIN says");
                found.push(file);
            }
        }
        assert_eq!(found.len(), listed.len(), "{name}: a file that ORIGIN lists is missing");
    }
    assert!(folders > 0, "nothing is vendored: this test looks in the wrong place");
}
