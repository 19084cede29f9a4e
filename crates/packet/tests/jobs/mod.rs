//! The example boxes planned with the example rack and shop, for tests of the packet.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise in the examples")]

use std::fs;
use std::path::Path;
use std::sync::OnceLock;

use keepwright_model::cutting::NeverStop;
use keepwright_model::design::{Defaults, read_rack, read_shop, read_statement};
use keepwright_model::job::{Order, Plan, Shop, When, plan, rack_from};
use keepwright_model::saw::Effort;
use keepwright_model::shop::schedule::Day;
use keepwright_model::units::LengthUnit;
use keepwright_model::wood;

/// The examples' names.
pub(crate) const NAMES: [&str; 6] =
    ["pencil-case", "ring-boxes", "seed-bowl", "sewing-box", "stamp-chest", "tea-caddy"];

fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// Every example's plan; a box stated in inches is planned for a shop of inches, and the seed bowl has neither
/// rack nor date.
pub(crate) fn plans() -> &'static [(&'static str, Plan)] {
    static PLANS: OnceLock<Vec<(&'static str, Plan)>> = OnceLock::new();
    PLANS.get_or_init(|| NAMES.into_iter().map(|name| (name, planned(name, str::to_owned))).collect())
}

/// An example's plan, the text of each of its files edited first.
pub(crate) fn planned(name: &str, edited: fn(&str) -> String) -> Plan {
    let read = |file: &str| edited(&example(file));
    let file = read_shop(&read("shop.toml"), &Defaults::default()).unwrap();
    let shop = Shop::from_file(&file).unwrap();
    let rack = read_rack(&read("rack.toml"), &Defaults::default(), file.shop.currency, &wood::named).unwrap();
    let rack = rack_from(&rack);
    let text = read(&format!("{name}.toml"));
    let statement = read_statement(&text, &Defaults::default(), &wood::named)
        .unwrap_or_else(|p| panic!("{name}: {p:#?}"));
    let unit = if text.contains("units = \"in\"") { LengthUnit::Inch } else { LengthUnit::Millimeter };
    let shop = Shop { unit, ..shop };
    let bare = name == "seed-bowl";
    let order = Order {
        statement: &statement,
        rack: (!bare).then_some(rack.as_slice()),
        shop: &shop,
        when: (!bare).then(|| When::From(Day::parse("2026-11-25").unwrap())),
        effort: Effort::Fast,
    };
    plan(&order, &mut NeverStop).unwrap_or_else(|e| panic!("{name}: {e:#?}"))
}
