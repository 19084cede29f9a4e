//! What was typed into a form, put into the text of a statement.

use super::applies::way_in_force;
use super::field::{Field, Kind, pattern};
use super::settle::{choose, put, settle};
use super::values::{Values, quoted};
use super::{aside, table};
use crate::edit::{self, EditError};

/// The most rows that a list grows to by a form.
const MOST_ROWS: usize = 200;

/// A field as it came from a form: its key and what was typed.
pub(crate) type Typed = (String, String);

/// What is done to a row of a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum RowStep {
    /// One more at the end of a list.
    Add(String),
    /// Takes one away.
    Remove(String, usize),
    /// Changes places with the one before.
    Up(String, usize),
    /// Changes places with the one after.
    Down(String, usize),
}

impl RowStep {
    /// Reads the value of a row's button: `add corners.row`, `up corners.row.2`.
    pub(crate) fn of(button: &str) -> Option<Self> {
        let (what, key) = button.trim().split_once(' ')?;
        if what == "add" {
            return list_of(key).is_some().then(|| Self::Add(key.to_owned()));
        }
        let (list, number) = key.rsplit_once('.')?;
        let number = number.parse().ok().filter(|n| *n > 0)?;
        list_of(list)?;
        match what {
            "remove" => Some(Self::Remove(list.to_owned(), number)),
            "up" => Some(Self::Up(list.to_owned(), number)),
            "down" => Some(Self::Down(list.to_owned(), number)),
            _ => None,
        }
    }
}

/// The list that a key names.
pub(super) fn list_of(key: &str) -> Option<&'static super::field::List> {
    table::of(&pattern(key).0).find_map(|(_, field)| match field.kind {
        Kind::List(list) => Some(list),
        _ => None,
    })
}

/// Puts what was typed into a text; fields that show what the text has already are left alone, so that a value stays
/// as it was written.
///
/// # Errors
/// [`EditError`] with its key; the text is then unchanged.
pub(crate) fn apply(text: &str, typed: &[Typed], row: Option<&RowStep>) -> Result<String, EditError> {
    let before = Values::of(text).ok_or_else(|| no_toml(text))?;
    let mut out = text.to_owned();
    let mut choices = Vec::new();
    for (key, typed) in typed {
        let Some(field) = field_of(&before, key) else { continue };
        if let Kind::OneOf(one_of) = field.kind {
            let in_force = one_of.ways.get(way_in_force(&before, one_of));
            let chosen = one_of.ways.iter().find(|way| way.word == typed.trim());
            if let Some(chosen) = chosen.filter(|way| in_force.is_none_or(|now| now.word != way.word)) {
                choices.push((one_of, chosen));
            }
            continue;
        }
        let typed = cleaned(field.kind, typed);
        if typed == before.shown(key) {
            continue;
        }
        // A choice that nothing states shows the usual; sending that back changes nothing.
        if !before.has(key) && super::render::preselected(&before, field, key) == Some(typed.as_str()) {
            continue;
        }
        let value = (!typed.is_empty()).then(|| toml(field.kind, &typed));
        out = put(&out, key, value.as_deref())?;
    }
    for (one_of, chosen) in choices {
        out = choose(out, &before, one_of, chosen)?;
    }
    if let Some(row) = row {
        out = rows(&out, row)?;
    }
    if out == text { Ok(out) } else { settle(&before, out) }
}

/// Puts edits into a text, each a line `key = value` in TOML, and settles what follows from them.
///
/// # Errors
/// [`EditError`] with its key; the text is then unchanged.
pub(crate) fn settled(text: &str, sets: &[String]) -> Result<String, EditError> {
    if sets.is_empty() {
        return Ok(text.to_owned());
    }
    let before = Values::of(text).ok_or_else(|| no_toml(text))?;
    let mut out = text.to_owned();
    for line in sets {
        let Some((key, value)) = line.split_once('=') else {
            return Err(EditError::Value {
                key: line.clone(),
                value: String::new(),
                why: "there is no `=`".to_owned(),
            });
        };
        let value = Some(value.trim()).filter(|v| !v.is_empty());
        out = put(&out, key.trim(), value)?;
    }
    settle(&before, out)
}

/// The field that a key names, the one that applies first.
pub(super) fn field_of(values: &Values, key: &str) -> Option<&'static Field> {
    let (pattern, numbers) = pattern(key);
    let mut all =
        table::of(&pattern).filter(|(_, field)| !matches!(field.kind, Kind::Version | Kind::List(_)));
    let first = all.clone().next();
    all.find(|(group, field)| super::applies::applies(values, group, field, &numbers))
        .or(first)
        .map(|(_, field)| field)
}

fn no_toml(text: &str) -> EditError {
    match edit::set(text, "keepwright", None) {
        Err(error) => error,
        Ok(_) => EditError::Text("it cannot be read".to_owned()),
    }
}

/// What was typed, without blanks around it; lines end as in a file.
fn cleaned(kind: Kind, typed: &str) -> String {
    match kind {
        Kind::Lines => typed.replace("\r\n", "\n").replace('\r', "\n").trim_end().to_owned(),
        _ => typed.trim().to_owned(),
    }
}

/// What was typed as a TOML value.
fn toml(kind: Kind, typed: &str) -> String {
    match kind {
        Kind::Length | Kind::Degrees | Kind::Rings => edit::typed(typed),
        Kind::Count | Kind::Corner => match typed.parse::<u32>() {
            Ok(number) => number.to_string(),
            Err(_) => quoted(typed),
        },
        Kind::Flag => match typed {
            "true" | "false" => typed.to_owned(),
            _ => quoted(typed),
        },
        Kind::Lengths => {
            let each = typed.split([',', ';']).map(str::trim).filter(|t| !t.is_empty()).map(edit::typed);
            format!("[{}]", each.collect::<Vec<_>>().join(", "))
        }
        _ => quoted(typed),
    }
}

fn rows(text: &str, step: &RowStep) -> Result<String, EditError> {
    let Some(values) = Values::of(text) else { return Err(no_toml(text)) };
    match step {
        RowStep::Add(list) => {
            let has = values.len(list);
            let fresh = list_of(list).map_or("{}", |l| l.fresh);
            if has >= MOST_ROWS {
                return Err(EditError::NoItem { key: list.clone(), number: has + 1, has });
            }
            edit::set(text, &format!("{list}.{}", has + 1), Some(fresh))
        }
        RowStep::Remove(list, number) => {
            let out = edit::set(text, &format!("{list}.{number}"), None)?;
            let has = values.len(list);
            if *number > has {
                return Ok(out);
            }
            renumbered(&out, list, |n| match n.cmp(number) {
                std::cmp::Ordering::Less => Some(n),
                std::cmp::Ordering::Equal => None,
                std::cmp::Ordering::Greater => Some(n - 1),
            })
        }
        RowStep::Up(list, number) => swapped(text, &values, list, number.saturating_sub(1), *number),
        RowStep::Down(list, number) => swapped(text, &values, list, *number, *number + 1),
    }
}

fn swapped(text: &str, values: &Values, list: &str, one: usize, other: usize) -> Result<String, EditError> {
    if one == 0 || other > values.len(list) {
        return Ok(text.to_owned());
    }
    let out = edit::swap(text, list, one, other)?;
    renumbered(&out, list, |n| {
        Some(if n == one {
            other
        } else if n == other {
            one
        } else {
            n
        })
    })
}

/// What is set aside for the items of a list follows its item.
fn renumbered(text: &str, list: &str, to: impl Fn(usize) -> Option<usize>) -> Result<String, EditError> {
    let kept = aside::kept(text);
    if kept.is_empty() {
        return Ok(text.to_owned());
    }
    let moved: Vec<Typed> = kept
        .iter()
        .filter_map(|(key, value)| {
            let Some(rest) = key.strip_prefix(list).and_then(|r| r.strip_prefix('.')) else {
                return Some((key.clone(), value.clone()));
            };
            let (number, rest) = rest.split_once('.').unwrap_or((rest, ""));
            let number = to(number.parse().ok()?)?;
            let dot = if rest.is_empty() { "" } else { "." };
            Some((format!("{list}.{number}{dot}{rest}"), value.clone()))
        })
        .collect();
    aside::with(text, &moved)
}
