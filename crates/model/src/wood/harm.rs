//! What a wood can do to people, animals and the things kept in the box.

use super::Rows;
use super::provenance::Provenance;

/// The kind of harm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HarmKind {
    /// Dust rated a strong irritant or sensitizer.
    DustStrong,
    /// Dust rated a moderate irritant.
    DustModerate,
    /// Dust that causes asthma.
    Asthma,
    /// Shavings that lame horses.
    HorseBedding,
    /// Vapors that attack metals kept in the box.
    Acid,
    /// Trade is restricted.
    TradeRestricted,
}

/// One harm, in a plain sentence, with what it rests on.
///
/// A warning, never a permission: a species without a row is not thereby harmless, and all wood dust is a carcinogen
/// (IARC group 1).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Harm {
    /// The kind.
    pub kind: HarmKind,
    /// The warning as a sentence.
    pub says: &'static str,
    /// What it rests on.
    pub provenance: Provenance,
}

/// All rows with their species ids, in file order.
pub(super) fn by_species() -> Vec<(&'static str, Harm)> {
    Rows::of(include_str!("../../data/harms.csv")).map(|row| {
        let kind = kind(row.text("kind")).unwrap_or(HarmKind::DustStrong);
        let provenance = Provenance::of_cell(row.text("prov"));
        (row.text("species_id"), Harm { kind, says: row.text("says"), provenance })
    })
}

/// The kind by its word in the table.
fn kind(word: &str) -> Option<HarmKind> {
    Some(match word {
        "dust-strong" => HarmKind::DustStrong,
        "dust-moderate" => HarmKind::DustModerate,
        "asthma" => HarmKind::Asthma,
        "horse-bedding" => HarmKind::HorseBedding,
        "acid" => HarmKind::Acid,
        "trade-restricted" => HarmKind::TradeRestricted,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::super::{all, species};
    use super::*;

    #[test]
    fn rows_are_sorted_and_resolve() {
        let keys =
            Rows::of(include_str!("../../data/harms.csv")).map(|r| (r.text("species_id"), r.text("kind")));
        assert!(keys.is_sorted());
        for (id, word) in &keys {
            assert!(kind(word).is_some(), "{word}");
            assert!(all().iter().any(|s| s.id == *id), "{id}");
        }
        assert_eq!(all().iter().map(|s| s.harms.len()).sum::<usize>(), keys.len());
    }

    #[test]
    fn walnut_and_horses() {
        assert!(species("walnut").unwrap().harms.iter().any(|h| h.kind == HarmKind::HorseBedding));
        assert!(species("red oak").unwrap().harms.iter().any(|h| h.kind == HarmKind::Acid));
    }
}
