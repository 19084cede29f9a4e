//! Glues by kind, how much of one a joint takes, mixing and pot life.

use super::super::say;
use crate::reason::Basis;
use crate::units::{Area, Length, Mass, Minutes, Temperature, Volume};
use serde::Deserialize;
use std::sync::OnceLock;

/// Milliliters in a US gallon, exact (231 cubic inches).
pub const ML_PER_GALLON: f64 = 3785.411784;

/// How a glue wants to be held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pressing {
    /// Pressure brings the faces together and the film thin.
    Clamped,
    /// Contact is enough; squeezed dry, the joint starves.
    Contact,
}

/// A kind of glue and its times. The product's label comes before all of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Glue {
    /// The key.
    pub id: String,
    /// Its name in plain words.
    pub name: String,
    /// From the first spread to the last joint closed.
    pub open: Minutes,
    /// In clamps.
    pub clamp: Minutes,
    /// Until it may be worked and loaded.
    pub cure: Minutes,
    /// Wet film on one face.
    pub film: Length,
    /// How it wants to be held.
    pub pressing: Pressing,
    /// End grain gets a thin first coat.
    pub sizes_miters: bool,
    /// Where the numbers come from, but for the film's.
    pub basis: Basis,
    /// Where the film comes from.
    pub film_basis: Basis,
}

impl Glue {
    /// Whether it is an epoxy, by its key or its name.
    pub fn is_epoxy(&self) -> bool {
        [&self.id, &self.name].iter().any(|t| t.to_lowercase().contains("epoxy"))
    }

    /// Yellow PVA as in [`glues`]: what most box makers have on the shelf.
    pub fn usual() -> Self {
        glue("pva_yellow").cloned().unwrap_or(Self {
            id: "glue".into(),
            name: "wood glue".into(),
            open: Minutes::minutes(5.0),
            clamp: Minutes::minutes(45.0),
            cure: Minutes::hours(24.0),
            film: Length::mm(0.1),
            pressing: Pressing::Clamped,
            sizes_miters: true,
            basis: Basis::CommonPractice,
            film_basis: Basis::CommonPractice,
        })
    }
}

#[derive(Deserialize)]
struct Row {
    id: String,
    name: String,
    open_minutes: f64,
    clamp_minutes: f64,
    cure_hours: f64,
    film_mm: f64,
    pressing: String,
    size_miters: String,
    source: String,
}

#[derive(Default, Deserialize)]
struct Table {
    glue: Vec<Row>,
}

/// The glues known by kind, sorted by key.
pub fn glues() -> &'static [Glue] {
    static ROWS: OnceLock<Vec<Glue>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let table: Table = toml::from_str(include_str!("../../../data/glues.toml")).unwrap_or_default();
        let row = |r: Row| Glue {
            id: r.id,
            name: r.name,
            open: Minutes::minutes(r.open_minutes),
            clamp: Minutes::minutes(r.clamp_minutes),
            cure: Minutes::hours(r.cure_hours),
            film: Length::mm(r.film_mm),
            pressing: if r.pressing == "contact" { Pressing::Contact } else { Pressing::Clamped },
            sizes_miters: r.size_miters == "yes",
            film_basis: say::basis(&r.source),
            basis: say::basis(&r.source),
        };
        table.glue.into_iter().map(row).collect()
    })
}

/// The glue with this key.
pub fn glue(id: &str) -> Option<&'static Glue> {
    glues().iter().find(|g| g.id == id)
}

/// Glue for an area spread with a wet film, before waste.
pub fn film_volume(area: Area, film: Length) -> Volume {
    Volume::mm3(area.to_mm2() * film.to_mm())
}

/// The area that a volume covers at a wet film.
pub fn covered(volume: Volume, film: Length) -> Area {
    Area::mm2(volume.to_mm3() / film.to_mm().max(1e-9))
}

/// A spread in pounds per thousand square feet as grams per square meter.
pub fn spread_g_m2(pounds_per_1000_square_feet: f64) -> f64 {
    // A pound is 453.59237 g and a foot 0.3048 m, both exact.
    pounds_per_1000_square_feet * 453.59237 / (1000.0 * 0.3048 * 0.3048)
}

/// The two shares of a mixed glue, by volume or by mass: resin and hardener of `total` at `parts`.
///
/// # Units
/// The shares come back in the unit of `total`. A proportion of nothing to nothing gives the whole as resin.
pub fn mix(total: f64, parts: (f64, f64)) -> (f64, f64) {
    let sum = parts.0 + parts.1;
    if sum > 0.0 { (total * parts.0 / sum, total * parts.1 / sum) } else { (total, 0.0) }
}

/// [`mix`] for masses.
pub fn mix_mass(total: Mass, parts: (f64, f64)) -> (Mass, Mass) {
    let (resin, hardener) = mix(total.value(), parts);
    (Mass::grams(resin), Mass::grams(hardener))
}

/// Pot life away from the temperature it was stated at: ten degrees warmer halve it.
///
/// # Source
/// Rule of thumb (Q10 = 2); one supplier prints that 18 °F cooler doubles it. The data sheet rules, and a larger mass
/// in a deep cup shortens it: never scale a published pot life up.
pub fn pot_life(stated: Minutes, at: Temperature, shop: Temperature) -> Minutes {
    stated * 2f64.powf((at - shop).value() / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE_FOOT: f64 = 304.8 * 304.8;

    #[test]
    fn the_table_is_whole() {
        let rows = glues();
        assert_eq!(rows.len(), 7);
        assert!(rows.windows(2).all(|w| w[0].id < w[1].id), "sorted by key");
        for g in rows {
            assert!(g.open < g.clamp && g.clamp < g.cure, "{}", g.id);
            assert!(g.film > Length::mm(0.02) && g.film < Length::mm(0.3), "{}", g.id);
        }
        assert_eq!(Glue::usual().id, "pva_yellow");
    }

    /// Rows AD-02 … AD-11 (a supplier's printed table, arithmetic from exact units, the Q10 rule).
    #[test]
    fn amounts() {
        let gallon = Volume::mm3(ML_PER_GALLON * 1000.0);
        let cases = [
            ("AD-02", covered(gallon, Length::inches(1.0 / 16.0)).to_mm2() / SQUARE_FOOT, 25.6667, 1e-4),
            ("AD-04", covered(gallon, Length::inches(0.25)).to_mm2() / SQUARE_FOOT, 6.4167, 1e-4),
            (
                "AD-05",
                film_volume(Length::inches(50.0) * Length::inches(36.0), Length::inches(0.010)).to_ml(),
                294.97,
                0.01,
            ),
            ("AD-07", spread_g_m2(40.0), 195.297, 1e-3),
            ("AD-08 resin", mix(36.0, (2.0, 1.0)).0, 24.0, 1e-12),
            ("AD-08 hardener", mix(36.0, (2.0, 1.0)).1, 12.0, 1e-12),
            ("AD-09 resin", mix_mass(Mass::grams(60.0), (100.0, 44.0)).0.value(), 41.6667, 1e-4),
            ("AD-09 hardener", mix_mass(Mass::grams(60.0), (100.0, 44.0)).1.value(), 18.3333, 1e-4),
            (
                "AD-11",
                pot_life(Minutes::minutes(20.0), Temperature::celsius(25.0), Temperature::celsius(18.0))
                    .value(),
                32.490,
                1e-3,
            ),
        ];
        for (row, got, want, within) in cases {
            assert!((got - want).abs() <= within, "{row}: {got} instead of {want}");
        }
    }
}
