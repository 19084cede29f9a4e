//! Finish: products by kind, amounts and waits, and the cautions that belong to the step.

mod product;
mod warnings;

pub use product::{
    Product, Rags, coverage_from_film, products, shellac_flakes, square_feet_per_gallon, thinning_alcohol,
};

use super::say::reason;
use crate::caution::Checked;
use crate::design::{Coat, Finish, FinishKind};
use crate::reason::{Basis, Reason, Value};
use crate::units::{Area, Length, Mass, Minutes, Volume};

/// Which faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Inside faces.
    Inside,
    /// Outside faces.
    Outside,
}

impl Side {
    /// The side in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Inside => "inside",
            Self::Outside => "outside",
        }
    }
}

/// What a finish plan is made from.
#[derive(Clone, Debug)]
pub struct Finishing<'a> {
    /// As stated.
    pub finish: &'a Finish,
    /// Outside faces of one box.
    pub outside: Area,
    /// Inside faces of one box.
    pub inside: Area,
    /// Names of the panels that float.
    pub floating: &'a [String],
    /// Pounds of flakes in a US gallon of alcohol, for shellac.
    pub shellac_cut: f64,
}

/// Coats of one product on one side.
#[derive(Clone, Debug, PartialEq)]
pub struct Coats {
    /// Where.
    pub side: Side,
    /// What.
    pub product: Product,
    /// How many.
    pub coats: u32,
    /// On how much.
    pub area: Area,
    /// Liquid for one coat.
    pub per_coat: Volume,
    /// Hands-on time for one coat.
    pub each: Minutes,
}

impl Coats {
    /// Liquid for all coats.
    pub fn volume(&self) -> Volume {
        self.per_coat * f64::from(self.coats)
    }
}

/// Flakes and alcohol to mix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShellacMix {
    /// Alcohol.
    pub alcohol: Volume,
    /// Dry flakes.
    pub flakes: Mass,
}

/// The finish of one box: coats in the order they are laid.
#[derive(Clone, Debug, PartialEq)]
pub struct FinishPlan {
    /// Inside first, then outside; wax after oil.
    pub coats: Vec<Coats>,
    /// Shellac to mix for one box, if any.
    pub shellac: Option<ShellacMix>,
    /// From the last coat until it may be lined, packed and shipped: the longest of them.
    pub cure: Minutes,
    /// How the numbers came about.
    pub reasons: Vec<Reason>,
}

/// The products of a stated coat, in order; the wax of "oil and wax" is one coat more.
fn products_of(coat: Coat) -> Vec<(Product, u32)> {
    let get = |id: &str, coats: u32| products().iter().find(|p| p.id == id).map(|p| (p.clone(), coats));
    let named = match coat.kind {
        FinishKind::None => Vec::new(),
        FinishKind::Oil => vec![get("oil", coat.coats)],
        FinishKind::Wax => vec![get("wax", coat.coats)],
        FinishKind::OilAndWax => vec![get("oil", coat.coats), get("wax", 1)],
        FinishKind::Shellac => vec![get("shellac", coat.coats)],
        FinishKind::WipingVarnish => vec![get("wiping_varnish", coat.coats)],
        FinishKind::WaterBorne => vec![get("water_borne", coat.coats)],
    };
    named.into_iter().flatten().filter(|(_, coats)| *coats > 0).collect()
}

/// The finish plan of one box.
pub fn finish_plan(finishing: &Finishing<'_>) -> Checked<FinishPlan> {
    let mut coats = Vec::new();
    for (side, coat, area) in [
        (Side::Inside, finishing.finish.inside, finishing.inside),
        (Side::Outside, finishing.finish.outside, finishing.outside),
    ] {
        for (product, count) in products_of(coat) {
            let per_coat = Volume::mm3(area.to_m2() / product.coverage.max(1e-9) * 1e6);
            let each = product.per_m2 * area.to_m2();
            coats.push(Coats { side, product, coats: count, area, per_coat, each });
        }
    }
    let cure = coats.iter().map(|c| c.product.cure).fold(Minutes::ZERO, Minutes::max);
    let shellac: Volume = coats.iter().filter(|c| c.product.id == "shellac").map(Coats::volume).sum();
    let shellac = (shellac.to_ml() > 0.0)
        .then(|| ShellacMix { alcohol: shellac, flakes: shellac_flakes(finishing.shellac_cut, shellac) });
    let reasons = reasons(finishing, &coats, (shellac, cure));
    let cautions = warnings::cautions(finishing, &coats);
    Checked { value: FinishPlan { coats, shellac, cure, reasons }, cautions }
}

fn reasons(
    finishing: &Finishing<'_>,
    coats: &[Coats],
    (shellac, cure): (Option<ShellacMix>, Minutes),
) -> Vec<Reason> {
    let mut out: Vec<Reason> = coats
        .iter()
        .map(|c| {
            reason(
                format!("finish.{}.{}", c.side.words(), c.product.id),
                format!("{}, {}", c.product.name, c.side.words()),
                "area / coverage × coats",
                [
                    ("area", Value::Area(c.area)),
                    ("coverage", super::say::number(c.product.coverage, 1, "m²/L")),
                    ("coats", Value::Count(c.coats.into())),
                    ("one coat", Value::Milliliters(c.per_coat.to_ml())),
                ],
                (Value::Milliliters(c.volume().to_ml()), c.product.basis.clone()),
            )
        })
        .collect();
    if let Some(mix) = shellac {
        out.push(reason(
            "finish.shellac.flakes",
            "shellac flakes",
            "cut × 119.826 g for each liter of alcohol",
            [
                ("alcohol", Value::Milliliters(mix.alcohol.to_ml())),
                ("pounds of flakes in a US gallon", super::say::number(finishing.shellac_cut, 1, "lb")),
            ],
            (
                Value::Mass(mix.flakes),
                Basis::Derived("a pound of flakes in a US gallon of alcohol is the one-pound cut"),
            ),
        ));
    }
    if !coats.is_empty() {
        out.push(reason(
            "finish.cure",
            "from the last coat to packing",
            "the longest cure of the products used",
            [],
            (Value::Minutes(cure), Basis::CommonPractice),
        ));
    }
    out
}

/// Outside faces of a block: all six.
pub fn six_faces(size: [Length; 3]) -> Area {
    let [l, w, h] = size;
    (l * w + l * h + w * h) * 2.0
}

#[cfg(test)]
mod tests;
