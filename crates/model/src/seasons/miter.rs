//! How far the miters of a flat frame open when its members change width.

use crate::fit::Arris;
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Angle, Length, Strain};

/// A miter that has opened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MiterOpening {
    /// Width of the members across the grain (the wall thickness, in a box).
    pub width: Length,
    /// Shrinkage across the grain (positive when it shrinks).
    pub shrinks: Strain,
    /// Shrinkage along the grain.
    pub shrinks_along: Strain,
    /// Wedge between the two miter faces.
    pub angle: Angle,
    /// Width of the wedge at its open end.
    pub gap: Length,
    /// The same two to first order.
    pub first_order: (Angle, Length),
    /// Which end opens; `None` when nothing moves.
    pub opens_at: Option<Arris>,
}

/// Opening of a miter whose members shrink across the grain by one strain and along it by another (both positive when the
/// wood shrinks). `miter` is the miter's angle from square: 45° for four sides.
///
/// A member's face runs over the width W and, along the grain, over W tan(miter). After shrinking it stands at another
/// angle; the two members of a corner turn alike, so the wedge is twice the turn. For four sides and no change along the
/// grain the gap is W √2 s exactly.
///
/// # Source
/// Derived from plane geometry. That drying opens the heel and wetting the toe is a published rule (a house-restoration
/// journal on miters, 2018).
pub fn miter_opening(width: Length, miter: Angle, shrinks: Strain, shrinks_along: Strain) -> MiterOpening {
    let (s, l) = (shrinks.value(), shrinks_along.value());
    let slope = miter.tan();
    let (over, up) = ((1.0 - s), slope * (1.0 - l));
    let turn = up.atan2(over) - miter.to_radians();
    let face = width.to_mm() * over.hypot(up);
    let gap = Length::mm(2.0 * face * turn.abs().sin());
    let difference = s - l;
    // d(turn) = sin·cos·(s − l); the gap is twice the turn times the face W / cos.
    let first_angle = (2.0 * miter.sin() * miter.cos() * difference).abs();
    let first_gap = width.to_mm() / miter.cos() * first_angle;
    MiterOpening {
        width,
        shrinks,
        shrinks_along,
        angle: Angle::radians(2.0 * turn.abs()),
        gap,
        first_order: (Angle::radians(first_angle), Length::mm(first_gap)),
        opens_at: match turn {
            t if t > 1e-12 => Some(Arris::Heel),
            t if t < -1e-12 => Some(Arris::Toe),
            _ => None,
        },
    }
}

impl MiterOpening {
    /// Why the miter opens so far.
    pub fn reason(&self, key: &str) -> Reason {
        let end = match self.opens_at {
            Some(Arris::Heel) => "miter opens at the heel (inside)",
            Some(Arris::Toe) => "miter opens at the toe (outside)",
            None => "miter stays closed",
        };
        let percent = |e: Strain| Value::Number { value: e.value() * 100.0, decimals: 2, unit: "%" };
        Reason {
            key: key.to_owned(),
            title: end.to_owned(),
            formula: "√2 × member width × (shrinkage across − shrinkage along the grain)".to_owned(),
            given: vec![
                Given::new("member width", Value::Length(self.width)),
                Given::new("shrinkage across the grain", percent(self.shrinks)),
                Given::new("shrinkage along the grain", percent(self.shrinks_along)),
                Given::new("wedge", Value::Angle(self.angle)),
            ],
            result: Value::Length(self.gap),
            basis: Basis::Derived("plane geometry of the corner"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Case {
        row: &'static str,
        width: f64,
        shrinks: f64,
        degrees: f64,
        first: Option<f64>,
        gap: f64,
        at: Arris,
    }

    /// Rows MO-01 … MO-07: coordinate geometry, coefficients of Wood Handbook Table 13-5.
    #[test]
    fn four_sides() {
        use Arris::{Heel, Toe};
        let cases = [
            Case {
                row: "MO-01",
                width: 50.0,
                shrinks: 0.01096,
                degrees: 0.63142,
                first: Some(0.62796),
                gap: 0.77499,
                at: Heel,
            },
            Case {
                row: "MO-04",
                width: 45.0,
                shrinks: 0.00720,
                degrees: 0.41402,
                first: Some(0.41253),
                gap: 0.45821,
                at: Heel,
            },
            Case {
                row: "MO-05",
                width: 60.0,
                shrinks: 0.02214,
                degrees: 1.28267,
                first: Some(1.26853),
                gap: 1.87864,
                at: Heel,
            },
            Case {
                row: "MO-06",
                width: 12.0,
                shrinks: 0.01096,
                degrees: 0.63142,
                first: None,
                gap: 0.18600,
                at: Heel,
            },
            Case {
                row: "MO-07",
                width: 50.0,
                shrinks: -0.01412,
                degrees: 0.80333,
                first: None,
                gap: 0.99843,
                at: Toe,
            },
        ];
        for c in cases {
            let got = miter_opening(
                Length::mm(c.width),
                Angle::degrees(45.0),
                Strain::fraction(c.shrinks),
                Strain::ZERO,
            );
            assert!((got.angle.to_degrees() - c.degrees).abs() < 1e-5, "{}: {got:?}", c.row);
            assert!((got.gap.to_mm() - c.gap).abs() < 1e-5, "{}: {got:?}", c.row);
            assert_eq!(got.opens_at, Some(c.at), "{}", c.row);
            if let Some(first) = c.first {
                assert!((got.first_order.0.to_degrees() - first).abs() < 1e-5, "{}", c.row);
            }
        }
    }

    /// Wood that shrinks alike in both directions keeps every angle.
    #[test]
    fn even_shrinkage_opens_nothing() {
        let e = Strain::fraction(0.01);
        for sides in 3..9 {
            let got = miter_opening(Length::mm(30.0), Angle::degrees(180.0 / f64::from(sides)), e, e);
            assert!(got.gap.to_mm() < 1e-9 && got.opens_at.is_none(), "{sides}");
        }
    }

    /// To first order the gap is √2 m |ε − εₗ|: movement along the grain takes its share off.
    #[test]
    fn along_the_grain_counts_against() {
        let got = miter_opening(
            Length::mm(50.0),
            Angle::degrees(45.0),
            Strain::fraction(0.01096),
            Strain::fraction(0.0002),
        );
        let want = core::f64::consts::SQRT_2 * 50.0 * (0.01096 - 0.0002);
        assert!((got.gap.to_mm() - want).abs() < 1e-9, "{got:?}");
        assert!((got.first_order.1.to_mm() - want).abs() < 1e-9);
    }
}
