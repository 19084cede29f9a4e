//! The rack as the maker states it: the boards at hand. The room of boards makes its own of them.

use super::statement::RingCut;
use crate::units::{Length, MoistureContent, Money};

/// The whole rack file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RackFile {
    /// The boards in the order of the file.
    pub boards: Vec<RackBoard>,
}

/// State of a board's faces.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RackSurface {
    /// As it came from the mill's saw.
    #[default]
    Rough,
    /// Both faces planed.
    Surfaced,
}

/// What a board costs, in the shop's currency.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RackPrice {
    /// Per board foot.
    PerBoardFoot(Money),
    /// For the whole board.
    PerBoard(Money),
}

/// The kinds of fault.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DefectKind {
    /// A knot.
    Knot,
    /// A check or split.
    Check,
    /// A bark pocket or waney edge.
    Bark,
    /// A stain.
    Stain,
    /// Worm holes.
    Worm,
    /// Anything else to cut round.
    #[default]
    Other,
}

/// On which face a fault shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DefectFace {
    /// Through the board, or not looked at: the careful reading.
    #[default]
    Both,
    /// Only on the face that the measures are taken on.
    Front,
    /// Only on the other.
    Back,
}

/// A fault as the smallest rectangle round it, from the lower left corner of the face, x along the grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RackDefect {
    /// Left edge.
    pub x: Length,
    /// Lower edge.
    pub y: Length,
    /// Along the board.
    pub length: Length,
    /// Across the board.
    pub width: Length,
    /// What it is.
    pub kind: DefectKind,
    /// Where it shows.
    pub face: DefectFace,
}

/// A board, or several alike. At least one of `thickness` and `quarters` is there.
#[derive(Clone, Debug, PartialEq)]
pub struct RackBoard {
    /// What the maker chalks on it; no two boards share a name.
    pub name: String,
    /// The species id of its wood.
    pub wood: String,
    /// State of the faces.
    pub surface: RackSurface,
    /// Along the grain.
    pub length: Length,
    /// Across the grain.
    pub width: Length,
    /// As measured.
    pub thickness: Option<Length>,
    /// As sold: 4 is four-quarter, one inch.
    pub quarters: Option<u32>,
    /// How many alike.
    pub count: u32,
    /// As measured with a meter.
    pub moisture: Option<MoistureContent>,
    /// Growth rings at the wide face.
    pub rings: RingCut,
    /// Its price.
    pub price: Option<RackPrice>,
    /// Checked length at the left end, to be cut off.
    pub end_check_left: Length,
    /// Checked length at the right end, to be cut off.
    pub end_check_right: Length,
    /// Its faults.
    pub defects: Vec<RackDefect>,
}
