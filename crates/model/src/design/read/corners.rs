//! `[corners]`, and keys wherever they are let in.

use super::build::{lengths, wood_or};
use super::section::Section;
use super::walls::corner;
use crate::design::corner::{
    CornerJoint, CornerName, FingerJoint, KeyDepth, KeyRow, Keys, LooseTongue, Spacing,
};
use crate::design::statement::WoodUse;
use crate::design::usual;
use crate::units::Length;

/// Keys in one row, and rows in one corner.
const MOST_KEYS: u32 = 100;

/// The joints by name.
#[derive(Clone, Copy, PartialEq)]
enum Joint {
    Miter,
    Keyed,
    Tongue,
    Fingers,
}

const PLACING: [&str; 4] = ["count", "from_foot", "from_rim", "heights"];
const KEYED_ONLY: [&str; 8] =
    ["count", "from_foot", "from_rim", "heights", "row", "pattern", "depth", "skin"];
const WOOD: [&str; 3] = ["wood", "rings", "thickness"];

/// How the walls meet.
pub(super) fn corners(root: &Section<'_>, sides: u32, walls: &WoodUse) -> CornerJoint {
    let keys = [
        "joint",
        "wood",
        "rings",
        "thickness",
        "count",
        "from_foot",
        "from_rim",
        "heights",
        "row",
        "pattern",
        "depth",
        "skin",
        "width",
        "stopped",
        "finger",
        "play",
    ];
    let Some(section) = root.section("corners", &keys) else {
        return CornerJoint::Miter;
    };
    let joint = section.choice_or(
        "joint",
        &[
            ("miter", Joint::Miter),
            ("keyed miter", Joint::Keyed),
            ("loose tongue", Joint::Tongue),
            ("finger joint", Joint::Fingers),
        ],
        Joint::Miter,
    );
    let but = match joint {
        Joint::Miter => "the joint here is a plain miter",
        Joint::Keyed => "the joint here is a keyed miter",
        Joint::Tongue => "the joint here is a loose tongue",
        Joint::Fingers => "the joint here is a finger joint",
    };
    if joint != Joint::Keyed {
        section.no_use_for(&KEYED_ONLY, "a keyed miter", but, "set joint = \"keyed miter\"");
    }
    if joint != Joint::Tongue {
        section.no_use_for(&["width", "stopped"], "a loose tongue", but, "set joint = \"loose tongue\"");
    }
    if joint != Joint::Fingers {
        section.no_use_for(&["finger", "play"], "a finger joint", but, "set joint = \"finger joint\"");
    }
    if matches!(joint, Joint::Miter | Joint::Fingers) {
        section.no_use_for(&WOOD, "keys or a loose tongue", but, "set joint = \"keyed miter\"");
    }
    match joint {
        Joint::Miter => CornerJoint::Miter,
        Joint::Keyed => CornerJoint::Keyed(keyed(&section, sides, walls)),
        Joint::Tongue => CornerJoint::Tongue(LooseTongue {
            wood: wood_or(&section, walls),
            thickness: section.positive_or("thickness", usual::TONGUE_THICKNESS),
            width: section.positive_or("width", usual::TONGUE_WIDTH),
            stopped: section.length_or("stopped", usual::TONGUE_STOPPED),
        }),
        Joint::Fingers => CornerJoint::Fingers(FingerJoint {
            finger: section.positive_or("finger", usual::FINGER),
            play: section.length_or("play", usual::FINGER_PLAY),
        }),
    }
}

/// Keys of the box's corners.
fn keyed(section: &Section<'_>, sides: u32, walls: &WoodUse) -> Keys {
    let wood = wood_or(section, walls);
    let thickness = section.positive_or("thickness", usual::KEY_THICKNESS);
    let none = section.value("count").is_some_and(|v| v.is_zero());
    if none && !section.has("pattern") {
        section.note(
            "count",
            "a keyed miter with no keys at all",
            "write count = 3, or set joint = \"miter\"",
        );
    }
    let common = if none { Vec::new() } else { rows(section, &wood, thickness) };
    let mut per_corner: Vec<(CornerName, Vec<KeyRow>)> = Vec::new();
    let keys = ["corner", "wood", "rings", "thickness", "count", "from_foot", "from_rim", "heights", "row"];
    for pattern in section.each("pattern", &keys) {
        if !pattern.has("corner") {
            pattern.missing("corner", if sides == 4 { "\"front left\"" } else { "1" });
        }
        let bare = pattern.value("count").is_some_and(|v| v.is_zero());
        let own_wood = wood_or(&pattern, &wood);
        let own_thickness = pattern.positive_or("thickness", thickness);
        let own = if bare { Vec::new() } else { rows(&pattern, &own_wood, own_thickness) };
        let Some(name) = corner(&pattern, "corner", sides) else {
            continue;
        };
        if per_corner.iter().any(|(other, _)| *other == name) {
            pattern.note(
                "corner",
                format!("the {} corner has two patterns", name.words(sides)),
                "keep one of them",
            );
        }
        per_corner.push((name, own));
    }
    Keys { rows: common, per_corner, depth: depth(section) }
}

/// Rows of keys: a list of them, or one from the section's own keys.
fn rows(section: &Section<'_>, wood: &WoodUse, thickness: Length) -> Vec<KeyRow> {
    if !section.has("row") {
        return vec![KeyRow { wood: wood.clone(), thickness, place: place(section) }];
    }
    section.no_use_for(&PLACING, "a single row", "rows are listed under `row`", "move it into a row");
    let keys = ["wood", "rings", "thickness", "count", "from_foot", "from_rim", "heights"];
    let list = section.each("row", &keys);
    if section.value("row").is_some_and(|v| v.list_is_empty()) {
        section.note("row", "`row` is an empty list", "write at least one [[corners.row]]");
    }
    list.iter()
        .map(|row| KeyRow {
            wood: wood_or(row, wood),
            thickness: row.positive_or("thickness", thickness),
            place: place(row),
        })
        .collect()
}

/// Where the keys of one row stand.
fn place(section: &Section<'_>) -> Spacing {
    if section.has("heights") {
        section.no_use_for(
            &["count", "from_foot", "from_rim"],
            "evenly spaced keys",
            "`heights` are given",
            "remove `heights`",
        );
        return Spacing::Heights(lengths(section, "heights", MOST_KEYS as usize));
    }
    let count = section.count_or("count", (1, MOST_KEYS), usual::KEY_COUNT);
    match (section.has("from_foot"), section.has("from_rim")) {
        (false, false) => Spacing::Even { count },
        (foot, rim) => {
            if !foot {
                section.missing("from_foot", "\"1/2 in\"");
            }
            if !rim {
                section.missing("from_rim", "\"1/2 in\"");
            }
            Spacing::Between {
                count,
                from_foot: section.length_or("from_foot", Length::ZERO),
                from_rim: section.length_or("from_rim", Length::ZERO),
            }
        }
    }
}

/// How deep the slots are.
fn depth(section: &Section<'_>) -> KeyDepth {
    if section.has("depth") {
        if section.has("skin") {
            section.note(
                "skin",
                "`depth` and `skin` both state how deep the slots are",
                "keep `depth` or `skin` and remove the other",
            );
        }
        return KeyDepth::Depth(section.positive_or("depth", usual::KEY_SKIN));
    }
    KeyDepth::LeaveSkin(section.length_or("skin", usual::KEY_SKIN))
}

/// Keys in the miters of a lid's frame: wood, thickness and depth only.
pub(super) fn frame_keys(section: &Section<'_>, walls: &WoodUse) -> Keys {
    Keys {
        rows: vec![KeyRow {
            wood: wood_or(section, walls),
            thickness: section.positive_or("thickness", usual::KEY_THICKNESS),
            place: Spacing::Even { count: 1 },
        }],
        per_corner: Vec::new(),
        depth: depth(section),
    }
}
