//! What one corner does when its cuts are off, and where a chain of walls ends.

use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Angle, Length};

/// An end of a miter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arris {
    /// The inner end.
    Heel,
    /// The outer end.
    Toe,
}

/// A corner held to its right angle whose bevels are off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerGap {
    /// Wall thickness.
    pub thickness: Length,
    /// The two bevels' errors together; positive: too sharp.
    pub error: Angle,
    /// Gap at the open end.
    pub gap: Length,
    /// The same to first order: thickness × error / cos(miter).
    pub first_order: Length,
    /// Which end opens.
    pub opens_at: Option<Arris>,
}

/// A miter's angle from square for a number of equal sides: 180° / n.
pub fn miter_of(sides: usize) -> Angle {
    Angle::degrees(180.0 / sides.max(1) as f64)
}

/// Gap at a corner whose outside faces are held at their right angle, by the errors of its two bevels (positive: the
/// bevel is too great, the tip too sharp, and the corner opens at the heel).
///
/// Exact where both errors are alike; otherwise taken on the mean of the two faces.
///
/// # Source
/// Derived from coordinate geometry: the face of a wall t thick is t / sin(tip angle) long, and the two faces part by the
/// sum of the errors about the end that touches. First order for four sides: √2 t (e₁ + e₂).
pub fn corner_gap(thickness: Length, miter: Angle, first: Angle, second: Angle) -> CornerGap {
    let tip = Angle::SQUARE - miter;
    let error = first + second;
    let t = thickness.to_mm();
    let face = f64::midpoint(t / (tip - first).sin(), t / (tip - second).sin());
    let gap = 2.0 * face * (error.abs() / 2.0).sin();
    CornerGap {
        thickness,
        error,
        gap: Length::mm(gap),
        first_order: Length::mm(t * error.to_radians().abs() / miter.cos()),
        opens_at: side_of(error.to_radians()),
    }
}

/// Which end opens for a signed wedge, positive at the heel.
pub(super) fn side_of(wedge: f64) -> Option<Arris> {
    if wedge > 1e-12 {
        Some(Arris::Heel)
    } else if wedge < -1e-12 {
        Some(Arris::Toe)
    } else {
        None
    }
}

impl CornerGap {
    /// Why the corner opens so far.
    pub fn reason(&self, key: &str) -> Reason {
        let title = match self.opens_at {
            Some(Arris::Heel) => "gap inside the corner, at the heel",
            Some(Arris::Toe) => "gap outside the corner, at the toe",
            None => "gap at the corner",
        };
        Reason {
            key: key.to_owned(),
            title: title.to_owned(),
            formula: "2 × length of the miter face × sin(sum of both bevels' errors / 2)".to_owned(),
            given: vec![
                Given::new("wall thickness", Value::Length(self.thickness)),
                Given::new("both bevels' errors together", Value::Angle(self.error)),
                Given::new("first order", Value::Length(self.first_order)),
            ],
            result: Value::Length(self.gap),
            basis: Basis::Derived("plane geometry of a corner held at its angle"),
        }
    }
}

/// How far the end of the last wall lands from the start of the first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Miss {
    /// Distance, by the chain of vectors.
    pub exact: Length,
    /// Distance to first order in the errors.
    pub first_order: Length,
    /// The exact miss square to the last miter: positive leaves it open, negative would overlap.
    pub opening: Length,
    /// The exact miss along the last miter.
    pub slip: Length,
}

/// Where a chain of walls ends when all corners but the last are pulled tight.
///
/// `walls` are the outside lengths, tip to tip, in order; `errors` the sum of the two bevels' errors at each tight corner,
/// one fewer than the walls (missing ones count as none). A sharp corner turns the next wall further inward.
///
/// # Source
/// Derived: chain of vectors. First order for a box a × b with every cut off by e: 4 e √(a² + b²).
pub fn last_corner_miss(walls: &[Length], errors: &[Angle]) -> Miss {
    let turn = 2.0 * miter_of(walls.len()).to_radians();
    let (mut x, mut y, mut heading) = (0.0, 0.0, 0.0);
    let (mut nx, mut ny, mut plain) = (0.0, 0.0, 0.0);
    // To first order each corner's error swings the end about that corner: e × (end − corner), turned a right angle;
    // the end of a closed ring is the start, so the arm is minus the corner's place.
    let (mut fx, mut fy) = (0.0, 0.0);
    for (i, wall) in walls.iter().enumerate() {
        let l = wall.to_mm();
        x += l * f64::cos(heading);
        y += l * f64::sin(heading);
        nx += l * f64::cos(plain);
        ny += l * f64::sin(plain);
        if i + 1 < walls.len() {
            let e = errors.get(i).map_or(0.0, |e| e.to_radians());
            heading += turn + e;
            plain += turn;
            fx += e * ny;
            fy -= e * nx;
        }
    }
    // `nx, ny` now holds what the lengths alone leave open; the arms above started from the first corner.
    let swung: f64 = errors.iter().take(walls.len().saturating_sub(1)).map(|e| e.to_radians()).sum();
    let (fx, fy) = (fx + nx - swung * ny, fy + ny + swung * nx);
    // The last miter's plane halves the corner at the start; its normal points from the first wall to the last one.
    let half = turn / 2.0;
    let (normal, along) = ((-half.cos(), half.sin()), (half.sin(), half.cos()));
    Miss {
        exact: Length::mm(x.hypot(y)),
        first_order: Length::mm(fx.hypot(fy)),
        opening: Length::mm(x * normal.0 + y * normal.1),
        slip: Length::mm(x * along.0 + y * along.1),
    }
}

impl Miss {
    /// Why the last corner misses by so much.
    pub fn reason(&self, key: &str) -> Reason {
        Reason {
            key: key.to_owned(),
            title: "miss at the last corner, the others pulled tight".to_owned(),
            formula: "end of the chain of walls, each turned by its corner's angle and error".to_owned(),
            given: vec![
                Given::new("open, square to the miter", Value::Length(self.opening)),
                Given::new("slipped along the miter", Value::Length(self.slip)),
                Given::new("first order", Value::Length(self.first_order)),
            ],
            result: Value::Length(self.exact),
            basis: Basis::Derived("chain of vectors round the box"),
        }
    }
}

/// Wedge at the last corner when all others are pulled tight: the sum of every cut's error.
///
/// # Source
/// A published how-to: a quarter of a degree on each of eight cuts adds up to two degrees.
pub fn last_corner_wedge(cuts: &[Angle]) -> Angle {
    cuts.iter().fold(Angle::ZERO, |sum, e| sum + *e)
}

/// What a difference between opposite walls does at the last corner: opening square to the miter, slip along it.
///
/// # Source
/// Derived: the difference, seen from the miter's plane; for four sides both are D / √2.
pub fn length_pair(difference: Length, miter: Angle) -> (Length, Length) {
    (difference * miter.cos(), difference * miter.sin())
}

/// How far a wall's end runs out over its height when the gauge is not square.
///
/// # Source
/// Derived: height × tan(error). A gap that tapers means gauge error; an even one means tilt error.
pub fn run_out(height: Length, gauge: Angle) -> Length {
    height * gauge.tan()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(values: &[f64]) -> Vec<Length> {
        values.iter().copied().map(Length::mm).collect()
    }

    /// Rows MG-01 … MG-08: coordinate geometry. Positive errors are too sharp.
    #[test]
    fn corners() {
        for (row, thickness, degrees, exact, first) in [
            ("MG-01", 12.0, 0.1, 0.05934, 0.05924),
            ("MG-03", 12.0, -0.25, 0.14745, 0.14810),
            ("MG-04", 12.0, 0.5, 0.29881, 0.29619),
            ("MG-05", 9.525, 0.2, 0.09437, 0.09404),
            ("MG-06", 19.05, 0.25, 0.23613, 0.23510),
            ("MG-07", 6.35, 0.5, 0.15812, 0.15674),
            ("MG-08", 10.0, -1.0, 0.48523, 0.49365),
        ] {
            let e = Angle::degrees(degrees);
            let got = corner_gap(Length::mm(thickness), miter_of(4), e, e);
            assert!((got.gap.to_mm() - exact).abs() < 1e-5, "{row}: {got:?}");
            assert!((got.first_order.to_mm() - first).abs() < 1e-5, "{row}: {got:?}");
            assert_eq!(got.opens_at, Some(if degrees > 0.0 { Arris::Heel } else { Arris::Toe }), "{row}");
        }
        let healed = corner_gap(Length::mm(12.0), miter_of(4), Angle::degrees(0.3), Angle::degrees(-0.3));
        assert!(healed.gap.to_mm() < 1e-12 && healed.opens_at.is_none());
    }

    /// Rows MG-09, MG-11: chain of vectors.
    #[test]
    fn last_corner() {
        for (row, a, b, degrees, exact, first) in
            [("MG-09", 150.0, 150.0, 0.25, 3.6862, 3.7024), ("MG-11", 200.0, 120.0, 0.05, 0.8135, 0.8142)]
        {
            let corner = Angle::degrees(2.0 * degrees);
            let got = last_corner_miss(&mm(&[a, b, a, b]), &[corner; 3]);
            assert!((got.exact.to_mm() - exact).abs() < 1e-4, "{row}: {got:?}");
            assert!((got.first_order.to_mm() - first).abs() < 1e-4, "{row}: {got:?}");
        }
    }

    /// Row MG-12: published. Row MG-13: derived, both by the formula and by the chain. Row MG-14: derived.
    #[test]
    fn wedge_pair_and_gauge() {
        let wedge = last_corner_wedge(&[Angle::degrees(0.25); 8]);
        assert!((wedge.to_degrees() - 2.0).abs() < 1e-12, "MG-12");
        let (opening, slip) = length_pair(Length::mm(0.5), miter_of(4));
        assert!((opening.to_mm() - 0.35355).abs() < 1e-5 && (slip.to_mm() - 0.35355).abs() < 1e-5, "MG-13");
        let chain = last_corner_miss(&mm(&[200.0, 120.0, 200.5, 120.0]), &[]);
        assert!((chain.opening.to_mm() - 0.35355).abs() < 1e-5, "MG-13: {chain:?}");
        assert!((chain.slip.to_mm().abs() - 0.35355).abs() < 1e-5, "MG-13: {chain:?}");
        assert!((chain.first_order.to_mm() - 0.5).abs() < 1e-9, "MG-13");
        let out = run_out(Length::mm(75.0), Angle::degrees(0.2));
        assert!((out.to_mm() - 0.26180).abs() < 1e-5, "MG-14");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// A true ring closes; the first-order miss is the exact one in the small.
        #[test]
        fn rings(n in 3usize..9, side in 40.0..300.0, e in prop::collection::vec(-1e-4..1e-4, 8)) {
            let walls = vec![Length::mm(side); n];
            prop_assert!(last_corner_miss(&walls, &[]).exact.to_mm() < 1e-9);
            let errors: Vec<_> = e.iter().take(n - 1).map(|e| Angle::radians(*e)).collect();
            let miss = last_corner_miss(&walls, &errors);
            prop_assert!((miss.exact - miss.first_order).to_mm().abs() < 2e-7 * side * (n * n) as f64, "{miss:?}");
            let parts = miss.opening.to_mm().hypot(miss.slip.to_mm());
            prop_assert!((parts - miss.exact.to_mm()).abs() < 1e-9);
        }
    }
}
