//! The plan as JSON, versioned; every field is described in `docs/plan-json.md`.
//!
//! Names of fields end in their unit: `_mm`, `_deg`, `_mm2`, `_mm3`, `_g`, `_min`, `_percent`. Money is a whole
//! number of minor units beside its currency. Fields may be added within a version; none is taken away or changes
//! its meaning.

mod alike;
mod numbers;
mod saw;
mod seasons;
mod shop;
mod stock;
mod wood;

pub use alike::{Alike, alike, together};

use keepwright_model::job::Plan;
use keepwright_model::wood::{sheet, species};
use numbers::{Size, mass, named_size};
use serde::Serialize;

/// What the file says it is.
pub const FORMAT: &str = "keepwright-plan";
/// The version that this program writes.
pub const VERSION: u32 = 1;

/// Why there is no JSON.
#[derive(Debug, thiserror::Error)]
#[error("the plan does not fit into JSON: {0}")]
pub struct Error(#[from] serde_json::Error);

/// The whole plan as JSON text, ending in a line break; `date` is the day it was made on, as YYYY-MM-DD.
///
/// # Errors
/// [`Error`] is not expected: every value of a plan has its place in JSON.
pub fn write(plan: &Plan, date: &str) -> Result<String, Error> {
    let mut text = serde_json::to_string_pretty(&Root::of(plan, date))?;
    text.push('\n');
    Ok(text)
}

#[derive(Serialize)]
struct Root<'a> {
    format: &'static str,
    version: u32,
    made_on: &'a str,
    r#box: Stated<'a>,
    shop: ShopLine<'a>,
    outside: Size,
    inside: Size,
    mass_g: Option<f64>,
    woods: Vec<WoodLine<'a>>,
    parts: Vec<wood::PartGroup<'a>>,
    runs: Vec<wood::RunLine<'a>>,
    boards: Vec<stock::BoardLine<'a>>,
    cutting: stock::CuttingLine,
    waste: stock::WasteLine,
    bound: Option<stock::BoundLine>,
    short: Vec<stock::ShortLine<'a>>,
    shopping: Vec<stock::BuyLine>,
    hardware: Vec<wood::HardwareLine<'a>>,
    setups: Vec<saw::SetupLine<'a>>,
    setup_order: saw::OrderLine,
    cradle: Vec<saw::CradleLine>,
    lid_saw: Option<saw::LidLine>,
    fit: seasons::FitLine,
    seasons: seasons::SeasonsLine<'a>,
    cautions: Vec<seasons::CautionLine<'a>>,
    glue: Vec<shop::GlueUpLine<'a>>,
    keys: Vec<shop::KeyLine<'a>>,
    sanding: Vec<shop::SandingLine<'a>>,
    finish: shop::FinishLine<'a>,
    screws: Vec<shop::ScrewLine<'a>>,
    time: shop::TimeLines<'a>,
    price: shop::PriceLines<'a>,
    timeline: Option<shop::Timeline<'a>>,
    reasons: Vec<seasons::ReasonLine<'a>>,
}

#[derive(Serialize)]
struct Stated<'a> {
    name: &'a str,
    note: &'a str,
    count: u32,
    sides: u32,
}

#[derive(Serialize)]
struct ShopLine<'a> {
    name: &'a str,
    currency: &'a str,
    kerf_mm: f64,
}

/// A wood or sheet of the box.
#[derive(Serialize)]
struct WoodLine<'a> {
    id: &'a str,
    name: &'a str,
    kind: &'static str,
}

impl<'a> Root<'a> {
    fn of(plan: &'a Plan, date: &'a str) -> Self {
        let currency = plan.shop.bench.currency;
        Self {
            format: FORMAT,
            version: VERSION,
            made_on: date,
            r#box: Stated {
                name: &plan.statement.name,
                note: &plan.statement.note,
                count: plan.statement.count,
                sides: plan.statement.shape.sides,
            },
            shop: ShopLine {
                name: &plan.shop.name,
                currency: plan.shop.bench.currency.code(),
                kerf_mm: numbers::mm(plan.shop.saw.table_saw.kerf),
            },
            outside: named_size(plan.parts.outside),
            inside: named_size(plan.parts.inside),
            mass_g: plan.mass().map(mass),
            woods: plan.woods.iter().map(|(id, name)| WoodLine { id, name, kind: kind_of(id) }).collect(),
            parts: wood::parts(plan),
            runs: wood::runs(plan),
            boards: stock::boards(plan),
            cutting: stock::cutting(plan),
            waste: stock::waste(plan),
            bound: stock::bound(plan),
            short: stock::short(plan),
            shopping: stock::shopping(plan),
            hardware: wood::hardware(plan),
            setups: saw::setups(plan),
            setup_order: saw::order(plan),
            cradle: saw::cradle(plan),
            lid_saw: plan.lid_card.as_ref().map(saw::lid),
            fit: seasons::fit(plan),
            seasons: seasons::seasons(&plan.living),
            cautions: plan.cautions.iter().map(|c| seasons::caution(c, currency)).collect(),
            glue: shop::glue(plan),
            keys: shop::keys(plan),
            sanding: shop::sanding(plan),
            finish: shop::finish(plan),
            screws: shop::screws(plan),
            time: shop::time(plan),
            price: shop::price(plan),
            timeline: plan.schedule.as_ref().map(|s| shop::timeline(plan, s)),
            reasons: plan.reasons.iter().map(|r| seasons::reason(r, currency)).collect(),
        }
    }
}

fn kind_of(id: &str) -> &'static str {
    if species(id).is_some() {
        "wood"
    } else if sheet(id).is_some() {
        "sheet"
    } else {
        "other"
    }
}
