//! The rack: boards as they stand against the wall, what they measure, cost, and can give in thickness.
//!
//! - [`Board`]: one board with its faults.
//! - [`ClearLength`]: what lies between its faults.
//! - [`Quarters`]: thickness as sold and what is left of it surfaced.
//! - [`tally`](mod@tally): board feet, by the grading rule and as most shops bill.
//! - [`Milling`]: usable thickness of a rough board, slices resawn from it.

mod board;
mod clear;
mod milling;
pub mod tally;
mod thickness;

pub use board::{Board, Defect, Faces, Price, Surface};
pub use clear::ClearLength;
pub use milling::{Milling, MillingError};
pub use thickness::{FOUR_QUARTER_DRY_ROUGH, Quarters, ThicknessRow, thickness_table};
