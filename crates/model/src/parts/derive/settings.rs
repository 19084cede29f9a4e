//! What the shop adds to a statement before parts can follow: kerfs, allowances, today's moisture.

use crate::units::{Angle, Length};

/// How far wood moves across the grain between today and the extremes of the box's home.
pub trait Swing {
    /// Fraction by which a dimension across the grain grows from today to the wettest season (≥ 0).
    fn swell(&self, wood: &str, rings: Angle) -> f64;
    /// Fraction by which it shrinks from today to the driest season (≥ 0).
    fn shrink(&self, wood: &str, rings: Angle) -> f64;
}

/// Kerfs and allowances.
#[derive(Clone, Copy)]
pub struct Settings<'a> {
    /// Kerf of the saw that miters and crosscuts.
    pub kerf: Length,
    /// Bandsaw kerf when resawing.
    pub resaw_kerf: Length,
    /// Planed off each resawn face.
    pub resaw_clean_up: Length,
    /// Left at each end of a part or strip and trimmed off.
    pub end_trim: Length,
    /// Left on each long edge and ripped or planed off.
    pub edge_trim: Length,
    /// Sanded off each wide face.
    pub sanding: Length,
    /// Left in thickness for the last pass through the planer.
    pub milling: Length,
    /// Wood that must stay between a key slot and the inside of the corner.
    pub skin: Length,
    /// Least clearance of a floating panel on each side, so that it never binds on finish or dust.
    pub clearance: Length,
    /// Movement of wood in the box's home.
    pub swing: &'a dyn Swing,
}

impl core::fmt::Debug for Settings<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Settings").field("kerf", &self.kerf).finish_non_exhaustive()
    }
}
