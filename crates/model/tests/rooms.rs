//! Imports go one way: a room uses only rooms that stand before it in `src/lib.rs`.

#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test reads the project's own files and stops at the first surprise"
)]

use std::fs;
use std::path::{Path, PathBuf};

fn sources(dir: &Path, into: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

#[test]
fn a_room_uses_only_earlier_rooms() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let lib = fs::read_to_string(src.join("lib.rs")).unwrap();
    let rooms: Vec<&str> =
        lib.lines().filter_map(|l| l.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    assert!(rooms.len() >= 10, "the list of rooms was not found in lib.rs");
    let mut files = Vec::new();
    sources(&src, &mut files);
    let mut wrong = Vec::new();
    for file in files {
        let inside = file.strip_prefix(&src).unwrap();
        let first = inside.components().next().unwrap().as_os_str().to_str().unwrap();
        let room = first.trim_end_matches(".rs");
        let Some(here) = rooms.iter().position(|r| *r == room) else {
            continue;
        };
        for (number, line) in fs::read_to_string(&file).unwrap().lines().enumerate() {
            let code = line.split("//").next().unwrap_or("");
            for tail in code.split("crate::").skip(1) {
                let name: String = tail.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                let known = rooms.iter().position(|r| *r == name);
                if known.is_none_or(|k| k > here) {
                    wrong.push(format!("{}:{}: uses `{name}`", inside.display(), number + 1));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "a room may use only earlier rooms:\n{}", wrong.join("\n"));
}
