//! The reference of the statement file, asked for what is usual and what a key means: said there and nowhere else.

use std::collections::BTreeMap;
use std::sync::OnceLock;

const REFERENCE: &str = include_str!("../../../../docs/statement.md");

/// One row of the reference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Row {
    /// What is usual, without code marks; empty where there is nothing usual or a value is needed.
    pub(crate) usual: String,
    /// What it means.
    pub(crate) means: String,
}

/// Every row, by its first cell without code marks.
pub(crate) fn rows() -> &'static BTreeMap<String, Row> {
    static ROWS: OnceLock<BTreeMap<String, Row>> = OnceLock::new();
    ROWS.get_or_init(|| {
        REFERENCE
            .lines()
            .filter(|line| line.starts_with("| `"))
            .filter_map(|line| {
                let cells: Vec<&str> = line.trim().trim_matches('|').split('|').map(str::trim).collect();
                let [key, _, usual, means] = cells.as_slice() else { return None };
                let plain = |cell: &str| cell.replace('`', "");
                let usual = Some(plain(usual)).filter(|u| u != "needed").unwrap_or_default();
                Some((plain(key), Row { usual, means: plain(means) }))
            })
            .collect()
    })
}

/// The row of a field: under its own name, or under its key without the numbers of list items.
pub(crate) fn row(field: &super::field::Field) -> Option<&'static Row> {
    let name = if field.row.is_empty() { field.key.replace(".*", "") } else { field.row.to_owned() };
    rows().get(&name)
}

#[cfg(test)]
mod tests {
    use super::super::field::Kind;
    use super::super::table;
    use super::*;
    use std::collections::BTreeSet;

    /// Keys that are refused wherever they stand: a field would only lead astray.
    const REFUSED: [&str; 2] = ["pull.sheet", "pull.veneered"];

    /// Every key of the reference can be set by a field, and every field is in the reference.
    #[test]
    fn the_fields_and_the_reference_have_the_same_keys() {
        assert!(rows().len() > 170, "{}", rows().len());
        let mut covered: BTreeSet<String> = BTreeSet::new();
        for (_, field) in table::all() {
            if let Kind::OneOf(one_of) = field.kind {
                for way in one_of.ways.iter().filter(|way| !way.key.is_empty()) {
                    covered.insert(way.key.to_owned());
                }
                covered.insert(one_of.base.to_owned());
                continue;
            }
            assert!(row(field).is_some(), "the field `{}` is not in the reference", field.key);
            let key = field.key.replace(".*", "");
            covered.insert(field.row.to_owned());
            let mut section = key.as_str();
            while let Some((outer, _)) = section.rsplit_once('.') {
                covered.insert(outer.to_owned());
                section = outer;
            }
            covered.insert(key);
        }
        for key in rows().keys() {
            assert!(covered.contains(key) || REFUSED.contains(&key.as_str()), "no field sets `{key}`");
        }
        // Rows that stand for a key in several places are filled in at each.
        for panel in ["bottom", "lid", "lid.panel", "lid.top"] {
            for key in ["veneered.core", "veneered.wood", "veneered.rings", "veneered.veneer", "strips.wood"]
            {
                assert!(covered.contains(&format!("{panel}.{key}")), "{panel}.{key}");
            }
        }
        for arris in ["lid_top", "rim", "foot", "corners"] {
            for key in ["chamfer", "round_over"] {
                assert!(covered.contains(&format!("edges.{arris}.{key}")), "{arris}.{key}");
            }
        }
    }

    #[test]
    fn words_are_taken_from_the_reference() {
        let rows = rows();
        assert_eq!(rows["walls.thickness"].usual, "3/8 in");
        assert_eq!(rows["lid.kind"].usual, "");
        assert_eq!(rows["bottom.depth"].means, "of the rabbet or groove");
    }
}
