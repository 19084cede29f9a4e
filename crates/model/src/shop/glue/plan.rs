//! What a glue-up is: its stages, and the glue, pressure and checks of each.

use super::band::CornerForce;
use crate::parts::PartId;
use crate::reason::Reason;
use crate::units::{Area, Force, Length, Minutes, Stress, Volume};

/// What a stage of gluing is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StageKind {
    /// Strips and veneers become a panel.
    Panel,
    /// Walls or frame members close into a ring, with what must go in before it closes.
    Ring,
    /// Bottoms, ledges, lips, bearers, feet onto what stands already.
    Added,
    /// Keys into their slots.
    Keys,
}

/// What a step of gluing does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepKind {
    /// Everything together once without glue.
    DryFit,
    /// Finish or wax on faces that cannot be reached later, kept off the joints.
    PreFinish,
    /// Tape across the seams, walls lying in a row.
    Tape,
    /// First thin coat on end grain.
    Size,
    /// Glue spread.
    Spread,
    /// A floating panel put in, without glue.
    Insert,
    /// Joints closed.
    Close,
    /// Band or clamps on.
    Clamp,
    /// Diagonals compared.
    Diagonals,
    /// Squeeze-out taken off.
    SqueezeOut,
    /// Left in clamps.
    Wait,
}

/// One step, in a sentence.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it is.
    pub kind: StepKind,
    /// What to do, with the numbers.
    pub says: String,
}

/// What a band does to the ring of a stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamping {
    /// Tension of the band.
    pub tension: Force,
    /// At each corner.
    pub corner: CornerForce,
    /// Mean pressure on the smallest miter.
    pub pressure: Stress,
    /// What the wood and glue want; nothing where contact is enough.
    pub wanted: Stress,
    /// Tension that would bring it.
    pub tension_wanted: Force,
    /// Fraction of the tension that reaches the corner furthest from the ratchet, dry corners.
    pub left_at_far_corner: f64,
}

/// How a ring is checked for squareness or regularity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagonals {
    /// What each should measure, corner to corner on the outside (odd rings: corner to the middle of the
    /// opposite side).
    pub target: Length,
    /// How many there are to compare.
    pub count: u32,
    /// Most that they may differ.
    pub limit: Length,
    /// How far from square the ring is at that difference, in degrees; rectangles only.
    pub degrees_at_limit: Option<f64>,
}

/// One stage: what is spread and closed within one open time.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// Such as "box: walls, 1 of 2".
    pub title: String,
    /// What it is about.
    pub kind: StageKind,
    /// Indices into the box's joints.
    pub joints: Vec<usize>,
    /// Surfaces spread with glue.
    pub surfaces: u32,
    /// Spreading and closing together.
    pub needs: Minutes,
    /// The glue's open time.
    pub open: Minutes,
    /// Glued area, both faces of each joint.
    pub area: Area,
    /// Of it, end-grain area that gets a first thin coat.
    pub sized: Area,
    /// Glue to have ready, both coats and waste.
    pub volume: Volume,
    /// What the band does.
    pub clamping: Option<Clamping>,
    /// How the ring is checked.
    pub diagonals: Option<Diagonals>,
    /// Panels that go in now without glue.
    pub dry: Vec<PartId>,
    /// In clamps.
    pub clamp: Minutes,
    /// From the clamps to full strength.
    pub cure: Minutes,
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// How the numbers came about.
    pub reasons: Vec<Reason>,
}

/// All stages of one assembly, in order.
#[derive(Clone, Debug, PartialEq)]
pub struct GlueUp {
    /// The assembly's name.
    pub name: String,
    /// Index of the assembly in the box's parts.
    pub assembly: usize,
    /// Its stages.
    pub stages: Vec<Stage>,
}

impl GlueUp {
    /// Glue of all stages.
    pub fn volume(&self) -> Volume {
        self.stages.iter().map(|s| s.volume).sum()
    }
}
