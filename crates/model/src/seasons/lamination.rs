//! How far a glued-up or one-sided board bows when its layers want different lengths.

use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Length, Strain, Stress};

/// One layer of a board, seen in the direction in which it bows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Thickness.
    pub thickness: Length,
    /// Modulus in the direction considered.
    pub modulus: Stress,
    /// Length change that the layer would have if free, positive when it grows.
    pub free: Strain,
}

/// A board that has bowed.
#[derive(Clone, Debug, PartialEq)]
pub struct Bend {
    /// One over the radius, per millimeter; positive when the last layer is the longer: the board rises toward it.
    pub per_mm: f64,
    /// Change of length at the board's mid-thickness.
    pub strain: Strain,
    /// Stress at the lower and upper face of each layer, tension positive.
    pub stresses: Vec<(Stress, Stress)>,
    thickness: Length,
    basis: Basis,
    formula: &'static str,
}

impl Bend {
    /// Radius of the bow; infinite for a flat board.
    pub fn radius(&self) -> Length {
        Length::mm(1.0 / self.per_mm.abs())
    }

    /// Height of the bow over a span, positive toward the last layer.
    ///
    /// # Source
    /// Shallow arc: curvature × span² / 8.
    pub fn bow(&self, span: Length) -> Length {
        Length::mm(self.per_mm * span.to_mm() * span.to_mm() / 8.0)
    }

    /// Why the board bows so far over a span.
    pub fn reason(&self, key: &str, span: Length) -> Reason {
        Reason {
            key: key.to_owned(),
            title: "bow of the board".to_owned(),
            formula: format!("{}; bow = curvature × span² / 8", self.formula),
            given: vec![
                Given::new("thickness", Value::Length(self.thickness)),
                Given::new("span", Value::Length(span)),
                Given::new("curvature", Value::Number { value: self.per_mm, decimals: 6, unit: "per mm" }),
            ],
            result: Value::Length(self.bow(span)),
            basis: self.basis.clone(),
        }
    }
}

/// Two layers glued together.
///
/// # Source
/// S. Timoshenko, "Analysis of bi-metal thermostats", J. Opt. Soc. Am. 11 (1925) 233:
/// κ = 6 e (1+m)² / (h [3 (1+m)² + (1+mn)(m² + 1/(mn))]), e the difference of free strains, m and n the ratios of
/// thickness and modulus.
pub fn two_strip(lower: Layer, upper: Layer) -> Bend {
    let (m, n) = (lower.thickness / upper.thickness, lower.modulus / upper.modulus);
    let h = (lower.thickness + upper.thickness).to_mm();
    let e = (upper.free - lower.free).value();
    let one = (1.0 + m) * (1.0 + m);
    let kappa = 6.0 * e * one / (h * (3.0 * one + (1.0 + m * n) * (m * m + 1.0 / (m * n))));
    Bend {
        per_mm: kappa,
        basis: Basis::Published("S. Timoshenko, J. Opt. Soc. Am. 11 (1925) 233"),
        formula: "Timoshenko's curvature of two bonded strips",
        ..layered(&[lower, upper])
    }
}

/// Any number of layers glued together, lowest first, free to bow.
///
/// # Source
/// Classical lamination theory in one direction: no resultant force, no resultant moment (any text on laminates).
pub fn layered(layers: &[Layer]) -> Bend {
    let thickness: Length = layers.iter().map(|l| l.thickness).sum();
    // Stiffness of stretching, coupling and bending about mid-thickness, and the force and moment of the free strains.
    let (mut a, mut b, mut d, mut force, mut moment) = (0.0, 0.0, 0.0, 0.0, 0.0);
    let mut low = -thickness.to_mm() / 2.0;
    for l in layers {
        let high = low + l.thickness.to_mm();
        let (first, second, third) =
            (high - low, (high * high - low * low) / 2.0, (high.powi(3) - low.powi(3)) / 3.0);
        let (modulus, free) = (l.modulus.value(), l.free.value());
        a += modulus * first;
        b += modulus * second;
        d += modulus * third;
        force += modulus * free * first;
        moment += modulus * free * second;
        low = high;
    }
    let determinant = a * d - b * b;
    let solvable = determinant.abs() > 0.0;
    let strain = if solvable { (force * d - moment * b) / determinant } else { 0.0 };
    let kappa = if solvable { (moment * a - force * b) / determinant } else { 0.0 };
    let mut low = -thickness.to_mm() / 2.0;
    let stresses = layers
        .iter()
        .map(|l| {
            let high = low + l.thickness.to_mm();
            let at = |z: f64| Stress::mpa(l.modulus.value() * (strain + kappa * z - l.free.value()));
            let faces = (at(low), at(high));
            low = high;
            faces
        })
        .collect();
    Bend {
        per_mm: kappa,
        strain: Strain::fraction(strain),
        stresses,
        thickness,
        basis: Basis::Derived("lamination theory in one direction: no resultant force or moment"),
        formula: "curvature at which the layers' forces and moments cancel",
    }
}

/// A single board whose one face is wetter than the other, evenly graded: one face sealed, or laid on a damp bench.
/// `difference` is the free strain of the upper face less that of the lower.
///
/// # Source
/// Derived: a linear gradient of free strain bends a board without stress, κ = e / h.
pub fn one_face_wetter(thickness: Length, difference: Strain) -> Bend {
    Bend {
        per_mm: difference.value() / thickness.to_mm(),
        strain: Strain::ZERO,
        stresses: vec![(Stress::ZERO, Stress::ZERO)],
        thickness,
        basis: Basis::Derived("an even gradient of strain through one board bends it without stress"),
        formula: "difference of strain between the faces / thickness",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn layer(thickness: f64, modulus: f64, free: f64) -> Layer {
        Layer {
            thickness: Length::mm(thickness),
            modulus: Stress::mpa(modulus),
            free: Strain::fraction(free),
        }
    }

    /// Rows BL-01, BL-02: the factor κ h / e as Timoshenko gives it.
    #[test]
    fn factors() {
        for (row, n, want) in [("BL-01", 1.0, 1.5), ("BL-02", 2.0, 1.454545), ("BL-02", 0.5, 1.454545)] {
            let got = two_strip(layer(5.0, 1000.0 * n, 0.0), layer(5.0, 1000.0, 0.01)).per_mm * 10.0 / 0.01;
            assert!((got - want).abs() < 1e-6, "{row}: {got}");
        }
    }

    /// Rows BL-03, BL-04, BL-05: Timoshenko's formula, confirmed with a laminate solve.
    #[test]
    fn boards() {
        let cases = [
            (
                "BL-03",
                layer(5.0, 650.0, 0.00336),
                layer(5.0, 1230.0, 0.0),
                0.00049109,
                2036.30,
                200.0,
                2.4554,
            ),
            (
                "BL-04",
                layer(3.0, 650.0, 0.01096),
                layer(6.0, 3500.0, 0.0),
                0.00087482,
                1143.09,
                200.0,
                4.3741,
            ),
            (
                "BL-05",
                layer(0.6, 11000.0, 0.0),
                layer(9.0, 880.0, 0.00992),
                0.00125487,
                796.90,
                180.0,
                5.0822,
            ),
        ];
        for (row, lower, upper, curvature, radius, span, bow) in cases {
            for got in [two_strip(lower, upper), layered(&[lower, upper])] {
                assert!((got.per_mm.abs() - curvature).abs() < 1e-8, "{row}: {got:?}");
                assert!((got.radius().to_mm() - radius).abs() < 0.01, "{row}");
                assert!((got.bow(Length::mm(span)).abs().to_mm() - bow).abs() < 1e-4, "{row}");
            }
        }
    }

    /// Row BL-07: 8 mm, a strain of 0.00411 from face to face, over 200 mm.
    #[test]
    fn one_face() {
        let got = one_face_wetter(Length::mm(8.0), Strain::fraction(0.00411)).bow(Length::mm(200.0));
        assert!((got.to_mm() - 2.5688).abs() < 1e-4, "{got:?}");
    }

    #[test]
    fn the_longer_side_is_the_outer_side() {
        assert!(two_strip(layer(5.0, 1000.0, 0.0), layer(5.0, 1000.0, 0.01)).per_mm > 0.0);
        assert!(layered(&[layer(5.0, 1000.0, 0.01), layer(5.0, 1000.0, 0.0)]).per_mm < 0.0);
        assert!(layered(&[]).per_mm.abs() < 1e-15);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// Laws of statics: force and moment of the stresses vanish; a symmetric board stays flat.
        #[test]
        fn balanced(t in prop::array::uniform3(0.5..9.0), e in prop::array::uniform3(300.0..12000.0), f in prop::array::uniform3(-0.02..0.02)) {
            let layers: Vec<_> = (0..3).map(|i| layer(t[i], e[i], f[i])).collect();
            let bend = layered(&layers);
            let (mut force, mut moment, mut low) = (0.0, 0.0, -(t[0] + t[1] + t[2]) / 2.0);
            for (l, (s0, s1)) in layers.iter().zip(&bend.stresses) {
                let (h, s0, s1) = (l.thickness.to_mm(), s0.value(), s1.value());
                force += h * (s0 + s1) / 2.0;
                moment += h * (s0 + s1) / 2.0 * (low + h / 2.0) + (s1 - s0) * h * h / 12.0;
                low += h;
            }
            prop_assert!(force.abs() < 1e-6 && moment.abs() < 1e-5, "{force} {moment}");
            let mirrored = [layers[0], layers[1], layers[0]];
            prop_assert!(layered(&mirrored).per_mm.abs() < 1e-12);
        }
    }
}
