//! One machine set-up: everything the maker sets and checks before feeding the first part.

use super::settings::{Side, Teeth};
use crate::caution::Caution;
use crate::parts::{Edge, End, Face, Machine, PartId};
use crate::reason::Reason;
use crate::units::{Angle, Length};

/// When in the job a set-up belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Boards become blanks.
    Stock,
    /// Blanks become parts.
    Parts,
    /// The glued box is cut.
    Assembly,
}

/// What a set-up is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// Face, edge and thickness.
    Mill,
    /// Slices sawn through the thickness.
    Resaw,
    /// Strips ripped to width.
    RipStrip,
    /// Blanks crosscut from the strip.
    CrosscutBlank,
    /// Ends miter-cut straight from the strip, in the order of the run.
    MiterFromStrip,
    /// An end cut square to length.
    Crosscut,
    /// An end cut with a tilted blade (walls).
    BladeMiter,
    /// An end cut with a swung gauge (frames).
    GaugeMiter,
    /// An end cut with both.
    CompoundMiter,
    /// A long edge ripped.
    Rip,
    /// A long edge ripped with a tilted blade.
    BevelRip,
    /// A rabbet.
    Rabbet,
    /// A groove.
    Groove,
    /// A slot in a miter face, for a loose tongue.
    EndSlot,
    /// Half-laps, like pieces ganged.
    HalfLap,
    /// Sockets of a finger joint.
    Finger,
    /// The bed of a hinge leaf.
    HingeBed,
    /// A lowered wall or an opening.
    Opening,
    /// A chamfer.
    Chamfer,
    /// A rounded arris.
    RoundOver,
    /// A flat pared or planed.
    Bevel,
    /// Key slots in the cradle.
    KeySlot,
    /// The lid sawn off.
    SawOff,
    /// Keys or a proud panel trimmed flush.
    FlushTrim,
}

impl Purpose {
    /// The purpose in trade words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Mill => "mill to thickness",
            Self::Resaw => "resaw",
            Self::RipStrip => "rip strips to width",
            Self::CrosscutBlank => "crosscut blanks",
            Self::MiterFromStrip => "miter straight from the strip",
            Self::Crosscut => "crosscut square",
            Self::BladeMiter => "miter with the blade tilted",
            Self::GaugeMiter => "miter with the gauge swung",
            Self::CompoundMiter => "compound miter",
            Self::Rip => "rip to width",
            Self::BevelRip => "rip a bevel",
            Self::Rabbet => "rabbet",
            Self::Groove => "groove",
            Self::EndSlot => "slot the miter for a loose tongue",
            Self::HalfLap => "half-laps, ganged",
            Self::Finger => "finger sockets",
            Self::HingeBed => "hinge beds",
            Self::Opening => "opening",
            Self::Chamfer => "chamfer",
            Self::RoundOver => "round over",
            Self::Bevel => "pare a flat",
            Self::KeySlot => "key slots in the cradle",
            Self::SawOff => "saw the lid off",
            Self::FlushTrim => "trim flush",
        }
    }
}

/// A surface of the part's block, by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// A wide face.
    Face(Face),
    /// A long edge.
    Edge(Edge),
    /// An end.
    End(End),
}

impl Surface {
    /// The surface across from this one.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Face(Face::Show) => Self::Face(Face::Back),
            Self::Face(Face::Back) => Self::Face(Face::Show),
            Self::Edge(Edge::Lower) => Self::Edge(Edge::Upper),
            Self::Edge(Edge::Upper) => Self::Edge(Edge::Lower),
            Self::End(End::Start) => Self::End(End::Finish),
            Self::End(End::Finish) => Self::End(End::Start),
        }
    }

    /// The surface in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Face(Face::Show) => "show face",
            Self::Face(Face::Back) => "back face",
            Self::Edge(Edge::Lower) => "lower edge",
            Self::Edge(Edge::Upper) => "upper edge",
            Self::End(End::Start) => "start end",
            Self::End(End::Finish) => "finish end",
        }
    }
}

/// How the part lies: which surface is on the table, which meets fence or stop, which is pushed
/// (against the miter gauge, or trailing along the fence).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Placement {
    /// On the table.
    pub down: Surface,
    /// Against the fence or the stop.
    pub toward: Surface,
    /// Against the gauge; along a rip fence, the trailing surface.
    pub pushed: Surface,
}

/// What does the cutting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cutter {
    /// The table saw's blade.
    Blade {
        /// Its kerf.
        kerf: Length,
        /// Its teeth.
        teeth: Teeth,
    },
    /// The bandsaw's blade, with its kerf.
    Band(Length),
    /// A straight bit of this diameter.
    StraightBit(Length),
    /// A 45° chamfer bit.
    ChamferBit,
    /// A round-over bit of this radius.
    RoundBit(Length),
    /// Planer knives.
    Knives,
    /// Hand tools.
    Hand,
}

/// Which way the top of the blade leans, seen from the fence or stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lean {
    /// Blade upright.
    Upright,
    /// The blade leans away from fence or stop.
    Away,
    /// The blade leans toward fence or stop (only where nothing is cut off between them).
    Toward,
}

/// What gives the part its place across the blade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Guide {
    /// The rip fence.
    Fence,
    /// A stop block on the gauge's or sled's fence.
    Stop,
    /// No stop: cut to a knife line.
    Mark,
    /// The stop on the V cradle.
    CradleStop,
    /// The pin of a finger jig.
    FingerPin,
    /// Nothing to set across.
    Free,
}

impl Guide {
    /// The guide in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Fence => "fence",
            Self::Stop => "stop",
            Self::Mark => "knife line, no stop",
            Self::CradleStop => "stop on the cradle",
            Self::FingerPin => "pin of the finger jig",
            Self::Free => "nothing",
        }
    }
}

/// One pass: where the guide stands and how high the cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pass {
    /// Guide to the near side of the blade (or bit), at the table; along the gauge's fence when the
    /// gauge is swung. Negative: the cutter runs inside an auxiliary fence. Zero where nothing is set.
    pub distance: Length,
    /// Table to the highest tooth, plumb, as a rule stood on the table shows it.
    pub height: Length,
}

/// A part (or glued box) cut in a set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// Which statement of the batch.
    pub box_index: usize,
    /// The part; `None` for a glued assembly.
    pub part: Option<PartId>,
    /// Index of the cut in the part's (or assembly's) list; `None` for stock.
    pub cut: Option<usize>,
    /// The part's name.
    pub name: String,
    /// How many pieces, over all boxes of the batch.
    pub count: u32,
    /// Which end, edge or corner, in words.
    pub at: String,
    /// Block of the piece: length along the grain, width, thickness.
    pub size: [Length; 3],
    /// How it lies.
    pub placement: Option<Placement>,
    /// Wood still standing beyond the finished size where the part meets the guide.
    pub excess: Length,
    /// The glued box is turned end for end: its upper edge meets the stop.
    pub turned: bool,
    /// The run whose strip this end is mitered from, when there are no separate blanks.
    pub strip: Option<usize>,
    /// The strip that the piece is still part of when it is cut; `None` where it is cut alone.
    pub in_strip: Option<Strip>,
    /// Where the passes of this member lie, when they differ from member to member (finger sockets, the
    /// lengths mitered from one strip).
    pub own_passes: Vec<Pass>,
    /// Marks between which a stopped cut runs, from the part's start end or lower edge.
    pub stopped: Option<(Length, Length)>,
}

/// A strip that several pieces are cut from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// What it is called, such as `key strip`.
    pub name: &'static str,
    /// Its length, without spares.
    pub length: Length,
}

/// What holds and feeds the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Holding {
    /// The miter gauge with a long wooden fence.
    GaugeWithFence,
    /// A crosscut sled with a hold-down clamp.
    SledWithClamp,
    /// A push stick or push block along the fence.
    PushBlock,
    /// An auxiliary fence that the blade may enter.
    AuxiliaryFence,
    /// Fingers that press the work down and against the fence.
    HoldDowns,
    /// A tall auxiliary fence.
    TallFence,
    /// A backing piece behind the cut, against breakout.
    Backing,
    /// A carriage that stands the part on end.
    UprightCarriage,
    /// The V cradle, with the box tied or clamped in it.
    Cradle,
    /// A finger-joint jig.
    FingerJig,
    /// Kerf-thick shims taped into the finished cuts.
    Shims,
    /// A carrier board under thin stock.
    CarrierBoard,
}

impl Holding {
    /// The holding in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::GaugeWithFence => "miter gauge with a long wooden fence",
            Self::SledWithClamp => "sled with a hold-down clamp",
            Self::PushBlock => "push block or push stick",
            Self::AuxiliaryFence => "auxiliary fence that the blade may enter",
            Self::HoldDowns => "hold-downs toward table and fence",
            Self::TallFence => "tall auxiliary fence",
            Self::Backing => "backing piece behind the cut",
            Self::UprightCarriage => "carriage that stands the part on end, clamped",
            Self::Cradle => "V cradle, box tied or clamped in it",
            Self::FingerJig => "finger jig",
            Self::Shims => "kerf-thick shims taped into the cuts made",
            Self::CarrierBoard => "carrier board under the thin stock",
        }
    }
}

/// Where the wood that is cut off goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Offcut {
    /// Chips only.
    None,
    /// It falls free on the side away from fence or stop.
    FreeSide(Side),
    /// It stays held by a skin, knifed through by hand.
    SkinHeld,
    /// Both halves are kept (resawing).
    Kept,
}

/// Turning the second of a pair, and what that cancels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flip {
    /// What to do.
    pub says: &'static str,
    /// Which error goes away, and which stays.
    pub cancels: &'static str,
}

/// A machine set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// Class of machine.
    pub machine: Machine,
    /// What for.
    pub purpose: Purpose,
    /// When in the job.
    pub stage: Stage,
    /// What cuts.
    pub cutter: Cutter,
    /// Blade tilt away from upright, never negative.
    pub tilt: Angle,
    /// Which way the blade leans, seen from the guide.
    pub lean: Lean,
    /// Gauge away from square; positive when the edge on the gauge is the longer one.
    pub gauge: Angle,
    /// What gives the place across the blade.
    pub guide: Guide,
    /// On which side of the blade the guide stands.
    pub side: Side,
    /// Guide positions and heights, in the order cut; empty where only hand tools are used.
    pub passes: Vec<Pass>,
    /// Further stops set at once (mitering from the strip takes one for each length).
    pub more_stops: Vec<Length>,
    /// What is cut.
    pub members: Vec<Member>,
    /// A test piece is cut and measured first.
    pub test_piece: bool,
    /// What holds the work.
    pub holding: Vec<Holding>,
    /// Where the offcut goes.
    pub offcut: Offcut,
    /// Turning the second of a pair.
    pub flip: Option<Flip>,
    /// Cautions that this very cut calls for.
    pub cautions: Vec<Caution>,
    /// How each main number came about.
    pub reasons: Vec<Reason>,
}

impl Setup {
    /// Blade height of the first pass, plumb above the table.
    pub fn height(&self) -> Option<Length> {
        self.passes.first().map(|p| p.height)
    }

    /// Guide to blade for the first pass.
    pub fn distance(&self) -> Option<Length> {
        match self.guide {
            Guide::Mark | Guide::Free => None,
            Guide::Fence | Guide::Stop | Guide::CradleStop | Guide::FingerPin => {
                self.passes.first().map(|p| p.distance)
            }
        }
    }

    /// How much of the blade shows, measured along the tilted blade.
    pub fn exposure(&self) -> Option<Length> {
        self.height().map(|h| h / self.tilt.cos())
    }

    /// Cuts made in this set-up, over all boxes (a part with both ends, or several sockets, counts for each).
    pub fn pieces(&self) -> u32 {
        self.members.iter().map(|m| m.count).sum()
    }
}
