//! One board of the rack.

use super::tally;
use super::thickness::Quarters;
use crate::units::{Angle, Length, MoistureContent, Money};

/// How a board's faces are when it comes into the shop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Surface {
    /// As it came from the mill's saw; both faces must still be flattened.
    #[default]
    Rough,
    /// Both faces planed.
    Surfaced,
}

/// On which face a fault shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Faces {
    /// Through the board, or not looked at: the careful reading.
    #[default]
    Both,
    /// Only on the face that the measures are taken on.
    Front,
    /// Only on the other face.
    Back,
}

/// A fault: knot, check, bark pocket, stain, worm hole, as the smallest rectangle around it.
///
/// # Units
/// From the lower left corner of the board's face, x along the grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Defect {
    /// Left edge.
    pub x: Length,
    /// Lower edge.
    pub y: Length,
    /// Along the board.
    pub length: Length,
    /// Across the board.
    pub width: Length,
    /// Where it shows.
    pub faces: Faces,
}

/// What a board costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Price {
    /// Per board foot, billed as thickness × width × length / 12.
    PerBoardFoot(Money),
    /// For the whole board.
    PerBoard(Money),
}

/// A board, or several that are alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// What the maker chalks on it.
    pub name: String,
    /// The species id of the wood.
    pub wood: String,
    /// Along the grain.
    pub length: Length,
    /// Across the grain.
    pub width: Length,
    /// State of the faces.
    pub surface: Surface,
    /// Measured thickness, as it stands.
    pub thickness: Length,
    /// Thickness as sold, if it was sold by quarters.
    pub quarters: Option<Quarters>,
    /// As measured with a meter.
    pub moisture: Option<MoistureContent>,
    /// Between the wide face and the growth rings: 0° flat-sawn, 90° quartersawn.
    pub ring: Angle,
    /// Faults of the faces.
    pub defects: Vec<Defect>,
    /// Checked end at the left, to be cut off.
    pub end_check_left: Length,
    /// Checked end at the right, to be cut off.
    pub end_check_right: Length,
    /// Its price.
    pub price: Price,
    /// How many are alike.
    pub count: u32,
}

impl Board {
    /// The thickness that a bill goes by: as sold, else as measured.
    pub fn billed_thickness(&self) -> Length {
        self.quarters.map_or(self.thickness, Quarters::nominal)
    }

    /// What one such board costs, rounded to whole minor units.
    pub fn cost(&self) -> Money {
        match self.price {
            Price::PerBoard(money) => money,
            Price::PerBoardFoot(money) => {
                money.times(tally::plain(self.billed_thickness(), self.width, self.length))
            }
        }
    }

    /// Length between the end checks; zero when they meet.
    pub fn sound_length(&self) -> Length {
        (self.length - self.end_check_left - self.end_check_right).max(Length::ZERO)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Row BF-06 times a price, by hand: 5.7396 bf at 9.00 is 51.66.
    #[test]
    fn costs_by_the_board_foot() {
        let board = Board {
            name: "B1".into(),
            wood: "cherry".into(),
            length: Length::inches(9.5 * 12.0),
            width: Length::inches(7.25),
            surface: Surface::Rough,
            thickness: Length::inches(15.0 / 16.0),
            quarters: Some(Quarters::FOUR),
            moisture: None,
            ring: Angle::ZERO,
            defects: Vec::new(),
            end_check_left: Length::inches(2.0),
            end_check_right: Length::inches(1.0),
            price: Price::PerBoardFoot(Money::minor(900)),
            count: 1,
        };
        assert_eq!(board.cost(), Money::minor(5166));
        assert!(board.sound_length().same(Length::inches(111.0)));
        let lot = Board { price: Price::PerBoard(Money::minor(4000)), ..board };
        assert_eq!(lot.cost(), Money::minor(4000));
    }
}
