//! What changed between two statements, key by key, in the maker's words.

use super::applies::{any_applies, applies, way_in_force};
use super::field::{Kind, at, pattern};
use super::values::{Node, Values};
use super::{apply, reference, table};
use std::fmt::Write as _;

/// The most of a value that is shown in the name of a version.
const MOST_SHOWN: usize = 40;
/// Changes that a version's name tells one by one.
const MOST_NAMED: usize = 3;

/// One key that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Change {
    /// Key path.
    pub(crate) key: String,
    /// Its name: `wall thickness`.
    pub(crate) label: String,
    /// What it was, with its unit; empty where it was not stated.
    pub(crate) was: String,
    /// What it is now; empty where it is not stated.
    pub(crate) now: String,
    /// Whether it only follows from another choice: on the side where it is not stated it does not apply.
    pub(crate) follows: bool,
}

impl Change {
    /// The words for the side on which the key is not stated.
    pub(crate) const fn unstated(&self) -> &'static str {
        if self.follows { "does not apply" } else { "the usual" }
    }
}

/// Every key that differs, in the order of the earlier text, then of the later one. `unit` is that of bare lengths.
pub(crate) fn changes(before: &Values, after: &Values, unit: &str) -> Vec<Change> {
    let mut out = Vec::new();
    let mut told: Vec<&str> = Vec::new();
    for (group, field) in table::all() {
        let Kind::OneOf(one_of) = field.kind else { continue };
        let (was, now) = (way_in_force(before, one_of), way_in_force(after, one_of));
        let (Some(was), Some(now)) = (one_of.ways.get(was), one_of.ways.get(now)) else { continue };
        let both = applies(before, group, field, &[]) && applies(after, group, field, &[]);
        if both && was.word != now.word {
            told.extend(one_of.ways.iter().map(|way| way.key).filter(|key| !key.is_empty()));
            let label = named(group.called, field.label);
            out.push(Change {
                key: field.key.to_owned(),
                label,
                was: was.label.to_owned(),
                now: now.label.to_owned(),
                follows: false,
            });
        }
    }
    let told = |key: &str| {
        told.iter().any(|t| key.strip_prefix(t).is_some_and(|r| r.is_empty() || r.starts_with('.')))
    };
    let (was, now) = (before.leaves(), after.leaves());
    let list_told = lists(before, after, &mut out, &told);
    let told = |key: &str| {
        told(key)
            || list_told.iter().any(|t| key.strip_prefix(t.as_str()).is_some_and(|r| r.starts_with('.')))
    };
    for (key, node) in &was {
        let later = after.get(key);
        if later != Some(*node) && !told(key) {
            let follows = later.is_none() && is_known_but_idle(after, key);
            out.push(Change { follows, ..change(key, Some(node), later, unit) });
        }
    }
    for (key, node) in &now {
        if !before.has(key) && !told(key) {
            let follows = is_known_but_idle(before, key);
            out.push(Change { follows, ..change(key, None, Some(node), unit) });
        }
    }
    out
}

/// Lists that grew or shrank are told by their number of items.
fn lists(before: &Values, after: &Values, out: &mut Vec<Change>, told: &dyn Fn(&str) -> bool) -> Vec<String> {
    let mut lists = Vec::new();
    for (key, _) in before.leaves().into_iter().chain(after.leaves()) {
        let (pattern, numbers) = pattern(&key);
        let mut rest = pattern.as_str();
        let mut depth = numbers.len();
        while let Some((list, _)) = rest.rsplit_once(".*") {
            depth = depth.saturating_sub(1);
            lists.push(at(list, numbers.get(..depth).unwrap_or_default()));
            rest = list;
        }
    }
    // An item without any key has no leaf.
    for (_, field) in table::all() {
        if matches!(field.kind, Kind::List(_)) && !field.key.contains('*') {
            lists.push(field.key.to_owned());
        }
    }
    lists.sort();
    lists.dedup();
    lists.retain(|list| !told(list) && before.len(list) != after.len(list) && apply::list_of(list).is_some());
    for list in &lists {
        let (was, now) = (before.len(list), after.len(list));
        let words = |n: usize| {
            apply::list_of(list)
                .map_or_else(String::new, |l| format!("{n} {}", if n == 1 { l.one } else { l.many }))
        };
        out.push(Change {
            key: list.clone(),
            label: String::new(),
            was: words(was),
            now: words(now),
            follows: false,
        });
    }
    lists
}

fn change(key: &str, was: Option<&Node>, now: Option<&Node>, unit: &str) -> Change {
    let with_unit = |node: Option<&Node>| node.map_or_else(String::new, |n| shown(key, n, unit));
    Change {
        key: key.to_owned(),
        label: label(key),
        was: with_unit(was),
        now: with_unit(now),
        follows: false,
    }
}

/// Whether a key has a field, but one that does not apply.
fn is_known_but_idle(values: &Values, key: &str) -> bool {
    let (pattern, numbers) = pattern(key);
    table::of(&pattern).next().is_some() && !any_applies(values, &pattern, &numbers)
}

/// A value with the unit that a bare number has.
fn shown(key: &str, node: &Node, unit: &str) -> String {
    let (pattern, _) = pattern(key);
    let kind = table::of(&pattern).next().map(|(_, field)| field.kind);
    let text = short(&node.shown());
    match (kind, node) {
        (Some(Kind::Length), Node::Bare(_)) => format!("{text} {unit}"),
        (Some(Kind::Length), Node::Text(written)) if written.ends_with(|c: char| c.is_ascii_digit()) => {
            format!("{text} {unit}")
        }
        (Some(Kind::Degrees), Node::Bare(_)) => format!("{text}°"),
        (Some(Kind::Flag), _) => if text == "true" { "yes" } else { "no" }.to_owned(),
        _ => text,
    }
}

fn short(text: &str) -> String {
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if one_line.chars().count() <= MOST_SHOWN {
        return one_line;
    }
    let mut out: String = one_line.chars().take(MOST_SHOWN).collect();
    out.push('…');
    out
}

/// A key's name in words: `wall thickness`, `thing 2 length`.
pub(crate) fn label(key: &str) -> String {
    let (pattern, numbers) = pattern(key);
    let found = table::of(&pattern)
        .next()
        // A finish written as a word is its kind.
        .or_else(|| {
            if pattern.starts_with("finish.") { table::all().find(|(_, f)| f.row == pattern) } else { None }
        });
    let Some((group, field)) = found else { return key.replace(['.', '_'], " ") };
    let Some((list, _)) = pattern.rsplit_once(".*") else { return named(group.called, field.label) };
    let one = table::of(list)
        .find_map(|(_, f)| match f.kind {
            Kind::List(list) => Some(list.one),
            _ => None,
        })
        .unwrap_or("item");
    let number = numbers.last().copied().unwrap_or(1);
    named(&format!("{one} {number}"), field.label)
}

fn named(called: &str, label: &str) -> String {
    let lower = label.to_lowercase();
    if called.ends_with(&lower) {
        called.to_owned()
    } else if called.is_empty() || lower.contains(called) {
        lower
    } else {
        format!("{called} {lower}")
    }
}

/// What changed as the name of a version; empty if no key did.
pub(crate) fn says(changes: &[Change]) -> String {
    // What follows from a choice is not worth a word beside it.
    let mut own: Vec<&Change> = changes.iter().filter(|change| !change.follows).collect();
    if own.is_empty() {
        own = changes.iter().collect();
    }
    let each: Vec<String> = own.iter().take(MOST_NAMED).map(|change| one(change)).collect();
    let more = own.len().saturating_sub(MOST_NAMED);
    let mut out = each.join("; ");
    if more > 0 {
        let _ = write!(out, "; and {more} more");
    }
    out
}

fn one(change: &Change) -> String {
    let Change { key, label, was, now, .. } = change;
    if label.is_empty() {
        return format!("{was} → {now}");
    }
    match (was.is_empty(), now.is_empty()) {
        (true, _) => format!("{label} {now}"),
        (_, true) => {
            let (pattern, _) = pattern(key);
            let usual =
                table::of(&pattern).next().and_then(|(_, f)| reference::row(f)).map_or("", |r| &r.usual);
            let usual = if usual.starts_with(|c: char| c.is_ascii_digit()) {
                format!(" {usual}")
            } else {
                String::new()
            };
            format!("{label} {was} → the usual{usual}")
        }
        _ => format!("{label} {was} → {now}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "keepwright = 1\nname = 'Box'\nunits = 'mm'\n[size]\noutside = { length = 200, depth = 100, height = 80 }\n[walls]\nwood = 'cherry'\nthickness = 12\n[finish]\noutside = 'oil'\n";

    #[test]
    fn a_version_is_named_by_what_changed() {
        for (from, to, want) in [
            ("thickness = 12", "thickness = 10", "wall thickness 12 mm → 10 mm"),
            ("thickness = 12", "thickness = '3/8 in'", "wall thickness 12 mm → 3/8 in"),
            ("thickness = 12\n", "", "wall thickness 12 mm → the usual 3/8 in"),
            ("'cherry'", "'cherry'\nrings = 'rift'", "wall rings rift"),
            ("'Box'", "'Tea <b>'", "name Box → Tea <b>"),
            ("outside = 'oil'", "outside = 'wax'", "outside finish oil → wax"),
            ("outside = {", "inside = {", "size from its outside → from its inside"),
            ("[finish]", "[inside.cloth]\nname = 'felt'\n[finish]", "cloth none → cloth, leather or felt"),
            ("[finish]", "[lid]\nkind = 'frame'\nmember = 30\n[finish]", "lid kind frame"),
            ("# none", "", ""),
        ] {
            let (before, after) = (Values::of(TEXT).unwrap(), Values::of(&TEXT.replace(from, to)).unwrap());
            assert_eq!(says(&changes(&before, &after, "mm")), want);
        }
        let rows = |n: usize| {
            Values::of(&format!("corners = {{ joint = 'keyed miter', row = [{}] }}", vec!["{}"; n].join(",")))
                .unwrap()
        };
        assert_eq!(says(&changes(&rows(1), &rows(2), "mm")), "1 row of keys → 2 rows of keys");
        let thing =
            |n| Values::of(&format!("size.contents.item = [{{ length = 1 }}, {{ length = {n} }}]")).unwrap();
        assert_eq!(says(&changes(&thing(5), &thing(6), "in")), "thing 2 length 5 in → 6 in");
    }
}
