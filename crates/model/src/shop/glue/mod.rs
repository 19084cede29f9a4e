//! Gluing: what glue, how much, in which order, under what pressure.

mod adhesive;
mod band;
mod build;
mod plan;
mod ring;
mod stages;
mod steps;

pub use adhesive::{
    Glue, ML_PER_GALLON, Pressing, covered, film_volume, glue, glues, mix, mix_mass, pot_life, spread_g_m2,
};
pub use band::{CornerForce, at_corner, left_after, miter_area, pressure, tension_for, wanted_pressure};
pub use build::{Gluing, glue_ups};
pub use plan::{Clamping, Diagonals, GlueUp, Stage, StageKind, Step, StepKind};
