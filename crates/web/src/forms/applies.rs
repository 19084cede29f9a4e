//! Which fields apply: what is in force in a statement, stated or usual.
//!
//! The rules are the reader's; a test holds them to it by reading what the forms make.

use super::field::{Cond, Field, Group, Kind, OneOf, Way, at};
use super::table;
use super::values::{Node, Values};

/// Whether a field applies; `numbers` are those of the list items that it stands in.
pub(crate) fn applies(values: &Values, group: &Group, field: &Field, numbers: &[usize]) -> bool {
    group.when.iter().chain(field.when).all(|cond| holds(values, *cond, numbers))
}

/// Whether any field with a key applies.
pub(crate) fn any_applies(values: &Values, pattern: &str, numbers: &[usize]) -> bool {
    table::of(pattern).any(|(group, field)| applies(values, group, field, numbers))
}

/// Whether a condition holds.
pub(crate) fn holds(values: &Values, cond: Cond, numbers: &[usize]) -> bool {
    match cond {
        Cond::Is(key, words) => words.contains(&in_force(values, key).as_str()),
        Cond::Not(key, words) => !words.contains(&in_force(values, key).as_str()),
        Cond::Has(key) => values.has(&at(key, numbers)),
        Cond::Lacks(key) => !values.has(&at(key, numbers)),
    }
}

/// The way of a choice between keys that is in force.
pub(crate) fn way_in_force(values: &Values, one_of: &OneOf) -> usize {
    one_of.ways.iter().position(|way| !way.key.is_empty() && values.has(way.key)).unwrap_or(one_of.usual)
}

/// The ways of a choice that may be taken: stating nothing is out of the question where something else rests on it.
pub(crate) fn open_ways<'o>(values: &Values, one_of: &'o OneOf) -> impl Iterator<Item = &'o Way> + use<'o> {
    let needed = !one_of.needed.is_empty() && one_of.needed.iter().all(|cond| holds(values, *cond, &[]));
    one_of.ways.iter().filter(move |way| !(needed && way.key.is_empty()))
}

/// A word that is in force: the stated one, else the usual one; empty where there is none.
pub(crate) fn in_force(values: &Values, key: &str) -> String {
    if let Some(base) = key.strip_prefix('@') {
        return pseudo(values, key, base);
    }
    match values.get(key) {
        Some(Node::Text(text)) => plain(text),
        Some(Node::Bare(bare)) => bare.clone(),
        _ => usual(values, key),
    }
}

fn pseudo(values: &Values, key: &str, base: &str) -> String {
    if base == "lid.stated" {
        return plain(&values.shown("lid.registration"));
    }
    if let Some(size) = base.strip_suffix(".round") {
        let round = in_force(values, "shape.sides") != "4" || values.has(&format!("{size}.across"));
        return if round { "yes" } else { "no" }.to_owned();
    }
    table::of(key)
        .find_map(|(_, field)| match field.kind {
            Kind::OneOf(one_of) => {
                one_of.ways.get(way_in_force(values, one_of)).map(|way| way.word.to_owned())
            }
            _ => None,
        })
        .unwrap_or_default()
}

/// What holds where nothing is stated.
fn usual(values: &Values, key: &str) -> String {
    let word = match key {
        "lid.kind" | "base.kind" => "none",
        "corners.joint" | "inside.tray.joint" => "miter",
        "walls.ends" => "mitered from strip",
        "shape.sides" => "4",
        "finish.outside.kind" => "oil and wax",
        "finish.inside.kind" => "shellac",
        "lid.registration" => return usual_registration(values),
        _ => match key.strip_suffix(".hold") {
            Some(panel)
                if matches!(in_force(values, &format!("@{panel}.made")).as_str(), "solid" | "strips") =>
            {
                "groove"
            }
            Some(_) => "rabbet",
            None => "",
        },
    };
    word.to_owned()
}

fn usual_registration(values: &Values) -> String {
    let kind = in_force(values, "lid.kind");
    match kind.as_str() {
        "none" | "sliding" => "none",
        _ if values.has("hinges") => "hinges",
        "frame" => "lip",
        "slab" => "rabbet",
        _ => "none",
    }
    .to_owned()
}

/// A word as the reader compares it: small letters, blanks for dashes and underscores.
pub(crate) fn plain(text: &str) -> String {
    let spaced = text.to_lowercase().replace(['-', '_'], " ");
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_is_in_force_where_nothing_is_stated() {
        let base = "keepwright = 1\n[walls]\nwood = 'cherry'\n";
        for (more, key, want) in [
            ("", "lid.kind", "none"),
            ("[lid]\nkind = 'Frame'\n", "lid.kind", "frame"),
            ("[lid]\nkind = 'frame'\n", "lid.registration", "lip"),
            ("[lid]\nkind = 'frame'\n[hinges]\n", "lid.registration", "hinges"),
            ("[lid]\nkind = 'slab'\n", "lid.registration", "rabbet"),
            ("[lid]\nkind = 'sliding'\n", "lid.registration", "none"),
            ("", "bottom.hold", "rabbet"),
            ("[bottom]\nwood = 'ash'\n", "bottom.hold", "groove"),
            ("[bottom]\nveneered = {}\n", "bottom.hold", "rabbet"),
            ("[lid]\nkind = 'slab'\n", "@lid.made", "solid"),
            ("", "@bottom.made", "sheet"),
            ("[edges]\nrim = { chamfer = 1 }\n", "@edges.rim", "chamfer"),
            ("[corners]\njoint = 'KEYED-miter'\n", "corners.joint", "keyed miter"),
            ("[shape]\nsides = 6\n", "@size.outside.round", "yes"),
        ] {
            let values = Values::of(&format!("{base}{more}")).unwrap();
            assert_eq!(in_force(&values, key), want, "{more} {key}");
        }
    }
}
