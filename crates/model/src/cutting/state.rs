//! A set of boards under work: what lies on each and what has no place yet.

use super::blanks::{Fault, Ground, Spot};
use super::demand::Order;
use super::fill::{Filler, Region};
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

    /// Rank of the boards in the set: cost first, then area.
    pub(super) fn open_rank(&self, ground: &Ground) -> u64 {
        let open = self.open.iter().zip(&ground.slabs).filter(|(open, _)| **open);
        open.fold(0, |sum, (_, slab)| sum.saturating_add(slab.rank))
    }

    /// Area without a place.
    pub(super) fn shortfall(&self, ground: &Ground) -> f64 {
        ground.kinds.iter().zip(&self.left).map(|(k, &n)| k.area() as f64 * f64::from(n)).sum()
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

/// Regions into which a board is cut before strips are ripped; the whole board more often than not.
///
/// Under [`Order::Either`] a rip may part it into two bands first; under all orders but
/// [`Order::RipFirst`] crosscuts part it (or a band) into sections.
pub(super) fn regions(
    ground: &Ground,
    state: &State,
    board: usize,
    order: Order,
    random: &mut Random,
) -> Vec<Region> {
    let slab = &ground.slabs[board];
    let whole = Region { span: (0, slab.len), rows: (0, slab.high) };
    if order == Order::RipFirst || random.below(2) == 0 {
        return vec![whole];
    }
    let wanted: Vec<usize> = (0..ground.kinds.len()).filter(|&k| state.left[k] > 0 && slab.fits[k]).collect();
    let mut bands = vec![whole];
    if order == Order::Either && random.below(4) == 0 {
        let high =
            |random: &mut Random| wanted.get(random.below(wanted.len())).map_or(0, |&k| ground.kinds[k].high);
        let cut = place(slab.high, |f| (f.y0, f.y1), &slab.faults, high, random);
        bands = vec![Region { rows: (0, cut), ..whole }, Region { rows: (cut, slab.high), ..whole }];
    }
    let mut out = Vec::new();
    for band in bands {
        let mut cuts = vec![0, slab.len];
        for _ in 0..[0, 1, 1, 1, 2][random.below(5)] {
            let len = |random: &mut Random| {
                wanted.get(random.below(wanted.len())).map_or(0, |&k| ground.kinds[k].len)
            };
            cuts.push(place(slab.len, |f| (f.x0, f.x1), &slab.faults, len, random));
        }
        cuts.sort_unstable();
        for pair in cuts.windows(2) {
            if let [from, to] = *pair {
                out.push(Region { span: (from, to), ..band });
            }
        }
    }
    out
}

/// A place for a cut: at a fault, one or two blanks from either end, or anywhere.
fn place(
    end: i64,
    sides: fn(&Fault) -> (i64, i64),
    faults: &[Fault],
    size: impl Fn(&mut Random) -> i64,
    random: &mut Random,
) -> i64 {
    let fault = faults.get(random.below(faults.len())).map(sides);
    let at = match (random.below(6), fault) {
        (0, Some(f)) => f.0,
        (1, Some(f)) => f.1,
        (2, _) => size(random),
        (3, _) => end - size(random),
        (4, _) => size(random) + size(random),
        _ => i64::try_from(random.below(usize::try_from(end).unwrap_or(1))).unwrap_or(0),
    };
    at.clamp(0, end.max(0))
}

/// Refills one board of the set from what is left over.
pub(super) fn refill(
    filler: &mut Filler<'_>,
    ground: &Ground,
    state: &mut State,
    board: usize,
    regions: &[Region],
    worth: &[f64],
    random: &mut Random,
) {
    let slab = &ground.slabs[board];
    state.spots[board] = filler.fill(slab, regions, &mut state.left, worth, random);
}
