//! A set of boards under work: what lies on each and what has no place yet.

use super::blanks::{Ground, Spot};
use super::demand::Order;
use super::fill::Filler;
use super::random::Random;

/// Boards filled, and what is left over.
#[derive(Clone, Debug)]
pub(super) struct State {
    /// Per board; empty for a board outside the set too.
    pub(super) spots: Vec<Vec<Spot>>,
    /// Whether a board may be used.
    pub(super) open: Vec<bool>,
    /// Blanks without a place, per kind.
    pub(super) left: Vec<u32>,
}

impl State {
    /// No board in the set, nothing placed.
    pub(super) fn empty(ground: &Ground) -> Self {
        let count = ground.slabs.len();
        Self { spots: vec![Vec::new(); count], open: vec![false; count], left: ground.need() }
    }

    /// Whether everything has its place.
    pub(super) fn is_complete(&self) -> bool {
        self.left.iter().all(|&n| n == 0)
    }

    /// Cost of the boards in the set.
    pub(super) fn open_cost(&self, ground: &Ground) -> u64 {
        let open = self.open.iter().zip(&ground.slabs).filter(|(open, _)| **open);
        open.fold(0, |sum, (_, slab)| sum.saturating_add(slab.cost))
    }

    /// Area without a place, weighted per kind.
    pub(super) fn shortfall(&self, ground: &Ground, weight: &[f64]) -> f64 {
        let kinds = ground.kinds.iter().zip(&self.left).zip(weight);
        kinds.filter(|((_, n), _)| **n > 0).map(|((k, n), w)| k.area() as f64 * f64::from(*n) * w).sum()
    }

    /// Takes a board out of the set; what lay on it is left over.
    pub(super) fn close(&mut self, board: usize) {
        self.clear(board);
        self.open[board] = false;
    }

    /// Takes everything off a board.
    pub(super) fn clear(&mut self, board: usize) {
        for spot in self.spots[board].drain(..) {
            self.left[spot.kind] += 1;
        }
    }

    /// Takes boards with nothing on them out of the set.
    pub(super) fn close_unused(&mut self) {
        for (open, spots) in self.open.iter_mut().zip(&self.spots) {
            *open = *open && !spots.is_empty();
        }
    }
}

/// Places at which a board may be crosscut to sections before ripping; none when rips come first.
pub(super) fn sections(ground: &Ground, board: usize, order: Order, random: &mut Random) -> Vec<i64> {
    let slab = &ground.slabs[board];
    let count = match (order, random.below(10)) {
        (Order::RipFirst, _) | (_, 0..=4) => 0,
        (_, 5..=8) => 1,
        _ => 2,
    };
    let mut cuts = Vec::new();
    for _ in 0..count {
        let fault = slab.faults.get(random.below(slab.faults.len()));
        let cut = match (fault, random.below(3)) {
            (Some(f), 0) => f.x0,
            (Some(f), 1) => f.x1,
            _ => (random.unit() * slab.len as f64) as i64,
        };
        cuts.push(cut.clamp(0, slab.len));
    }
    cuts.sort_unstable();
    cuts
}

/// Refills one board of the set from what is left over.
pub(super) fn refill(
    filler: &mut Filler<'_>,
    ground: &Ground,
    state: &mut State,
    board: usize,
    cuts: &[i64],
    worth: &[f64],
    random: &mut Random,
) {
    let slab = &ground.slabs[board];
    state.spots[board] = filler.fill(slab, cuts, &mut state.left, worth, random);
}
