//! The shop: glue, keys, sanding, finish, hardware, time, money and the calendar.
//!
//! Everything here takes the box's parts and the shop's own numbers ([`Settings`]) and gives back amounts, steps
//! and dates, each with its reason.

mod say;
#[cfg(test)]
mod scene;
pub mod care;
pub mod finish;
pub mod glue;
pub mod hardware;
pub mod keys;
pub mod sanding;
pub mod noise;
pub mod price;
pub mod schedule;
mod settings;
pub mod tasks;
pub mod time;
pub mod words;

pub use settings::{Bearing, GlueSettings, Overhead, Settings, Share, TimeOverride};
