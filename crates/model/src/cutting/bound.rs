//! What no complete plan can undercut.

use super::blanks::{Ground, Kind, Slab};
use super::capacity::capacity;
use super::cover;
use super::demand::{Demand, DemandError};

/// A proof about every complete plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Every complete plan costs at least this.
    Cost(u64),
    /// There is no complete plan.
    Impossible,
}

/// The least that a complete plan of this demand can cost, proved in whole numbers.
///
/// For each wood, and within it for all blanks at least so thick and at least so wide: the boards used
/// must give the area of these blanks (one kerf added to both sizes). A board gives at most what sums of
/// blank widths and lengths can fill between its faults and where a clear rectangle holds any blank; the
/// cheapest choice of boards that gives enough by this count is a bound. The largest over all such groups
/// counts, at least the cheapest board that can hold the most demanding blank; woods add up. Where cost is
/// area, the bound less the area of the items bounds the waste.
///
/// It holds for every plan of edge-to-edge cuts, and for any other plan with these kerfs.
///
/// # Errors
/// [`DemandError`] if the demand makes no sense.
pub fn bound(demand: &Demand) -> Result<Bound, DemandError> {
    demand.check()?;
    let ground = Ground::of(demand);
    Ok(if ground.short.is_empty() { bound_of(&ground, |s| s.cost) } else { Bound::Impossible })
}

/// The bound for what can be placed at all, in the price asked for.
pub(super) fn bound_of(ground: &Ground, price: fn(&Slab) -> u64) -> Bound {
    let mut woods: Vec<&str> = ground.kinds.iter().map(|k| k.wood.as_str()).collect();
    woods.sort_unstable();
    woods.dedup();
    let mut total = 0_u64;
    for wood in woods {
        match bound_of_wood(ground, wood, price) {
            Some(cost) => total = total.saturating_add(cost),
            None => return Bound::Impossible,
        }
    }
    Bound::Cost(total)
}

/// The bound of one wood; `None` when its boards cannot give enough.
fn bound_of_wood(ground: &Ground, wood: &str, price: fn(&Slab) -> u64) -> Option<u64> {
    let of_wood: Vec<usize> = (0..ground.kinds.len()).filter(|&k| ground.kinds[k].wood == wood).collect();
    let mut least = 0;
    for &k in &of_wood {
        let holding = ground.slabs.iter().filter(|s| s.fits[k]).map(price);
        least = least.max(holding.min()?);
    }
    let distinct = |of: fn(&Kind) -> i64| {
        let mut list: Vec<i64> = of_wood.iter().map(|&k| of(&ground.kinds[k])).collect();
        list.sort_unstable();
        list.dedup();
        list
    };
    for thick in distinct(|k| k.thick) {
        for high in distinct(|k| k.high) {
            let group: Vec<usize> = of_wood
                .iter()
                .copied()
                .filter(|&k| ground.kinds[k].thick >= thick && ground.kinds[k].high >= high)
                .collect();
            least = least.max(bound_of_group(ground, &group, price)?);
        }
    }
    Some(least)
}

fn bound_of_group(ground: &Ground, group: &[usize], price: fn(&Slab) -> u64) -> Option<u64> {
    let boards: Vec<(i64, u64)> =
        ground.slabs.iter().map(|s| (capacity_for(ground, s, group), price(s))).collect();
    let need = group.iter().fold(0_i64, |sum, &k| {
        let kind = &ground.kinds[k];
        let count = i64::try_from(kind.blanks.len()).unwrap_or(i64::MAX);
        sum.saturating_add(kind.area().saturating_mul(count))
    });
    cover::least_cost(&boards, need)
}

fn capacity_for(ground: &Ground, slab: &Slab, group: &[usize]) -> i64 {
    let kinds: Vec<&Kind> = group.iter().filter(|&&k| slab.fits[k]).map(|&k| &ground.kinds[k]).collect();
    capacity(slab, &kinds)
}

/// Most blank area that each board can give of all that fits it.
pub(super) fn capacities(ground: &Ground) -> Vec<f64> {
    let all: Vec<usize> = (0..ground.kinds.len()).collect();
    ground.slabs.iter().map(|s| capacity_for(ground, s, &all) as f64).collect()
}
