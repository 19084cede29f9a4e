//! What the saw's errors do to a box: gaps at a corner, round the ring of walls, and when they show.

mod gap;
mod least;
mod ring;
mod tolerance;

pub use gap::{
    Arris, CornerGap, Miss, corner_gap, last_corner_miss, last_corner_wedge, length_pair, miter_of, run_out,
};
pub use ring::{Budget, Ring, RingCorner, SawErrors, Spread, Verdict, Walls, ring_closure};
pub use tolerance::{DIAGONALS, PAIR_LENGTH, SET_THICKNESS, Tolerance, VISIBLE_GAP};

use crate::units::Length;
use thiserror::Error;

/// Why the fit of a ring of walls cannot be computed.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Error {
    /// A ring has at least three walls, and no more than this room reckons with.
    #[error("a ring of {count} walls cannot be closed; state between 3 and {most}")]
    Walls {
        /// Walls stated.
        count: usize,
        /// The most.
        most: usize,
    },
    /// A length that no wall has.
    #[error("{what} is {} mm; it must be more than nothing", value.to_mm())]
    Nothing {
        /// Which length.
        what: &'static str,
        /// What was stated.
        value: Length,
    },
}
