//! One spelling for each word, kept in `typos.toml`.

use super::Finding;
use crate::run::say;
use crate::tree::Tree;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// The word list.
const LIST: &str = "typos.toml";
/// What is read: code, prose, tables in our own words, and the snapshots that quote them.
const ENDINGS: [&str; 8] = ["rs", "md", "snap", "toml", "html", "css", "js", "py"];

/// The list as read: wrong spelling to right, and wrong spellings that one file keeps on purpose.
#[derive(Debug, Default, PartialEq)]
struct List {
    right: BTreeMap<String, String>,
    keep: BTreeSet<(String, String)>,
}

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    let list = match tree.text(LIST).map(read) {
        Some(Ok(list)) => list,
        Some(Err(line)) => return vec![Finding::new(LIST, line, "write `wrong = \"right\"`")],
        None => return vec![Finding::new(LIST, 0, "the word list is missing")],
    };
    let mut found = Vec::new();
    let mut kept = BTreeSet::new();
    for (name, text) in read_texts(tree) {
        for (index, line) in text.lines().enumerate() {
            for word in words(line) {
                let Some(right) = list.right.get(&word.to_lowercase()) else { continue };
                let exception = (word.to_lowercase(), name.to_owned());
                if list.keep.contains(&exception) {
                    kept.insert(exception);
                } else {
                    found.push(Finding::new(name, index + 1, format!("`{word}` is spelled `{right}` here")));
                }
            }
        }
    }
    for (word, file) in list.keep.difference(&kept) {
        found.push(Finding::new(LIST, 0, format!("`{word}` is no longer in {file}: remove the exception")));
    }
    found
}

/// Writes the right spellings into the files; true when done.
///
/// # Errors
/// Says which file could not be read or written.
pub(crate) fn mend(root: &Path, tree: &Tree) -> Result<bool, String> {
    let text = tree.text(LIST).ok_or_else(|| format!("{LIST} is missing"))?;
    let list = read(text).map_err(|line| format!("{LIST}:{line}: write `wrong = \"right\"`"))?;
    for (name, text) in read_texts(tree) {
        let mended = mended(text, name, &list);
        if mended != text {
            std::fs::write(root.join(name), mended).map_err(|problem| format!("{name}: {problem}"))?;
            say(&format!("  {name}"));
        }
    }
    Ok(true)
}

fn read_texts(tree: &Tree) -> impl Iterator<Item = (&str, &str)> {
    ENDINGS.iter().flat_map(|ending| tree.ending(ending)).filter(|(name, _)| *name != LIST)
}

/// Reads the list; the number of the first line that is none of its lines.
fn read(text: &str) -> Result<List, usize> {
    let mut list = List::default();
    let mut keeping = false;
    for (index, line) in text.lines().enumerate() {
        let line = line.split('#').next().unwrap_or("").trim();
        if line.is_empty() {
            continue;
        }
        if line.starts_with('[') {
            keeping = line == "[keep]";
            continue;
        }
        let (word, value) = line.split_once('=').ok_or(index + 1)?;
        let value = value.trim().strip_prefix('"').and_then(|v| v.strip_suffix('"')).ok_or(index + 1)?;
        let word = word.trim().to_lowercase();
        if keeping {
            list.keep.insert((word, value.to_owned()));
        } else {
            list.right.insert(word, value.to_owned());
        }
    }
    Ok(list)
}

/// The words of a line; names are taken apart at underscores and at capitals.
fn words(line: &str) -> Vec<&str> {
    spans(line).into_iter().filter_map(|(from, to)| line.get(from..to)).collect()
}

fn spans(text: &str) -> Vec<(usize, usize)> {
    let mut all = Vec::new();
    let mut open: Option<(usize, char)> = None;
    for (at, sign) in text.char_indices() {
        open = match open {
            Some((from, last)) if !sign.is_alphabetic() || (last.is_lowercase() && sign.is_uppercase()) => {
                all.push((from, at));
                sign.is_alphabetic().then_some((at, sign))
            }
            Some((from, _)) => Some((from, sign)),
            None => sign.is_alphabetic().then_some((at, sign)),
        };
    }
    all.extend(open.map(|(from, _)| (from, text.len())));
    all
}

fn mended(text: &str, name: &str, list: &List) -> String {
    let mut out = String::with_capacity(text.len());
    let mut done = 0;
    for (from, to) in spans(text) {
        let word = text.get(from..to).unwrap_or_default();
        let lower = word.to_lowercase();
        if let Some(right) =
            list.right.get(&lower).filter(|_| !list.keep.contains(&(lower.clone(), name.to_owned())))
        {
            out.push_str(text.get(done..from).unwrap_or_default());
            out.push_str(&in_case_of(word, right));
            done = to;
        }
    }
    out.push_str(text.get(done..).unwrap_or_default());
    out
}

/// The right word in capitals where the wrong one was.
fn in_case_of(word: &str, right: &str) -> String {
    let mut signs = right.chars();
    if word.chars().all(char::is_uppercase) {
        right.to_uppercase()
    } else if word.starts_with(char::is_uppercase) {
        signs.next().into_iter().flat_map(char::to_uppercase).chain(signs).collect()
    } else {
        right.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::{List, mended, read, words};
    use crate::tidy::told;

    const LIST: (&str, &str) =
        ("typos.toml", "# Words.\n[words]\nabcde = \"abcd\" # why\n[keep]\nabcde = \"kept.rs\"\n");

    #[test]
    fn a_listed_word_is_found_wherever_it_hides() {
        let kept = ("kept.rs", "abcde");
        for (given, want) in [
            ("An abcde.", 1),
            ("Abcde", 1),
            ("ABCDE", 1),
            ("fn of_abcde()", 1),
            ("struct LongAbcde;", 1),
            ("let abcdeOne = 1;", 1),
            ("abcd", 0),
            ("abcdef", 0),
            ("xabcde", 0),
        ] {
            assert_eq!(told(super::findings, &[LIST, kept, ("a.md", given)]).len(), want, "{given}");
        }
        assert!(told(super::findings, &[LIST, kept, ("a.csv", "abcde")]).is_empty(), "tables quote others");
        assert_eq!(told(super::findings, &[LIST]).len(), 1, "an exception nobody needs");
        assert_eq!(told(super::findings, &[("a.md", "")]).len(), 1, "no list");
        assert_eq!(
            told(super::findings, &[("typos.toml", "abcde")]),
            ["typos.toml:1: write `wrong = \"right\"`"]
        );
    }

    #[test]
    fn names_are_taken_apart() {
        assert_eq!(words("one_twoThree: Four-5six"), ["one", "two", "Three", "Four", "six"]);
        assert!(words("12 + 3").is_empty());
    }

    #[test]
    fn mending_keeps_capitals_and_everything_else() {
        let list = read(LIST.1).unwrap();
        assert_eq!(
            mended("Abcde, ABCDE abcde\nof_abcde é abcdef", "a.md", &list),
            "Abcd, ABCD abcd\nof_abcd é abcdef"
        );
        assert_eq!(mended("abcde", "kept.rs", &list), "abcde");
        assert_eq!(mended("nothing", "a.md", &List::default()), "nothing");
    }
}
