//! Whole ticks inside, lengths outside.
//!
//! A tick is 1/320 mm: a tenth of a millimeter is 32 ticks and 1/64 inch is 127 ticks, so both of a
//! maker's scales are exact. Anything finer is rounded to the safe side (parts and kerfs up, boards
//! down), so rounding can never make a plan fit that does not.

use crate::units::Length;

const PER_MM: f64 = 320.0;
/// Noise of binary fractions, in ticks: far below what [`super::verify`] forgives.
const NOISE: f64 = 1e-6;

/// The least whole number of ticks that is no shorter.
#[expect(clippy::cast_possible_truncation, reason = "lengths are checked to be at most ten meters")]
pub(super) fn up(length: Length) -> i64 {
    (length.to_mm() * PER_MM - NOISE).ceil() as i64
}

/// The greatest whole number of ticks that is no longer.
#[expect(clippy::cast_possible_truncation, reason = "lengths are checked to be at most ten meters")]
pub(super) fn down(length: Length) -> i64 {
    (length.to_mm() * PER_MM + NOISE).floor() as i64
}

/// Back to a length.
pub(super) fn length(ticks: i64) -> Length {
    Length::mm(ticks as f64 / PER_MM)
}

/// Greatest common divisor; 0 with 0 is 0.
pub(super) const fn common(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: 1 inch is 25.4 mm exactly, so 1/64 inch is 127/320 mm.
    #[test]
    fn both_scales_are_exact() {
        for n in 1..6000_i32 {
            let inch = Length::inches(f64::from(n) / 64.0);
            assert_eq!((up(inch), down(inch)), (i64::from(n) * 127, i64::from(n) * 127), "{n}/64 in");
            let mm = Length::mm(f64::from(n) / 10.0);
            assert_eq!((up(mm), down(mm)), (i64::from(n) * 32, i64::from(n) * 32), "{n}/10 mm");
        }
        assert_eq!((up(Length::mm(0.01)), down(Length::mm(0.01))), (4, 3));
    }
}
