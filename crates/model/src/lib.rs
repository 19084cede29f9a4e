//! The domain of Keepwright: a stated box becomes parts (a blank and the cuts made to it), and
//! everything else follows from the parts. Values in, values out: no files, no clock, no network.
//!
//! The rooms below stand in order; a room uses only rooms above it (`tests/rooms.rs` checks this).

pub mod boards;
pub mod caution;
pub mod cutting;
pub mod design;
pub mod fit;
pub mod job;
pub mod parts;
pub mod reason;
pub mod saw;
pub mod seasons;
pub mod shop;
pub mod solids;
pub mod space;
pub mod units;
pub mod wood;
