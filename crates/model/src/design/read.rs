//! Reading a statement file: TOML in, a [`Statement`] or every problem at once out.
//!
//! The format is described in `docs/statement.md`. A text is parsed to a tree in which every value knows its
//! place; each subject then walks its own section, notes what is wrong and goes on, so that one reading shows
//! all there is to mend.

mod bottom;
mod build;
mod corners;
mod extras;
mod inside;
mod lid;
pub(super) mod page;
pub(super) mod rack;
pub(super) mod section;
pub(super) mod shop;
mod size;
pub(super) mod value;
mod walls;

pub(super) use build::moves;
pub(super) use extras::{FINISHES, usual_coats, usual_finish};
pub(super) use inside::usual_proud;
pub(super) use lid::{Kind, Register};

use super::problem::Problem;
use super::statement::Statement;
use super::usual;
use crate::units::LengthUnit;
use page::{LONGEST_TEXT, Page, WoodNames};
use section::Section;
use toml::de::DeTable;

/// The version of the statement format that this program writes, and the newest that it reads.
pub const FORMAT: u32 = 1;
/// The most boxes in one batch.
pub const MOST_IN_BATCH: u32 = 5000;

/// What a file may leave to the shop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Defaults {
    /// The unit of a number that names none, in a file that does not state its `units`.
    pub length_unit: LengthUnit,
}

/// Reads a statement; `woods` turns a wood's or sheet's name as written into its id, or gives the nearest names.
///
/// # Errors
/// Every problem in the text, in the order in which they stand there; never an empty list.
pub fn read_statement(
    text: &str,
    settings: &Defaults,
    woods: &WoodNames<'_>,
) -> Result<Statement, Vec<Problem>> {
    read_page(text, settings.length_unit, woods, statement)
}

/// As [`read_statement`], from bytes that may not be text at all.
///
/// # Errors
/// As [`read_statement`]; bytes that are not UTF-8 are one problem at the first bad byte.
pub fn read_statement_bytes(
    bytes: &[u8],
    settings: &Defaults,
    woods: &WoodNames<'_>,
) -> Result<Statement, Vec<Problem>> {
    read_statement(text_of(bytes)?, settings, woods)
}

/// The bytes of a file as text, for the readers that take text.
///
/// # Errors
/// One problem if they are too many or not UTF-8.
pub fn text_of(bytes: &[u8]) -> Result<&str, Vec<Problem>> {
    if bytes.len() > LONGEST_TEXT {
        return Err(vec![too_long(bytes.len())]);
    }
    core::str::from_utf8(bytes).map_err(|error| {
        let good = bytes.get(..error.valid_up_to()).unwrap_or_default();
        let before = core::str::from_utf8(good).unwrap_or("");
        let place = super::problem::place_of(before, before.len());
        let bad = bytes.get(error.valid_up_to()).copied().unwrap_or_default();
        vec![Problem {
            span: before.len()..before.len(),
            key: String::new(),
            says: format!(
                "line {}, column {}: the byte {bad:#04x} is not UTF-8 text",
                place.line, place.column
            ),
            remedy: "save the file as plain text in UTF-8".to_owned(),
        }]
    })
}

fn too_long(bytes: usize) -> Problem {
    Problem {
        span: 0..0,
        key: String::new(),
        says: format!("the file has {bytes} bytes, but at most 1 MiB ({LONGEST_TEXT} bytes) is read"),
        remedy: "check that this is the right file".to_owned(),
    }
}

/// Parses a text and lets `walk` read it; `walk` must note a problem wherever it returns `None`.
pub(super) fn read_page<T>(
    text: &str,
    unit: LengthUnit,
    woods: &WoodNames<'_>,
    walk: impl for<'p> FnOnce(&'p Page<'p>, &'p DeTable<'p>) -> Option<T>,
) -> Result<T, Vec<Problem>> {
    if text.len() > LONGEST_TEXT {
        return Err(vec![too_long(text.len())]);
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    let page = Page::new(text, unit, woods);
    let read = if page.note_syntax(&errors) { walk(&page, table.get_ref()) } else { None };
    let problems = page.into_problems();
    match read {
        Some(read) if problems.is_empty() => Ok(read),
        _ => Err(problems),
    }
}

/// Checks the format's version; `None` if the file is of a newer format, and reading on would mislead.
pub(super) fn version(root: &Section<'_>, key: &str) -> Option<()> {
    let Some(value) = root.value(key) else {
        root.missing(key, &format!("{FORMAT} at the top: the version of the format"));
        return Some(());
    };
    let found = value.count((1, u32::MAX))?;
    if found > FORMAT {
        value.note(
            format!("this file has format {found}, but this program reads formats up to {FORMAT}"),
            "use a newer program, or write the file again from the program that made it in the older format",
        );
        return None;
    }
    Some(())
}

/// The unit of bare numbers, where the file states it.
pub(super) fn units(root: &Section<'_>) {
    let stated = root
        .value("units")
        .and_then(|v| v.choice(&[("mm", LengthUnit::Millimeter), ("in", LengthUnit::Inch)]));
    if let Some(unit) = stated {
        root.page.unit.set(unit);
    }
}

fn statement<'p>(page: &'p Page<'p>, table: &'p DeTable<'p>) -> Option<Statement> {
    let keys = [
        "keepwright",
        "name",
        "note",
        "count",
        "units",
        "size",
        "shape",
        "walls",
        "corners",
        "bottom",
        "lid",
        "inside",
        "base",
        "pull",
        "hinges",
        "edges",
        "finish",
    ];
    let root = page.root(table);
    version(&root, "keepwright")?;
    root.check_keys(&keys);
    units(&root);
    let shape = size::shape(&root);
    let walls = walls::walls(&root, shape.sides);
    let lid = lid::lid(&root, &walls.wood);
    let count = match root.value("count") {
        None => 1,
        Some(value) => batch(&value),
    };
    Some(Statement {
        name: root.text_or("name", 200, usual::NAME),
        note: root.text_or("note", 4000, ""),
        count,
        size: size::size(&root, shape.sides),
        shape,
        corners: corners::corners(&root, shape.sides, &walls.wood),
        bottom: bottom::bottom(&root, &walls.wood),
        inside: inside::inside(&root, &walls.wood, &lid.registration),
        base: extras::base(&root, &walls.wood),
        pull: extras::pull(&root, &walls.wood, &lid),
        hinges: extras::hinges(&root, &lid),
        edges: extras::edges(&root),
        finish: extras::finish(&root),
        walls,
        lid,
    })
}

/// The number of boxes, with the batch's own words.
fn batch(value: &value::Value<'_>) -> u32 {
    if value.is_above(MOST_IN_BATCH) {
        value.note(
            format!("`count` is {}, but at most {MOST_IN_BATCH} boxes go in one batch", value.written()),
            format!("write a whole number from 1 to {MOST_IN_BATCH}, and make the rest in another batch"),
        );
        return 1;
    }
    value.count((1, MOST_IN_BATCH)).unwrap_or(1)
}
