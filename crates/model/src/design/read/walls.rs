//! `[walls]`.

use super::build::needed_wood;
use super::section::Section;
use crate::design::corner::CornerName;
use crate::design::problem::{nearest, quoted};
use crate::design::read::value::plain;
use crate::design::statement::{StripMethod, WallCut, Walls, WoodUse};
use crate::design::usual;
use toml::de::DeValue;

/// How walls leave the strip, as a word.
#[derive(Clone, Copy, PartialEq)]
enum Method {
    FromStrip,
    SquareFirst,
}

/// The walls.
pub(super) fn walls(root: &Section<'_>, sides: u32) -> Walls {
    let keys = ["wood", "rings", "thickness", "from", "ends", "square_trim", "closing_corner"];
    if !root.has("walls") {
        root.missing("walls", "{ wood = \"cherry\" }");
    }
    let Some(section) = root.section("walls", &keys) else {
        return Walls {
            wood: WoodUse { wood: String::new(), rings: crate::design::RingCut::default() },
            thickness: usual::WALL_THICKNESS,
            cut: WallCut::OneStrip,
            method: StripMethod::MiterFromStrip,
            closing_corner: None,
        };
    };
    let cut = section.choice_or(
        "from",
        &[
            ("one strip", WallCut::OneStrip),
            ("bookmatched pair", WallCut::BookmatchedPair),
            ("loose boards", WallCut::Loose),
        ],
        WallCut::OneStrip,
    );
    if cut == WallCut::BookmatchedPair && sides != 4 {
        section.note(
            "from",
            format!("a bookmatched pair wraps a rectangle, but this box has {sides} sides"),
            "write from = \"one strip\", or make the box a rectangle",
        );
    }
    let method = section.choice_or(
        "ends",
        &[("mitered from strip", Method::FromStrip), ("square first", Method::SquareFirst)],
        Method::FromStrip,
    );
    if method == Method::FromStrip {
        section.no_use_for(
            &["square_trim"],
            "walls crosscut square first",
            "these are mitered straight from the strip",
            "set ends = \"square first\"",
        );
    }
    Walls {
        wood: needed_wood(&section),
        thickness: section.positive_or("thickness", usual::WALL_THICKNESS),
        cut,
        method: match method {
            Method::FromStrip => StripMethod::MiterFromStrip,
            Method::SquareFirst => {
                StripMethod::SquareFirst { trim: section.length_or("square_trim", usual::SQUARE_TRIM) }
            }
        },
        closing_corner: corner(&section, "closing_corner", sides),
    }
}

/// A corner by its words on a rectangle, by its number from one on any box.
pub(super) fn corner(section: &Section<'_>, key: &str, sides: u32) -> Option<CornerName> {
    let value = section.value(key)?;
    if let DeValue::Integer(_) = value.node.get_ref() {
        return value.count((1, sides)).map(|n| CornerName(n - 1));
    }
    let text = value.text(40)?;
    let written = plain(&text);
    let words: Vec<String> = (0..sides).map(|i| CornerName(i).words(sides)).collect();
    if let Some(found) = (0..sides).find(|i| CornerName(*i).words(sides) == written) {
        return Some(CornerName(found));
    }
    let near = nearest(&written, words.iter().map(String::as_str));
    let meant = near.map_or_else(String::new, |near| format!("did you mean `{near}`? "));
    value.note(
        format!("no corner is called `{}`", quoted(&text)),
        format!("{meant}choose one of: {}", words.join(", ")),
    );
    None
}
