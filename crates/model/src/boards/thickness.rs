//! Thickness as sold, in quarters of an inch, and what is left of it surfaced on both faces.

use crate::reason::Basis;
use crate::units::{Length, LengthUnit, parse_length_in};
use serde::Deserialize;
use std::sync::LazyLock;

/// Nominal thickness in quarters of an inch, such as 4/4 or 8/4; kept in eighths of an inch, so that the
/// 3/8 and 5/8 of thin stock have their place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Quarters(u8);

impl Quarters {
    /// Four-quarter: one inch rough.
    pub const FOUR: Self = Self(8);
    /// Five-quarter.
    pub const FIVE: Self = Self(10);
    /// Six-quarter.
    pub const SIX: Self = Self(12);
    /// Eight-quarter: two inches rough.
    pub const EIGHT: Self = Self(16);

    /// From eighths of an inch of nominal rough thickness.
    pub const fn eighths(eighths: u8) -> Self {
        Self(eighths)
    }

    /// Nominal rough thickness.
    pub fn nominal(self) -> Length {
        Length::inches(f64::from(self.0) / 8.0)
    }

    /// Least thickness surfaced two sides, with its source; `None` when the table has no such row.
    pub fn surfaced(self) -> Option<&'static ThicknessRow> {
        thickness_table().iter().find(|row| row.quarters == self)
    }
}

impl core::fmt::Display for Quarters {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        if self.0.is_multiple_of(2) { write!(f, "{}/4", self.0 / 2) } else { write!(f, "{}/8", self.0) }
    }
}

/// One row of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct ThicknessRow {
    /// As sold.
    pub quarters: Quarters,
    /// Nominal rough thickness.
    pub rough: Length,
    /// Least thickness surfaced two sides.
    pub surfaced: Length,
    /// Where it stands.
    pub basis: Basis,
}

/// Least thickness of 4/4 lumber, kiln-dried and still rough.
///
/// # Source
/// NHLA rules by a column of its chief inspector (2012): stock of 3/8 to 1 3/4 in may be 1/16 in scant; a
/// trade question-and-answer gives the same 15/16 in.
pub const FOUR_QUARTER_DRY_ROUGH: Length = Length::inches(15.0 / 16.0);

#[derive(Deserialize)]
struct File {
    sources: Sources,
    row: Vec<Row>,
}

#[derive(Deserialize)]
struct Sources {
    charts: String,
    memory: String,
}

#[derive(Deserialize)]
struct Row {
    quarters: f64,
    rough_in: String,
    surfaced_in: String,
    source: String,
}

const TEXT: &str = include_str!("../../data/surfaced_thickness.toml");

/// The table, rising.
///
/// # Source
/// Named row by row in `data/surfaced_thickness.toml`.
pub fn thickness_table() -> &'static [ThicknessRow] {
    static TABLE: LazyLock<Vec<ThicknessRow>> = LazyLock::new(|| {
        let file: File = toml::from_str(TEXT).expect("the embedded table is read whole by a test");
        let sources: &'static Sources = Box::leak(Box::new(file.sources));
        file.row.iter().map(|row| read(row, sources)).collect()
    });
    &TABLE
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a small number of the embedded table"
)]
fn read(row: &Row, sources: &'static Sources) -> ThicknessRow {
    let inches = |text: &str| {
        parse_length_in(text, LengthUnit::Inch).expect("the embedded table is read whole by a test")
    };
    ThicknessRow {
        quarters: Quarters((row.quarters * 2.0).round() as u8),
        rough: inches(&row.rough_in),
        surfaced: inches(&row.surfaced_in),
        basis: match row.source.as_str() {
            "charts" => Basis::Published(&sources.charts),
            _ => Basis::FromMemory(&sources.memory),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows ST-01 … ST-12: two trade charts that agree; ST-10 recalled from the rules.
    #[test]
    fn surfaced_two_sides() {
        let cases = [
            ("ST-01", 3, 3.0 / 16.0),
            ("ST-02", 4, 5.0 / 16.0),
            ("ST-03", 5, 7.0 / 16.0),
            ("ST-04", 6, 9.0 / 16.0),
            ("ST-05", 8, 13.0 / 16.0),
            ("ST-06", 10, 1.0 + 1.0 / 16.0),
            ("ST-07", 12, 1.0 + 5.0 / 16.0),
            ("ST-08", 14, 1.5),
            ("ST-09", 16, 1.75),
            ("ST-10", 20, 2.25),
            ("ST-11", 24, 2.75),
            ("ST-12", 32, 3.75),
        ];
        for (name, eighths, want) in cases {
            let row = Quarters::eighths(eighths).surfaced().unwrap_or_else(|| panic!("{name}"));
            assert!(row.surfaced.same(Length::inches(want)), "{name}: {row:?}");
            assert!(row.rough.same(row.quarters.nominal()), "{name}: {row:?}");
        }
        assert_eq!(thickness_table().len(), cases.len());
        assert!(matches!(Quarters::eighths(20).surfaced().unwrap().basis, Basis::FromMemory(_)), "ST-10");
    }

    #[test]
    fn rises_and_surfaces_below_rough() {
        assert!(thickness_table().is_sorted_by(|a, b| a.quarters < b.quarters && a.surfaced < b.surfaced));
        assert!(thickness_table().iter().all(|r| r.surfaced < r.rough));
        assert_eq!(Quarters::eighths(3).to_string(), "3/8");
        assert_eq!(Quarters::FIVE.to_string(), "5/4");
        assert!(Quarters::eighths(9).surfaced().is_none());
    }

    /// Row ST-13.
    #[test]
    fn four_quarter_dry_rough() {
        assert!(FOUR_QUARTER_DRY_ROUGH.same(Length::inches(0.9375)));
        assert!(FOUR_QUARTER_DRY_ROUGH < Quarters::FOUR.nominal());
        assert!(FOUR_QUARTER_DRY_ROUGH > Quarters::FOUR.surfaced().unwrap().surfaced);
    }
}
