//! At the saw: machine set-ups derived from the cuts, grouped, ordered, and simulated back to faces.

pub mod compound;
pub mod passes;
mod settings;
mod setup;

pub use settings::{BandSaw, CradleBuild, ResetMinutes, Settings, Side, TableSaw, Teeth};
pub use setup::{
    Cutter, Flip, Guide, Holding, Lean, Member, Offcut, Pass, Placement, Purpose, Setup, Stage, Surface,
};
