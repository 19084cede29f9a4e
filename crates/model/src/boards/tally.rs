//! Board feet in two ways, labeled: by the grading rule, and as most shops bill.
//!
//! A board foot is a foot by a foot by an inch of nominal thickness.

use crate::units::Length;

/// Board feet as most shops bill: thickness × width × length / 12, nothing rounded.
pub fn plain(thickness: Length, width: Length, length: Length) -> f64 {
    (width * length * thickness).to_board_feet()
}

/// Surface measure before rounding: width in inches × whole feet of length / 12.
///
/// # Source
/// NHLA Rules for the Measurement and Inspection of Hardwood and Cypress.
pub fn raw_surface_measure(width: Length, length: Length) -> f64 {
    width.to_inches() * whole_feet(length) / 12.0
}

/// A tally by the grading rule over a list of boards of one thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleTally {
    /// Surface measure of each board, in whole feet.
    pub surface_measure: Vec<u32>,
    /// Board feet: surface measure added up, times the thickness.
    pub board_feet: f64,
    /// Board feet rounded to whole ones, at the very end; a half goes up.
    pub rounded: u32,
}

/// Tallies boards (width, length) by the grading rule.
///
/// Each board's surface measure is rounded to the nearest whole foot; exact halves go up and down in turn,
/// the first one up. Surface measures are added first, multiplied by the nominal thickness (less than an
/// inch counts as an inch), and rounded once.
///
/// # Source
/// NHLA Rules for the Measurement and Inspection of Hardwood and Cypress.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "lengths are below ten meters; `as` saturates on the absurd"
)]
pub fn by_rule(nominal: Length, boards: &[(Length, Length)]) -> RuleTally {
    let mut next_half_up = true;
    let mut surface_measure = Vec::with_capacity(boards.len());
    for &(width, length) in boards {
        let raw = raw_surface_measure(width, length);
        let mut feet = (raw + 0.5).floor();
        if (raw - raw.floor() - 0.5).abs() < 1e-9 {
            feet = if next_half_up { raw.ceil() } else { raw.floor() };
            next_half_up = !next_half_up;
        }
        surface_measure.push(feet as u32);
    }
    let sum: f64 = surface_measure.iter().map(|&s| f64::from(s)).sum();
    let board_feet = sum * nominal.to_inches().max(1.0);
    RuleTally { surface_measure, board_feet, rounded: board_feet.round() as u32 }
}

/// Width and length as written in a tally of a pack: nearest whole inch, whole feet with the rest dropped.
///
/// # Source
/// American Hardwood Export Council, guide to grading: kiln-dried lumber is tallied so.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "lengths are below ten meters; `as` saturates on the absurd"
)]
pub fn written(width: Length, length: Length) -> (u32, u32) {
    (width.to_inches().round() as u32, whole_feet(length) as u32)
}

/// Whole feet; a length a hair short of a foot by the noise of binary fractions counts as whole.
fn whole_feet(length: Length) -> f64 {
    (length.to_inches() / 12.0 + 1e-9).floor()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(n: f64) -> Length {
        Length::inches(n)
    }

    fn feet(n: f64) -> Length {
        Length::inches(12.0 * n)
    }

    struct Case {
        name: &'static str,
        thick: f64,
        wide: f64,
        long_feet: f64,
        measure: u32,
        rule: f64,
        rounded: u32,
    }

    /// BF-01 … BF-04: published examples (a guide to the NHLA rules; AHEC). BF-06, BF-09: the rule by hand.
    #[test]
    fn by_the_grading_rule() {
        let cases = [
            Case { name: "BF-01", thick: 1.0, wide: 6.5, long_feet: 8.0, measure: 4, rule: 4.0, rounded: 4 },
            Case { name: "BF-02", thick: 1.0, wide: 8.0, long_feet: 12.0, measure: 8, rule: 8.0, rounded: 8 },
            Case {
                name: "BF-03",
                thick: 1.0,
                wide: 10.0,
                long_feet: 13.0,
                measure: 11,
                rule: 11.0,
                rounded: 11,
            },
            Case { name: "BF-04", thick: 2.0, wide: 6.25, long_feet: 8.0, measure: 4, rule: 8.0, rounded: 8 },
            Case { name: "BF-06", thick: 1.0, wide: 7.25, long_feet: 9.5, measure: 5, rule: 5.0, rounded: 5 },
            Case {
                name: "BF-09",
                thick: 1.25,
                wide: 9.75,
                long_feet: 11.9,
                measure: 9,
                rule: 11.25,
                rounded: 11,
            },
            Case {
                name: "thin stock counts as an inch",
                thick: 0.5,
                wide: 8.0,
                long_feet: 12.0,
                measure: 8,
                rule: 8.0,
                rounded: 8,
            },
        ];
        for c in cases {
            let got = by_rule(inches(c.thick), &[(inches(c.wide), feet(c.long_feet))]);
            assert_eq!(got.surface_measure, [c.measure], "{}", c.name);
            assert!((got.board_feet - c.rule).abs() < 1e-9, "{}: {got:?}", c.name);
            assert_eq!(got.rounded, c.rounded, "{}", c.name);
        }
        let raw = raw_surface_measure(inches(7.25), feet(9.5));
        assert!((raw - 5.4375).abs() < 1e-9, "BF-06: {raw}");
        let raw = raw_surface_measure(inches(9.75), feet(11.9));
        assert!((raw - 8.9375).abs() < 1e-9, "BF-09: {raw}");
    }

    /// BF-11: exact halves alternate, so two of 4.5 make one 4 and one 5.
    #[test]
    fn halves_go_up_and_down_in_turn() {
        let board = (inches(6.0), feet(9.0));
        let mut got = by_rule(inches(1.0), &[board, board]).surface_measure;
        got.sort_unstable();
        assert_eq!(got, [4, 5]);
        let six = by_rule(inches(1.0), &[board; 6]);
        assert!((six.board_feet - 27.0).abs() < 1e-9);
    }

    /// BF-05: a published example (AHEC).
    #[test]
    fn as_written_in_a_pack() {
        assert_eq!(written(inches(5.25), feet(8.5)), (5, 8));
    }

    /// BF-06, BF-09, BF-12: T × W × L / 12 by hand.
    #[test]
    fn as_shops_bill() {
        let cases = [
            ("BF-06", 1.0, 7.25, 9.5 * 12.0, 5.7396),
            ("BF-09", 1.25, 9.75, 11.9 * 12.0, 12.0859),
            ("BF-12", 1.0, 4.25, 41.0, 1.2101),
        ];
        for (name, thick, wide, long, want) in cases {
            let got = plain(inches(thick), inches(wide), inches(long));
            assert!((got - want).abs() < 1e-4, "{name}: {got}");
        }
    }
}
