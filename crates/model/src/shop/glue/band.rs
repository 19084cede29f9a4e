//! What a band presses: from its tension to the pressure on a miter's faces.
//!
//! Frictionless band of tension T round n equal corners. Across each miter plane a bare band carries T,
//! so the wood carries T; with shoes bearing on both faces, virtual work gives T / cos(180°/n): moving all
//! sides in by u closes each miter by 2u·sin(180°/n) and shortens the band by 2u·tan(180°/n) a corner.

use super::super::settings::Bearing;
use crate::units::{Area, Force, Length, Stress};

/// What a band does at one corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerForce {
    /// Along the bisector, toward the inside: 2T·sin(180°/n).
    pub resultant: Force,
    /// Square to the faces of the miter.
    pub across: Force,
}

fn half_turn(sides: u32) -> f64 {
    core::f64::consts::PI / f64::from(sides.max(3))
}

/// The forces at a corner of a ring of so many equal sides.
///
/// # Source
/// Derived (statics and virtual work); four sides give √2·T along the diagonal, T bare, √2·T with shoes.
pub fn at_corner(tension: Force, sides: u32, bearing: Bearing) -> CornerForce {
    let half = half_turn(sides);
    let across = match bearing {
        Bearing::Bare => tension,
        Bearing::Shoes => tension / half.cos(),
    };
    CornerForce { resultant: tension * (2.0 * half.sin()), across }
}

/// Area of one face of a miter: thickness / cos(180°/n) × height.
pub fn miter_area(thickness: Length, height: Length, sides: u32) -> Area {
    (thickness / half_turn(sides).cos()) * height
}

/// Mean pressure of a force on an area; nothing on no area.
pub fn pressure(across: Force, area: Area) -> Stress {
    Stress::mpa(if area.to_mm2() > 0.0 { across.value() / area.to_mm2() } else { 0.0 })
}

/// The tension that brings a pressure onto a miter.
pub fn tension_for(wanted: Stress, area: Area, sides: u32, bearing: Bearing) -> Force {
    let across = Force::newtons(wanted.value() * area.to_mm2());
    match bearing {
        Bearing::Bare => across,
        Bearing::Shoes => across * half_turn(sides).cos(),
    }
}

/// What is left of the tension after the band has slid round so many corners: exp(−μ × turn × corners).
///
/// # Source
/// The capstan equation; the band turns by 360° / n at each corner.
pub fn left_after(friction: f64, sides: u32, corners: u32) -> f64 {
    (-friction.max(0.0) * 2.0 * half_turn(sides) * f64::from(corners)).exp()
}

/// Pressure that a clamped glue line wants, by the wood's specific gravity at 12 percent.
///
/// # Source
/// From memory: Wood Handbook ch. 10, about 0.7 `MPa` for light woods and up to about 1.7 for the densest; trade
/// press: 0.7 to 1.0 for softwoods, 1.2 to 1.7 for hardwoods. The straight line between G 0.40 and 0.70 is ours.
pub fn wanted_pressure(specific_gravity: f64) -> Stress {
    let share = ((specific_gravity - 0.40) / 0.30).clamp(0.0, 1.0);
    Stress::mpa(0.7 + share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    struct Case {
        name: &'static str,
        tension: f64,
        thickness: f64,
        height: f64,
        resultant: f64,
        bare: (f64, f64),
        shoes: (f64, f64),
    }

    /// Rows BC-01 … BC-03 (statics and energy, worked out apart from this code).
    #[test]
    fn pressures() {
        let cases = [
            Case {
                name: "BC-01",
                tension: 500.0,
                thickness: 12.0,
                height: 75.0,
                resultant: 707.107,
                bare: (500.0, 0.39284),
                shoes: (707.107, 0.55556),
            },
            Case {
                name: "BC-02",
                tension: 300.0,
                thickness: 9.525,
                height: 60.0,
                resultant: 424.264,
                bare: (300.0, 0.37118),
                shoes: (424.264, 0.52493),
            },
            Case {
                name: "BC-03",
                tension: 800.0,
                thickness: 15.0,
                height: 100.0,
                resultant: 1131.371,
                bare: (800.0, 0.37712),
                shoes: (1131.371, 0.53333),
            },
        ];
        for c in cases {
            let area = miter_area(Length::mm(c.thickness), Length::mm(c.height), 4);
            for (bearing, (force, mpa)) in [(Bearing::Bare, c.bare), (Bearing::Shoes, c.shoes)] {
                let got = at_corner(Force::newtons(c.tension), 4, bearing);
                assert!((got.resultant.value() - c.resultant).abs() < 1e-3, "{}", c.name);
                assert!((got.across.value() - force).abs() < 1e-3, "{}", c.name);
                assert!((pressure(got.across, area).value() - mpa).abs() < 1e-5, "{}", c.name);
            }
        }
        let psi = pressure(Force::newtons(500.0), miter_area(Length::mm(12.0), Length::mm(75.0), 4));
        assert!((psi.to_psi() - 56.976).abs() < 1e-3, "BC-01 in psi");
    }

    /// Rows BC-05, BC-07 (capstan) and BC-08.
    #[test]
    fn friction_and_tension() {
        assert!((left_after(0.3, 4, 1) - 0.62423).abs() < 1e-5, "BC-05");
        assert!((left_after(0.15, 4, 2) - 0.62423).abs() < 1e-5, "BC-07");
        let area = miter_area(Length::mm(10.0), Length::mm(60.0), 4);
        let bare = tension_for(Stress::mpa(0.7), area, 4, Bearing::Bare).value();
        let shoes = tension_for(Stress::mpa(0.7), area, 4, Bearing::Shoes).value();
        assert!((bare - 593.970).abs() < 1e-3 && (shoes - 420.0).abs() < 1e-3, "BC-08: {bare} {shoes}");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        /// With shoes the work of the band and of the miters agree for any number of sides, by moving a
        /// regular polygon in by a small step and measuring both.
        #[test]
        fn virtual_work(sides in 3u32..12, tension in 50.0f64..900.0) {
            let n = f64::from(sides);
            let (r, u) = (100.0, 1e-5);
            let perimeter = |r: f64| 2.0 * n * r * (core::f64::consts::PI / n).tan();
            let closing = 2.0 * u * (core::f64::consts::PI / n).sin();
            let by_band = tension * (perimeter(r) - perimeter(r - u));
            let across = at_corner(Force::newtons(tension), sides, Bearing::Shoes).across.value();
            prop_assert!((by_band - n * across * closing).abs() < 1e-6 * by_band.max(1e-3));
        }

        #[test]
        fn tension_and_pressure_undo_each_other(sides in 3u32..12, mpa in 0.1f64..2.0, t in 4.0f64..25.0) {
            let area = miter_area(Length::mm(t), Length::mm(70.0), sides);
            for bearing in [Bearing::Bare, Bearing::Shoes] {
                let tension = tension_for(Stress::mpa(mpa), area, sides, bearing);
                let back = pressure(at_corner(tension, sides, bearing).across, area);
                prop_assert!((back.value() - mpa).abs() < 1e-9);
            }
        }
    }
}
