//! The forms of a box: one table of fields for every key of a statement, and what is done with it.
//!
//! A form never holds a statement of its own. It shows values as they stand in the text, and what is typed goes back
//! into the text key by key ([`apply`]), so that comments, order and everything that no form knows stay as they are.

pub(crate) mod apply;
mod applies;
mod aside;
pub(crate) mod changed;
mod field;
pub(crate) mod merge;
mod reference;
mod render;
mod settle;
mod table;
#[cfg(test)]
mod tests;
pub(crate) mod values;

pub(crate) use render::{Chapter, Made, Shown, chapter, chapters, field_id, form, html, place_of};
