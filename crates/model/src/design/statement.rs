//! The statement and its plain choices.

use super::corner::CornerJoint;
use super::corner::CornerName;
use super::inside::{Contents, Inside};
use super::lid::{Lid, Pull};
use crate::units::{Angle, Length};

/// A box, wholly stated.
#[derive(Clone, Debug, PartialEq)]
pub struct Statement {
    /// What the maker calls it.
    pub name: String,
    /// A note for the packet's cover: for whom, what for.
    pub note: String,
    /// How many alike are made in one batch; at least one.
    pub count: u32,
    /// Outside, inside, or by contents.
    pub size: Size,
    /// Rectangle or regular polygon, upright or splayed.
    pub shape: Shape,
    /// The walls.
    pub walls: Walls,
    /// How the walls meet.
    pub corners: CornerJoint,
    /// The bottom.
    pub bottom: Bottom,
    /// The lid, if any.
    pub lid: Lid,
    /// Lining, tray, dividers, cloth.
    pub inside: Inside,
    /// Feet or plinth.
    pub base: Base,
    /// A pull or lifter on the lid (or on the front of a sliding lid).
    pub pull: Option<Pull>,
    /// Hinges, where the lid turns on them.
    pub hinges: Option<Hinges>,
    /// Chamfers and round-overs.
    pub edges: Edges,
    /// The finish outside and inside.
    pub finish: Finish,
}

/// Where the size is stated.
#[derive(Clone, Debug, PartialEq)]
pub enum Size {
    /// Outside, tip to tip: length, depth, height of the walls (of the closed box, if the lid is sawn from it).
    Outside {
        /// Along the front; for a regular polygon the distance across flats.
        length: Length,
        /// Front to back; equal to `length` for a regular polygon.
        depth: Length,
        /// Height of the walls; of the closed, glued box if the lid is sawn from it.
        height: Length,
    },
    /// Inside, clear of walls and above the bottom, before linings.
    Inside {
        /// Along the front; across flats for a regular polygon.
        length: Length,
        /// Front to back.
        depth: Length,
        /// From the bottom's upper face to the underside of the closed lid.
        height: Length,
    },
    /// From what must go in: items, slack, linings give the inside.
    Contents(Contents),
}

/// Where a splayed box has the stated outside or inside size.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SizeAt {
    /// At the upper rim.
    #[default]
    Rim,
    /// At the lower edge.
    Foot,
}

/// The plan of the box and the lean of its walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    /// Number of walls: 4 is a rectangle, any other from 3 to 12 a regular polygon.
    pub sides: u32,
    /// A regular polygon even if it has four sides is a rectangle here.
    /// Lean of the walls **from vertical**; positive leans outward going up.
    pub splay: Angle,
    /// Where a splayed box has its stated size.
    pub size_at: SizeAt,
}

/// Growth rings at the wide face.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum RingCut {
    /// Rings about parallel to the face (0°).
    #[default]
    FlatSawn,
    /// Between (45°).
    Rift,
    /// Rings about square to the face (90°).
    QuarterSawn,
    /// A measured angle between face and rings.
    At(Angle),
}

impl RingCut {
    /// The angle between the wide face and the growth rings.
    pub const fn angle(self) -> Angle {
        match self {
            Self::FlatSawn => Angle::ZERO,
            Self::Rift => Angle::degrees(45.0),
            Self::QuarterSawn => Angle::SQUARE,
            Self::At(a) => a,
        }
    }
}

/// A wood and how it is sawn; `wood` is a species id of [`crate::wood`].
#[derive(Clone, Debug, PartialEq)]
pub struct WoodUse {
    /// Species id, such as `cherry_black`, or sheet id, such as `baltic_birch`.
    pub wood: String,
    /// Growth rings at the wide face.
    pub rings: RingCut,
}

/// How the walls come out of the stock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WallCut {
    /// All in order from one strip: every corner but the closing one carries the figure on.
    #[default]
    OneStrip,
    /// From a resawn, bookmatched pair of slices: all corners match, two of them mirrored (rectangles only).
    BookmatchedPair,
    /// No care for the figure: each wall on its own.
    Loose,
}

/// What is lost between neighboring walls in the strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StripMethod {
    /// Miter straight from the strip; both tips stay sharp; lost k·√2 (k / cos bevel) on the outside face.
    MiterFromStrip,
    /// Crosscut square first, then miter each end, leaving this much to trim at each end.
    SquareFirst {
        /// Trim at each end.
        trim: Length,
    },
}

/// The walls.
#[derive(Clone, Debug, PartialEq)]
pub struct Walls {
    /// Their wood.
    pub wood: WoodUse,
    /// Their thickness.
    pub thickness: Length,
    /// How they come out of the stock.
    pub cut: WallCut,
    /// What is lost at each corner.
    pub method: StripMethod,
    /// The corner where the figure does not run on; `None` takes the one seen least (back left).
    pub closing_corner: Option<CornerName>,
}

/// A strip of a laminated panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Strips {
    /// The woods and widths, in order across the panel, repeated until the width is filled.
    pub pattern: Vec<(WoodUse, Length)>,
}

/// What a panel is made of.
#[derive(Clone, Debug, PartialEq)]
pub enum Build {
    /// Solid wood, edge-glued where no board is wide enough.
    Solid(WoodUse),
    /// Strips of several woods side by side.
    Striped(Strips),
    /// Plywood or another sheet good, by its id in [`crate::wood`].
    Sheet(String),
    /// A core sheet with veneer on both faces.
    Veneered {
        /// The core, a sheet id.
        core: String,
        /// The veneer's wood.
        face: WoodUse,
        /// Thickness of each veneer.
        veneer: Length,
    },
}

/// How the bottom is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BottomHold {
    /// Let into a rabbet from below and glued.
    Rabbet {
        /// Into the wall's thickness; `None` takes half the wall.
        depth: Option<Length>,
        /// Side clearance between bottom and rabbet, each side.
        clearance: Length,
    },
    /// Floating in a groove.
    Groove {
        /// Into the wall's thickness; `None` takes half the wall less what joints need.
        depth: Option<Length>,
        /// Lower edge of the wall to the lower side of the groove; `None` takes half the wall thickness.
        above_edge: Option<Length>,
        /// The tongue left by a rabbet round the panel, if thinner than the panel.
        tongue: Option<Length>,
    },
    /// Resting on a ledge glued to the walls.
    Ledge {
        /// Ledge width (out from the wall).
        width: Length,
        /// Ledge height.
        height: Length,
    },
}

/// The bottom.
#[derive(Clone, Debug, PartialEq)]
pub struct Bottom {
    /// What it is made of.
    pub build: Build,
    /// Its thickness.
    pub thickness: Length,
    /// How it is held.
    pub hold: BottomHold,
}

/// What the box stands on.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Base {
    /// Its own walls.
    #[default]
    None,
    /// Blocks under the corners.
    Feet {
        /// Wood.
        wood: WoodUse,
        /// Side of the square foot.
        side: Length,
        /// Height below the box.
        height: Length,
        /// Set in from the outside face.
        inset: Length,
    },
    /// A mitered frame under the box.
    Plinth {
        /// Wood.
        wood: WoodUse,
        /// Thickness of the plinth's members.
        thickness: Length,
        /// Height.
        height: Length,
        /// Beyond the wall's outside face (positive) or set back (negative).
        proud: Length,
    },
}

/// Butt hinges by their leaf and screws; no maker's numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hinges {
    /// How many.
    pub count: u32,
    /// Leaf length along the back edge.
    pub leaf_length: Length,
    /// Leaf width, from the pin's center to the leaf's edge.
    pub leaf_width: Length,
    /// Leaf thickness.
    pub leaf_thickness: Length,
    /// Diameter of the knuckle.
    pub knuckle: Length,
    /// Wood-screw gauge number (No. 2, No. 4 …).
    pub screw_gauge: u32,
    /// Screw length under the head.
    pub screw_length: Length,
    /// Screws in each leaf.
    pub screws_per_leaf: u32,
    /// End of the box to the nearer end of the leaf.
    pub from_end: Length,
    /// How far the lid opens before its stop, from closed.
    pub opens_to: Angle,
}

/// The profile of a broken arris.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Profile {
    /// Left sharp (broken with a pass of fine paper only).
    #[default]
    Sharp,
    /// A flat at 45° of this width on each face.
    Chamfer(Length),
    /// A quarter round of this radius.
    RoundOver(Length),
}

/// The arrises that are shaped.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Edges {
    /// The lid's upper outside arris all round.
    pub lid_top: Profile,
    /// The walls' upper outside arris.
    pub rim: Profile,
    /// The walls' lower outside arris.
    pub foot: Profile,
    /// The upright arrises at the corners.
    pub corners: Profile,
}

/// A kind of finish.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FinishKind {
    /// Bare wood.
    None,
    /// Drying oil, wiped on and off.
    Oil,
    /// Wax.
    Wax,
    /// Oil, then wax.
    OilAndWax,
    /// Shellac.
    Shellac,
    /// Oil varnish, wiped.
    WipingVarnish,
    /// Water-borne clear coat.
    WaterBorne,
}

/// A finish and its coats.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Coat {
    /// What.
    pub kind: FinishKind,
    /// How many coats (of the oil, where wax follows).
    pub coats: u32,
}

/// The finish outside and inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Finish {
    /// Outside faces.
    pub outside: Coat,
    /// Inside faces.
    pub inside: Coat,
    /// Inside faces are finished before glue-up, joints masked.
    pub inside_first: bool,
}
