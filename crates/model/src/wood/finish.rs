//! How well finishes keep moisture out.

use super::Rows;
use super::provenance::Provenance;
use std::sync::OnceLock;

/// Moisture-excluding effectiveness of a finish with a number of coats, as fractions of an unfinished piece's uptake
/// kept out.
///
/// A finish slows change; it does not alter the moisture content that the wood ends at.
///
/// # Source
/// Wood Handbook Table 16-3; 30 to 90 percent relative humidity at 26.7 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exclusion {
    /// The finish.
    pub finish: &'static str,
    /// Coats.
    pub coats: u32,
    /// After a day.
    pub day_1: f64,
    /// After seven days.
    pub day_7: f64,
    /// After fourteen days.
    pub day_14: f64,
    /// What the row rests on.
    pub provenance: Provenance,
}

/// All finishes, coats ascending within each.
pub fn finishes() -> &'static [Exclusion] {
    static ROWS: OnceLock<Vec<Exclusion>> = OnceLock::new();
    ROWS.get_or_init(|| {
        Rows::of(include_str!("../../data/finish_mee.csv")).map(|row| {
            let fraction = |column: &str| row.number(column).unwrap_or_default() / 100.0;
            Exclusion {
                finish: row.text("finish"),
                coats: row.text("coats").parse().unwrap_or_default(),
                day_1: fraction("day_1_pct"),
                day_7: fraction("day_7_pct"),
                day_14: fraction("day_14_pct"),
                provenance: Provenance::of_cell(row.text("prov")),
            }
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coats_help_and_time_tells() {
        let rows = finishes();
        assert_eq!(rows.len(), 74);
        for r in rows {
            assert!(r.coats > 0 && r.day_1 <= 1.0, "{r:?}");
            assert!(r.day_1 >= r.day_7 && r.day_7 >= r.day_14 && r.day_14 >= 0.0, "{r:?}");
        }
        for pair in rows.windows(2) {
            if let [a, b] = pair
                && a.finish == b.finish
            {
                assert!(a.coats < b.coats && a.day_14 <= b.day_14, "{a:?}");
            }
        }
    }

    /// Wood Handbook Table 16-3: two coats of two-component gloss polyurethane paint, 94, 79 and 62 percent.
    #[test]
    fn a_row_as_printed() {
        let r =
            finishes().iter().find(|r| r.finish.starts_with("Polyurethane paint") && r.coats == 2).unwrap();
        assert_eq!((r.day_1, r.day_7, r.day_14), (0.94, 0.79, 0.62));
        assert!(!r.provenance.is_doubtful());
    }
}
