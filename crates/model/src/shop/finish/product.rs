//! Finishes by kind, their coverage, and the shellac maker's arithmetic.

use super::super::say;
use crate::reason::Basis;
use crate::units::{Length, Mass, Minutes, Volume};
use serde::Deserialize;
use std::sync::OnceLock;

/// What the used rags do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rags {
    /// They heat by themselves and can burn.
    Ignite,
    /// Their solvent's vapor burns.
    Solvent,
    /// Nothing in particular.
    Plain,
}

/// A kind of finish. The product's label comes before every number.
#[derive(Clone, Debug, PartialEq)]
pub struct Product {
    /// The key.
    pub id: String,
    /// In plain words.
    pub name: String,
    /// Square meters that a liter covers in one coat.
    pub coverage: f64,
    /// Coats where the maker says nothing.
    pub usual_coats: u32,
    /// Hands-on time to coat a square meter.
    pub per_m2: Minutes,
    /// From one coat to the next.
    pub wait: Minutes,
    /// From the last coat to lining, packing, shipping.
    pub cure: Minutes,
    /// Shut in a box it smells for weeks.
    pub smells: bool,
    /// What the rags do.
    pub rags: Rags,
    /// How it is thinned.
    pub thin: String,
    /// Last sanding grade that usually goes before it.
    pub grit: u32,
    /// Where the numbers come from.
    pub basis: Basis,
}

#[derive(Deserialize)]
struct Row {
    id: String,
    name: String,
    coverage_m2_l: f64,
    usual_coats: u32,
    min_per_m2: f64,
    wait_hours: f64,
    cure_days: f64,
    shut_in: String,
    rags: String,
    thin: String,
    grit: u32,
    source: String,
}

#[derive(Default, Deserialize)]
struct Table {
    finish: Vec<Row>,
}

/// The finishes known by kind, sorted by key.
pub fn products() -> &'static [Product] {
    static ROWS: OnceLock<Vec<Product>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let table: Table = toml::from_str(include_str!("../../../data/finishes.toml")).unwrap_or_default();
        let row = |r: Row| Product {
            id: r.id,
            name: r.name,
            coverage: r.coverage_m2_l,
            usual_coats: r.usual_coats,
            per_m2: Minutes::minutes(r.min_per_m2),
            wait: Minutes::hours(r.wait_hours),
            cure: Minutes::hours(r.cure_days * 24.0),
            smells: r.shut_in == "smells",
            rags: match r.rags.as_str() {
                "ignite" => Rags::Ignite,
                "solvent" => Rags::Solvent,
                _ => Rags::Plain,
            },
            thin: r.thin,
            grit: r.grit,
            basis: say::basis(&r.source),
        };
        table.finish.into_iter().map(row).collect()
    })
}

/// Grams of flakes for a volume of alcohol at a cut in pounds for a US gallon.
///
/// # Source
/// The cut's definition: 453.59237 g in 3.785411784 L is 119.826 g for each liter. Flakes add to the volume.
pub fn shellac_flakes(cut: f64, alcohol: Volume) -> Mass {
    Mass::grams(cut.max(0.0) * 453.59237 / super::super::glue::ML_PER_GALLON * alcohol.to_ml())
}

/// Alcohol to add to thin shellac that was mixed with `alcohol` from one cut to a lighter one.
///
/// # Source
/// Derived: V × (from / to − 1); nothing where `to` is not lighter.
pub fn thinning_alcohol(alcohol: Volume, from: f64, to: f64) -> Volume {
    if to > 0.0 && from > to { alcohol * (from / to - 1.0) } else { Volume::ZERO }
}

/// Coverage in square feet for a US gallon, as labels print it, in square meters for a liter.
pub fn square_feet_per_gallon(value: f64) -> f64 {
    value * 0.3048 * 0.3048 / (super::super::glue::ML_PER_GALLON / 1000.0)
}

/// Square meters that a liter covers at a dry film, from its share of solids.
pub fn coverage_from_film(solids: super::super::Share, dry: Length) -> f64 {
    if dry.to_mm() > 0.0 { solids.value() / dry.to_mm() } else { 0.0 }
}
