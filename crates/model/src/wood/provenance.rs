//! What a number about wood rests on.

#[cfg(test)]
use super::Rows;
use crate::reason::Basis;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// How a number came into the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Provenance {
    /// Read in a copy of the source; the codes resolve by [`source`].
    Read(&'static str),
    /// Recalled, not read again; the text says which part and of what.
    FromMemory(&'static str),
    /// Worked out from other numbers of the table; says by which equation.
    Calculated(&'static str),
    /// Estimated where the table has nothing; says how. Weaker than [`Provenance::Calculated`].
    Estimated(&'static str),
}

impl Provenance {
    /// Reads a `prov` cell; a group that rests on memory in part counts as from memory.
    pub(super) fn of_cell(cell: &'static str) -> Self {
        if cell.contains("memory") { Self::FromMemory(cell) } else { Self::Read(cell) }
    }

    /// Whether the number was recalled or estimated rather than read or calculated.
    pub const fn is_doubtful(self) -> bool {
        matches!(self, Self::FromMemory(_) | Self::Estimated(_))
    }

    /// As the basis of a reason; `work` names the book and table that the number belongs to.
    pub const fn basis(self, work: &'static str) -> Basis {
        match self {
            Self::Read(_) => Basis::Published(work),
            Self::FromMemory(_) => Basis::FromMemory(work),
            Self::Calculated(how) | Self::Estimated(how) => Basis::Derived(how),
        }
    }
}

/// A number together with what it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure<T> {
    /// The number.
    pub value: T,
    /// What it rests on.
    pub provenance: Provenance,
}

impl<T> Figure<T> {
    /// A number from a table cell and its `prov` cell.
    pub(super) fn of(value: T, prov: &'static str) -> Self {
        Self { value, provenance: Provenance::of_cell(prov) }
    }
}

/// A book behind the numbers, and the copy of it that was read.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct Source {
    /// Title and edition.
    pub work: String,
    /// Table, chapter or page.
    pub place: String,
    /// What was read: a copy, a transcription, a quotation.
    pub read_as: String,
}

static SOURCES: OnceLock<BTreeMap<String, Source>> = OnceLock::new();

/// The source behind a code such as `S4` in a provenance; `None` for an unknown code.
pub fn source(code: &str) -> Option<&'static Source> {
    // A test reads every entry, so the default cannot be reached from the embedded text.
    SOURCES
        .get_or_init(|| toml::from_str(include_str!("../../data/sources.toml")).unwrap_or_default())
        .get(code)
}

/// Every provenance text of the tables, for the test that its codes resolve.
#[cfg(test)]
fn all_cells() -> Vec<&'static str> {
    let mut cells = Vec::new();
    let columns: [(&'static str, &[&str]); 5] = [
        (
            include_str!("../../data/species.csv"),
            &["prov_sg_green", "prov_sg_12", "prov_shrinkage", "prov_cr", "prov_ct", "prov_mechanical"],
        ),
        (include_str!("../../data/elastic_ratios.csv"), &["prov"]),
        (include_str!("../../data/harms.csv"), &["prov"]),
        (include_str!("../../data/sheets.csv"), &["prov_density", "prov_movement", "prov_moe"]),
        (include_str!("../../data/finish_mee.csv"), &["prov"]),
    ];
    for (text, names) in columns {
        for row in Rows::of(text).map(|r| names.iter().map(|n| r.text(n)).collect::<Vec<_>>()) {
            cells.extend(row);
        }
    }
    cells.retain(|c| !c.is_empty());
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_provenance_names_a_known_source_or_says_from_memory() {
        let cells = all_cells();
        assert!(cells.len() > 400, "{}", cells.len());
        for cell in cells {
            let codes = cell
                .split(|c: char| !c.is_ascii_alphanumeric())
                .filter(|w| w.strip_prefix('S').is_some_and(|n| n.parse::<u32>().is_ok()));
            let mut known = cell.contains("memory") || cell.contains("remembered");
            for code in codes {
                assert!(source(code).is_some(), "{code} in `{cell}`");
                known = true;
            }
            assert!(known, "`{cell}` names no source");
        }
    }

    #[test]
    fn sources_are_complete() {
        let read: BTreeMap<String, Source> = toml::from_str(include_str!("../../data/sources.toml")).unwrap();
        assert!(read.len() > 20);
        for (code, s) in read {
            assert!(!s.work.is_empty() && !s.place.is_empty() && !s.read_as.is_empty(), "{code}");
        }
    }
}
