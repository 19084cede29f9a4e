//! What the pages of one box share: finding it, its versions and its plan.

use crate::error::PageError;
use crate::forms::changed;
use crate::forms::values::Values;
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use crate::{clock, edit};
use keepwright_model::job::Shop;
use keepwright_model::shop::schedule::Day;
use keepwright_model::units::LengthUnit;
use keepwright_store::{By, Document, Error, Time, Version, VersionId};

/// A version of a box by its number in the store.
///
/// # Errors
/// [`PageError::NoSuch`] where there is none or it is another document's, or the store's.
pub(crate) fn version(bench: &Bench, document: &Document, number: i64) -> Result<Version, PageError> {
    let missing = || PageError::NoSuch { what: "version", name: number.to_string() };
    match bench.store().version(VersionId::new(number)) {
        Ok(version) if version.document == document.id => Ok(version),
        Ok(_) | Err(Error::NoVersion { .. }) => Err(missing()),
        Err(other) => Err(other.into()),
    }
}

/// Who does something now.
pub(crate) fn by(who: &Who) -> By<'_> {
    By::new(&who.name, Time::seconds(clock::now()))
}

/// The day that a box is due, as the planner takes it; a day that is none counts as not stated.
///
/// # Errors
/// The store's.
pub(crate) fn due(bench: &Bench, document: &Document) -> Result<Option<Day>, PageError> {
    let due = bench.store().job(document.id)?.due;
    Ok(due.as_deref().and_then(|text| Day::parse(text).ok()))
}

/// The unit of a statement's bare lengths, as a word.
pub(crate) fn unit_of(text: &str, shop: &Shop) -> &'static str {
    match edit::get(text, "units").as_deref() {
        Some("mm") => "mm",
        Some("in") => "in",
        _ if shop.unit == LengthUnit::Inch => "in",
        _ => "mm",
    }
}

/// What changed from one text to another, as the name of a version.
pub(crate) fn says(before: &str, after: &str, shop: &Shop) -> String {
    let changes = match (Values::of(before), Values::of(after)) {
        (Some(was), Some(now)) => changed::changes(&was, &now, unit_of(after, shop)),
        _ => Vec::new(),
    };
    let says = changed::says(&changes);
    if says.is_empty() { "comments or layout of the text".to_owned() } else { says }
}

/// Lets the list of boxes call a box as its statement does.
///
/// # Errors
/// The store's.
pub(crate) fn same_name(bench: &Bench, document: &Document, text: &str, by: By<'_>) -> Result<(), PageError> {
    let shop = bench.shop()?;
    let Ok(statement) = planner::statement(text, &shop) else { return Ok(()) };
    if statement.name.trim() != document.name {
        match bench.store().rename(document.id, &statement.name, by) {
            // A statement may be called by a blank or by more bytes than a box: the box then keeps its name.
            Ok(_) | Err(Error::NoName | Error::TooLong { .. }) => {}
            Err(other) => return Err(other.into()),
        }
    }
    Ok(())
}
