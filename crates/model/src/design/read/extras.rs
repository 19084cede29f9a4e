//! `[base]`, `[pull]`, `[hinges]`, `[edges]`, `[finish]`.

use super::build::{Otherwise, build, wood_or};
use super::section::Section;
use crate::design::lid::{Lid, LidKind, Pull, Registration};
use crate::design::statement::{Base, Coat, Edges, Finish, FinishKind, Hinges, Profile, WoodUse};
use crate::design::usual;
use toml::de::DeValue;

/// Coats of a finish.
const MOST_COATS: u32 = 20;

/// The bases by name.
#[derive(Clone, Copy, PartialEq)]
enum BaseKind {
    None,
    Feet,
    Plinth,
}

/// What the box stands on.
pub(super) fn base(root: &Section<'_>, walls: &WoodUse) -> Base {
    let keys = ["kind", "wood", "rings", "side", "height", "inset", "thickness", "proud"];
    let Some(section) = root.section("base", &keys) else {
        return Base::None;
    };
    if !section.has("kind") {
        section.missing("kind", "\"feet\"");
        section.unsettle();
    }
    let kind = section.choice_or(
        "kind",
        &[("none", BaseKind::None), ("feet", BaseKind::Feet), ("plinth", BaseKind::Plinth)],
        BaseKind::None,
    );
    let but = match kind {
        BaseKind::None => "there are none",
        BaseKind::Feet => "this box stands on feet",
        BaseKind::Plinth => "this box stands on a plinth",
    };
    if kind != BaseKind::Feet {
        section.no_use_for(&["side", "inset"], "feet", but, "set kind = \"feet\"");
    }
    if kind != BaseKind::Plinth {
        section.no_use_for(&["thickness", "proud"], "a plinth", but, "set kind = \"plinth\"");
    }
    match kind {
        BaseKind::None => {
            section.no_use_for(&["wood", "rings", "height"], "feet or a plinth", but, "set kind = \"feet\"");
            Base::None
        }
        BaseKind::Feet => Base::Feet {
            wood: wood_or(&section, walls),
            side: section.positive_or("side", usual::FOOT_SIDE),
            height: section.positive_or("height", usual::FOOT_HEIGHT),
            inset: section.length_or("inset", usual::FOOT_INSET),
        },
        BaseKind::Plinth => Base::Plinth {
            wood: wood_or(&section, walls),
            thickness: section.positive_or("thickness", usual::PLINTH_THICKNESS),
            height: section.positive_or("height", usual::PLINTH_HEIGHT),
            proud: section.signed_or("proud", usual::PLINTH_PROUD),
        },
    }
}

/// Whether the lid could not be read, so that what hangs on it cannot be judged.
fn lid_unclear(root: &Section<'_>) -> bool {
    ["lid", "lid.kind", "lid.registration"].iter().any(|key| root.page.is_noted(key))
}

/// A pull or lifter.
pub(super) fn pull(root: &Section<'_>, walls: &WoodUse, lid: &Lid) -> Option<Pull> {
    let keys = ["wood", "rings", "strips", "sheet", "veneered", "length", "width", "height", "bevel"];
    let section = root.section("pull", &keys)?;
    for key in ["sheet", "veneered"] {
        if section.has(key) {
            section.note(
                key,
                format!("a pull is shaped from solid or striped wood, not from `{key}`"),
                "state its `wood`, or its `strips`",
            );
        }
    }
    if lid.kind == LidKind::None && !lid_unclear(root) {
        section.page.note(
            section.span.clone(),
            "pull",
            "a pull is stated, but the box has no lid to pull".to_owned(),
            "add a section [lid], or remove [pull]".to_owned(),
        );
    }
    Some(Pull {
        build: build(&section, walls, Otherwise::SolidLikeWalls),
        length: section.positive_or("length", usual::PULL_LENGTH),
        width: section.positive_or("width", usual::PULL_WIDTH),
        height: section.positive_or("height", usual::PULL_HEIGHT),
        bevel: section.length_or("bevel", usual::PULL_BEVEL),
    })
}

/// Hinges.
pub(super) fn hinges(root: &Section<'_>, lid: &Lid) -> Option<Hinges> {
    let keys = [
        "count",
        "leaf_length",
        "leaf_width",
        "leaf_thickness",
        "knuckle",
        "screw_gauge",
        "screw_length",
        "screws_per_leaf",
        "from_end",
        "opens_to_degrees",
    ];
    let section = root.section("hinges", &keys)?;
    if lid.registration != Registration::Hinges && !lid_unclear(root) {
        let remedy = match lid.kind {
            LidKind::None => "add a section [lid], or remove [hinges]",
            LidKind::Sliding { .. } => "choose another kind of lid, or remove [hinges]",
            _ => "write registration = \"hinges\" in [lid], or remove [hinges]",
        };
        section.page.note(
            section.span.clone(),
            "hinges",
            "hinges are stated, but no lid turns on them".to_owned(),
            remedy.to_owned(),
        );
    }
    Some(Hinges {
        count: section.count_or("count", (1, 20), usual::HINGE_COUNT),
        leaf_length: section.positive_or("leaf_length", usual::LEAF_LENGTH),
        leaf_width: section.positive_or("leaf_width", usual::LEAF_WIDTH),
        leaf_thickness: section.positive_or("leaf_thickness", usual::LEAF_THICKNESS),
        knuckle: section.positive_or("knuckle", usual::KNUCKLE),
        screw_gauge: section.count_or("screw_gauge", (0, 14), usual::SCREW_GAUGE),
        screw_length: section.positive_or("screw_length", usual::SCREW_LENGTH),
        screws_per_leaf: section.count_or("screws_per_leaf", (1, 20), usual::SCREWS_PER_LEAF),
        from_end: section.length_or("from_end", usual::FROM_END),
        opens_to: section.degrees_or("opens_to_degrees", (1.0, 270.0), usual::OPENS_TO_DEGREES),
    })
}

/// Shaped arrises.
pub(super) fn edges(root: &Section<'_>) -> Edges {
    let Some(section) = root.section("edges", &["lid_top", "rim", "foot", "corners"]) else {
        return Edges::default();
    };
    Edges {
        lid_top: profile(&section, "lid_top"),
        rim: profile(&section, "rim"),
        foot: profile(&section, "foot"),
        corners: profile(&section, "corners"),
    }
}

fn profile(section: &Section<'_>, key: &str) -> Profile {
    let Some(value) = section.value(key) else {
        return Profile::Sharp;
    };
    if let DeValue::String(_) = value.node.get_ref() {
        return value.choice(&[("sharp", Profile::Sharp)]).unwrap_or_default();
    }
    let Some(inner) = value.section(&["chamfer", "round_over"]) else {
        return Profile::Sharp;
    };
    match (inner.positive("chamfer"), inner.positive("round_over")) {
        (Some(_), Some(_)) => {
            inner.note(
                "round_over",
                "one edge has both a chamfer and a round-over",
                "keep `chamfer` or `round_over` and remove the other",
            );
            Profile::Sharp
        }
        (Some(width), None) => Profile::Chamfer(width),
        (None, Some(radius)) => Profile::RoundOver(radius),
        (None, None) => {
            if !inner.has("chamfer") && !inner.has("round_over") {
                inner.missing("chamfer", "\"1 mm\"");
            }
            Profile::Sharp
        }
    }
}

/// Finishes by name.
pub(in crate::design) const FINISHES: [(&str, FinishKind); 7] = [
    ("none", FinishKind::None),
    ("oil", FinishKind::Oil),
    ("wax", FinishKind::Wax),
    ("oil and wax", FinishKind::OilAndWax),
    ("shellac", FinishKind::Shellac),
    ("wiping varnish", FinishKind::WipingVarnish),
    ("water borne", FinishKind::WaterBorne),
];

/// How many coats are usual: two or three of oil, one of wax, two of shellac, three of a film.
pub(in crate::design) const fn usual_coats(kind: FinishKind) -> u32 {
    match kind {
        FinishKind::None => 0,
        FinishKind::Wax => 1,
        FinishKind::Shellac => 2,
        FinishKind::Oil | FinishKind::OilAndWax | FinishKind::WipingVarnish | FinishKind::WaterBorne => 3,
    }
}

/// The finish where nothing is said: oil and wax outside; shellac inside, where oil would smell for months.
pub(in crate::design) const fn usual_finish() -> Finish {
    Finish {
        outside: Coat { kind: FinishKind::OilAndWax, coats: usual_coats(FinishKind::OilAndWax) },
        inside: Coat { kind: FinishKind::Shellac, coats: usual_coats(FinishKind::Shellac) },
        inside_first: true,
    }
}

/// The finish.
pub(super) fn finish(root: &Section<'_>) -> Finish {
    let usual_way = usual_finish();
    let Some(section) = root.section("finish", &["outside", "inside", "inside_first"]) else {
        return usual_way;
    };
    Finish {
        outside: coat(&section, "outside").unwrap_or(usual_way.outside),
        inside: coat(&section, "inside").unwrap_or(usual_way.inside),
        inside_first: section.flag_or("inside_first", usual_way.inside_first),
    }
}

fn coat(section: &Section<'_>, key: &str) -> Option<Coat> {
    let value = section.value(key)?;
    if let DeValue::Table(_) = value.node.get_ref() {
        let inner = value.section(&["kind", "coats"])?;
        if !inner.has("kind") {
            inner.missing("kind", "\"oil\"");
        }
        let kind = inner.choice_or("kind", &FINISHES, FinishKind::None);
        if kind == FinishKind::None {
            inner.no_use_for(&["coats"], "a finish", "this is bare wood", "choose a `kind` of finish");
            return Some(Coat { kind, coats: 0 });
        }
        let coats = inner.count_or("coats", (1, MOST_COATS), usual_coats(kind));
        return Some(Coat { kind, coats });
    }
    let kind = value.choice(&FINISHES)?;
    Some(Coat { kind, coats: usual_coats(kind) })
}
