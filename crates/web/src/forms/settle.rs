//! After a change: what applied before and does not any more is set aside, what applies again comes back, what has come
//! to be needed starts with a value.
//!
//! What did not apply before the change either was written so by hand: it stays, and the reader says what is wrong.

use super::applies::{any_applies, applies, holds};
use super::field::{Field, Group, Kind, OneOf, Start, Way, pattern};
use super::values::Values;
use super::{aside, table};
use crate::edit::{self, EditError};

/// More steps than any change takes: each key moves at most a few times.
const MOST_STEPS: usize = 300;

/// One step towards a text in which everything applies.
enum Step {
    /// Out of the statement, into the comments.
    Aside(String),
    /// Back from the comments.
    Back(String),
    /// A fresh value.
    Start(String, String),
}

/// Settles a changed text.
///
/// # Errors
/// [`EditError`] from the edits.
pub(crate) fn settle(before: &Values, text: String) -> Result<String, EditError> {
    let mut text = text;
    for _ in 0..MOST_STEPS {
        let Some(after) = Values::of(&text) else { return Ok(text) };
        let Some(step) = next(before, &after, &aside::kept(&text)) else { return Ok(text) };
        text = take(&text, &after, step)?;
    }
    Ok(text)
}

/// States one way of a choice between keys, and sets the others aside.
///
/// # Errors
/// [`EditError`] from the edits.
pub(crate) fn choose(
    text: String,
    before: &Values,
    one_of: &OneOf,
    chosen: &Way,
) -> Result<String, EditError> {
    let mut text = text;
    for other in one_of.ways.iter().filter(|way| !way.key.is_empty() && way.key != chosen.key) {
        let Some(values) = Values::of(&text) else { return Ok(text) };
        if values.has(other.key) {
            text = take(&text, &values, Step::Aside(other.key.to_owned()))?;
        }
    }
    let Some(values) = Values::of(&text) else { return Ok(text) };
    if chosen.key.is_empty() || values.has(chosen.key) {
        return Ok(text);
    }
    if aside::kept(&text).iter().any(|(key, _)| key == chosen.key) {
        return take(&text, &values, Step::Back(chosen.key.to_owned()));
    }
    match start(before, &values, chosen.start) {
        Some(value) => state(&text, chosen.key, &value),
        None => Ok(text),
    }
}

fn next(before: &Values, after: &Values, kept: &[(String, String)]) -> Option<Step> {
    // A section goes as a whole before its keys could go one by one.
    sections(before, after)
        .or_else(|| {
            table::all().find_map(|(group, field)| match field.kind {
                Kind::OneOf(one_of) => between(before, after, kept, (group, field, one_of)),
                _ => None,
            })
        })
        .or_else(|| single(before, after))
        .or_else(|| returning(before, after, kept))
        .or_else(|| starting(before, after))
}

/// A choice between keys that comes to apply, or ceases to.
fn between(
    before: &Values,
    after: &Values,
    kept: &[(String, String)],
    (group, field, one_of): (&Group, &Field, &OneOf),
) -> Option<Step> {
    let was = applies(before, group, field, &[]);
    let is = applies(after, group, field, &[]);
    let mut keys = one_of.ways.iter().map(|way| way.key).filter(|key| !key.is_empty());
    if was && !is {
        return keys
            .find(|key| after.has(key) && !any_applies(after, key, &[]))
            .map(|key| Step::Aside(key.to_owned()));
    }
    if !is || keys.clone().any(|key| after.has(key)) {
        return None;
    }
    let needed =
        |values: &Values| !one_of.needed.is_empty() && one_of.needed.iter().all(|c| holds(values, *c, &[]));
    let newly = needed(after) && !needed(before);
    if was && !newly {
        return None;
    }
    if let Some(key) = keys.find(|key| kept.iter().any(|(k, _)| k == key)) {
        return Some(Step::Back(key.to_owned()));
    }
    let way = one_of.ways.iter().find(|way| newly && !way.key.is_empty())?;
    start(before, after, way.start).map(|value| Step::Start(way.key.to_owned(), value))
}

/// A whole section of which nothing applies any more.
fn sections(before: &Values, after: &Values) -> Option<Step> {
    let mut names: Vec<&str> = Vec::new();
    // Lists are no sections: they have fields of their own.
    for (_, field) in
        table::all().filter(|(_, field)| !field.key.contains('*') && !field.key.starts_with('@'))
    {
        let mut name = field.key;
        while let Some((section, _)) = name.rsplit_once('.') {
            if !names.contains(&section) {
                names.push(section);
            }
            name = section;
        }
    }
    names
        .into_iter()
        .find(|name| {
            let any = |values: &Values| {
                table::all().any(|(group, field)| {
                    let inside = field.key.strip_prefix(name).is_some_and(|rest| rest.starts_with('.'));
                    inside && !field.key.contains('*') && applies(values, group, field, &[])
                })
            };
            after.has(name) && !any(after) && (any(before) || !before.has(name))
        })
        .map(|name| Step::Aside(name.to_owned()))
}

/// A key that does not apply any more.
fn single(before: &Values, after: &Values) -> Option<Step> {
    let mut lists: Vec<String> = Vec::new();
    for (key, _) in after.leaves() {
        let (mut key, mut numbers) = pattern(&key);
        // A list of sections is a field too: its own key comes before those of its items.
        while let Some((list, _)) = key.rsplit_once(".*") {
            let outer = numbers.len().saturating_sub(1);
            lists.push(super::field::at(list, numbers.get(..outer).unwrap_or_default()));
            key = list.to_owned();
            numbers.truncate(outer);
        }
    }
    lists
        .into_iter()
        .chain(after.leaves().into_iter().map(|(key, _)| key))
        .find(|key| {
            let (pattern, numbers) = pattern(key);
            table::of(&pattern).next().is_some()
                && !any_applies(after, &pattern, &numbers)
                && (!before.has(key) || any_applies(before, &pattern, &numbers))
        })
        .map(Step::Aside)
}

/// A key that was set aside and applies again.
fn returning(before: &Values, after: &Values, kept: &[(String, String)]) -> Option<Step> {
    kept.iter().map(|(key, _)| key).find_map(|key| {
        let (pattern, numbers) = pattern(key);
        let mine = |values: &Values| {
            any_applies(values, &pattern, &numbers)
                || table::all().any(|(group, field)| {
                    let inside = field.key.strip_prefix(pattern.as_str()).is_some_and(|r| r.starts_with('.'));
                    // What applies only once it is stated waits for its own choice.
                    inside && !field.key.contains('*') && applies(values, group, field, &[])
                })
        };
        (!after.has(key) && mine(after) && !mine(before) && there(after, key))
            .then(|| Step::Back(key.clone()))
    })
}

/// A key that has come to be needed.
fn starting(before: &Values, after: &Values) -> Option<Step> {
    table::all().filter(|(_, field)| field.start != Start::Nothing && !field.key.contains('*')).find_map(
        |(group, field)| {
            let newly = applies(after, group, field, &[]) && !any_applies(before, field.key, &[]);
            if !newly || after.has(field.key) || !there(after, field.key) {
                return None;
            }
            start(before, after, field.start).map(|value| Step::Start(field.key.to_owned(), value))
        },
    )
}

/// Whether the section that a key stands in is there.
fn there(values: &Values, key: &str) -> bool {
    key.rsplit_once('.').is_none_or(|(section, _)| !section.contains('.') || values.has(section))
}

/// What a key starts with.
fn start(before: &Values, after: &Values, start: Start) -> Option<String> {
    match start {
        Start::Nothing => None,
        Start::Value(value) => Some(value.to_owned()),
        Start::Like(key, otherwise) => Some(
            after
                .get(key)
                .or_else(|| before.get(key))
                .map_or_else(|| otherwise.to_owned(), super::values::Node::inline),
        ),
    }
}

fn take(text: &str, values: &Values, step: Step) -> Result<String, EditError> {
    match step {
        Step::Aside(key) => {
            let mut kept = aside::kept(text);
            if let Some(node) = values.get(&key) {
                kept.retain(|(k, _)| *k != key);
                kept.push((key.clone(), node.inline()));
            }
            aside::with(&put(text, &key, None)?, &kept)
        }
        Step::Back(key) => {
            let mut kept = aside::kept(text);
            let value = kept.iter().find(|(k, _)| *k == key).map(|(_, v)| v.clone());
            kept.retain(|(k, _)| *k != key);
            // A comment that somebody changed by hand may be no value any more: then it is only a comment.
            let back = value.map_or_else(|| Ok(text.to_owned()), |value| state(text, &key, &value));
            let back = back.or_else(|_| put(text, &key, None))?;
            aside::with(&back, &kept)
        }
        Step::Start(key, value) => state(text, &key, &value),
    }
}

/// States a key that was not stated; a section as a section.
fn state(text: &str, key: &str, value: &str) -> Result<String, EditError> {
    let short = ["edges.", "finish."].iter().any(|brief| key.starts_with(brief));
    let veneer = key.ends_with(".veneered");
    if value.starts_with('{') && !short && !veneer {
        edit::set_section(text, key, value)
    } else {
        put(text, key, Some(value))
    }
}

/// Sets or takes away a key, and keeps the shorter ways of writing in order: a finish written as a word becomes a
/// section when it gets coats; an arris loses its section with its last key.
///
/// # Errors
/// [`EditError`] from the edits.
pub(crate) fn put(text: &str, key: &str, value: Option<&str>) -> Result<String, EditError> {
    let Some(values) = Values::of(text) else { return edit::set(text, key, value) };
    if let Some(coat) = key.strip_suffix(".kind").filter(|c| c.starts_with("finish.")) {
        return match values.get(coat) {
            Some(super::values::Node::Section(_)) if value.is_some() => edit::set(text, key, value),
            _ => edit::set(text, coat, value),
        };
    }
    if let Some(coat) = key.strip_suffix(".coats").filter(|c| c.starts_with("finish.")) {
        if let (Some(value), false) =
            (value, matches!(values.get(coat), Some(super::values::Node::Section(_))))
        {
            let kind = super::values::quoted(&super::applies::in_force(&values, &format!("{coat}.kind")));
            return edit::set(text, coat, Some(&format!("{{ kind = {kind}, coats = {value} }}")));
        }
    }
    let arris = key.rsplit_once('.').map(|(arris, _)| arris).filter(|a| a.starts_with("edges."));
    let Some(arris) = arris else { return edit::set(text, key, value) };
    let mut text = text.to_owned();
    if value.is_some() && matches!(values.get(arris), Some(super::values::Node::Text(_))) {
        text = edit::set(&text, arris, None)?;
    }
    let text = edit::set(&text, key, value)?;
    let empty = Values::of(&text)
        .is_some_and(|v| matches!(v.get(arris), Some(super::values::Node::Section(e)) if e.is_empty()));
    if empty { edit::set(&text, arris, None) } else { Ok(text) }
}
