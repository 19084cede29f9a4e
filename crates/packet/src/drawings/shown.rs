//! Lengths as the shop reads them.

use keepwright_model::units::{Angle, Fineness, Inches, Length, LengthUnit, ShownLength};

/// The shop's unit and how fine it reads its rule.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Shown {
    /// Inches or millimeters.
    pub unit: LengthUnit,
    /// Fractions of an inch.
    pub fineness: Fineness,
}

impl Shown {
    /// Millimeters.
    pub const MM: Self = Self { unit: LengthUnit::Millimeter, fineness: Fineness::SixtyFourth };
    /// Inches to a sixty-fourth.
    pub const INCH: Self = Self { unit: LengthUnit::Inch, fineness: Fineness::SixtyFourth };

    /// A length with its unit: `11.2 mm`, `7/16" −`.
    pub fn length(self, length: Length) -> String {
        match self.unit {
            LengthUnit::Millimeter => ShownLength::Mm(length).to_string(),
            LengthUnit::Inch => Inches::nearest(length, self.fineness).to_string(),
        }
    }

    /// The words of a dimension: millimeters without their sign, and without `.0` when the length is whole
    /// to a hundredth; inches as [`Shown::length`].
    pub fn dimension(self, length: Length) -> String {
        match self.unit {
            LengthUnit::Millimeter => {
                let mm = length.to_mm();
                let whole = (mm - mm.round()).abs() < 0.005;
                // Adding zero turns a rounded "-0" into "0".
                let words =
                    if whole { format!("{:.0}", mm.round() + 0.0) } else { format!("{:.1}", tenths(mm)) };
                words.replace('-', "−")
            }
            LengthUnit::Inch => Inches::nearest(length, self.fineness).to_string(),
        }
    }

    /// The words of a dimension of so many millimeters.
    pub(crate) fn mm(self, mm: f64) -> String {
        self.dimension(Length::mm(mm))
    }

    /// An angle in degrees to a tenth: `45°`, `28.9°`.
    pub fn angle(angle: Angle) -> String {
        let degrees = angle.to_degrees();
        if (degrees - degrees.round()).abs() < 0.005 {
            format!("{:.0}°", degrees.round() + 0.0)
        } else {
            format!("{:.1}°", tenths(degrees))
        }
    }
}

/// Rounded to a tenth, never minus zero.
fn tenths(value: f64) -> f64 {
    (value * 10.0).round() / 10.0 + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dimension_says_whole_only_when_it_is() {
        // FR-01 of the fraction table: 19 mm is a little under 3/4 in.
        struct Case {
            mm: f64,
            want_mm: &'static str,
            want_inch: &'static str,
        }
        for case in [
            Case { mm: 19.0, want_mm: "19", want_inch: "3/4\" −" },
            Case { mm: 25.4, want_mm: "25.4", want_inch: "1\"" },
            Case { mm: 11.96, want_mm: "12.0", want_inch: "15/32\" +" },
            Case { mm: -0.4, want_mm: "−0.4", want_inch: "-1/64\"" },
            Case { mm: -0.001, want_mm: "0", want_inch: "0\"" },
        ] {
            assert_eq!(Shown::MM.mm(case.mm), case.want_mm, "{}", case.mm);
            assert!(Shown::INCH.mm(case.mm).starts_with(case.want_inch), "{}", Shown::INCH.mm(case.mm));
        }
        assert_eq!(Shown::angle(Angle::degrees(45.0)), "45°");
        assert_eq!(Shown::angle(Angle::degrees(28.88)), "28.9°");
    }
}
