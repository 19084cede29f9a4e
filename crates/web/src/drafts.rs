//! Drafts: texts of a box that do not read as a statement, kept until they do or are thrown away.
//!
//! A version is only ever a text that reads. What was typed and does not read is kept here, in the settings of the
//! store, so that neither a reload nor another window loses it.

use crate::error::PageError;
use crate::forms::values::Values;
use crate::state::Bench;
use keepwright_store::{DocumentId, Version, VersionId};
use serde::{Deserialize, Serialize};
use std::sync::{Mutex, PoisonError};

/// The longest text that a draft keeps, in bytes; a rich statement has a few thousand.
const MOST_TEXT: usize = 60 << 10;
/// Drafts of one box; the oldest goes when there are more.
const MOST_DRAFTS: usize = 20;
/// One writer at a time: a draft's number is one more than the last.
static WRITING: Mutex<()> = Mutex::new(());

/// One draft.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Draft {
    /// Its number within the box.
    pub(crate) number: u64,
    /// The version that it was made from.
    pub(crate) base: i64,
    /// The text.
    pub(crate) text: String,
    /// Who typed it.
    pub(crate) by: String,
    /// When, in seconds since 1970.
    pub(crate) at: i64,
}

fn stem(id: DocumentId) -> String {
    format!("draft/{}/", id.get())
}

/// The drafts of a box, the newest first.
///
/// # Errors
/// When the store cannot be read.
pub(crate) fn of(bench: &Bench, id: DocumentId) -> Result<Vec<Draft>, PageError> {
    let stem = stem(id);
    let settings = bench.store().settings()?;
    let mut drafts: Vec<Draft> = settings
        .range(stem.clone()..)
        .take_while(|(key, _)| key.starts_with(&stem))
        .filter_map(|(_, value)| serde_json::from_str(value).ok())
        .collect();
    drafts.sort_by_key(|draft| std::cmp::Reverse(draft.number));
    Ok(drafts)
}

/// A draft by its number.
///
/// # Errors
/// When the store cannot be read.
pub(crate) fn numbered(bench: &Bench, id: DocumentId, number: u64) -> Result<Option<Draft>, PageError> {
    let value = bench.store().setting(&format!("{}{number}", stem(id)))?;
    Ok(value.and_then(|value| serde_json::from_str(&value).ok()))
}

/// Keeps a text as a draft, in the place of another if it goes on from it; `None` if it is too long to be kept.
///
/// # Errors
/// When the store cannot be written.
pub(crate) fn keep(
    bench: &Bench,
    id: DocumentId,
    instead_of: Option<u64>,
    (base, text): (VersionId, &str),
    (by, at): (&str, i64),
) -> Result<Option<Draft>, PageError> {
    if text.len() > MOST_TEXT {
        return Ok(None);
    }
    let _one = WRITING.lock().unwrap_or_else(PoisonError::into_inner);
    let others = of(bench, id)?;
    let goes_on = instead_of.filter(|number| others.iter().any(|d| d.number == *number));
    let again = others.iter().find(|d| d.text == text && d.base == base.get()).map(|d| d.number);
    let number = goes_on.or(again).unwrap_or_else(|| others.first().map_or(1, |d| d.number + 1));
    let draft = Draft { number, base: base.get(), text: text.to_owned(), by: by.to_owned(), at };
    let value = serde_json::to_string(&draft).map_err(|e| PageError::Broken(e.to_string()))?;
    // In the encoding of JSON a text may grow beyond what a setting holds.
    if value.len() > 64 << 10 {
        return Ok(None);
    }
    bench.store().set(&format!("{}{number}", stem(id)), &value)?;
    for old in others.iter().filter(|d| d.number != number).skip(MOST_DRAFTS - 1) {
        bench.store().unset(&format!("{}{}", stem(id), old.number))?;
    }
    Ok(Some(draft))
}

/// Throws a draft away.
///
/// # Errors
/// When the store cannot be written.
pub(crate) fn drop(bench: &Bench, id: DocumentId, number: u64) -> Result<(), PageError> {
    Ok(bench.store().unset(&format!("{}{number}", stem(id)))?)
}

/// The newest draft that was made from a version and that a form can show: its text is TOML at least.
///
/// # Errors
/// When the store cannot be read.
pub(crate) fn fresh(bench: &Bench, id: DocumentId, head: &Version) -> Result<Option<Draft>, PageError> {
    let drafts = of(bench, id)?;
    Ok(drafts.into_iter().find(|d| d.base == head.id.get() && Values::of(&d.text).is_some()))
}
