//! Woods and what panels are made of.

use super::section::Section;
use crate::design::problem::quoted;
use crate::design::statement::{Build, RingCut, Strips, WoodUse};
use crate::design::usual;
use crate::units::Length;
use toml::de::DeValue;

/// What a panel is made of where its section does not say.
#[derive(Clone, Copy)]
pub(super) enum Otherwise {
    /// Solid, of the walls' wood.
    SolidLikeWalls,
    /// The usual sheet.
    Sheet,
}

/// The keys that state what a panel is made of.
const STATING: [&str; 4] = ["wood", "strips", "sheet", "veneered"];

/// The growth rings stated by `rings`, if they are.
pub(super) fn rings(section: &Section<'_>) -> Option<RingCut> {
    let value = section.value("rings")?;
    if let DeValue::Integer(_) | DeValue::Float(_) = value.node.get_ref() {
        return value.degrees((0.0, 90.0)).map(RingCut::At);
    }
    let text = value.text(40)?;
    let word: String = text.to_lowercase().replace([' ', '-', '_'], "");
    match word.as_str() {
        "flatsawn" | "plainsawn" => Some(RingCut::FlatSawn),
        "rift" | "riftsawn" => Some(RingCut::Rift),
        "quartersawn" => Some(RingCut::QuarterSawn),
        _ => {
            value.note(
                format!("`rings` cannot be `{}`", quoted(&text)),
                "choose one of: flat-sawn, rift, quartersawn; or write the degrees between face and rings",
            );
            None
        }
    }
}

/// The wood that must be given by `wood` and `rings`.
pub(super) fn needed_wood(section: &Section<'_>) -> WoodUse {
    let value = section.value("wood");
    if value.is_none() {
        section.missing("wood", "\"cherry\"");
    }
    WoodUse {
        wood: value.and_then(|v| v.wood()).unwrap_or_default(),
        rings: rings(section).unwrap_or_default(),
    }
}

/// The wood given by `wood` and `rings`, or another where `wood` is left out.
pub(super) fn wood_or(section: &Section<'_>, other: &WoodUse) -> WoodUse {
    let stated = rings(section);
    match section.value("wood") {
        None => WoodUse { wood: other.wood.clone(), rings: stated.unwrap_or(other.rings) },
        Some(value) => WoodUse { wood: value.wood().unwrap_or_default(), rings: stated.unwrap_or_default() },
    }
}

/// What a panel is made of.
pub(super) fn build(section: &Section<'_>, walls: &WoodUse, otherwise: Otherwise) -> Build {
    let given: Vec<&str> = STATING.into_iter().filter(|key| section.has(key)).collect();
    if let [first, second, ..] = given.as_slice() {
        section.note(
            second,
            format!("`{first}` and `{second}` both state what this is made of"),
            format!("keep `{first}` or `{second}` and remove the other"),
        );
    }
    let made_of = match (given.first(), otherwise) {
        (None, Otherwise::SolidLikeWalls) | (Some(&"wood"), _) => {
            return Build::Solid(wood_or(section, walls));
        }
        (None, Otherwise::Sheet) => Build::Sheet(usual::SHEET.to_owned()),
        (Some(&"strips"), _) => Build::Striped(strips(section, walls)),
        (Some(&"sheet"), _) => {
            Build::Sheet(section.value("sheet").and_then(|v| v.wood()).unwrap_or_default())
        }
        (Some(_), _) => veneered(section, walls),
    };
    let but = match &made_of {
        Build::Striped(_) => "this is made of strips",
        Build::Veneered { .. } => "this is veneered",
        _ => "this is a sheet",
    };
    section.no_use_for(&["rings"], "solid wood", but, "state a `wood` beside it");
    made_of
}

fn strips(section: &Section<'_>, walls: &WoodUse) -> Strips {
    let list = section.each("strips", &["wood", "rings", "width"]);
    if list.is_empty() && section.value("strips").is_some_and(|v| v.list_is_empty()) {
        section.note(
            "strips",
            "`strips` is an empty list",
            "write strips = [ { wood = \"cherry\", width = \"1 in\" }, … ]",
        );
    }
    Strips {
        pattern: list
            .iter()
            .map(|strip| (wood_or(strip, walls), strip.need_positive("width", "\"1 in\"")))
            .collect(),
    }
}

fn veneered(section: &Section<'_>, walls: &WoodUse) -> Build {
    let Some(inner) = section.section("veneered", &["core", "wood", "rings", "veneer"]) else {
        return Build::Sheet(String::new());
    };
    Build::Veneered {
        core: match inner.value("core") {
            None => usual::SHEET.to_owned(),
            Some(value) => value.wood().unwrap_or_default(),
        },
        face: wood_or(&inner, walls),
        veneer: inner.positive_or("veneer", usual::VENEER),
    }
}

/// Whether a panel moves across its grain, so that it floats unless told otherwise.
pub(in crate::design) fn moves(build: &Build) -> bool {
    matches!(build, Build::Solid(_) | Build::Striped(_))
}

/// Lengths of a list, each zero or more.
pub(super) fn lengths(section: &Section<'_>, key: &str, most: usize) -> Vec<Length> {
    let Some(value) = section.value(key) else {
        return Vec::new();
    };
    let Some(list) = value.list() else {
        return Vec::new();
    };
    if list.is_empty() || list.len() > most {
        value.note(
            format!("`{key}` has {} entries, but it can have 1 to {most}", list.len()),
            format!("write {key} = [ \"1/2 in\", \"1 in\" ]"),
        );
        return Vec::new();
    }
    list.iter().filter_map(super::value::Value::length).collect()
}
