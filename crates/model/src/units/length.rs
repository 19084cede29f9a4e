//! Lengths in millimeters, and the areas and volumes that they make.

use core::iter::Sum;
use core::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length, stored in millimeters.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(f64);

/// An area, stored in square millimeters.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Area(f64);

/// A volume, stored in cubic millimeters.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Volume(f64);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0.0);
    /// Millimeters in one inch, exact (international yard and pound agreement, 1959).
    pub const MM_PER_INCH: f64 = 25.4;
    /// The longest length that a maker's file may state: ten meters.
    pub const LONGEST: Self = Self(10_000.0);

    /// From millimeters.
    pub const fn mm(value: f64) -> Self {
        Self(value)
    }

    /// From inches.
    pub const fn inches(value: f64) -> Self {
        Self(value * Self::MM_PER_INCH)
    }

    /// In millimeters.
    pub const fn to_mm(self) -> f64 {
        self.0
    }

    /// In inches.
    pub const fn to_inches(self) -> f64 {
        self.0 / Self::MM_PER_INCH
    }

    /// The magnitude.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The larger of two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }

    /// The smaller of two.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// Whether two lengths are the same to the eye of any saw: within a thousandth of a millimeter.
    pub fn same(self, other: Self) -> bool {
        (self.0 - other.0).abs() < 1e-3
    }
}

impl Area {
    /// No area.
    pub const ZERO: Self = Self(0.0);

    /// From square millimeters.
    pub const fn mm2(value: f64) -> Self {
        Self(value)
    }

    /// In square millimeters.
    pub const fn to_mm2(self) -> f64 {
        self.0
    }

    /// In square meters.
    pub const fn to_m2(self) -> f64 {
        self.0 * 1e-6
    }
}

impl Volume {
    /// No volume.
    pub const ZERO: Self = Self(0.0);
    /// Cubic millimeters in one board foot (a foot by a foot by an inch), exact.
    pub const MM3_PER_BOARD_FOOT: f64 = 144.0 * 25.4 * 25.4 * 25.4;

    /// From cubic millimeters.
    pub const fn mm3(value: f64) -> Self {
        Self(value)
    }

    /// In cubic millimeters.
    pub const fn to_mm3(self) -> f64 {
        self.0
    }

    /// In milliliters (cubic centimeters).
    pub const fn to_ml(self) -> f64 {
        self.0 * 1e-3
    }

    /// In board feet.
    pub const fn to_board_feet(self) -> f64 {
        self.0 / Self::MM3_PER_BOARD_FOOT
    }
}

/// Addition, scaling and sums for a one-number quantity.
macro_rules! linear {
    ($t:ident) => {
        impl Add for $t {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl AddAssign for $t {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl Sub for $t {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl SubAssign for $t {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }
        impl Neg for $t {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $t {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                Self(self.0 * by)
            }
        }
        impl Div<f64> for $t {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }
        impl Div for $t {
            type Output = f64;
            fn div(self, by: Self) -> f64 {
                self.0 / by.0
            }
        }
        impl Sum for $t {
            fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
                iter.fold(Self(0.0), |a, b| a + b)
            }
        }
    };
}
linear!(Length);
linear!(Area);
linear!(Volume);

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

impl Mul<Length> for Area {
    type Output = Volume;
    fn mul(self, other: Length) -> Volume {
        Volume(self.0 * other.0)
    }
}

impl Div<Length> for Area {
    type Output = Length;
    fn div(self, by: Length) -> Length {
        Length(self.0 / by.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: `MM3_PER_BOARD_FOOT` is 2359.737216 cm³, exact from the inch of 25.4 mm.
    #[test]
    fn board_foot() {
        assert!((Volume::MM3_PER_BOARD_FOOT - 2_359_737.216).abs() < 1e-6);
        let board = Length::inches(12.0) * Length::inches(12.0) * Length::inches(1.0);
        assert!((board.to_board_feet() - 1.0).abs() < 1e-12);
    }
}
