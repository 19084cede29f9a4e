//! Set-ups that share every setting become one, unless that would put a cut before what it depends on.

use super::setup::{Cutter, Guide, Pass, Purpose, Setup};
use crate::units::Length;

/// Lengths nearer than this share a setting, millimeters.
const SAME_MM: f64 = 0.01;
/// Angles nearer than this share a setting, degrees.
const SAME_DEG: f64 = 0.01;

/// Which set-ups come after which, kept closed under "after".
#[derive(Clone, Debug, Default)]
pub(super) struct Groups {
    /// The set-ups, each with all its members.
    pub(super) setups: Vec<Setup>,
    /// `earlier[i]` is the set of set-ups that must come before set-up i, closed.
    earlier: Vec<Vec<u64>>,
    /// Direct orders: first, then.
    pub(super) before: Vec<(usize, usize)>,
}

impl Groups {
    fn must_precede(&self, first: usize, then: usize) -> bool {
        let word = self.earlier.get(then).and_then(|e| e.get(first / 64));
        word.is_some_and(|w| w >> (first % 64) & 1 == 1)
    }

    /// Adds a one-member set-up after the set-ups in `after`; returns where it went.
    pub(super) fn add(&mut self, setup: Setup, after: &[usize]) -> usize {
        let open = |g: &usize| {
            // Joining group g makes g come after all of `after`: forbidden if g must precede one of them.
            after.iter().all(|a| a == g || !self.must_precede(*g, *a))
        };
        let candidates = self.setups.iter().enumerate();
        let found = candidates.filter(|(_, s)| same(s, &setup)).map(|(i, _)| i).find(|i| open(i));
        let at = if let Some(i) = found {
            if let Some(group) = self.setups.get_mut(i) {
                join(group, setup);
            }
            i
        } else {
            self.setups.push(setup);
            self.earlier.push(Vec::new());
            self.setups.len() - 1
        };
        for a in after.iter().copied().filter(|a| *a != at) {
            self.order(a, at);
        }
        at
    }

    /// Records that `first` comes before `then`, and closes the relation.
    fn order(&mut self, first: usize, then: usize) {
        if self.must_precede(first, then) {
            return;
        }
        self.before.push((first, then));
        let mut gained = self.earlier.get(first).cloned().unwrap_or_default();
        set(&mut gained, first);
        for i in 0..self.setups.len() {
            let follows = i == then || self.must_precede(then, i);
            if let (true, Some(e)) = (follows, self.earlier.get_mut(i)) {
                merge(e, &gained);
            }
        }
    }
}

fn set(bits: &mut Vec<u64>, i: usize) {
    if bits.len() <= i / 64 {
        bits.resize(i / 64 + 1, 0);
    }
    if let Some(w) = bits.get_mut(i / 64) {
        *w |= 1 << (i % 64);
    }
}

fn merge(into: &mut Vec<u64>, from: &[u64]) {
    if into.len() < from.len() {
        into.resize(from.len(), 0);
    }
    for (a, b) in into.iter_mut().zip(from) {
        *a |= *b;
    }
}

fn near(a: Length, b: Length) -> bool {
    (a - b).abs() <= Length::mm(SAME_MM)
}

fn same_passes(a: &[Pass], b: &[Pass]) -> bool {
    a.len() == b.len()
        && a.iter().zip(b).all(|(p, q)| near(p.distance, q.distance) && near(p.height, q.height))
}

fn same_cutter(a: Cutter, b: Cutter) -> bool {
    match (a, b) {
        (Cutter::StraightBit(x), Cutter::StraightBit(y))
        | (Cutter::RoundBit(x), Cutter::RoundBit(y))
        | (Cutter::Band(x), Cutter::Band(y)) => near(x, y),
        _ => a == b,
    }
}

/// Whether both are mitered straight from the same strip.
fn same_strip(a: &Setup, b: &Setup) -> bool {
    let first = |s: &Setup| s.members.first().map(|m| (m.box_index, m.strip));
    first(a) == first(b)
}

/// Whether two set-ups share every setting of the machine.
pub(super) fn same(a: &Setup, b: &Setup) -> bool {
    let angles = |x: crate::units::Angle, y: crate::units::Angle| (x - y).abs().to_degrees() <= SAME_DEG;
    let frame = a.machine == b.machine
        && a.stage == b.stage
        && a.purpose == b.purpose
        && a.guide == b.guide
        && a.side == b.side
        && a.lean == b.lean
        && angles(a.tilt, b.tilt)
        && angles(a.gauge, b.gauge)
        && same_cutter(a.cutter, b.cutter);
    if !frame {
        return false;
    }
    if a.purpose == Purpose::MiterFromStrip {
        return same_strip(a, b);
    }
    if a.guide == Guide::FingerPin {
        let width = |s: &Setup| s.passes.len();
        let heights = a.height().zip(b.height());
        return width(a) == width(b) && heights.is_none_or(|(x, y)| near(x, y));
    }
    same_passes(&a.passes, &b.passes)
}

/// Takes the newcomer's members in; each finger socket stays a member with its own passes.
fn join(group: &mut Setup, newcomer: Setup) {
    if group.purpose == Purpose::MiterFromStrip {
        if group.passes.is_empty() {
            group.passes.clone_from(&newcomer.passes);
            group.reasons.extend(newcomer.reasons);
        } else if let Some(pass) = newcomer.passes.first() {
            let known = group.passes.iter().map(|p| p.distance).chain(group.more_stops.iter().copied());
            if !known.into_iter().any(|s| near(s, pass.distance)) {
                group.more_stops.push(pass.distance);
            }
        }
    }
    group.members.extend(newcomer.members);
    for h in newcomer.holding {
        if !group.holding.contains(&h) {
            group.holding.push(h);
        }
    }
}
