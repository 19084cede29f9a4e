//! Reading the rack file.

use super::build::rings;
use super::page::{Page, WoodNames};
use super::section::Section;
use super::value::Value;
use super::{Defaults, read_page, units, version};
use crate::design::problem::{Problem, quoted};
use crate::design::rack_file::{
    DefectFace, DefectKind, RackBoard, RackDefect, RackFile, RackPrice, RackSurface,
};
use crate::units::{Currency, Length, MoistureContent, Money};
use toml::de::DeTable;

/// Rows in one rack file, and faults on one board.
const MOST_BOARDS: usize = 2000;
/// Boards alike in one row.
const MOST_ALIKE: u32 = 1000;
/// The dearest board, in major units of any currency.
const DEAREST: f64 = 10_000_000.0;

/// Reads a rack file; prices are in `currency`, woods are found by `woods`.
///
/// # Errors
/// Every problem in the text, in the order in which they stand there; never an empty list.
pub fn read_rack(
    text: &str,
    settings: &Defaults,
    currency: Currency,
    woods: &WoodNames<'_>,
) -> Result<RackFile, Vec<Problem>> {
    read_page(text, settings.length_unit, woods, |page, table| rack_file(page, table, currency))
}

fn rack_file<'p>(page: &'p Page<'p>, table: &'p DeTable<'p>, currency: Currency) -> Option<RackFile> {
    let root = page.root(table);
    version(&root, "keepwright")?;
    root.check_keys(&["keepwright", "units", "board"]);
    units(&root);
    let keys = [
        "name",
        "wood",
        "surface",
        "length",
        "width",
        "thickness",
        "quarters",
        "count",
        "moisture_pct",
        "rings",
        "price_per_board_foot",
        "price",
        "end_check_left",
        "end_check_right",
        "defect",
    ];
    let rows = root.each("board", &keys);
    if rows.len() > MOST_BOARDS {
        root.note(
            "board",
            format!("there are {} boards, but at most {MOST_BOARDS} are read", rows.len()),
            "put boards that are alike into one entry with a `count`",
        );
        return None;
    }
    let mut boards: Vec<RackBoard> = Vec::with_capacity(rows.len());
    let mut names = std::collections::BTreeSet::new();
    for (i, row) in rows.iter().enumerate() {
        let board = board(row, i + 1, currency);
        if !names.insert(board.name.clone()) {
            row.note(
                "name",
                format!("two boards are called `{}`", quoted(&board.name)),
                "give each board a name of its own, or put boards that are alike into one entry with a `count`",
            );
        }
        boards.push(board);
    }
    Some(RackFile { boards })
}

fn board(row: &Section<'_>, number: usize, currency: Currency) -> RackBoard {
    if !row.has("wood") {
        row.missing("wood", "\"cherry\"");
    }
    let length = row.need_positive("length", "\"8 ft\"");
    let width = row.need_positive("width", "\"6 in\"");
    let thickness = row.positive("thickness");
    let quarters = row.value("quarters").and_then(|v| quarters(&v));
    if !row.has("thickness") && !row.has("quarters") {
        row.missing("thickness", "\"15/16 in\", or quarters = \"4/4\"");
    }
    let (left, right) =
        (row.length_or("end_check_left", Length::ZERO), row.length_or("end_check_right", Length::ZERO));
    let measured = row.has("length") && !row.page.is_noted(&row.join("length"));
    if measured && left + right >= length {
        let key = if row.has("end_check_right") { "end_check_right" } else { "end_check_left" };
        row.note(key, "the end checks leave nothing of the board", "check them and the board's length");
    }
    RackBoard {
        name: row.text_or("name", 60, &format!("B{number}")),
        wood: row.value("wood").and_then(|v| v.wood()).unwrap_or_default(),
        surface: row.choice_or(
            "surface",
            &[("rough", RackSurface::Rough), ("surfaced", RackSurface::Surfaced)],
            RackSurface::Rough,
        ),
        length,
        width,
        thickness,
        quarters,
        count: row.count_or("count", (1, MOST_ALIKE), 1),
        moisture: row
            .value("moisture_pct")
            .and_then(|v| v.number((0.0, 200.0), "percent"))
            .map(MoistureContent::percent),
        rings: rings(row).unwrap_or_default(),
        price: price(row, currency),
        end_check_left: left,
        end_check_right: right,
        defects: defects(row, measured.then_some(length), width),
    }
}

/// Quarters of an inch as they are sold: `"4/4"`, `"5/4"`, `"8/4"`.
fn quarters(value: &Value<'_>) -> Option<u32> {
    let text = value.text(40)?;
    let number = text.trim().strip_suffix("/4").and_then(|n| n.trim().parse().ok());
    let number = number.filter(|n| (1..=32).contains(n));
    if number.is_none() {
        value.note(
            format!("`quarters` cannot be `{}`", quoted(&text)),
            "write them as the mill does: \"4/4\", \"5/4\", \"6/4\", \"8/4\"",
        );
    }
    number
}

fn price(row: &Section<'_>, currency: Currency) -> Option<RackPrice> {
    let amount = |key: &str| {
        let value = row.value(key)?.number((0.0, DEAREST), currency.code())?;
        Some(Money::from_major(value, currency))
    };
    let (by_foot, whole) = (amount("price_per_board_foot"), amount("price"));
    if row.has("price") && row.has("price_per_board_foot") {
        row.note(
            "price_per_board_foot",
            "`price` and `price_per_board_foot` both state what the board costs",
            "keep `price` or `price_per_board_foot` and remove the other",
        );
    }
    by_foot.map(RackPrice::PerBoardFoot).or(whole.map(RackPrice::PerBoard))
}

fn defects(row: &Section<'_>, board_length: Option<Length>, board_width: Length) -> Vec<RackDefect> {
    let kinds = [
        ("knot", DefectKind::Knot),
        ("check", DefectKind::Check),
        ("bark", DefectKind::Bark),
        ("stain", DefectKind::Stain),
        ("worm", DefectKind::Worm),
        ("other", DefectKind::Other),
    ];
    let faces = [("both", DefectFace::Both), ("front", DefectFace::Front), ("back", DefectFace::Back)];
    let list = row.each("defect", &["x", "y", "length", "width", "kind", "face"]);
    if list.len() > MOST_BOARDS {
        row.note(
            "defect",
            format!("there are {} faults, but at most {MOST_BOARDS} are read", list.len()),
            "draw one rectangle round faults that lie together",
        );
        return Vec::new();
    }
    list.iter()
        .map(|d| {
            for key in ["x", "y"] {
                if !d.has(key) {
                    d.missing(key, "\"10 in\"");
                }
            }
            let defect = RackDefect {
                x: d.length_or("x", Length::ZERO),
                y: d.length_or("y", Length::ZERO),
                length: d.need_positive("length", "\"1 in\""),
                width: d.need_positive("width", "\"1 in\""),
                kind: d.choice_or("kind", &kinds, DefectKind::Other),
                face: d.choice_or("face", &faces, DefectFace::Both),
            };
            if board_length.is_some_and(|length| defect.x >= length) {
                d.note(
                    "x",
                    "this fault begins past the end of its board",
                    "check `x` and the board's length",
                );
            }
            if !row.page.is_noted(&row.join("width")) && defect.y >= board_width {
                d.note(
                    "y",
                    "this fault begins past the edge of its board",
                    "check `y` and the board's width",
                );
            }
            defect
        })
        .collect()
}
