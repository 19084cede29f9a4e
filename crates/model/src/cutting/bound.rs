//! What no complete plan can undercut.

use super::blanks::Ground;
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

/// The bound of a demand.
///
/// # Errors
/// [`DemandError`] if the demand makes no sense.
pub fn bound(demand: &Demand) -> Result<Bound, DemandError> {
    demand.check()?;
    let ground = Ground::of(demand);
    Ok(if ground.short.is_empty() {
        bound_of(&ground)
    } else {
        Bound::Impossible
    })
}

/// The bound, for what can be placed at all.
pub(super) fn bound_of(ground: &Ground) -> Bound {
    let boards: Vec<(i64, u64)> = ground
        .slabs
        .iter()
        .map(|s| (s.len.saturating_mul(s.high), s.cost))
        .collect();
    let need: i64 = ground
        .kinds
        .iter()
        .map(|k| k.area() * k.blanks.len() as i64)
        .sum();
    cover::least_cost(&boards, need).map_or(Bound::Impossible, Bound::Cost)
}

/// Most blank area that each board can give.
pub(super) fn capacities(ground: &Ground) -> Vec<f64> {
    ground
        .slabs
        .iter()
        .map(|s| s.len as f64 * s.high as f64)
        .collect()
}
