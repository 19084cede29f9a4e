//! The domain of Keepwright: a stated box becomes parts (a blank and the cuts made to it), and
//! everything else follows from the parts. Values in, values out: no files, no clock, no network.
//!
//! The rooms below stand in order; a room uses only rooms above it (`tests/rooms.rs` checks this).

pub mod units;
pub mod space;
pub mod reason;
pub mod caution;
pub mod wood;
pub mod design;
pub mod parts;
pub mod solids;
pub mod fit;
pub mod seasons;
pub mod boards;
pub mod cutting;
pub mod saw;
pub mod shop;
pub mod job;
