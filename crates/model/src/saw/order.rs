//! The order of the set-ups: as few minutes of re-setting as the precedences allow.

use super::settings::ResetMinutes;
use super::setup::{Guide, Purpose, Setup};
use super::sop::{self, Budget, FORBIDDEN, Problem};
use crate::units::{Angle, Length, Minutes};

/// How long to look for the best order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// For every keystroke: local search and the quick bound.
    Fast,
    /// For the printed packet: shaken restarts, and dynamic programming that proves the order or lifts the bound.
    Thorough,
}

/// An order of set-ups.
#[derive(Clone, Debug, PartialEq)]
pub struct Sequence {
    /// Indices of the set-ups, first to last.
    pub order: Vec<usize>,
    /// Minutes of setting and re-setting.
    pub minutes: Minutes,
    /// No order takes fewer.
    pub bound: Minutes,
    /// Single settings changed.
    pub resets: u32,
}

/// Costs are counted in hundredths of a minute, so that a proof is never a matter of rounding.
const PER_MINUTE: f64 = 100.0;

/// Orders set-ups under precedences (first, then). Precedences that run in a circle leave the given order.
pub fn order(setups: &[Setup], before: &[(usize, usize)], reset: &ResetMinutes, effort: Effort) -> Sequence {
    let n = setups.len() + 2;
    let mut cost = vec![FORBIDDEN; n * n];
    for (j, to) in setups.iter().enumerate() {
        if let Some(c) = cost.get_mut(j + 1) {
            *c = minutes(None, to, reset).0;
        }
        if let Some(c) = cost.get_mut((j + 1) * n + n - 1) {
            *c = 0;
        }
        for (i, from) in setups.iter().enumerate() {
            if let (true, Some(c)) = (i != j, cost.get_mut((i + 1) * n + j + 1)) {
                *c = minutes(Some(from), to, reset).0;
            }
        }
    }
    if let (true, Some(c)) = (setups.is_empty(), cost.get_mut(1)) {
        *c = 0;
    }
    let shifted: Vec<(usize, usize)> = before.iter().map(|(a, b)| (a + 1, b + 1)).collect();
    // Chosen on hand-built boxes: Fast stays about a millisecond for one box
    // (23 set-ups); Thorough takes up to a second or two for 60 set-ups in a debug build.
    let budget = match effort {
        Effort::Fast => Budget {
            shakes: u32::try_from(800 / n).unwrap_or(0),
            states: if n <= 30 { 400 } else { 0 },
            seed: 1,
        },
        Effort::Thorough => Budget { shakes: 600, states: 6_000, seed: 1 },
    };
    let solved = Problem::new(n, cost, &shifted).map(|p| sop::solve(&p, budget));
    let order: Vec<usize> = match &solved {
        Ok(s) => s.order.iter().filter_map(|j| j.checked_sub(1)).filter(|j| *j < setups.len()).collect(),
        Err(_) => (0..setups.len()).collect(),
    };
    let mut total = 0u64;
    let mut resets = 0;
    let mut last: Option<&Setup> = None;
    for s in order.iter().filter_map(|i| setups.get(*i)) {
        let (c, r) = minutes(last, s, reset);
        total += u64::from(c);
        resets += r;
        last = Some(s);
    }
    let bound = solved.map_or(0, |s| s.bound.min(total));
    Sequence {
        order,
        minutes: Minutes::minutes(total as f64 / PER_MINUTE),
        bound: Minutes::minutes(bound as f64 / PER_MINUTE),
        resets,
    }
}

fn differs(a: Length, b: Length) -> bool {
    (a - b).abs() > Length::mm(0.01)
}

fn turned(a: Angle, b: Angle) -> bool {
    (a - b).abs().to_degrees() > 0.01
}

/// Hundredths of a minute and number of settings changed between two set-ups (or from a cleared bench).
/// A machine that is come back to is set afresh: someone may have moved it.
fn minutes(from: Option<&Setup>, to: &Setup, reset: &ResetMinutes) -> (u32, u32) {
    let mut sum = Minutes::ZERO;
    let mut changed = 0;
    let mut pay = |when: bool, m: Minutes| {
        if when {
            sum += m;
            changed += 1;
        }
    };
    let sets_guide = !matches!(to.guide, Guide::Free | Guide::Mark);
    // A flat is pared to a line on the wood; its depth sets nothing.
    let sets_height = to.purpose != Purpose::Bevel;
    let square = Angle::ZERO;
    if let Some(f) = from.filter(|f| f.machine == to.machine) {
        pay(turned(f.tilt, to.tilt), reset.tilt);
        pay(turned(f.gauge, to.gauge), reset.gauge);
        pay(f.cutter != to.cutter, reset.cutter);
        let last = f.passes.last().map(|p| p.height);
        let rises = match (last, to.height()) {
            (Some(a), Some(b)) => differs(a, b),
            (None, Some(_)) => true,
            (_, None) => false,
        };
        pay(rises && sets_height, reset.height);
        pay(f.guide != to.guide && sets_guide, reset.jig);
        let stands = f.passes.last().map(|p| p.distance);
        let moved = f.guide != to.guide
            || f.side != to.side
            || match (stands, to.distance()) {
                (Some(a), Some(b)) => differs(a, b),
                (None, _) => true,
                (_, None) => false,
            };
        pay(moved && sets_guide, reset.guide);
    } else {
        pay(true, reset.machine);
        pay(turned(square, to.tilt), reset.tilt);
        pay(turned(square, to.gauge), reset.gauge);
        pay(to.height().is_some() && sets_height, reset.height);
        pay(sets_guide, reset.guide);
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the range")]
    let hundredths = (sum.value() * PER_MINUTE).round().clamp(0.0, 1e6) as u32;
    (hundredths, changed)
}
