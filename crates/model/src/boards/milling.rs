//! What the planer and the bandsaw take: usable thickness, and slices resawn from a board.

use super::board::{Board, Surface};
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::Length;
use thiserror::Error;

/// What each face loses in the shop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Milling {
    /// Taken from each rough face until it is flat.
    pub rough_face: Length,
    /// Taken from each face that came surfaced; often nothing.
    pub surfaced_face: Length,
    /// Kerf of the bandsaw.
    pub resaw_kerf: Length,
    /// Taken from each sawn face to clean it up.
    pub sawn_face: Length,
}

impl Default for Milling {
    /// 3/32 in from each rough face brings dry 4/4 of 15/16 in to the 3/4 in that is planned on as a rule;
    /// kerf and clean-up of 1/32 in each are a sharp bandsaw's. All common practice: measure your own.
    fn default() -> Self {
        Self {
            rough_face: Length::inches(3.0 / 32.0),
            surfaced_face: Length::ZERO,
            resaw_kerf: Length::inches(1.0 / 32.0),
            sawn_face: Length::inches(1.0 / 32.0),
        }
    }
}

/// Why slices cannot be counted.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum MillingError {
    /// A slice without thickness.
    #[error("a slice of {} mm cannot be sawn; ask for a thickness above zero", .thickness.to_mm())]
    NoThickness {
        /// What was asked.
        thickness: Length,
    },
}

impl Milling {
    /// Flat thickness left of a board, with its reason; zero when the planer would eat it all.
    pub fn usable(&self, board: &Board) -> (Length, Reason) {
        let (face, state) = match board.surface {
            Surface::Rough => (self.rough_face, "rough face"),
            Surface::Surfaced => (self.surfaced_face, "surfaced face"),
        };
        let left = (board.thickness - face * 2.0).max(Length::ZERO);
        let reason = Reason {
            key: "board.usable-thickness".into(),
            title: format!("flat thickness of board {}", board.name),
            formula: format!("measured thickness − 2 × loss of a {state}"),
            given: vec![
                Given::new("measured thickness", Value::Length(board.thickness)),
                Given::new(format!("loss of a {state}"), Value::Length(face)),
            ],
            result: Value::Length(left),
            basis: Basis::CommonPractice,
        };
        (left, reason)
    }

    /// How many slices of a finished thickness a board gives, with the reason.
    ///
    /// Both faces are flattened first; between two slices go one kerf and the clean-up of two sawn faces.
    /// Slices may cup once the board is open: one that must stay flat needs more than this counts.
    ///
    /// # Errors
    /// [`MillingError::NoThickness`] if the slice has none.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a quotient of lengths below ten meters; `as` saturates on the absurd"
    )]
    pub fn slices(&self, board: &Board, thickness: Length) -> Result<(u32, Reason), MillingError> {
        if thickness.to_mm().is_nan() || thickness <= Length::ZERO {
            return Err(MillingError::NoThickness { thickness });
        }
        let (usable, _) = self.usable(board);
        let loss = self.resaw_kerf + self.sawn_face * 2.0;
        // A thousandth of a millimeter is forgiven, as everywhere lengths are compared.
        let count = ((usable + loss + Length::mm(1e-3)) / (thickness + loss)).floor().max(0.0) as u32;
        let reason = Reason {
            key: "board.slices".into(),
            title: format!("slices resawn from board {}", board.name),
            formula:
                "whole part of (flat thickness + loss of a cut) ÷ (slice + loss of a cut), the loss of a \
                      cut being bandsaw kerf + 2 × clean-up of a sawn face"
                    .into(),
            given: vec![
                Given::new("flat thickness", Value::Length(usable)),
                Given::new("slice, finished", Value::Length(thickness)),
                Given::new("bandsaw kerf", Value::Length(self.resaw_kerf)),
                Given::new("clean-up of a sawn face", Value::Length(self.sawn_face)),
            ],
            result: Value::Count(u64::from(count)),
            basis: Basis::Derived("thicknesses and losses add up through the board"),
        };
        Ok((count, reason))
    }
}

#[cfg(test)]
mod tests {
    use super::super::board::Price;
    use super::*;
    use crate::units::{Angle, Money};

    fn board(thickness: Length, surface: Surface) -> Board {
        Board {
            name: "A".into(),
            wood: "white-oak".into(),
            length: Length::inches(96.0),
            width: Length::inches(6.0),
            surface,
            thickness,
            quarters: None,
            moisture: None,
            ring: Angle::ZERO,
            defects: Vec::new(),
            end_check_left: Length::ZERO,
            end_check_right: Length::ZERO,
            price: Price::PerBoard(Money::ZERO),
            count: 3,
        }
    }

    /// The planning rule beside row ST-13: dry rough 4/4 (15/16 in) is planned on as 3/4 in flat stock.
    #[test]
    fn rough_four_quarter_gives_three_quarters() {
        let (usable, reason) = Milling::default().usable(&board(Length::inches(0.9375), Surface::Rough));
        assert!(usable.same(Length::inches(0.75)), "{usable:?}");
        assert_eq!(reason.result, Value::Length(usable));
        let (usable, _) = Milling::default().usable(&board(Length::inches(0.8125), Surface::Surfaced));
        assert!(usable.same(Length::inches(0.8125)));
        let (usable, _) = Milling::default().usable(&board(Length::inches(0.125), Surface::Rough));
        assert_eq!(usable, Length::ZERO);
    }

    /// Two slices of t need 2t + 1/8 in and 2t + 1/4 in by two makers in print: kerf and clean-up of
    /// 1/24 and 1/12 in each. A hair less thickness gives one slice only.
    #[test]
    fn two_slices_by_published_allowances() {
        for allowance in [0.125, 0.25] {
            let third = Length::inches(allowance / 3.0);
            let milling = Milling { resaw_kerf: third, sawn_face: third, ..Milling::default() };
            for t in [0.25, 0.375, 0.5] {
                let enough = board(Length::inches(2.0 * t + allowance), Surface::Surfaced);
                assert_eq!(milling.slices(&enough, Length::inches(t)).unwrap().0, 2, "{allowance} {t}");
                let short = board(Length::inches(2.0 * t + allowance - 0.01), Surface::Surfaced);
                assert_eq!(milling.slices(&short, Length::inches(t)).unwrap().0, 1, "{allowance} {t}");
            }
        }
        assert!(
            Milling::default().slices(&board(Length::inches(1.0), Surface::Rough), Length::ZERO).is_err()
        );
    }

    /// Row GW-08: pencil boxes of 39 3/4 in of thin stock each, three 8 ft boards resawn in two: 14 boxes.
    #[test]
    fn boxes_by_total_length() {
        let rack = board(Length::inches(0.9375), Surface::Rough);
        let (slices, _) = Milling::default().slices(&rack, Length::inches(0.25)).unwrap();
        assert_eq!(slices, 2);
        let total = rack.length * f64::from(slices * rack.count);
        assert!(((total / Length::inches(39.75)).floor() - 14.0).abs() < 1e-12);
    }
}
