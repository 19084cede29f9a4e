//! The glossary: every trade word in one line, reachable where the word is used.

use serde::Deserialize;
use std::sync::OnceLock;

/// A trade word.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct Word {
    /// As this program writes it.
    pub word: String,
    /// Other names and spellings.
    pub also: Vec<String>,
    /// What it means, in one sentence.
    pub says: String,
}

#[derive(Default, Deserialize)]
struct Table {
    word: Vec<Word>,
}

/// All words, sorted.
pub fn words() -> &'static [Word] {
    static ROWS: OnceLock<Vec<Word>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let table: Table = toml::from_str(include_str!("../../data/words.toml")).unwrap_or_default();
        table.word
    })
}

/// How a word is compared: letters and digits in lower case, without blanks, dashes and a plural s.
fn plain(text: &str) -> String {
    let mut out: String = text
        .chars()
        .take(80)
        .filter(|c| c.is_alphanumeric() || *c == '/')
        .flat_map(char::to_lowercase)
        .collect();
    if out.len() > 3 && out.ends_with('s') && !out.ends_with("ss") {
        out.pop();
    }
    out
}

/// The word, by its name or another name or spelling of it.
pub fn word(text: &str) -> Option<&'static Word> {
    let asked = plain(text);
    if asked.is_empty() {
        return None;
    }
    let by_name = words().iter().find(|w| plain(&w.word) == asked);
    by_name.or_else(|| words().iter().find(|w| w.also.iter().any(|a| plain(a) == asked)))
}

/// The words nearest to a text, best first, at most `most`; empty when nothing is near.
pub fn nearest(text: &str, most: usize) -> Vec<&'static Word> {
    let asked = plain(text);
    if asked.is_empty() {
        return Vec::new();
    }
    let limit = (asked.chars().count() / 3).max(1);
    let mut near: Vec<(usize, &Word)> = words()
        .iter()
        .filter_map(|w| {
            let names = core::iter::once(&w.word).chain(&w.also).map(|n| plain(n));
            let steps = names
                .map(|n| if asked.len() > 2 && n.starts_with(&asked) { 1 } else { edits(&asked, &n) })
                .min()?;
            (steps <= limit).then_some((steps, w))
        })
        .collect();
    near.sort_by(|a, b| (a.0, &a.1.word).cmp(&(b.0, &b.1.word)));
    near.into_iter().take(most).map(|(_, w)| w).collect()
}

/// Single letters to put in, take out or change to get from one word to the other.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut corner = i;
        let mut left = i + 1;
        for (y, above) in b.iter().zip(row.iter_mut().skip(1)) {
            let best = (corner + usize::from(x != *y)).min(*above + 1).min(left + 1);
            corner = *above;
            *above = best;
            left = best;
        }
        if let Some(first) = row.first_mut() {
            *first = i + 1;
        }
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_list_is_in_order_and_whole() {
        let all = words();
        assert!(all.len() > 120, "{}", all.len());
        for pair in all.windows(2) {
            let (a, b) = (pair[0].word.to_lowercase(), pair[1].word.to_lowercase());
            assert!(a < b, "{a} before {b}");
        }
        for w in all {
            assert!(w.says.ends_with('.') && w.says.len() < 140, "{}", w.word);
            assert_eq!(w.says.matches(". ").count(), 0, "{}: one sentence", w.word);
            assert_eq!(word(&w.word), Some(w));
        }
    }

    /// No name stands for two words.
    #[test]
    fn names_are_not_shared() {
        let mut seen = std::collections::BTreeMap::new();
        for w in words() {
            for name in core::iter::once(&w.word).chain(&w.also) {
                if let Some(other) = seen.insert(plain(name), &w.word)
                    && *other != w.word
                {
                    panic!("{name} stands for {other} and for {}", w.word);
                }
            }
        }
    }

    /// The words of the trade that makers meet in this program.
    #[test]
    fn what_makers_look_up() {
        for asked in [
            "wall",
            "lid",
            "frame",
            "panel",
            "bottom",
            "rabbet",
            "groove",
            "miter",
            "key",
            "spline",
            "loose tongue",
            "finger joint",
            "blank",
            "strip",
            "run",
            "closing corner",
            "bookmatch",
            "resaw",
            "slice",
            "kerf",
            "arris",
            "heel",
            "toe",
            "flat-sawn",
            "rift",
            "quartersawn",
            "four-quarter",
            "eight-quarter",
            "4/4",
            "board foot",
            "surfaced thickness",
            "offcut",
            "stop block",
            "cradle",
            "caul",
            "band clamp",
            "dry fit",
            "squeeze-out",
            "open time",
            "clamp time",
            "cure",
            "tray",
            "divider",
            "till",
            "lining",
            "pull",
            "lifter",
            "plinth",
            "foot",
            "stay",
            "Miters",
            "rabbet",
            "Squeeze Out",
            "feet",
        ] {
            assert!(word(asked).is_some(), "{asked}");
        }
        assert_eq!(word("miter").unwrap().word, "miter");
        assert_eq!(word(""), None);
        assert_eq!(word("carburetor"), None);
    }

    #[test]
    fn near_misses() {
        assert_eq!(nearest("rabet", 3)[0].word, "rabbet");
        assert_eq!(nearest("shelac", 3)[0].word, "shellac");
        assert_eq!(nearest("book", 3)[0].word, "bookmatch");
        assert!(nearest("xylophone", 3).is_empty());
        assert!(nearest("", 3).is_empty());
    }

    /// The textbook pair for edit distance: kitten to sitting is three.
    #[test]
    fn edit_distance() {
        for (a, b, want) in
            [("kitten", "sitting", 3), ("", "abc", 3), ("flaw", "lawn", 2), ("same", "same", 0)]
        {
            assert_eq!(edits(a, b), want, "{a} {b}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn any_text_is_taken(text in ".{0,40}") {
            let _ = word(&text);
            prop_assert!(nearest(&text, 5).len() <= 5);
        }

        /// Distance is a metric: symmetric, and no detour is shorter.
        #[test]
        fn distance_is_a_metric(a in "[a-d]{0,8}", b in "[a-d]{0,8}", c in "[a-d]{0,8}") {
            prop_assert_eq!(edits(&a, &b), edits(&b, &a));
            prop_assert!(edits(&a, &c) <= edits(&a, &b) + edits(&b, &c));
        }
    }
}
