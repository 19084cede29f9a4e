//! Blanks: what is cut from the board before the part's own cuts, with every allowance on its own line.

use crate::units::Length;

/// Why a blank is larger than its part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum AllowanceKind {
    /// The kerf between this part and the next.
    Kerf,
    /// Trimmed off the ends or edges when the part is cut to size.
    Trim,
    /// Sanded or planed off the faces after joining.
    Sanding,
    /// Taken by flattening and thicknessing.
    Milling,
    /// Taken by resawing: the bandsaw's kerf and the clean-up of the sawn face.
    Resawing,
}

/// One allowance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowance {
    /// Why.
    pub kind: AllowanceKind,
    /// Added to the length.
    pub length: Length,
    /// Added to the width.
    pub width: Length,
    /// Added to the thickness.
    pub thickness: Length,
}

/// What is cut from the board.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// Finished bounding size: length along the grain, width, thickness.
    pub finished: [Length; 3],
    /// What is added, line by line.
    pub allowances: Vec<Allowance>,
}

impl Blank {
    /// Length along the grain with all allowances.
    pub fn length(&self) -> Length {
        self.finished[0] + self.allowances.iter().map(|a| a.length).sum()
    }

    /// Width with all allowances.
    pub fn width(&self) -> Length {
        self.finished[1] + self.allowances.iter().map(|a| a.width).sum()
    }

    /// Thickness with all allowances.
    pub fn thickness(&self) -> Length {
        self.finished[2] + self.allowances.iter().map(|a| a.thickness).sum()
    }
}
