//! Inches as fractions, with what rounding threw away.

use super::Length;
use core::fmt;

/// How fine the shop reads its rule: the denominator of the smallest fraction of an inch.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fineness {
    /// Sixteenths.
    Sixteenth,
    /// Thirty-seconds.
    ThirtySecond,
    /// Sixty-fourths.
    #[default]
    SixtyFourth,
}

impl Fineness {
    /// The denominator.
    pub const fn denominator(self) -> u32 {
        match self {
            Self::Sixteenth => 16,
            Self::ThirtySecond => 32,
            Self::SixtyFourth => 64,
        }
    }
}

/// A length rounded to a fraction of an inch: nearest, ties away from zero, lowest terms, carried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inches {
    negative: bool,
    whole: u64,
    numerator: u64,
    denominator: u64,
    residual: Length,
}

impl Inches {
    /// Rounds a length to the shop's fineness.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a rounded magnitude; `as` saturates on the absurd"
    )]
    pub fn nearest(length: Length, fineness: Fineness) -> Self {
        let denominator = u64::from(fineness.denominator());
        let parts = (length.to_inches().abs() * denominator as f64).round();
        let parts_whole = parts as u64;
        let negative = length.to_mm() < 0.0 && parts_whole > 0;
        let signed = if length.to_mm() < 0.0 { -parts } else { parts };
        let residual = Length::inches(signed / denominator as f64) - length;
        let (whole, mut numerator) = (parts_whole / denominator, parts_whole % denominator);
        let mut denominator = denominator;
        while numerator > 0 && numerator.is_multiple_of(2) {
            numerator /= 2;
            denominator /= 2;
        }
        Self { negative, whole, numerator, denominator, residual }
    }

    /// Shown value minus true value.
    pub const fn residual(self) -> Length {
        self.residual
    }
}

impl fmt::Display for Inches {
    /// `7 31/64" −` reads "a little under 7 31/64": the true value is smaller than the one shown.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.negative {
            f.write_str("-")?;
        }
        match (self.whole, self.numerator) {
            (w, 0) => write!(f, "{w}")?,
            (0, n) => write!(f, "{n}/{}", self.denominator)?,
            (w, n) => write!(f, "{w} {n}/{}", self.denominator)?,
        }
        f.write_str("\"")?;
        let r = self.residual.to_mm();
        if r > 5e-4 {
            f.write_str(" −")?;
        } else if r < -5e-4 {
            f.write_str(" +")?;
        }
        Ok(())
    }
}

/// A length as the shop shows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ShownLength {
    /// Millimeters to one decimal.
    Mm(Length),
    /// Inches as a fraction.
    Inch(Inches),
}

impl fmt::Display for ShownLength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mm(l) => {
                let tenths = (l.to_mm() * 10.0).round() / 10.0;
                // Adding zero turns a rounded "-0.0" into "0.0".
                write!(f, "{:.1} mm", tenths + 0.0)
            }
            Self::Inch(i) => i.fmt(f),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Case {
        name: &'static str,
        mm: f64,
        fineness: Fineness,
        want: &'static str,
        residual: f64,
    }

    /// Rows FR-01 … FR-12: derived by arithmetic from the inch of 25.4 mm; the tie rule
    /// (away from zero) is this shop's stated choice.
    #[test]
    fn fractions() {
        use Fineness::{Sixteenth, SixtyFourth, ThirtySecond};
        let cases = [
            Case { name: "FR-01", mm: 19.0, fineness: SixtyFourth, want: "3/4\" −", residual: 0.05 },
            Case { name: "FR-02", mm: 19.0, fineness: Sixteenth, want: "3/4\" −", residual: 0.05 },
            Case { name: "FR-03", mm: 12.0, fineness: ThirtySecond, want: "15/32\" +", residual: -0.09375 },
            Case { name: "FR-04", mm: 9.5, fineness: ThirtySecond, want: "3/8\" −", residual: 0.025 },
            Case { name: "FR-05", mm: 100.0, fineness: Sixteenth, want: "3 15/16\" −", residual: 0.0125 },
            Case { name: "FR-06", mm: 3.2, fineness: SixtyFourth, want: "1/8\" +", residual: -0.025 },
            Case {
                name: "FR-08", mm: 153.0, fineness: ThirtySecond, want: "6 1/32\" −", residual: 0.19375
            },
            Case { name: "FR-10", mm: 25.2, fineness: Sixteenth, want: "1\" −", residual: 0.2 },
            Case {
                name: "FR-11", mm: 25.4 / 32.0, fineness: Sixteenth, want: "1/16\" −", residual: 0.79375
            },
            Case {
                name: "FR-12: three parts of 4 21/64 in, summed, then rounded once",
                mm: 3.0 * 25.4 * (4.0 + 21.0 / 64.0),
                fineness: Sixteenth,
                want: "13\" −",
                residual: 25.4 / 64.0,
            },
        ];
        for c in cases {
            let got = Inches::nearest(Length::mm(c.mm), c.fineness);
            assert_eq!(got.to_string(), c.want, "{}", c.name);
            assert!((got.residual().to_mm() - c.residual).abs() < 1e-4, "{}", c.name);
        }
    }

    #[test]
    fn millimeters_never_show_minus_zero() {
        assert_eq!(ShownLength::Mm(Length::mm(-0.01)).to_string(), "0.0 mm");
        assert_eq!(ShownLength::Mm(Length::mm(19.05)).to_string(), "19.1 mm");
    }
}
