//! Stiffness of wood in its three directions, and how far wood scatters about the book's means.

use super::Error;
use super::Rows;
use super::provenance::{Figure, Provenance};
use super::species::{Group, Species, all};
use crate::units::{Angle, Stress};
use std::sync::OnceLock;

/// Orthotropic stiffness at about 12 percent moisture content.
///
/// # Units
/// L along the grain, R square to the rings, T along the rings. Poisson's ratio `xy`: strain along y over strain along
/// x when loaded along x. The other three follow from symmetry: `poisson_rl` = `poisson_lr` · `E_R` / `E_L`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elastic {
    /// Along the grain: the bending modulus times 1.10 for shear deflection.
    pub modulus_l: Stress,
    /// Square to the rings.
    pub modulus_r: Stress,
    /// Along the rings.
    pub modulus_t: Stress,
    /// Shear in the plane of grain and radius.
    pub shear_lr: Stress,
    /// Shear in the plane of grain and rings.
    pub shear_lt: Stress,
    /// Rolling shear, in the end-grain plane.
    pub shear_rt: Stress,
    /// Radial over longitudinal strain.
    pub poisson_lr: f64,
    /// Tangential over longitudinal strain.
    pub poisson_lt: f64,
    /// Tangential over radial strain.
    pub poisson_rt: f64,
    /// Whether a shear modulus is not the species' own: its row leaves it blank and the mean of the hardwoods stands in.
    pub shear_filled_in: bool,
}

/// The handbook's ratios to the modulus along the grain.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Ratios {
    et: f64,
    er: f64,
    glr: f64,
    glt: f64,
    grt: f64,
    lr: f64,
    lt: f64,
    rt: f64,
    filled_in: bool,
}

/// Rolling shear over `E_L` where a row leaves it blank: the mean of the rows that print it.
///
/// # Source
/// Calculated from Wood Handbook Table 5-1, the hardwood rows kept here (0.017, 0.021, 0.028, 0.021, 0.021, 0.011).
const ROLLING_SHEAR: f64 = 0.020;

/// Shear in the plane of grain and rings over `E_L` where a row leaves it blank (white oak): likewise the mean.
///
/// # Source
/// Calculated from Wood Handbook Table 5-1, the 13 hardwood rows kept here that print it.
const SHEAR_LT: f64 = 0.069;

/// The table, in file order.
pub(super) fn ratios() -> Vec<(&'static str, Figure<Ratios>)> {
    Rows::of(include_str!("../../data/elastic_ratios.csv")).map(|row| {
        let of = |column: &str| row.number(column).unwrap_or_default();
        let et = of("et_over_el");
        let ratios = Ratios {
            et,
            er: of("er_over_el"),
            glr: of("glr_over_el"),
            glt: row.number("glt_over_el").unwrap_or(SHEAR_LT),
            grt: row.number("grt_over_el").unwrap_or(ROLLING_SHEAR),
            lr: of("mu_lr"),
            lt: of("mu_lt"),
            rt: of("mu_rt"),
            filled_in: row.number("glt_over_el").is_none() || row.number("grt_over_el").is_none(),
        };
        (row.text("species_id"), Figure::of(ratios, row.text("prov")))
    })
}

impl Ratios {
    /// Moduli from the bending modulus.
    ///
    /// # Source
    /// Wood Handbook ch. 5: `E_L` is the bending modulus increased by 10 percent.
    pub(super) fn with_bending_modulus(self, bending: Stress) -> Elastic {
        let along = bending * 1.10;
        Elastic {
            modulus_l: along,
            modulus_r: along * self.er,
            modulus_t: along * self.et,
            shear_lr: along * self.glr,
            shear_lt: along * self.glt,
            shear_rt: along * self.grt,
            poisson_lr: self.lr,
            poisson_lt: self.lt,
            poisson_rt: self.rt,
            shear_filled_in: self.filled_in,
        }
    }

    fn mean<'a>(of: impl Iterator<Item = &'a Self>) -> Option<Self> {
        let (mut sum, mut n) = (Self::default(), 0.0);
        for r in of {
            sum.et += r.et;
            sum.er += r.er;
            sum.glr += r.glr;
            sum.glt += r.glt;
            sum.grt += r.grt;
            sum.lr += r.lr;
            sum.lt += r.lt;
            sum.rt += r.rt;
            n += 1.0;
        }
        (n > 0.0).then(|| Self {
            et: sum.et / n,
            er: sum.er / n,
            glr: sum.glr / n,
            glt: sum.glt / n,
            grt: sum.grt / n,
            lr: sum.lr / n,
            lt: sum.lt / n,
            rt: sum.rt / n,
            filled_in: true,
        })
    }
}

/// Mean ratios of the listed softwoods, and of all other listed woods.
fn mean_ratios() -> &'static (Ratios, Ratios) {
    static MEAN: OnceLock<(Ratios, Ratios)> = OnceLock::new();
    MEAN.get_or_init(|| {
        let soft: Vec<&str> = all().iter().filter(|s| s.group == Group::Softwood).map(|s| s.id).collect();
        let rows = ratios();
        let of = |is_soft: bool| {
            Ratios::mean(rows.iter().filter(|(id, _)| soft.contains(id) == is_soft).map(|(_, r)| &r.value))
        };
        // Both groups have rows, which a test proves; zero stiffness would show at once.
        (of(true).unwrap_or_default(), of(false).unwrap_or_default())
    })
}

/// The stiffness of a species: from its own ratios, else from the mean ratios of the listed softwoods or hardwoods,
/// marked as an estimate.
///
/// # Errors
/// [`Error::Unknown`] if not even the bending modulus is known.
/// # Source
/// Wood Handbook Tables 5-1 and 5-2 (ratios), 5-3 and 5-5 (bending modulus).
pub fn elastic(species: &Species) -> Result<Figure<Elastic>, Error> {
    if let Some(own) = species.elastic {
        return Ok(own);
    }
    let modulus = species.modulus.ok_or(Error::Unknown {
        what: "stiffness",
        species: species.common_name,
        instead: "choose a wood with a known modulus to have stresses computed",
    })?;
    let (soft, hard) = mean_ratios();
    let ratios = if species.group == Group::Softwood { soft } else { hard };
    let how = "elastic ratios estimated: the mean of the woods that Wood Handbook Tables 5-1 and 5-2 list";
    Ok(Figure { value: ratios.with_bending_modulus(modulus), provenance: Provenance::Estimated(how) })
}

impl Elastic {
    /// Modulus across the grain, in the width of a face whose rings stand at `ring_angle` to it (0° flat-sawn).
    ///
    /// Rolling shear makes rift-sawn wood softer than the mean of the two, in some softwoods softer than either.
    ///
    /// # Source
    /// Turned compliance of an orthotropic sheet (any text on laminates) in the R-T plane.
    pub fn modulus_across(&self, ring_angle: Angle) -> Stress {
        let (s2, c2) = (ring_angle.sin() * ring_angle.sin(), ring_angle.cos() * ring_angle.cos());
        let (er, et, grt) = (self.modulus_r.value(), self.modulus_t.value(), self.shear_rt.value());
        let compliance = s2 * s2 / er + c2 * c2 / et + s2 * c2 * (1.0 / grt - 2.0 * self.poisson_rt / er);
        Stress::mpa(1.0 / compliance)
    }
}

/// Coefficients of variation of clear wood about the book's means (standard deviation over mean).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scatter {
    /// Bending modulus.
    pub modulus: f64,
    /// Compression across the grain.
    pub compression_across: f64,
    /// Tension across the grain.
    pub tension_across: f64,
    /// Shear along the grain.
    pub shear: f64,
    /// Specific gravity.
    pub specific_gravity: f64,
}

/// How far clear wood scatters about the book's means.
///
/// # Source
/// From memory: Wood Handbook Table 5-6, which is an average over some 50 species. It has no row for tension across
/// the grain; the value of tension along it (25 percent) stands in.
pub const fn scatter() -> Scatter {
    Scatter {
        modulus: 0.22,
        compression_across: 0.28,
        tension_across: 0.25,
        shear: 0.14,
        specific_gravity: 0.10,
    }
}

#[cfg(test)]
mod tests {
    use super::super::species;
    use super::*;

    /// Wood Handbook Table 5-1 for black walnut (`E_T` 0.056, `E_R` 0.106 of `E_L`) on Table 5-3a (11.6 in bending).
    #[test]
    fn walnut() {
        let e = elastic(species("walnut").unwrap()).unwrap().value;
        assert!((e.modulus_l.value() - 12_760.0).abs() < 1e-6);
        assert!((e.modulus_t.value() - 0.056 * 12_760.0).abs() < 1e-6);
        assert!((e.modulus_across(Angle::ZERO).value() - e.modulus_t.value()).abs() < 1e-6);
        assert!((e.modulus_across(Angle::SQUARE).value() - e.modulus_r.value()).abs() < 1e-6);
        // By hand: 4 / (1/0.106 + 1/0.056 + 1/0.021 − 2 × 0.718/0.106) = 0.06519 of E_L.
        assert!((e.modulus_across(Angle::degrees(45.0)).value() - 0.06519 * 12_760.0).abs() < 0.2);
    }

    /// A stiffness that stores energy: the compliance matrix built from the three kept Poisson ratios is positive
    /// definite (Sylvester's leading minors) for every species with a modulus.
    #[test]
    fn every_stiffness_is_positive_definite() {
        let mut own = 0;
        for s in all() {
            let Ok(e) = elastic(s) else { continue };
            own += usize::from(!matches!(e.provenance, Provenance::Estimated(_)));
            let e = e.value;
            let (l, r, t) = (e.modulus_l.value(), e.modulus_r.value(), e.modulus_t.value());
            let (a, b, c) = (-e.poisson_lr / l, -e.poisson_lt / l, -e.poisson_rt / r);
            let second = 1.0 / (l * r) - a * a;
            let third = (1.0 / l) * (1.0 / (r * t) - c * c) - a * (a / t - b * c) + b * (a * c - b / r);
            assert!(l > r && r > 0.0 && t > 0.0 && second > 0.0 && third > 0.0, "{}", s.id);
            assert!(e.shear_rt.value() > 0.0 && e.shear_rt < e.shear_lr, "{}", s.id);
        }
        assert!(own >= 24, "{own}");
    }

    /// The two means that stand in for blanks are those of the table.
    #[test]
    fn means_of_the_hardwood_rows() {
        let mean = |column: &str| {
            let rows = Rows::of(include_str!("../../data/elastic_ratios.csv")).map(|r| {
                species(r.text("species_id")).filter(|s| s.group != Group::Softwood).and(r.number(column))
            });
            let known: Vec<f64> = rows.into_iter().flatten().collect();
            known.iter().sum::<f64>() / known.len() as f64
        };
        assert!((mean("grt_over_el") - ROLLING_SHEAR).abs() < 5e-4, "{}", mean("grt_over_el"));
        assert!((mean("glt_over_el") - SHEAR_LT).abs() < 5e-4, "{}", mean("glt_over_el"));
    }

    #[test]
    fn an_estimate_says_so() {
        assert!(elastic(species("cherry").unwrap()).unwrap().value.shear_filled_in);
        assert!(!elastic(species("walnut").unwrap()).unwrap().value.shear_filled_in);
        assert!(elastic(species("beech").unwrap()).unwrap().provenance.is_doubtful());
        assert!(elastic(species("wenge").unwrap()).is_err());
    }
}
