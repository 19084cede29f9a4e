//! The text of a file as a spanned tree, and the list of what is wrong in it.

use super::section::Section;
use crate::design::problem::{Problem, floor_boundary, nearest, quoted};
use crate::units::LengthUnit;
use core::cell::{Cell, RefCell};
use core::ops::Range;
use toml::de::DeTable;

/// The longest file that is read: one mebibyte. A rich statement has a few kilobytes.
pub(crate) const LONGEST_TEXT: usize = 1 << 20;

/// After so many problems the rest are only counted.
const MOST_PROBLEMS: usize = 100;

/// Looks up a wood or sheet by the name that the maker wrote: its id, or the nearest names.
pub type WoodNames<'w> = dyn Fn(&str) -> Result<String, Vec<String>> + 'w;

/// One file being read.
pub(crate) struct Page<'p> {
    /// The text.
    pub(crate) text: &'p str,
    /// The unit of a number that names none.
    pub(crate) unit: Cell<LengthUnit>,
    woods: &'p WoodNames<'p>,
    problems: RefCell<Vec<Problem>>,
    more: Cell<usize>,
}

impl<'p> Page<'p> {
    /// A text not yet read.
    pub(crate) fn new(text: &'p str, unit: LengthUnit, woods: &'p WoodNames<'p>) -> Self {
        Self { text, unit: Cell::new(unit), woods, problems: RefCell::new(Vec::new()), more: Cell::new(0) }
    }

    /// The whole file as a section, from its parsed table; its keys are not checked yet.
    pub(crate) fn root(&'p self, table: &'p DeTable<'p>) -> Section<'p> {
        Section::unchecked(self, table, String::new(), 0..0)
    }

    /// Whether a problem was noted at a key, so that what follows from it need not be.
    pub(crate) fn is_noted(&self, key: &str) -> bool {
        self.problems.borrow().iter().any(|p| p.key == key)
    }

    /// Notes a problem.
    pub(crate) fn note(&self, span: Range<usize>, key: &str, says: String, remedy: String) {
        let mut problems = self.problems.borrow_mut();
        if problems.len() >= MOST_PROBLEMS {
            self.more.set(self.more.get() + 1);
            return;
        }
        let start = floor_boundary(self.text, span.start);
        let end = floor_boundary(self.text, span.end).max(start);
        problems.push(Problem { span: start..end, key: key.to_owned(), says, remedy });
    }

    /// The id of a wood or sheet; notes a problem if there is none of that name.
    pub(crate) fn wood(&self, span: Range<usize>, key: &str, written: &str) -> Option<String> {
        match (self.woods)(written) {
            Ok(id) => Some(id),
            Err(near) => {
                let shown = quoted(written);
                let remedy = match near.as_slice() {
                    [] => "write a wood by its trade name or its id from the list of woods".to_owned(),
                    [one] => format!("did you mean `{one}`?"),
                    several => format!("did you mean one of: {}?", several.join(", ")),
                };
                self.note(span, key, format!("no wood or sheet is called `{shown}`"), remedy);
                None
            }
        }
    }

    /// Notes what the TOML parser found wrong; `true` if the tree can still be trusted.
    pub(crate) fn note_syntax(&self, errors: &[toml::de::Error]) -> bool {
        let mut sound = true;
        for error in errors {
            let span = error.span().unwrap_or(0..0);
            if error.message() == "duplicate key" {
                let start = floor_boundary(self.text, span.start);
                let end = floor_boundary(self.text, span.end).max(start);
                let name = quoted(&self.text[start..end]);
                self.note(
                    span,
                    &name,
                    format!("`{name}` is given twice"),
                    "keep one of the two and remove the other".to_owned(),
                );
            } else {
                sound = false;
                let (says, remedy) = syntax_words(self.text, &span, error.message());
                self.note(span, "", format!("this is not TOML: {says}"), remedy);
            }
        }
        sound
    }

    /// The problems in the order of the text, or nothing.
    pub(crate) fn into_problems(self) -> Vec<Problem> {
        let mut problems = self.problems.into_inner();
        problems.sort_by_key(|p| (p.span.start, p.span.end));
        if self.more.get() > 0 {
            let at = problems.last().map_or(0..0, |p| p.span.clone());
            problems.push(Problem {
                span: at,
                key: String::new(),
                says: format!("and {} more problems", self.more.get()),
                remedy: "mend these first, then read the file again".to_owned(),
            });
        }
        problems
    }
}

/// What a slip in TOML is in plain words, and what most likely cures it, from the line where it was found.
fn syntax_words(text: &str, span: &Range<usize>, message: &str) -> (String, String) {
    let at = floor_boundary(text, span.start);
    let start = text[..at].rfind('\n').map_or(0, |n| n + 1);
    let line = text[start..].lines().next().unwrap_or("").trim();
    let marked = text.get(at..floor_boundary(text, span.end).max(at)).unwrap_or("").trim();
    let says = message.to_owned();
    let Some((key, value)) = line.split_once('=') else {
        let remedy = if line.starts_with('[') {
            "write a section as [walls], a list of sections as [[corners.row]]"
        } else {
            "write one `key = value` on each line, texts and lengths with units in \"quotes\""
        };
        return (says, remedy.to_owned());
    };
    let (key, value) = (key.trim(), value.trim());
    let bare = value.split('#').next().unwrap_or("").trim();
    if bare.is_empty() {
        let says = format!("`{}` has no value", quoted(key));
        let remedy = format!("write the value after the equals sign: {} = …", quoted(key));
        (says, remedy)
    } else if message.contains("must be quoted") {
        let written = if marked.is_empty() { bare } else { marked };
        let says = format!("`{}` is neither a plain number nor in quotes", quoted(written));
        let remedy = format!(
            "a text, and a length with a unit or a fraction, goes in quotes: \"{}\"",
            quoted(written)
        );
        (says, remedy)
    } else {
        let remedy = "close every quote, brace and bracket on its line, with commas between the entries; \
                      write inches inside quotes as `in`";
        (says, remedy.to_owned())
    }
}

/// The words of a remedy that names the nearest of several words, then all of them.
pub(crate) fn choose(written: &str, words: &[&str]) -> String {
    let list = words.join(", ");
    match nearest(written, words.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? choose one of: {list}"),
        None => format!("choose one of: {list}"),
    }
}
