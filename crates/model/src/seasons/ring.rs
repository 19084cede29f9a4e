//! A round panel that swells in a ring: the closed form that finite elements are checked against.

use crate::units::{Length, Strain, Stress};

/// A round panel in a ring, both isotropic.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundPanel {
    /// Growth that the panel would have if free, over that of the ring.
    pub free: Strain,
    /// The panel's modulus and Poisson's ratio.
    pub panel: (Stress, f64),
    /// The ring's modulus and Poisson's ratio.
    pub ring: (Stress, f64),
    /// Radius where they meet.
    pub inner: Length,
    /// Outer radius of the ring.
    pub outer: Length,
}

/// Pressure between panel and ring; nothing if the panel shrinks or the ring has no thickness.
///
/// # Source
/// Lamé's thick ring, shrink fit (any text on strength of materials):
/// p = e / ((1 − ν₁)/E₁ + ((Rₒ² + R²)/(Rₒ² − R²) + ν₂)/E₂).
pub fn ring_pressure(round: RoundPanel) -> Stress {
    let (inner, outer) = (round.inner.to_mm().powi(2), round.outer.to_mm().powi(2));
    if outer <= inner || round.free.value() <= 0.0 {
        return Stress::ZERO;
    }
    let ((e1, nu1), (e2, nu2)) = (round.panel, round.ring);
    let gives = (1.0 - nu1) / e1.value() + ((outer + inner) / (outer - inner) + nu2) / e2.value();
    Stress::mpa(round.free.value() / gives)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows SF-06, SF-07: Lamé.
    #[test]
    fn lame() {
        for (row, free, e1, nu1, e2, nu2, inner, outer, want) in [
            ("SF-06", 0.01, 1000.0, 0.3, 1000.0, 0.3, 50.0, 75.0, 2.77778),
            ("SF-07", 0.008, 700.0, 0.35, 1200.0, 0.3, 40.0, 55.0, 2.06013),
        ] {
            let got = ring_pressure(RoundPanel {
                free: Strain::fraction(free),
                panel: (Stress::mpa(e1), nu1),
                ring: (Stress::mpa(e2), nu2),
                inner: Length::mm(inner),
                outer: Length::mm(outer),
            });
            assert!((got.value() - want).abs() < 1e-5, "{row}: {got:?}");
        }
    }
}
