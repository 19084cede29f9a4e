//! How the saw's errors add up round a ring of walls, and whether they show.

use super::Error;
use super::gap::{Arris, Miss, corner_gap, last_corner_miss, last_corner_wedge, miter_of, side_of};
use super::least::Least;
use super::tolerance::{Tolerance, VISIBLE_GAP};
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Angle, Length};

/// The most walls that a ring may have here.
const MOST_WALLS: usize = 24;

/// An error of the saw: the same at every cut (bias) and different at every cut (spread, one standard deviation).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spread<T> {
    /// Signed, the same at every cut.
    pub bias: T,
    /// One standard deviation about it.
    pub spread: T,
}

/// The errors of a saw as the maker measured them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SawErrors {
    /// Of every bevel; positive: too great, the tip too sharp.
    pub bevel: Spread<Angle>,
    /// Difference in length between opposite walls.
    pub length_pair: Spread<Length>,
    /// Of the gauge from square, over the walls' height.
    pub gauge: Spread<Angle>,
}

/// A ring of walls: plain geometry.
#[derive(Clone, Debug, PartialEq)]
pub struct Walls {
    /// Outside lengths, tip to tip, in order round the box.
    pub lengths: Vec<Length>,
    /// Thickness.
    pub thickness: Length,
    /// Height.
    pub height: Length,
}

/// A gap as bias and spread.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Budget {
    /// From the biases alone, without sign.
    pub bias: Length,
    /// One standard deviation from the spreads.
    pub spread: Length,
}

impl Budget {
    /// What to expect: root of the sum of squares of bias and one standard deviation.
    pub fn typical(self) -> Length {
        Length::mm(self.bias.to_mm().hypot(self.spread.to_mm()))
    }

    /// What hardly one box in several hundred exceeds: bias and three standard deviations.
    pub fn worst(self) -> Length {
        self.bias + self.spread * 3.0
    }

    /// Whether it shows, against a limit.
    pub fn verdict(self, limit: &Tolerance) -> Verdict {
        if limit.keeps(self.worst()) {
            Verdict::NotSeen
        } else if limit.keeps(self.typical()) {
            Verdict::MayShow
        } else {
            Verdict::Shows
        }
    }
}

/// Whether a gap shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Even the worst stays below the limit.
    NotSeen,
    /// The typical one stays below the limit, the worst does not.
    MayShow,
    /// The typical one is beyond the limit.
    Shows,
}

/// One corner of a ring whose errors are spread round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingCorner {
    /// Opening at the heel from the biases; negative would overlap.
    pub heel: Length,
    /// Opening at the toe.
    pub toe: Length,
    /// Slip along the miter.
    pub slip: Length,
    /// The gap that is left when the corner is pressed home.
    pub gap: Budget,
    /// Which end opens.
    pub opens_at: Option<Arris>,
}

/// A ring of walls with the saw's errors in it, assembled in three ways.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// The walls.
    pub walls: Walls,
    /// Gap at each corner, its outside faces held at their angle.
    pub held: Budget,
    /// Where the last wall ends, all corners but the last pulled tight: the biases, exactly.
    pub miss: Miss,
    /// The same distance as bias and spread.
    pub last: Budget,
    /// Wedge at the last corner from the biases.
    pub last_wedge: Angle,
    /// Each corner, the errors spread round by least squares; corner i follows wall i.
    pub corners: Vec<RingCorner>,
    /// Change of a gap from the bottom of the corner to its top, both walls' gauge errors adding up.
    pub taper: Budget,
}

/// Gaps round a ring of walls.
///
/// The length difference's bias is put on the second wall of each pair of opposites, with the signs that open the last
/// corner most; with an odd number of walls, on the last wall.
///
/// # Errors
/// [`Error::Walls`] for fewer than 3 or more than 24 walls; [`Error::Nothing`] for a wall without length or thickness.
/// # Source
/// Derived: plane geometry; errors taken to first order except in [`Ring::miss`] and the bias of [`Ring::held`].
pub fn ring_closure(walls: &Walls, errors: &SawErrors) -> Result<Ring, Error> {
    let n = walls.lengths.len();
    if !(3..=MOST_WALLS).contains(&n) {
        return Err(Error::Walls { count: n, most: MOST_WALLS });
    }
    for (what, value) in walls
        .lengths
        .iter()
        .map(|l| ("a wall's length", *l))
        .chain([("the walls' thickness", walls.thickness)])
    {
        if value.to_mm().is_nan() || value <= Length::ZERO {
            return Err(Error::Nothing { what, value });
        }
    }
    let miter = miter_of(n);
    let bevel = errors.bevel;
    let biased: Vec<Length> =
        walls.lengths.iter().zip(pair_bias(n, errors.length_pair.bias)).map(|(l, d)| *l + d).collect();
    let miss = last_corner_miss(&biased, &vec![bevel.bias * 2.0; n - 1]);
    let face = walls.thickness / miter.cos();
    let gauge = |a: Angle| walls.height * a.tan().abs() * miter.cos();
    Ok(Ring {
        held: Budget {
            bias: corner_gap(walls.thickness, miter, bevel.bias, bevel.bias).gap,
            spread: face * (bevel.spread.to_radians().abs() * core::f64::consts::SQRT_2),
        },
        miss,
        last: Budget { bias: miss.exact, spread: last_spread(walls, errors) },
        last_wedge: last_corner_wedge(&vec![bevel.bias; 2 * n]),
        corners: spread_round(walls, errors),
        taper: Budget {
            bias: gauge(errors.gauge.bias) * 2.0,
            spread: gauge(errors.gauge.spread) * core::f64::consts::SQRT_2,
        },
        walls: walls.clone(),
    })
}

/// The length bias of each wall.
fn pair_bias(n: usize, difference: Length) -> impl Iterator<Item = Length> {
    let half = n / 2;
    (0..n).map(move |i| {
        if n.is_multiple_of(2) && i >= half {
            if (i - half).is_multiple_of(2) { difference } else { -difference }
        } else if !n.is_multiple_of(2) && i + 1 == n {
            difference
        } else {
            Length::ZERO
        }
    })
}

/// One standard deviation of the last corner's miss: each tight corner's two bevels swing the end about that corner, each
/// wall's length shifts it.
fn last_spread(walls: &Walls, errors: &SawErrors) -> Length {
    let bevel = errors.bevel.spread.to_radians();
    // Two walls of a pair differ by the stated spread, so each varies by its √2-th part.
    let length = errors.length_pair.spread.to_mm() * core::f64::consts::FRAC_1_SQRT_2;
    let plan = Plan::of(walls);
    let arms: f64 = plan.corner.iter().skip(1).map(|p| p.0 * p.0 + p.1 * p.1).sum();
    let variance = 2.0 * bevel * bevel * arms + length * length * walls.lengths.len() as f64;
    Length::mm(variance.sqrt())
}

/// The ring as drawn: where walls start, which way they run, where the last one ends.
struct Plan {
    corner: Vec<(f64, f64)>,
    along: Vec<(f64, f64)>,
    end: (f64, f64),
}

impl Plan {
    fn of(walls: &Walls) -> Self {
        let turn = 2.0 * miter_of(walls.lengths.len()).to_radians();
        let (mut at, mut corner, mut along) = ((0.0, 0.0), Vec::new(), Vec::new());
        for (i, l) in walls.lengths.iter().enumerate() {
            let heading = turn * i as f64;
            let way = (heading.cos(), heading.sin());
            corner.push(at);
            along.push(way);
            at = (at.0 + l.to_mm() * way.0, at.1 + l.to_mm() * way.1);
        }
        Self { corner, along, end: at }
    }

    /// Wall `i` and the one after it: index of that one, direction of opening, direction from toe to heel.
    fn joint(&self, i: usize) -> (usize, (f64, f64), (f64, f64)) {
        let n = self.along.len();
        let next = (i + 1) % n;
        let (a, b) = (pick(&self.along, i), pick(&self.along, next));
        let (sx, sy) = (a.0 + b.0, a.1 + b.1);
        let length = sx.hypot(sy).max(f64::MIN_POSITIVE);
        let open = (sx / length, sy / length);
        // A quarter turn left of the opening direction points into the box.
        (next, open, (-open.1, open.0))
    }
}

fn pick(of: &[(f64, f64)], i: usize) -> (f64, f64) {
    of.get(i).copied().unwrap_or_default()
}

/// Rows of the system: for each corner the opening at toe and at heel, and the slip at both, by the small moves of the walls
/// (x, y and turn about its start for every wall but the first, which is held).
fn rows(plan: &Plan, face: f64) -> Vec<Vec<f64>> {
    let n = plan.along.len();
    let mut rows = Vec::with_capacity(4 * n);
    for i in 0..n {
        let (next, open, inward) = plan.joint(i);
        // Joint places as the first wall of the joint sees them and as the second does: the same but at the last joint.
        let start = pick(&plan.corner, i);
        let tip = if next == 0 { plan.end } else { pick(&plan.corner, next) };
        for depth in [0.0, face] {
            let place = (tip.0 + inward.0 * depth, tip.1 + inward.1 * depth);
            for way in [open, inward] {
                let mut row = vec![0.0; 3 * (n - 1)];
                let mut put = |wall: usize, about: (f64, f64), sign: f64| {
                    let Some(first) = wall.checked_sub(1).map(|w| 3 * w) else { return };
                    let arm = (place.0 - about.0, place.1 - about.1);
                    let moves = [way.0, way.1, way.1 * arm.0 - way.0 * arm.1];
                    for (slot, m) in row.iter_mut().skip(first).zip(moves) {
                        *slot += sign * m;
                    }
                };
                put(i, start, -1.0);
                put(next, tip, 1.0);
                rows.push(row);
            }
        }
    }
    rows
}

/// What one set of errors opens when nothing is moved: for each corner toe opening, toe slip, heel opening, heel slip.
fn unmoved(plan: &Plan, face: f64, bevels: &[f64], lengths: &[f64], with_plan: bool) -> Vec<f64> {
    let n = plan.along.len();
    let mut out = Vec::with_capacity(4 * n);
    for i in 0..n {
        let (next, open, inward) = plan.joint(i);
        let along = pick(&plan.along, i);
        let grown = lengths.get(i).copied().unwrap_or_default();
        let mut shift = (-grown * along.0, -grown * along.1);
        if next == 0 && with_plan {
            // Lengths that do not close even as drawn.
            shift = (shift.0 - plan.end.0, shift.1 - plan.end.1);
        }
        let (opening, slip) = (shift.0 * open.0 + shift.1 * open.1, shift.0 * inward.0 + shift.1 * inward.1);
        let wedge = face * bevels.get(i).copied().unwrap_or_default();
        out.extend([opening, slip, opening + wedge, slip]);
    }
    out
}

/// The gap left when a corner that stands open by `toe` and `heel` is pressed home: an overlap cannot be, so it pushes the
/// other end open.
fn pressed(toe: f64, heel: f64) -> f64 {
    (toe.max(heel) - toe.min(heel).min(0.0)).max(0.0)
}

/// Each corner with the errors spread round by least squares of all openings and slips at heel and toe.
fn spread_round(walls: &Walls, errors: &SawErrors) -> Vec<RingCorner> {
    let n = walls.lengths.len();
    let face = (walls.thickness / miter_of(n).cos()).to_mm();
    let plan = Plan::of(walls);
    let Some(least) = Least::factor(3 * (n - 1), rows(&plan, face)) else { return Vec::new() };
    let settle = |right: Vec<f64>| -> Vec<f64> {
        let against: Vec<f64> = right.iter().map(|r| -r).collect();
        let moved = least.apply(&least.solve(&against));
        right.iter().zip(moved).map(|(r, m)| r + m).collect()
    };
    let bevels = vec![2.0 * errors.bevel.bias.to_radians(); n];
    let lengths: Vec<f64> = pair_bias(n, errors.length_pair.bias).map(Length::to_mm).collect();
    let biased = settle(unmoved(&plan, face, &bevels, &lengths, true));
    let variance = variances(&plan, face, errors, &settle);
    biased
        .chunks_exact(4)
        .zip(variance)
        .map(|(r, variance)| {
            let (toe, slip_toe, heel, slip_heel) = match *r {
                [a, b, c, d] => (a, b, c, d),
                _ => (0.0, 0.0, 0.0, 0.0),
            };
            RingCorner {
                heel: Length::mm(heel),
                toe: Length::mm(toe),
                slip: Length::mm(f64::midpoint(slip_toe, slip_heel)),
                gap: Budget { bias: Length::mm(pressed(toe, heel)), spread: Length::mm(variance.sqrt()) },
                opens_at: side_of(heel - toe),
            }
        })
        .collect()
}

/// Variance of each corner's gap: the sum over independent errors, each taken with the worse sign.
fn variances(plan: &Plan, face: f64, errors: &SawErrors, settle: &impl Fn(Vec<f64>) -> Vec<f64>) -> Vec<f64> {
    let n = plan.along.len();
    let mut sum = vec![0.0; n];
    let bevel = errors.bevel.spread.to_radians().abs() * core::f64::consts::SQRT_2;
    let length = errors.length_pair.spread.to_mm().abs() * core::f64::consts::FRAC_1_SQRT_2;
    for i in 0..n {
        for (size, is_bevel) in [(bevel, true), (length, false)] {
            if size <= 0.0 {
                continue;
            }
            let mut one = vec![0.0; n];
            if let Some(slot) = one.get_mut(i) {
                *slot = size;
            }
            let (bevels, lengths): (&[f64], &[f64]) = if is_bevel { (&one, &[]) } else { (&[], &one) };
            let settled = settle(unmoved(plan, face, bevels, lengths, false));
            for (total, r) in sum.iter_mut().zip(settled.chunks_exact(4)) {
                if let [toe, _, heel, _] = *r {
                    let gap = pressed(toe, heel).max(pressed(-toe, -heel));
                    *total += gap * gap;
                }
            }
        }
    }
    sum
}

impl Ring {
    /// The widest corner when the errors are spread round.
    pub fn spread(&self) -> Budget {
        let worse = |a: Budget, b: Budget| if b.worst() > a.worst() { b } else { a };
        self.corners.iter().map(|c| c.gap).fold(Budget::default(), worse)
    }

    /// Whether a gap shows when the errors are spread round: the best that a band clamp can do.
    pub fn verdict(&self) -> Verdict {
        self.spread().verdict(&VISIBLE_GAP)
    }

    /// Why each corner gaps when its faces are held at their angle.
    pub fn reason_held(&self, key: &str) -> Reason {
        let formula = "wall thickness / cos(miter) × both bevels' errors";
        self.reason(key, "gap at each corner, its faces held at their angle", formula, self.held)
    }

    /// Why the last corner misses when all others are pulled tight.
    pub fn reason_last(&self, key: &str) -> Reason {
        let formula = "end of the chain of walls, each corner turned by its two bevels' errors";
        self.reason(key, "miss at the last corner, the others pulled tight", formula, self.last)
    }

    /// Why the widest corner gaps when the errors are spread round.
    pub fn reason_spread(&self, key: &str) -> Reason {
        let formula = "openings and slips at heel and toe of all corners, least in the sum of squares";
        self.reason(key, "widest gap with the errors spread round the ring", formula, self.spread())
    }

    fn reason(&self, key: &str, title: &str, formula: &str, budget: Budget) -> Reason {
        Reason {
            key: key.to_owned(),
            title: title.to_owned(),
            formula: format!("{formula}; typical = √(bias² + spread²)"),
            given: vec![
                Given::new("wall thickness", Value::Length(self.walls.thickness)),
                Given::new("from the saw's bias", Value::Length(budget.bias)),
                Given::new("spread, one standard deviation", Value::Length(budget.spread)),
                Given::new("worst (bias and three of them)", Value::Length(budget.worst())),
                Given::new("gap that shows", Value::Length(VISIBLE_GAP.limit)),
            ],
            result: Value::Length(budget.typical()),
            basis: Basis::Derived("plane geometry; errors of cuts taken as independent"),
        }
    }
}

#[cfg(test)]
mod tests;
