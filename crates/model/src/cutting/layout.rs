//! A plan: per board a tree of cuts that the shop can follow, and what lies where.

use crate::units::{Area, Length};

/// The direction of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutKind {
    /// Across the grain, over the whole width of the piece in hand.
    Crosscut,
    /// Along the grain, over the whole length of the piece in hand.
    Rip,
}

/// One saw cut: the blade takes the wood from `at` to `at` + kerf.
///
/// A trimming cut may run partly beside the piece, so `at` can lie up to one kerf before its edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Its direction.
    pub kind: CutKind,
    /// Where the blade's first side runs: x of a crosscut, y of a rip, from the board's lower left corner.
    pub at: Length,
}

/// A piece in hand, on its way from board to blank.
///
/// # Units
/// From the lower left corner of the whole board; length along the grain.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Left edge.
    pub x: Length,
    /// Lower edge.
    pub y: Length,
    /// Along the grain.
    pub length: Length,
    /// Across the grain.
    pub width: Length,
    /// What happens to it.
    pub next: Next,
}

/// What happens to a piece.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    /// It is cut in two; a side is `None` where the blade leaves nothing.
    Split {
        /// The cut.
        cut: Cut,
        /// Left of a crosscut, below a rip.
        first: Option<Box<Piece>>,
        /// Right of a crosscut, above a rip.
        second: Option<Box<Piece>>,
    },
    /// It is the blank of this item.
    Part(usize),
    /// It is the strip of this run, to be parted at its corners.
    Run(usize),
    /// It is worth keeping.
    Offcut,
    /// It is not.
    Waste,
}

/// Where one item lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Its place in the demand.
    pub item: usize,
    /// Left edge, from the board's lower left corner.
    pub x: Length,
    /// Lower edge.
    pub y: Length,
    /// Along the grain.
    pub length: Length,
    /// Across the grain.
    pub width: Length,
}

/// A leftover worth keeping.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Offcut {
    /// Left edge, from the board's lower left corner.
    pub x: Length,
    /// Lower edge.
    pub y: Length,
    /// Along the grain.
    pub length: Length,
    /// Across the grain.
    pub width: Length,
    /// How many of the board's faults reach into it.
    pub faults: usize,
}

/// One board cut up.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// Place in [`Demand::stock`](super::Demand::stock).
    pub stock: usize,
    /// The whole board and the cuts made to it.
    pub root: Piece,
    /// What lies where, in the order in which the tree frees it.
    pub parts: Vec<Placed>,
    /// What is kept.
    pub offcuts: Vec<Offcut>,
    /// Board less parts less kept offcuts: sawdust, slivers, faults.
    pub waste: Area,
    /// Cost of the board.
    pub cost: u64,
}

/// Why an item is short.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ShortWhy {
    /// There is no board of its wood.
    NoSuchWood,
    /// It is sheet stuff, and the sheets of its kind have another thickness.
    NoSuchThickness,
    /// No board of its wood is thick enough.
    TooThin,
    /// No board of its wood and thickness has a clear place large enough (for the whole run, if it is in one).
    NoClearPlace,
    /// There are such places, but the search found no plan that leaves one for it.
    NoRoomLeft,
}

impl ShortWhy {
    /// The reason in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::NoSuchWood => "no board of its wood",
            Self::NoSuchThickness => "no sheet of its thickness",
            Self::TooThin => "no board of its wood is thick enough",
            Self::NoClearPlace => "no board has a clear place large enough",
            Self::NoRoomLeft => "no room is left beside the other blanks",
        }
    }
}

/// An item that the plan leaves out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Shortage {
    /// Its place in the demand.
    pub item: usize,
    /// Why.
    pub why: ShortWhy,
}

/// The boards to cut and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// One per board used, in stock order.
    pub layouts: Vec<Layout>,
    /// What is left out; empty when the plan is complete.
    pub short: Vec<Shortage>,
    /// Cost of the boards used.
    pub cost: u64,
    /// The seed it was found with: the same demand, seed and number of steps give this plan again.
    pub seed: u64,
    /// Steps of the search taken until it ended.
    pub steps: u64,
}

impl Plan {
    /// Whether every item has its place.
    pub const fn is_complete(&self) -> bool {
        self.short.is_empty()
    }

    /// Area of the parts over area of the boards used; 0 without boards.
    pub fn yield_fraction(&self) -> f64 {
        let parts: Area = self.layouts.iter().flat_map(|l| &l.parts).map(|p| p.length * p.width).sum();
        let boards: Area = self.layouts.iter().map(|l| l.root.length * l.root.width).sum();
        if boards > Area::ZERO { parts / boards } else { 0.0 }
    }

    /// The largest kept offcut.
    pub fn largest_offcut(&self) -> Option<Offcut> {
        let all = self.layouts.iter().flat_map(|l| l.offcuts.iter().copied());
        all.fold(None, |best: Option<Offcut>, o| match best {
            Some(b) if b.length * b.width >= o.length * o.width => Some(b),
            _ => Some(o),
        })
    }
}

impl Layout {
    /// The cuts in the order of the shop: each piece with its cut, the piece in hand first.
    pub fn cuts(&self) -> Vec<(&Piece, Cut)> {
        let mut out = Vec::new();
        let mut stack = vec![&self.root];
        while let Some(piece) = stack.pop() {
            if let Next::Split { cut, first, second } = &piece.next {
                out.push((piece, *cut));
                stack.extend(second.as_deref());
                stack.extend(first.as_deref());
            }
        }
        out
    }
}
