//! How much a wood moves across the grain for each point of moisture content.

use super::provenance::{Figure, Provenance};
use super::{Error, Species};
use crate::units::{Angle, MoistureContent, Strain};

/// Dimensional change coefficient: fraction of the dimension per percentage point of moisture content.
///
/// # Source
/// Wood Handbook (FPL-GTR-190) ch. 13, Eq. 13-2 and Table 13-5; valid from 6 to 14 percent moisture content.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Coefficient(f64);

impl Coefficient {
    /// No movement.
    pub const ZERO: Self = Self(0.0);

    /// From the fraction of the dimension per percentage point, as tables give it (0.00248).
    pub const fn per_percent(value: f64) -> Self {
        Self(value)
    }

    /// As the fraction of the dimension per percentage point.
    pub const fn to_per_percent(self) -> f64 {
        self.0
    }

    /// From the shrinkage between green and oven-dry, as a fraction of the green size.
    ///
    /// # Source
    /// Wood Handbook Eq. 13-3 at an initial moisture content of 10 percent, the middle of the range 6 to 14: reproduces
    /// Table 13-5 from Tables 4-3 and 4-4 within rounding.
    pub fn from_shrinkage(shrinkage: f64, fiber_saturation: MoistureContent) -> Self {
        let saturation = fiber_saturation.to_percent();
        let percent = shrinkage * 100.0;
        Self(percent / (100.0 * saturation - percent * (saturation - 10.0)))
    }

    /// Change of size over size between two moisture contents, by the linear law of 6 to 14 percent; positive when
    /// the wood grows.
    pub fn strain(self, from: MoistureContent, to: MoistureContent) -> Strain {
        Strain::fraction(self.0 * (to - from).to_percent())
    }
}

/// The coefficient across a face whose growth rings stand at `ring_angle` to it (0° flat-sawn, 90° quartersawn).
///
/// # Errors
/// [`Error::Unknown`] if a coefficient that this angle needs is not in the table (a purely flat-sawn face needs only
/// the tangential one).
/// # Source
/// `C_R` sin² + `C_T` cos²: the strain of a material with radial and tangential principal axes, turned.
pub fn coefficient(species: &Species, ring_angle: Angle) -> Result<Figure<Coefficient>, Error> {
    let radial_share = ring_angle.sin() * ring_angle.sin();
    let unknown = |what| Error::Unknown {
        what,
        species: species.common_name,
        instead: "state a coefficient of your own or choose a wood whose movement is known",
    };
    let part = |figure: Option<Figure<Coefficient>>, share: f64, what| {
        if share < 1e-9 {
            return Ok((0.0, None));
        }
        let f = figure.ok_or_else(|| unknown(what))?;
        Ok((f.value.0 * share, Some(f.provenance)))
    };
    let (r, from_r) = part(species.radial, radial_share, "radial movement")?;
    let (t, from_t) = part(species.tangential, 1.0 - radial_share, "tangential movement")?;
    let provenance = match (from_r, from_t) {
        (Some(p), Some(q)) => weaker(p, q),
        (Some(p), None) | (None, Some(p)) => p,
        (None, None) => Provenance::Calculated("no movement"),
    };
    Ok(Figure { value: Coefficient(r + t), provenance })
}

/// The coefficient, or an upper bound where only the tangential one is known: wood moves least along the radius.
///
/// # Errors
/// [`Error::Unknown`] if the tangential coefficient is not in the table either.
pub fn coefficient_at_most(species: &Species, ring_angle: Angle) -> Result<Figure<Coefficient>, Error> {
    coefficient(species, ring_angle).or_else(|missing| {
        let t = species.tangential.ok_or(missing)?;
        let how = "the tangential coefficient stands in as an upper bound: the radial one is not known and is the smaller";
        Ok(Figure { value: t.value, provenance: Provenance::Estimated(how) })
    })
}

/// The provenance that promises less.
fn weaker(p: Provenance, q: Provenance) -> Provenance {
    let rank = |p: Provenance| match p {
        Provenance::Read(_) => 0,
        Provenance::Calculated(_) => 1,
        Provenance::FromMemory(_) => 2,
        Provenance::Estimated(_) => 3,
    };
    if rank(p) >= rank(q) { p } else { q }
}

#[cfg(test)]
mod tests {
    use super::super::species;
    use super::*;

    #[test]
    fn flat_and_quartersawn_are_the_table() {
        let oak = species("white oak").unwrap();
        let flat = coefficient(oak, Angle::ZERO).unwrap().value;
        let quarter = coefficient(oak, Angle::SQUARE).unwrap().value;
        let rift = coefficient(oak, Angle::degrees(45.0)).unwrap().value;
        assert_eq!(flat, Coefficient::per_percent(0.00365), "WM-06");
        assert!((quarter.0 - 0.0018).abs() < 1e-15, "WM-06");
        // At 45° the turned strain is the mean of the two.
        assert!((rift.0 - 0.002725).abs() < 1e-15);
    }

    /// Row WM-25, as a fraction of the width: quartersawn white oak from 12 to 7 percent shrinks by 0.0090.
    #[test]
    fn quartersawn_oak() {
        let c = coefficient(species("white oak").unwrap(), Angle::SQUARE).unwrap().value;
        let e = c.strain(MoistureContent::percent(12.0), MoistureContent::percent(7.0));
        assert!((e.value() + 0.0090).abs() < 1e-12);
    }

    #[test]
    fn an_unknown_coefficient_is_said_or_bounded() {
        let wenge = species("wenge").unwrap();
        assert!(coefficient(wenge, Angle::ZERO).is_ok());
        let missing = coefficient(wenge, Angle::degrees(30.0)).unwrap_err();
        assert!(missing.to_string().contains("radial movement is known for Wenge"), "{missing}");
        let bound = coefficient_at_most(wenge, Angle::degrees(30.0)).unwrap();
        assert_eq!(bound.value, Coefficient::per_percent(0.00201));
        assert!(bound.provenance.is_doubtful());
        assert!(coefficient_at_most(species("bocote").unwrap(), Angle::ZERO).is_err());
    }
}
