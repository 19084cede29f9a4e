//! One table of a file: which keys it may have, and the reading of each.

use super::page::Page;
use super::value::Value;
use crate::design::problem::{nearest, quoted};
use crate::units::Angle;
use crate::units::Length;
use core::cell::Cell;
use core::ops::Range;
use toml::de::{DeTable, DeValue};

/// One table of the file.
pub(crate) struct Section<'p> {
    /// The file.
    pub(crate) page: &'p Page<'p>,
    table: &'p DeTable<'p>,
    /// Key path of the table, empty for the file itself.
    pub(crate) path: String,
    /// The header, or the braces.
    pub(crate) span: Range<usize>,
    /// A choice was given that could not be read, so that nobody knows which keys go with it.
    unsettled: Cell<bool>,
}

impl<'p> Section<'p> {
    /// Opens a table and notes every key that is not one of `keys`.
    pub(crate) fn new(
        page: &'p Page<'p>,
        table: &'p DeTable<'p>,
        path: String,
        span: Range<usize>,
        keys: &[&str],
    ) -> Self {
        let section = Self::unchecked(page, table, path, span);
        section.check_keys(keys);
        section
    }

    /// Opens a table whose keys are checked later.
    pub(crate) fn unchecked(
        page: &'p Page<'p>,
        table: &'p DeTable<'p>,
        path: String,
        span: Range<usize>,
    ) -> Self {
        Self { page, table, path, span, unsettled: Cell::new(false) }
    }

    /// Notes every key that is not one of `keys`.
    pub(crate) fn check_keys(&self, keys: &[&str]) {
        for key in self.table.keys() {
            let written: &str = key.get_ref();
            if keys.contains(&written) {
                continue;
            }
            let shown = quoted(written);
            let list = keys.join(", ");
            let remedy = nearest(written, keys.iter().copied()).map_or_else(
                || format!("the keys here are: {list}"),
                |near| format!("did you mean `{near}`? the keys here are: {list}"),
            );
            self.page.note(
                key.span(),
                &self.join(&shown),
                format!("there is no key `{shown}` in {}", self.words()),
                remedy,
            );
        }
    }

    /// The section in words, such as `[walls]`.
    fn words(&self) -> String {
        if self.path.is_empty() { "this file".to_owned() } else { format!("[{}]", self.path) }
    }

    /// The path of a key in this section.
    pub(crate) fn join(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    /// Whether a key is given.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// The value of a key.
    pub(crate) fn value(&self, key: &str) -> Option<Value<'p>> {
        let node = self.table.get(key)?;
        Some(Value { page: self.page, node, name: key.to_owned(), path: self.join(key) })
    }

    /// Where a value stands; where the section stands if there is none.
    pub(crate) fn span_of(&self, key: &str) -> Range<usize> {
        self.table.get(key).map_or_else(|| self.span.clone(), toml::Spanned::span)
    }

    /// Notes a problem at a key of this section.
    pub(crate) fn note(&self, key: &str, says: impl Into<String>, remedy: impl Into<String>) {
        self.page.note(self.span_of(key), &self.join(key), says.into(), remedy.into());
    }

    /// Notes that a key is needed and missing.
    pub(crate) fn missing(&self, key: &str, example: &str) {
        self.page.note(
            self.span.clone(),
            &self.join(key),
            format!("`{key}` is missing in {}", self.words()),
            format!("add {key} = {example}"),
        );
    }

    /// Notes every one of `keys` that is given although the choice made leaves no use for it.
    pub(crate) fn no_use_for(&self, keys: &[&str], belongs_to: &str, but: &str, remedy: &str) {
        if self.unsettled.get() {
            return;
        }
        for key in keys {
            if let Some((written, _)) = self.table.get_key_value(*key) {
                self.page.note(
                    written.span(),
                    &self.join(key),
                    format!("`{key}` belongs to {belongs_to}, but {but}"),
                    format!("remove `{key}`, or {remedy}"),
                );
            }
        }
    }

    /// The section under a key; `None` if it is not given or no table.
    pub(crate) fn section(&self, key: &str, keys: &[&str]) -> Option<Section<'p>> {
        self.value(key)?.section(keys)
    }

    /// The sections of a list under a key; empty if it is not given.
    pub(crate) fn each(&self, key: &str, keys: &[&str]) -> Vec<Section<'p>> {
        let Some(value) = self.value(key) else {
            return Vec::new();
        };
        let Some(list) = value.list() else {
            return Vec::new();
        };
        list.iter().filter_map(|entry| entry.section(keys)).collect()
    }

    /// A length above zero.
    pub(crate) fn positive(&self, key: &str) -> Option<Length> {
        self.value(key)?.positive()
    }

    /// A length above zero, or what is usual.
    pub(crate) fn positive_or(&self, key: &str, usual: Length) -> Length {
        self.positive(key).unwrap_or(usual)
    }

    /// A length above zero that must be given; on a problem one inch, so that reading can go on.
    pub(crate) fn need_positive(&self, key: &str, example: &str) -> Length {
        if !self.has(key) {
            self.missing(key, example);
        }
        self.positive(key).unwrap_or(Length::inches(1.0))
    }

    /// A length of zero or more, or what is usual.
    pub(crate) fn length_or(&self, key: &str, usual: Length) -> Length {
        self.value(key).and_then(|v| v.length()).unwrap_or(usual)
    }

    /// A length of either sign, or what is usual.
    pub(crate) fn signed_or(&self, key: &str, usual: Length) -> Length {
        self.value(key).and_then(|v| v.signed()).unwrap_or(usual)
    }

    /// A whole number between two bounds, or what is usual.
    pub(crate) fn count_or(&self, key: &str, bounds: (u32, u32), usual: u32) -> u32 {
        self.value(key).and_then(|v| v.count(bounds)).unwrap_or(usual)
    }

    /// A text of at most so many characters, or what is usual.
    pub(crate) fn text_or(&self, key: &str, most: usize, usual: &str) -> String {
        self.value(key).and_then(|v| v.text(most)).unwrap_or_else(|| usual.to_owned())
    }

    /// True or false, or what is usual.
    pub(crate) fn flag_or(&self, key: &str, usual: bool) -> bool {
        self.value(key).and_then(|v| v.flag()).unwrap_or(usual)
    }

    /// One of several words, or what is usual.
    pub(crate) fn choice_or<T: Copy>(&self, key: &str, choices: &[(&str, T)], usual: T) -> T {
        let Some(value) = self.value(key) else {
            return usual;
        };
        let choice = value.choice(choices);
        if choice.is_none() {
            self.unsettle();
        }
        choice.unwrap_or(usual)
    }

    /// Remembers that a choice could not be read.
    pub(crate) fn unsettle(&self) {
        self.unsettled.set(true);
    }

    /// An angle in degrees between two bounds, or what is usual.
    pub(crate) fn degrees_or(&self, key: &str, bounds: (f64, f64), usual: f64) -> Angle {
        self.value(key).and_then(|v| v.degrees(bounds)).unwrap_or(Angle::degrees(usual))
    }

    /// A number between two bounds, or what is usual; `unit` is its unit in words, or empty.
    pub(crate) fn number_or(&self, key: &str, bounds: (f64, f64), unit: &str, usual: f64) -> f64 {
        self.value(key).and_then(|v| v.number(bounds, unit)).unwrap_or(usual)
    }

    /// The keys of the table under a key, unread; empty if there is none.
    pub(crate) fn section_keys(&self, key: &str) -> Vec<String> {
        match self.table.get(key).map(toml::Spanned::get_ref) {
            Some(DeValue::Table(table)) => table.keys().map(|k| k.get_ref().to_string()).collect(),
            _ => Vec::new(),
        }
    }
}
