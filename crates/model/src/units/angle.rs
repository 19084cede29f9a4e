//! Angles, stored in radians.

use core::ops::{Add, Div, Mul, Neg, Sub};

/// An angle, stored in radians.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// No angle.
    pub const ZERO: Self = Self(0.0);
    /// A right angle.
    pub const SQUARE: Self = Self(core::f64::consts::FRAC_PI_2);

    /// From radians.
    pub const fn radians(value: f64) -> Self {
        Self(value)
    }

    /// From degrees.
    pub const fn degrees(value: f64) -> Self {
        Self(value.to_radians())
    }

    /// In radians.
    pub const fn to_radians(self) -> f64 {
        self.0
    }

    /// In degrees.
    pub const fn to_degrees(self) -> f64 {
        self.0.to_degrees()
    }

    /// Sine.
    pub fn sin(self) -> f64 {
        self.0.sin()
    }

    /// Cosine.
    pub fn cos(self) -> f64 {
        self.0.cos()
    }

    /// Tangent.
    pub fn tan(self) -> f64 {
        self.0.tan()
    }

    /// The magnitude.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl Neg for Angle {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<f64> for Angle {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self(self.0 * by)
    }
}
impl Div<f64> for Angle {
    type Output = Self;
    fn div(self, by: f64) -> Self {
        Self(self.0 / by)
    }
}
