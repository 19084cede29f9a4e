//! What goes in, and what holds it: contents, lining, tray, dividers, cloth.

use super::statement::WoodUse;
use crate::units::Length;

/// A thing that must fit in.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is.
    pub name: String,
    /// Along the box.
    pub length: Length,
    /// Front to back.
    pub depth: Length,
    /// Up.
    pub height: Length,
    /// How many side by side along the box.
    pub along: u32,
    /// How many one behind the other.
    pub across: u32,
    /// How many on top of each other.
    pub up: u32,
}

/// The size from what must go in.
#[derive(Clone, Debug, PartialEq)]
pub struct Contents {
    /// The things; groups of different things stand side by side along the box.
    pub items: Vec<Item>,
    /// Slack round every loose thing, each side.
    pub slack: Length,
    /// Room above the things, under the lid or tray.
    pub above: Length,
}

/// A thin lining inside the walls.
#[derive(Clone, Debug, PartialEq)]
pub struct Lining {
    /// Its wood.
    pub wood: WoodUse,
    /// Its thickness.
    pub thickness: Length,
    /// How far it stands above the walls (negative: below).
    pub proud: Length,
}

/// Cloth, leather or felt on card.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// What it is, for the list.
    pub name: String,
    /// Thickness of cloth and card together, per face.
    pub thickness: Length,
    /// On the walls too, not only on the bottom.
    pub on_walls: bool,
}

/// Corner joint of a tray.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TrayJoint {
    /// Glued miter.
    Miter,
    /// Fingers of this width.
    Fingers(Length),
}

/// A tray that lifts out, resting on bearers.
#[derive(Clone, Debug, PartialEq)]
pub struct Tray {
    /// Its wood.
    pub wood: WoodUse,
    /// Thickness of its walls.
    pub thickness: Length,
    /// Height of its walls.
    pub height: Length,
    /// Thickness of its plywood bottom, in a rabbet.
    pub bottom: Length,
    /// Sheet id of the bottom.
    pub bottom_sheet: String,
    /// Its joint.
    pub joint: TrayJoint,
    /// Play between tray and walls (or lining), each side.
    pub play: Length,
    /// Share of the inside length that the tray covers, in percent (100: all of it).
    pub covers_pct: u32,
    /// Bearer width and height, glued to the front and back walls.
    pub bearer: (Length, Length),
}

/// A grid of dividers joined by half-laps.
#[derive(Clone, Debug, PartialEq)]
pub struct Dividers {
    /// Their wood.
    pub wood: WoodUse,
    /// Their thickness.
    pub thickness: Length,
    /// Their height above the bottom.
    pub height: Length,
    /// Cells along the box.
    pub cells_along: u32,
    /// Cells front to back.
    pub cells_across: u32,
    /// Play at each end.
    pub play: Length,
}

/// What is inside.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Inside {
    /// A wooden lining.
    pub lining: Option<Lining>,
    /// A lift-out tray.
    pub tray: Option<Tray>,
    /// Dividers.
    pub dividers: Option<Dividers>,
    /// Cloth or leather.
    pub cloth: Option<Cloth>,
}
