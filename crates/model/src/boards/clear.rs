//! Clear lengths: what is left of a board's length between end checks and faults.

use super::board::{Board, Defect};
use crate::units::Length;

/// A stretch of a board over its whole width without a fault.
///
/// # Units
/// From the board's left end, along the grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClearLength {
    /// Where it begins.
    pub from: Length,
    /// How long it is.
    pub length: Length,
}

impl Board {
    /// The stretches between end checks and faults over the whole width, from left to right; faults of either face
    /// count, as for cutting.
    pub fn clear_lengths(&self) -> Vec<ClearLength> {
        let mut faults: Vec<&Defect> = self.defects.iter().collect();
        faults.sort_by(|a, b| a.x.to_mm().total_cmp(&b.x.to_mm()));
        let end = (self.length - self.end_check_right).max(self.end_check_left);
        let mut out = Vec::new();
        let mut from = self.end_check_left;
        for fault in faults {
            let until = fault.x.min(end);
            if until > from {
                out.push(ClearLength { from, length: until - from });
            }
            from = from.max(fault.x + fault.length);
        }
        if end > from {
            out.push(ClearLength { from, length: end - from });
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::super::board::{Faces, Price, Surface};
    use super::*;
    use crate::units::{Angle, Money};

    /// Name, end checks, faults (from, length), clear lengths (from, length).
    type Case = (&'static str, [f64; 2], &'static [[f64; 2]], &'static [[f64; 2]]);

    fn board(checks: [f64; 2], faults: &[[f64; 2]]) -> Board {
        let mm = Length::mm;
        Board {
            name: "C1".into(),
            wood: "cherry".into(),
            length: mm(1000.0),
            width: mm(150.0),
            surface: Surface::Rough,
            thickness: mm(24.0),
            quarters: None,
            moisture: None,
            ring: Angle::ZERO,
            defects: faults
                .iter()
                .map(|[x, length]| Defect {
                    x: mm(*x),
                    y: mm(10.0),
                    length: mm(*length),
                    width: mm(20.0),
                    faces: Faces::Both,
                })
                .collect(),
            end_check_left: mm(checks[0]),
            end_check_right: mm(checks[1]),
            price: Price::PerBoard(Money::ZERO),
            count: 1,
        }
    }

    /// By hand: what is left of 0 … 1000 when checks and faults are taken out.
    #[test]
    fn what_lies_between_the_faults() {
        let cases: [Case; 7] = [
            ("sound", [0.0, 0.0], &[], &[[0.0, 1000.0]]),
            ("checked ends", [40.0, 60.0], &[], &[[40.0, 900.0]]),
            (
                "two faults in any order",
                [0.0, 0.0],
                &[[700.0, 50.0], [200.0, 100.0]],
                &[[0.0, 200.0], [300.0, 400.0], [750.0, 250.0]],
            ),
            (
                "faults that overlap",
                [0.0, 0.0],
                &[[200.0, 300.0], [250.0, 50.0]],
                &[[0.0, 200.0], [500.0, 500.0]],
            ),
            ("a fault in the check", [100.0, 0.0], &[[20.0, 50.0]], &[[100.0, 900.0]]),
            ("a fault past the end check", [0.0, 100.0], &[[950.0, 20.0]], &[[0.0, 900.0]]),
            ("checks that meet", [600.0, 600.0], &[], &[]),
        ];
        for (name, checks, faults, want) in cases {
            let got = board(checks, faults).clear_lengths();
            let got: Vec<[f64; 2]> = got.iter().map(|c| [c.from.to_mm(), c.length.to_mm()]).collect();
            assert_eq!(got, want, "{name}");
        }
    }
}
