//! Named limits that a careful box is held to, each with what it rests on.

use crate::reason::Basis;
use crate::units::Length;

/// A named limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerance {
    /// What is limited, in trade words.
    pub name: &'static str,
    /// The limit.
    pub limit: Length,
    /// What it rests on.
    pub basis: Basis,
}

/// A gap that a person sees in a miter at reading distance.
pub const VISIBLE_GAP: Tolerance =
    Tolerance { name: "gap that shows", limit: Length::mm(0.1), basis: Basis::CommonPractice };

/// Difference in length between opposite walls.
pub const PAIR_LENGTH: Tolerance = Tolerance {
    name: "difference between opposite walls",
    limit: Length::mm(0.1),
    basis: Basis::CommonPractice,
};

/// Difference in thickness within one set of walls: the miters read it.
pub const SET_THICKNESS: Tolerance = Tolerance {
    name: "difference in thickness within a set",
    limit: Length::mm(0.1),
    basis: Basis::CommonPractice,
};

/// Difference between the diagonals of a glued-up box.
pub const DIAGONALS: Tolerance = Tolerance {
    name: "difference between the diagonals",
    limit: Length::mm(0.5),
    basis: Basis::CommonPractice,
};

impl Tolerance {
    /// Whether a length, of either sign, keeps the limit.
    pub fn keeps(&self, length: Length) -> bool {
        length.abs() <= self.limit
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A wall of 12 mm with both bevels off by 0.1° gaps 0.059 mm (row MG-01): it keeps the limit; at 0.25° (row MG-03)
    /// it does not.
    #[test]
    fn limits() {
        assert!(VISIBLE_GAP.keeps(Length::mm(0.05934)));
        assert!(!VISIBLE_GAP.keeps(Length::mm(-0.14745)));
    }
}
