//! The species of wood and their numbers.

use super::Rows;
use super::elastic;
use super::harm::{self, Harm};
use super::provenance::{Figure, Provenance};
use super::table::Row;
use super::{Coefficient, Elastic};
use crate::units::{Density, Force, MoistureContent, Stress};
use std::sync::OnceLock;

/// Where a species grows and how the trade sorts it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// A hardwood of the United States.
    Hardwood,
    /// A softwood of the United States.
    Softwood,
    /// Imported.
    Imported,
}

/// How readily a wood takes glue.
///
/// # Source
/// Wood Handbook (FPL-GTR-190), Table 10-1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bonding {
    /// With glues of a wide range of properties and under a wide range of conditions.
    Easily,
    /// With a fairly wide range of glues under a moderately wide range of conditions.
    Well,
    /// With good glues under well-controlled conditions.
    Satisfactorily,
    /// With selected glues, very close control and perhaps a surface treatment.
    WithDifficulty,
}

/// One species of wood; what is not known is `None`.
///
/// # Units
/// Strengths and modulus for clear wood at 12 percent moisture content.
#[derive(Clone, Debug)]
pub struct Species {
    /// The key: lower case, underscores.
    pub id: &'static str,
    /// The handbook's name, genus word first: `Cherry, black`.
    pub common_name: &'static str,
    /// Botanical name (general knowledge; the handbook's strength tables print none).
    pub botanical: &'static str,
    /// How the trade sorts it.
    pub group: Group,
    /// Oven-dry mass over green volume, relative to water.
    pub specific_gravity_green: Option<Figure<f64>>,
    /// Oven-dry mass over volume at 12 percent moisture content, relative to water.
    pub specific_gravity_12: Option<Figure<f64>>,
    /// Radial coefficient: tabulated, else calculated from the shrinkage by Eq. 13-3.
    pub radial: Option<Figure<Coefficient>>,
    /// Tangential coefficient, likewise.
    pub tangential: Option<Figure<Coefficient>>,
    /// Radial, tangential and volumetric shrinkage, green to oven-dry, as fractions of the green size.
    pub shrinkage: Shrinkage,
    /// Bending modulus (along the grain).
    pub modulus: Option<Stress>,
    /// Modulus of rupture in bending.
    pub bending: Option<Stress>,
    /// Compression along the grain.
    pub compression_along: Option<Stress>,
    /// Compression across the grain, at the proportional limit.
    pub compression_across: Option<Stress>,
    /// Shear along the grain.
    pub shear: Option<Stress>,
    /// Tension across the grain, maximum.
    pub tension_across: Option<Stress>,
    /// Side hardness: force to sink an 11.3 mm ball half its diameter.
    pub side_hardness: Option<Force>,
    /// What the six strengths and the modulus rest on.
    pub mechanical: Option<Provenance>,
    /// How readily it takes glue.
    pub bonding: Option<Bonding>,
    /// What it can do to people, animals and contents. All wood dust is harmful besides.
    pub harms: Vec<Harm>,
    /// Color for our drawings only (sRGB): our own choice, no measured property.
    pub drawing_color: [u8; 3],
    /// What is odd about the row, or empty.
    pub notes: &'static str,
    /// Elastic ratios, where the handbook has them.
    pub(super) elastic: Option<Figure<Elastic>>,
}

/// Shrinkage from green to oven-dry, as fractions of the green size.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shrinkage {
    /// Square to the growth rings.
    pub radial: Option<f64>,
    /// Along the growth rings.
    pub tangential: Option<f64>,
    /// Of volume.
    pub volumetric: Option<f64>,
    /// What the three rest on.
    pub provenance: Option<Provenance>,
}

static SPECIES: OnceLock<Vec<Species>> = OnceLock::new();

/// All species, sorted by id.
pub fn all() -> &'static [Species] {
    SPECIES.get_or_init(|| {
        let elastic = elastic::ratios();
        let harms = harm::by_species();
        Rows::of(include_str!("../../data/species.csv")).map(|row| read(row, &elastic, &harms))
    })
}

fn read(
    row: &Row<'_>,
    elastic: &[(&'static str, Figure<elastic::Ratios>)],
    harms: &[(&'static str, Harm)],
) -> Species {
    let id = row.text("id");
    let mpa = |column: &str| row.number(column).map(Stress::mpa);
    let modulus = row.number("moe_gpa").map(|g| Stress::mpa(g * 1000.0));
    let ratios = elastic.iter().find(|(of, _)| *of == id);
    Species {
        id,
        common_name: row.text("common_name"),
        botanical: row.text("botanical_name"),
        group: match row.text("group") {
            "hardwood" => Group::Hardwood,
            "softwood" => Group::Softwood,
            _ => Group::Imported,
        },
        specific_gravity_green: row.number("sg_green").map(|g| Figure::of(g, row.text("prov_sg_green"))),
        specific_gravity_12: row.number("sg_12").map(|g| Figure::of(g, row.text("prov_sg_12"))),
        radial: coefficient(row, "cr_per_pct", "prov_cr", "shrinkage_radial_pct"),
        tangential: coefficient(row, "ct_per_pct", "prov_ct", "shrinkage_tangential_pct"),
        shrinkage: shrinkage(row),
        modulus,
        bending: mpa("mor_mpa"),
        compression_along: mpa("compression_parallel_mpa"),
        compression_across: mpa("compression_perpendicular_mpa"),
        shear: mpa("shear_parallel_mpa"),
        tension_across: mpa("tension_perpendicular_mpa"),
        side_hardness: row.number("side_hardness_n").map(Force::newtons),
        mechanical: Some(row.text("prov_mechanical")).filter(|p| !p.is_empty()).map(Provenance::of_cell),
        bonding: match row.text("bonding") {
            "easily" => Some(Bonding::Easily),
            "well" => Some(Bonding::Well),
            "satisfactorily" => Some(Bonding::Satisfactorily),
            "with-difficulty" => Some(Bonding::WithDifficulty),
            _ => None,
        },
        harms: harms.iter().filter(|(of, _)| *of == id).map(|(_, h)| *h).collect(),
        drawing_color: color(row.text("drawing_color")),
        notes: row.text("notes"),
        elastic: ratios.zip(modulus).map(|((_, r), modulus)| Figure {
            value: r.value.with_bending_modulus(modulus),
            provenance: r.provenance,
        }),
    }
}

/// The tabulated coefficient, else the one that the shrinkage implies.
fn coefficient(row: &Row<'_>, column: &str, prov: &str, shrinkage: &str) -> Option<Figure<Coefficient>> {
    if let Some(c) = row.number(column) {
        return Some(Figure::of(Coefficient::per_percent(c), row.text(prov)));
    }
    let saturation = MoistureContent::percent(row.number("fiber_saturation_pct")?);
    let value = Coefficient::from_shrinkage(row.number(shrinkage)? / 100.0, saturation);
    let how =
        "from the species' shrinkage (Wood Handbook Tables 4-3, 4-4) by Eq. 13-3 at 10 % moisture content";
    let provenance = match Provenance::of_cell(row.text("prov_shrinkage")) {
        Provenance::FromMemory(_) => Provenance::FromMemory(how),
        _ => Provenance::Calculated(how),
    };
    Some(Figure { value, provenance })
}

fn shrinkage(row: &Row<'_>) -> Shrinkage {
    let fraction = |column: &str| row.number(column).map(|p| p / 100.0);
    Shrinkage {
        radial: fraction("shrinkage_radial_pct"),
        tangential: fraction("shrinkage_tangential_pct"),
        volumetric: fraction("shrinkage_volumetric_pct"),
        provenance: Some(row.text("prov_shrinkage")).filter(|p| !p.is_empty()).map(Provenance::of_cell),
    }
}

/// Reads `rrggbb`; black if malformed, which a test excludes.
pub(super) fn color(hex: &str) -> [u8; 3] {
    let all = u32::from_str_radix(hex, 16).unwrap_or(0);
    let [_, red, green, blue] = all.to_be_bytes();
    [red, green, blue]
}

impl Species {
    /// Oven-dry mass over volume at a moisture content, relative to water; above fiber saturation (30 percent)
    /// as at it. From the value at 12 percent where known, else from the green one.
    ///
    /// # Source
    /// Wood Handbook ch. 4, Eq. 4-13: G = Gb / (1 − 0.265 Gb (1 − MC/30)).
    pub fn specific_gravity(&self, at: MoistureContent) -> Option<f64> {
        let basic = match (self.specific_gravity_12, self.specific_gravity_green) {
            // Eq. 4-13 at 12 percent, solved for the basic specific gravity.
            (Some(g), _) => g.value / (1.0 + 0.265 * 0.6 * g.value),
            (None, Some(g)) => g.value,
            (None, None) => return None,
        };
        let dryness = (1.0 - at.to_percent() / 30.0).clamp(0.0, 1.0);
        Some(basic / (1.0 - 0.265 * basic * dryness))
    }

    /// Mass per volume, water included.
    ///
    /// # Source
    /// Wood Handbook ch. 4, Eq. 4-14: 1000 G (1 + MC).
    pub fn density(&self, at: MoistureContent) -> Option<Density> {
        self.specific_gravity(at).map(|g| density(g, at))
    }

    /// Volumetric shrinkage, green to oven-dry, as a fraction: the tabulated one, else the handbook's estimate from
    /// the basic specific gravity, marked as an estimate.
    ///
    /// # Source
    /// Wood Handbook ch. 4, Eq. 4-12: 26.5 Gb percent.
    pub fn volumetric_shrinkage(&self) -> Option<Figure<f64>> {
        if let (Some(value), Some(provenance)) = (self.shrinkage.volumetric, self.shrinkage.provenance) {
            return Some(Figure { value, provenance });
        }
        let basic = self.specific_gravity(MoistureContent::percent(30.0))?;
        let how = "estimated from specific gravity (Wood Handbook Eq. 4-12)";
        Some(Figure { value: 0.265 * basic, provenance: Provenance::Estimated(how) })
    }
}

/// Mass per volume from the specific gravity at that moisture content.
fn density(specific_gravity: f64, at: MoistureContent) -> Density {
    Density::kg_m3(1000.0 * specific_gravity * (1.0 + at.value()))
}

#[cfg(test)]
mod tests;
