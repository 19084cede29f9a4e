//! At the saw: machine set-ups derived from the cuts, grouped, ordered, and simulated back to faces.

mod assembly;
pub mod compound;
mod derive;
mod derive_slot;
mod derive_trench;
mod flat;
mod flip;
mod group;
pub mod jig;
pub mod key_strip;
mod lay;
mod order;
pub mod passes;
mod plan;
#[cfg(test)]
mod scenes;
mod settings;
mod setup;
pub mod simulate;
pub mod sop;
mod sop_assign;
mod sop_dynamic;
mod stock;
#[cfg(test)]
mod trials;
mod warn;

pub use assembly::{cradle_cards, lid_card};
pub use jig::{CradleCard, CradleRow, KeyAsked, KeyTriangle, LidCard, LidOrder};
pub use order::{Effort, Sequence, order};
pub use plan::{Lot, SawPlan, plan};
pub use warn::{GUARD_LIMITS, GuardLimits};

pub use settings::{BandSaw, CradleBuild, ResetMinutes, Settings, Side, TableSaw, Teeth};
pub use setup::{
    Cutter, Flip, Guide, Holding, Lean, Member, Offcut, Pass, Placement, Purpose, Setup, Stage, Strip,
    Surface,
};
