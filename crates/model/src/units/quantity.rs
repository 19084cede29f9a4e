//! The simple quantities: one number, one unit, addition and scaling.

/// Defines a quantity stored in one unit, with named constructor and reader.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:ident, $unit_doc:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("From a number of ", $unit_doc, ".")]
            #[allow(clippy::self_named_constructors, reason = "the unit of Minutes is the minute")]
            pub const fn $unit(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("As a number of ", $unit_doc, ".")]
            pub const fn value(self) -> f64 {
                self.0
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
        }

        impl core::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl core::ops::AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl core::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl core::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl core::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                Self(self.0 * by)
            }
        }
        impl core::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }
        impl core::ops::Div for $name {
            type Output = f64;
            fn div(self, by: Self) -> f64 {
                self.0 / by.0
            }
        }
        impl core::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
                iter.fold(Self::ZERO, |a, b| a + b)
            }
        }
    };
}

quantity!(
    /// Water in the wood, as a fraction of its oven-dry mass (0.08 is "8 percent").
    MoistureContent, fraction, "fraction of oven-dry mass"
);
quantity!(
    /// Relative humidity of air, as a fraction of saturation (0.45 is "45 percent").
    RelativeHumidity, fraction, "fraction of saturation"
);
quantity!(
    /// Temperature.
    Temperature, celsius, "degrees Celsius"
);
quantity!(
    /// Stress, pressure or modulus.
    Stress, mpa, "megapascals (newtons per square millimeter)"
);
quantity!(
    /// Change of length over length.
    Strain, fraction, "millimeters per millimeter"
);
quantity!(
    /// Mass per volume.
    Density, kg_m3, "kilograms per cubic meter"
);
quantity!(
    /// Force.
    Force, newtons, "newtons"
);
quantity!(
    /// Mass.
    Mass, grams, "grams"
);
quantity!(
    /// A span of working or waiting time.
    Minutes, minutes, "minutes"
);

impl MoistureContent {
    /// From percent, as meters and tables give it.
    pub const fn percent(value: f64) -> Self {
        Self(value / 100.0)
    }

    /// In percent, as meters and tables give it.
    pub const fn to_percent(self) -> f64 {
        self.0 * 100.0
    }
}

impl RelativeHumidity {
    /// From percent.
    pub const fn percent(value: f64) -> Self {
        Self(value / 100.0)
    }

    /// In percent.
    pub const fn to_percent(self) -> f64 {
        self.0 * 100.0
    }
}

impl Minutes {
    /// From hours.
    pub const fn hours(value: f64) -> Self {
        Self(value * 60.0)
    }

    /// In hours.
    pub const fn to_hours(self) -> f64 {
        self.0 / 60.0
    }
}

impl Stress {
    /// Pounds-force per square inch in one megapascal (exact from the pound and the inch).
    pub const PSI_PER_MPA: f64 = 145.037_737_730_209_2;

    /// In pounds-force per square inch.
    pub const fn to_psi(self) -> f64 {
        self.0 * Self::PSI_PER_MPA
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percent_and_fraction_agree() {
        assert!((MoistureContent::percent(8.0).value() - 0.08).abs() < 1e-15);
        assert!((RelativeHumidity::fraction(0.45).to_percent() - 45.0).abs() < 1e-12);
        assert!((Minutes::hours(1.5).value() - 90.0).abs() < 1e-12);
    }

    /// Source: 1 psi = 6894.757 Pa (NIST Special Publication 811, appendix B).
    #[test]
    fn pounds_per_square_inch() {
        assert!((Stress::mpa(0.006894757).to_psi() - 1.0).abs() < 1e-6);
    }
}
