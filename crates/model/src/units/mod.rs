//! Quantities with their units: everything else in the model speaks these types.
//!
//! A quantity is a private `f64` in one fixed unit; the unit is named in every constructor and
//! reader, and there is no conversion from a bare number without naming it.
//! Values are finite: text is checked where it is read (see [`parse_length`]), arithmetic stays far from overflow
//! because every stated length is bounded by [`Length::LONGEST`].

mod angle;
mod fraction;
mod length;
mod money;
mod parse;
mod quantity;

pub use angle::Angle;
pub use fraction::{Fineness, Inches, ShownLength};
pub use length::{Area, Length, Volume};
pub use money::{Currency, Money};
pub use parse::{LengthError, LengthUnit, parse_length, parse_length_in};
pub use quantity::{
    Density, Force, Mass, Minutes, MoistureContent, RelativeHumidity, Strain, Stress, Temperature,
};
