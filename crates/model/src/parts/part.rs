//! Parts, the assemblies they are glued into, the joints between them, and the runs they are cut in.

use super::blank::Blank;
use super::cut::{Cut, Machine};
use crate::design::CornerName;
use crate::space::{Convex, Pose};
use crate::units::{Angle, Length};

/// Index of a part in [`BoxParts::parts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PartId(pub usize);

/// What a part does in the box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// A wall of the box.
    Wall,
    /// The bottom, or the core of it.
    Bottom,
    /// A ledge under the bottom.
    Ledge,
    /// The top panel of a box whose lid is sawn off.
    Top,
    /// A member of the lid's frame.
    FrameMember,
    /// The panel of a framed lid.
    FramePanel,
    /// A slab or sliding lid.
    LidPanel,
    /// A lip under the lid.
    Lip,
    /// A key in a corner of the box or the lid's frame.
    Key,
    /// A loose tongue in a miter.
    Tongue,
    /// A strip of a laminated panel or pull.
    Strip,
    /// A wall of the lining.
    Lining,
    /// A wall of the tray.
    TrayWall,
    /// The bottom of the tray.
    TrayBottom,
    /// A bearer under the tray.
    Bearer,
    /// A divider.
    Divider,
    /// The pull or lifter.
    Pull,
    /// A foot.
    Foot,
    /// A member of the plinth.
    Plinth,
    /// A veneer.
    Veneer,
}

impl Role {
    /// The role in trade words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Wall => "wall",
            Self::Bottom => "bottom",
            Self::Ledge => "ledge",
            Self::Top => "top",
            Self::FrameMember => "lid frame",
            Self::FramePanel => "lid panel",
            Self::LidPanel => "lid",
            Self::Lip => "lip",
            Self::Key => "key",
            Self::Tongue => "loose tongue",
            Self::Strip => "strip",
            Self::Lining => "lining",
            Self::TrayWall => "tray wall",
            Self::TrayBottom => "tray bottom",
            Self::Bearer => "bearer",
            Self::Divider => "divider",
            Self::Pull => "pull",
            Self::Foot => "foot",
            Self::Plinth => "plinth",
            Self::Veneer => "veneer",
        }
    }
}

/// Where a part's blank comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// From a board of its wood, as a rectangle (or, in a run, as part of a strip).
    Board,
    /// From a sheet good.
    Sheet,
    /// From a sheet of veneer.
    VeneerLeaf,
    /// From a prepared strip of key stock; many from one strip.
    KeyStrip,
}

/// One part of one box.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Unique within the box, such as "front", "lid frame left", "key front right 2".
    pub name: String,
    /// What it does.
    pub role: Role,
    /// Species or sheet id of [`crate::wood`].
    pub wood: String,
    /// Angle between the wide face (w = thickness) and the growth rings.
    pub rings: Angle,
    /// Bounding size of the block that the cuts are made to, in its own frame: along u, v, w.
    /// For a mitered wall the length is tip to tip.
    pub size: [Length; 3],
    /// The blank, with its allowances.
    pub blank: Blank,
    /// Where the blank comes from.
    pub origin: Origin,
    /// The part's own cuts, in the order they are made.
    pub cuts: Vec<Cut>,
    /// Where it lies in the box.
    pub pose: Pose,
    /// The part it is a strip or layer of, when laminated.
    pub layer_of: Option<PartId>,
    /// The run it is cut in.
    pub run: Option<usize>,
    /// How its place moves in the exploded drawing: box-frame direction and distance, millimeters.
    pub explode: crate::space::Vec3,
}

/// A cut made to an assembly, in the box frame.
#[derive(Clone, Debug, PartialEq)]
pub enum AssemblyOperation {
    /// A slot for a key in a corner.
    KeySlot {
        /// Which corner.
        corner: CornerName,
        /// In the lid's frame instead of the box.
        in_lid: bool,
        /// Number of the key from below.
        number: u32,
        /// Height of its center above the lower edge of the walls (along the corner's arris).
        height: Length,
        /// Slot width.
        thickness: Length,
        /// Depth from the arris along the diagonal.
        depth: Length,
    },
    /// The lid sawn off.
    SawOff {
        /// Lower edge of the box to the lower side of the kerf.
        height: Length,
        /// Kerf.
        kerf: Length,
        /// Cleaned up on each edge.
        clean_up: Length,
    },
    /// Keys (or a proud panel) trimmed flush.
    FlushTrim {
        /// How many keys.
        count: u32,
    },
}

/// A cut on a glued assembly: what is done, to which parts, and the region that goes.
#[derive(Clone, Debug, PartialEq)]
pub struct AssemblyCut {
    /// What is done.
    pub operation: AssemblyOperation,
    /// With what.
    pub machine: Machine,
    /// The region that goes, in the box frame; empty for trims that leave the finished solids as they are.
    pub removes: Vec<Convex>,
    /// Which parts it cuts.
    pub parts: Vec<PartId>,
}

/// Parts glued up together, and the cuts then made to the whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// Such as "box", "lid", "tray".
    pub name: String,
    /// Its parts.
    pub parts: Vec<PartId>,
    /// The cuts made to it, in order.
    pub cuts: Vec<AssemblyCut>,
}

/// How two parts hold each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum JointKind {
    /// Glued face to face or in a joint meant to be tight.
    Glued,
    /// Held but free to move (a panel in its groove).
    Floating,
    /// Lying on it.
    Resting,
    /// Sliding (a sliding lid).
    Sliding,
    /// Turning on hinges.
    Hinged,
}

/// A seam's form, for glue and strength.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Seam {
    /// Miter: half end grain.
    Miter,
    /// Key in its slot.
    Key,
    /// Loose tongue.
    Tongue,
    /// Fingers.
    Fingers,
    /// Panel edge in rabbet, on a ledge, or on another flat.
    Flat,
    /// Panel in groove.
    Groove,
    /// Edge to edge, long grain.
    Edge,
    /// Half-lap.
    HalfLap,
}

/// A joint between two parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// One part.
    pub a: PartId,
    /// The other.
    pub b: PartId,
    /// How it holds.
    pub kind: JointKind,
    /// Its form.
    pub seam: Seam,
    /// Touching area, one side.
    pub area: crate::units::Area,
    /// Width across the grain over which the parts fight when glued (zero when their grain agrees).
    pub cross_grain: Length,
}

/// What is lost at one corner of a run and what that does to the figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerLoss {
    /// The corner.
    pub corner: CornerName,
    /// Figure lost on the show face between the two neighbors.
    pub loss: Length,
    /// What the figure does there.
    pub figure: Figure,
}

/// What the figure does at a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Runs on.
    RunsOn,
    /// Mirrored (bookmatch).
    Mirrors,
    /// The run ends here and starts here: it does not match.
    Closes,
    /// Nobody cared.
    Unmatched,
}

/// Parts that follow one another in a strip so that the figure carries on.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Such as "walls" or "walls, slice A".
    pub name: String,
    /// In order, left to right on the show face.
    pub parts: Vec<PartId>,
    /// Losses between neighbors and at the closing corner.
    pub corners: Vec<CornerLoss>,
    /// Strip length: outside lengths + losses + end trim.
    pub strip_length: Length,
    /// Strip width: blank width of the parts.
    pub strip_width: Length,
    /// Trim at each end of the strip.
    pub end_trim: Length,
    /// Slices through the thickness that are resawn from one billet (2 for a bookmatched pair).
    pub slices: u32,
    /// The run whose slice this one mirrors.
    pub mirrors: Option<usize>,
}

/// A panel that floats.
#[derive(Clone, Debug, PartialEq)]
pub struct Float {
    /// Such as "bottom" or "lid panel"; also the key of its reasons.
    pub name: String,
    /// The part (the first of its strips).
    pub part: PartId,
    /// Species or sheet id that its movement follows.
    pub wood: String,
    /// Rings at its wide face.
    pub rings: Angle,
    /// Width across the grain, as cut today.
    pub width: Length,
    /// Depth of the grooves that hold it.
    pub groove_depth: Length,
    /// Gap left today on each side across the grain.
    pub gap: Length,
    /// Width in the driest season.
    pub shrinks_to: Length,
}

/// Bought things.
#[derive(Clone, Debug, PartialEq)]
pub struct Hardware {
    /// What, in generic words.
    pub name: String,
    /// How many in one box.
    pub count: u32,
}

/// Everything one box consists of.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxParts {
    /// All parts of one box; a [`PartId`] points in here.
    pub parts: Vec<Part>,
    /// The glued assemblies.
    pub assemblies: Vec<Assembly>,
    /// The joints.
    pub joints: Vec<Joint>,
    /// The runs.
    pub runs: Vec<Run>,
    /// The panels that float.
    pub floats: Vec<Float>,
    /// What must be bought.
    pub hardware: Vec<Hardware>,
    /// Outside size of the closed box: length, depth, height with lid and base.
    pub outside: [Length; 3],
    /// Clear inside: length, depth, height.
    pub inside: [Length; 3],
}
