//! Finding a wood by what the maker calls it, and guessing what was meant.

use super::Rows;
use super::species::{Species, all};
use std::sync::OnceLock;

/// Another name for a species and why it means that one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alias {
    /// The name, lower case.
    pub name: &'static str,
    /// The species meant.
    pub species_id: &'static str,
    /// Why that one.
    pub why: &'static str,
}

/// The stated table of other names, sorted by name.
pub fn aliases() -> &'static [Alias] {
    static ALIASES: OnceLock<Vec<Alias>> = OnceLock::new();
    ALIASES.get_or_init(|| {
        Rows::of(include_str!("../../data/aliases.csv")).map(|row| Alias {
            name: row.text("alias"),
            species_id: row.text("species_id"),
            why: row.text("why"),
        })
    })
}

/// Lower-case letters and digits, words apart by one space: how names are compared.
pub(crate) fn plain(name: &str) -> String {
    let mut plain = String::with_capacity(name.len());
    for word in name.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()) {
        if !plain.is_empty() {
            plain.push(' ');
        }
        plain.extend(word.chars().flat_map(char::to_lowercase));
    }
    plain
}

/// `Cherry, black` as it is said: `black cherry`.
fn as_said(common_name: &str) -> String {
    match common_name.split_once(',') {
        Some((genus, kind)) => plain(&format!("{kind} {genus}")),
        None => plain(common_name),
    }
}

/// A species by id (`cherry_black`), common name in either word order (`Cherry, black`, `black cherry`) or a name of the
/// alias table (`cherry`); case and punctuation do not matter.
pub fn species(name: &str) -> Option<&'static Species> {
    let want = plain(name);
    let by_id = |id: &str| all().binary_search_by(|s| s.id.cmp(id)).ok().and_then(|i| all().get(i));
    by_id(&want.replace(' ', "_"))
        .or_else(|| {
            let aliases = aliases();
            let at = aliases.binary_search_by(|a| a.name.cmp(&want)).ok()?;
            by_id(aliases.get(at)?.species_id)
        })
        .or_else(|| all().iter().find(|s| plain(s.common_name) == want || as_said(s.common_name) == want))
}

/// The id of a species or a kind of sheet by any name that [`species`] or [`sheet`](super::sheet()) knows.
///
/// # Errors
/// The three nearest known names.
pub fn named(name: &str) -> Result<String, Vec<String>> {
    species(name)
        .map(|s| s.id)
        .or_else(|| super::sheet(name).map(|s| s.id))
        .map(str::to_owned)
        .ok_or_else(|| nearest_names(name, 3))
}

/// Up to `n` known names of woods and sheets nearest to what was written, best first, one for each species.
pub fn nearest_names(written: &str, n: usize) -> Vec<String> {
    let said = all().iter().map(|s| (as_said(s.common_name), s.id));
    let others = aliases().iter().map(|a| (a.name.to_owned(), a.species_id));
    let sheets = super::sheets()
        .iter()
        .flat_map(|s| core::iter::once(s.name).chain(s.aliases.iter().copied()).map(|n| (plain(n), s.id)));
    nearest(written, said.chain(others).chain(sheets), n)
}

/// Up to `n` of the candidates nearest to what was written, best first; none that is nothing like it.
pub fn nearest_of<'a>(written: &str, candidates: impl Iterator<Item = &'a str>, n: usize) -> Vec<String> {
    nearest(written, candidates.map(|c| (c.to_owned(), c)), n)
}

/// Ranks names by likeness; keeps the best name of each key.
fn nearest<K: PartialEq>(written: &str, names: impl Iterator<Item = (String, K)>, n: usize) -> Vec<String> {
    // A maker's file may hold anything; no wood's name is longer than this.
    const LONGEST: usize = 60;
    let want: Vec<char> = plain(written).chars().take(LONGEST).collect();
    if want.is_empty() {
        return Vec::new();
    }
    let mut ranked: Vec<(usize, String, K)> = names
        .filter_map(|(name, key)| {
            let far = unlikeness(&want, &plain(&name));
            // More than half of the letters wrong is no likeness.
            (far <= want.len() + 1).then_some((far, name, key))
        })
        .collect();
    ranked.sort_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.cmp(&b.1)));
    let mut best: Vec<(String, K)> = Vec::new();
    for (_, name, key) in ranked {
        if best.len() == n {
            break;
        }
        if best.iter().all(|(_, k)| *k != key) {
            best.push((name, key));
        }
    }
    best.into_iter().map(|(name, _)| name).collect()
}

/// Twice the letters to change; a name that holds the written one whole, or a word that nearly does, comes nearer.
fn unlikeness(want: &[char], name: &str) -> usize {
    let whole: Vec<char> = name.chars().collect();
    let mut least = edits(want, &whole) * 2;
    for word in name.split(' ') {
        let word: Vec<char> = word.chars().collect();
        // One more than the word alone, so that the name in full wins a tie.
        least = least.min(edits(want, &word) * 2 + 1);
    }
    least
}

/// Letters to insert, delete, change or swap with their neighbor (optimal string alignment).
fn edits(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, &x) in a.iter().enumerate() {
        let mut row = Vec::with_capacity(b.len() + 1);
        let mut left = i + 1;
        row.push(left);
        for ((j, &y), pair) in b.iter().enumerate().zip(last.windows(2)) {
            let &[diagonal, above] = pair else { continue };
            let mut cost = (diagonal + usize::from(x != y)).min(above + 1).min(left + 1);
            let swapped = i.checked_sub(1).and_then(|i| a.get(i)) == Some(&y)
                && j.checked_sub(1).and_then(|j| b.get(j)) == Some(&x);
            if swapped && let Some(&two_back) = j.checked_sub(1).and_then(|j| before.get(j)) {
                cost = cost.min(two_back + 1);
            }
            row.push(cost);
            left = cost;
        }
        before = core::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_maker_says() {
        let cases = [
            ("cherry_black", "cherry_black"),
            ("Cherry, black", "cherry_black"),
            ("black cherry", "cherry_black"),
            ("Cherry", "cherry_black"),
            ("walnut", "walnut_black"),
            ("Ash", "ash_white"),
            ("WHITE OAK", "oak_white"),
            ("red oak", "oak_northern_red"),
            ("maple", "maple_sugar"),
            ("hard maple", "maple_sugar"),
            ("soft maple", "maple_red"),
            ("Hard-Maple", "maple_sugar"),
            ("beech", "beech_american"),
            ("birch", "birch_yellow"),
            ("basswood", "basswood"),
            ("alder", "alder_red"),
            ("sycamore", "sycamore"),
            ("butternut", "butternut"),
            ("sapele", "sapele"),
            ("mahogany", "mahogany_honduran"),
            ("African mahogany", "mahogany_african"),
            ("padauk", "padauk_african"),
            ("wenge", "wenge"),
            ("Spanish-cedar", "spanish_cedar"),
            ("eastern redcedar", "redcedar_eastern"),
            ("yellow-poplar", "yellow_poplar"),
            ("Mahogany, true (Honduran)", "mahogany_honduran"),
        ];
        for (said, want) in cases {
            assert_eq!(species(said).map(|s| s.id), Some(want), "{said}");
        }
        for nonsense in ["", "  ", "oak", "chery", "\u{0}", "plywood"] {
            assert!(species(nonsense).is_none(), "{nonsense:?}");
        }
    }

    #[test]
    fn the_alias_table_is_sorted_and_resolves() {
        assert!(aliases().is_sorted_by(|a, b| a.name < b.name));
        for a in aliases() {
            assert_eq!(a.name, plain(a.name), "{}", a.name);
            assert!(all().iter().any(|s| s.id == a.species_id), "{}", a.species_id);
            assert!(!a.why.is_empty(), "{}", a.name);
            assert_eq!(species(a.name).map(|s| s.id), Some(a.species_id), "{}", a.name);
        }
    }

    #[test]
    fn every_species_is_found_by_its_names() {
        for s in all() {
            for name in [s.id.to_owned(), s.common_name.to_owned(), as_said(s.common_name)] {
                assert_eq!(species(&name).map(|f| f.id), Some(s.id), "{name}");
            }
        }
    }

    #[test]
    fn did_you_mean() {
        let cases = [
            ("chery", "cherry"),
            ("wallnut", "walnut"),
            ("hard mapel", "hard maple"),
            ("baltic brich", "baltic birch"),
        ];
        for (written, want) in cases {
            assert!(
                nearest_names(written, 3).iter().any(|n| n == want),
                "{written}: {:?}",
                nearest_names(written, 3)
            );
        }
        let oaks = nearest_names("oak", 3);
        assert!(oaks.len() == 3 && oaks.iter().all(|o| o.contains("oak")), "{oaks:?}");
        assert!(nearest_names("", 3).is_empty());
        assert!(nearest_names("xqzvkjw", 3).is_empty(), "{:?}", nearest_names("xqzvkjw", 3));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn any_text_is_answered(text in ".{0,80}") {
            let _ = species(&text);
            prop_assert!(nearest_names(&text, 4).len() <= 4);
        }
    }
}
