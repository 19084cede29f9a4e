//! Wood screws in side grain: how thick they are and what pulls them out.

use crate::units::{Force, Length, Stress};

/// Newtons per square millimeter in one pound-force per square inch, exact from the pound and the inch.
const MPA_PER_PSI: f64 = 1.0 / Stress::PSI_PER_MPA;

/// Shank diameter of a wood screw of a gauge number (0 to 24).
///
/// # Source
/// From memory: ASME B18.6.1, 0.060 in + 0.013 in for each number.
pub fn screw_shank(number: u8) -> Length {
    Length::inches(0.060 + 0.013 * f64::from(number))
}

/// Mean force that pulls a wood screw out of side grain; the ultimate, not a safe load.
///
/// # Units
/// `specific_gravity` at 12 percent moisture content; `thread` is the threaded length in the wood.
/// # Source
/// Wood Handbook ch. 8, Eq. 8-10: 15 700 G² D L pounds (D and L in inches), with pilot holes of about 70 percent of the
/// root diameter in softwood and 90 percent in hardwood. Not for end grain.
pub fn screw_withdrawal(specific_gravity: f64, shank: Length, thread: Length) -> Force {
    pull(15_700.0, specific_gravity, shank, thread)
}

/// Withdrawal load that a designer would allow in side grain.
///
/// # Source
/// Published in a structural engineering handbook for timber design: 2850 G² D pounds for each inch of thread. Its G is
/// oven-dry; the difference from 12 percent is small.
pub fn screw_allowable(specific_gravity: f64, shank: Length, thread: Length) -> Force {
    pull(2_850.0, specific_gravity, shank, thread)
}

fn pull(psi: f64, specific_gravity: f64, shank: Length, thread: Length) -> Force {
    let g2 = specific_gravity * specific_gravity;
    Force::newtons(psi * MPA_PER_PSI * g2 * shank.to_mm() * thread.to_mm())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Newtons in one pound-force (exact: 0.45359237 × 9.80665).
    const N_PER_LB: f64 = 4.448_221_615_260_5;

    /// Rows SC-01 … SC-05: ASME B18.6.1.
    #[test]
    fn shanks() {
        for (row, number, inches) in [
            ("SC-01", 2, 0.086),
            ("SC-02", 4, 0.112),
            ("SC-03", 6, 0.138),
            ("SC-04", 8, 0.164),
            ("SC-05", 10, 0.190),
        ] {
            assert!((screw_shank(number).to_inches() - inches).abs() < 1e-12, "{row}");
        }
    }

    /// Rows SC-07, SC-08, SC-10 (pounds), SC-11, SC-12.
    #[test]
    fn pulls() {
        for (row, number, inches, g, ultimate, allowable) in [
            ("SC-07", 4, 0.5, 0.55, 265.96, 48.28),
            ("SC-08", 4, 0.375, 0.5, 164.85, 29.92),
            ("SC-10", 5, 0.5, 0.68, 453.73, 82.37),
        ] {
            let (shank, thread) = (screw_shank(number), Length::inches(inches));
            let got = screw_withdrawal(g, shank, thread).value() / N_PER_LB;
            assert!((got - ultimate).abs() < 0.01, "{row}: {got}");
            let got = screw_allowable(g, shank, thread).value() / N_PER_LB;
            assert!((got - allowable).abs() < 0.01, "{row}: {got}");
        }
        let one = Length::mm(1.0);
        assert!((screw_withdrawal(1.0, one, one).value() - 108.248).abs() < 0.001, "SC-11");
        let ratio = screw_withdrawal(0.5, one, one) / screw_allowable(0.5, one, one);
        assert!((ratio - 5.5088).abs() < 1e-4, "SC-12");
    }

    /// Wood Handbook Eq. 8-10 worked in millimeters: G 0.55, D 3.0, L 12 mm give 1178.8 N.
    #[test]
    fn metric() {
        let got = screw_withdrawal(0.55, Length::mm(3.0), Length::mm(12.0)).value();
        assert!((got - 1178.8).abs() < 0.1, "{got}");
    }
}
