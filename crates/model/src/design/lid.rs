//! The lid.

use super::corner::Keys;
use super::statement::{Build, WoodUse};
use crate::units::Length;

/// The lid.
#[derive(Clone, Debug, PartialEq)]
pub struct Lid {
    /// What kind.
    pub kind: LidKind,
    /// How it finds its place on the box.
    pub registration: Registration,
    /// Beyond the walls all round; zero is flush.
    pub overhang: Length,
}

/// The kinds of lid.
#[derive(Clone, Debug, PartialEq)]
pub enum LidKind {
    /// An open box.
    None,
    /// A mitered frame with a panel.
    Frame(Frame),
    /// One slab.
    Slab {
        /// What it is made of.
        build: Build,
        /// Its thickness.
        thickness: Length,
    },
    /// Sawn from the glued-up box.
    Sawn {
        /// Height of the lid's walls after sawing and cleaning up.
        height: Length,
        /// Kerf of the saw that parts it.
        kerf: Length,
        /// Cleaned up on each sawn edge.
        clean_up: Length,
        /// What closes the top.
        top: SawnTop,
    },
    /// A panel sliding in grooves of three walls; the fourth (right) is lower.
    Sliding {
        /// What it is made of.
        build: Build,
        /// Its thickness.
        thickness: Length,
        /// Depth of the grooves.
        groove_depth: Length,
        /// Play in width, both sides together, on the day it is made.
        side_play: Length,
        /// Play in thickness.
        thickness_play: Length,
        /// Upper edge of the wall to the groove's upper side.
        below_rim: Length,
    },
}

/// The top of a box whose lid is sawn off.
#[derive(Clone, Debug, PartialEq)]
pub struct SawnTop {
    /// What it is made of.
    pub build: Build,
    /// Its thickness.
    pub thickness: Length,
    /// In a rabbet from above (glued) or in a groove (floating).
    pub hold: PanelHold,
}

/// How a panel is held in its frame or in the walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PanelHold {
    /// Glued edge to edge between the members, flush.
    GluedBetween,
    /// In a groove, floating.
    Groove {
        /// Depth of the groove.
        depth: Length,
    },
    /// In a rabbet, glued.
    Rabbeted {
        /// Into the member's width (or the wall's thickness).
        depth: Length,
    },
}

/// A frame with its panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Wood of the members, one for all or one for each in the order front, right, back, left.
    pub woods: Vec<WoodUse>,
    /// Width of the members.
    pub member: Length,
    /// Thickness of the members.
    pub thickness: Length,
    /// Keys in the frame's miters, standing upright in the thickness; only their depth, wood and thickness count.
    pub keys: Option<Keys>,
    /// The panel.
    pub panel: FramePanel,
}

/// The panel of a framed lid.
#[derive(Clone, Debug, PartialEq)]
pub struct FramePanel {
    /// What it is made of.
    pub build: Build,
    /// Its thickness.
    pub thickness: Length,
    /// How it is held.
    pub hold: PanelHold,
}

/// How a lid finds its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Registration {
    /// It just lies there, or needs nothing (sliding, none).
    None,
    /// Strips under the lid that drop inside the walls.
    Lip {
        /// Height of the lip below the lid.
        height: Length,
        /// Its thickness.
        thickness: Length,
        /// Play between lip and wall, each side.
        play: Length,
    },
    /// A rabbet round the lid's underside that drops inside the walls.
    Rabbet {
        /// How far the lid drops in.
        depth: Length,
        /// Play between tongue and wall, each side.
        play: Length,
    },
    /// The lining stands proud of the walls and the lid fits over it.
    Lining,
    /// Hinges.
    Hinges,
}

/// A pull or lifter, shaped from a blank.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// Solid or striped.
    pub build: Build,
    /// Along the front.
    pub length: Length,
    /// Front to back (or out from the front face).
    pub width: Length,
    /// Up from the lid.
    pub height: Length,
    /// Each long side is undercut or beveled by this much at the top.
    pub bevel: Length,
}
