//! The last word: the same blanks on the same boards, pushed together where that leaves a larger offcut.

use super::blanks::{Ground, Spot};
use super::demand::{Demand, Order};
use super::fill::{Filler, Region};
use super::random::Random;
use super::state::State;
use super::tree;

const HALVINGS: usize = 6;

#[derive(Clone, Copy, Debug)]
enum Way {
    Across,
    Along,
}

/// Pushes what lies on each board toward its left end or lower edge, wherever that leaves a larger offcut.
pub(super) fn gather(
    demand: &Demand,
    ground: &Ground,
    filler: &mut Filler<'_>,
    state: &mut State,
    random: &mut Random,
) {
    for board in 0..state.spots.len() {
        if state.spots[board].is_empty() {
            continue;
        }
        let mut largest = largest_offcut(demand, ground, board, &state.spots[board]);
        let slab = &ground.slabs[board];
        let kinds = &ground.kinds;
        let used: i64 = state.spots[board].iter().map(|s| kinds[s.kind].area()).sum();
        let ways: &[Way] = match demand.rules.order {
            Order::RipFirst => &[Way::Across],
            Order::CrosscutFirst | Order::Either => &[Way::Across, Way::Along],
        };
        for way in ways {
            let (other, mut high) = match way {
                Way::Across => (slab.len, slab.high),
                Way::Along => (slab.high, slab.len),
            };
            let mut low = used / other.max(1);
            for _ in 0..HALVINGS {
                let middle = low.midpoint(high);
                let region = match way {
                    Way::Across => Region { span: (0, slab.len), rows: (0, middle) },
                    Way::Along => Region { span: (0, middle), rows: (0, slab.high) },
                };
                let Some(spots) = pushed(ground, filler, state, board, region, random) else {
                    low = middle;
                    continue;
                };
                high = middle;
                let offcut = largest_offcut(demand, ground, board, &spots);
                if offcut > largest {
                    largest = offcut;
                    state.spots[board] = spots;
                }
            }
        }
    }
}

/// All that lies on a board laid into a part of it, if that can be had.
fn pushed(
    ground: &Ground,
    filler: &mut Filler<'_>,
    state: &State,
    board: usize,
    region: Region,
    random: &mut Random,
) -> Option<Vec<Spot>> {
    let mut left = vec![0; ground.kinds.len()];
    for spot in &state.spots[board] {
        left[spot.kind] += 1;
    }
    let worth: Vec<f64> = ground.kinds.iter().map(|k| k.area() as f64).collect();
    let spots = filler.fill(&ground.slabs[board], &[region], &mut left, &worth, random);
    left.iter().all(|&n| n == 0).then_some(spots)
}

/// Area of the largest offcut kept, in square millimeters.
fn largest_offcut(demand: &Demand, ground: &Ground, board: usize, spots: &[Spot]) -> f64 {
    let Some(stock) = demand.stock.get(board) else { return 0.0 };
    let laid = tree::lay_blanks(demand, ground, board, spots, &mut vec![0; ground.kinds.len()]);
    let layout = tree::layout(demand, board, stock, &laid);
    layout.offcuts.iter().map(|o| (o.length * o.width).to_mm2()).fold(0.0, f64::max)
}
