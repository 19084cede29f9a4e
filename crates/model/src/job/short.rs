//! What the rack does not give, wood by wood, and why.

use super::living::name_of;
use super::stock::StockPlan;
use crate::caution::{Caution, Change, Weight};
use crate::cutting::{Demand, Item, ShortWhy};
use crate::reason::{Basis, Given, Value};
use crate::units::Length;

/// Names shown before the rest are only counted.
const NAMES_SHOWN: usize = 6;

/// One caution for each wood and reason.
pub(super) fn cautions(stock: &StockPlan) -> Vec<Caution> {
    let demand = &stock.demand;
    let mut groups: Vec<(&str, ShortWhy, Vec<usize>)> = Vec::new();
    for short in &stock.cutting.short {
        let Some(item) = demand.items.get(short.item) else { continue };
        match groups.iter_mut().find(|(wood, why, _)| *wood == item.wood && *why == short.why) {
            Some((_, _, items)) => items.push(short.item),
            None => groups.push((&item.wood, short.why, vec![short.item])),
        }
    }
    groups.iter().map(|(wood, why, items)| caution(demand, wood, *why, items)).collect()
}

fn caution(demand: &Demand, wood: &str, why: ShortWhy, places: &[usize]) -> Caution {
    let items: Vec<&Item> = places.iter().filter_map(|i| demand.items.get(*i)).collect();
    let most = |of: fn(&Item) -> Length| items.iter().map(|i| of(i)).fold(Length::ZERO, Length::max);
    let need = most(|i| i.min_thickness);
    let wide = most(|i| i.width);
    // A run must come from one board, so its whole strip is the piece.
    let long = demand
        .runs
        .iter()
        .filter(|r| r.items.iter().any(|i| places.contains(i)))
        .map(|r| demand.run_length(r))
        .fold(most(|i| i.length), Length::max);
    let has =
        demand.stock.iter().filter(|s| s.wood == wood).map(|s| s.thickness).fold(Length::ZERO, Length::max);
    let (name, blanks) = (called(wood), named(&items));
    let mut numbers = vec![Given::new("blanks short", Value::Count(items.len() as u64))];
    let (says, cure) = match why {
        ShortWhy::NoSuchWood => (
            format!("There is no {name} on the rack for {blanks}."),
            "Buy what the shopping list says, or make these parts of a wood that is there",
        ),
        ShortWhy::NoSuchThickness => (
            format!(
                "There is no {name} on the rack for {blanks}: the sheets of this kind there have another thickness."
            ),
            "Buy what the shopping list says, or make these parts as thick as a sheet that is there",
        ),
        ShortWhy::TooThin => {
            numbers.push(Given::new("the thickest gives", Value::Length(has)));
            numbers.push(Given::new("needed", Value::Length(need)));
            (
                format!(
                    "No {name} on the rack is thick enough for {blanks}: the thickest gives {:.1} mm flat, and {:.1} mm are needed.",
                    has.to_mm(),
                    need.to_mm()
                ),
                "Buy thicker stock as the shopping list says, or make the parts thinner",
            )
        }
        ShortWhy::NoClearPlace => {
            numbers.push(Given::new("clear length needed", Value::Length(long)));
            numbers.push(Given::new("clear width needed", Value::Length(wide)));
            (
                format!(
                    "No {name} board has a place clear of faults, {:.1} mm long and {:.1} mm wide, for {blanks}.",
                    long.to_mm(),
                    wide.to_mm()
                ),
                "Buy what the shopping list says, make the box smaller, or take its walls from a bookmatched pair or loose boards",
            )
        }
        ShortWhy::NoRoomLeft => (
            format!("On the {name} boards no room was found beside the other blanks for {blanks}."),
            "Plan again with --thorough, or buy what the shopping list says",
        ),
    };
    Caution {
        code: "rack-short",
        weight: Weight::Cannot,
        place: format!("rack, {name}"),
        says,
        numbers,
        basis: Basis::Derived("the cutting plan on this rack"),
        change: Some(Change::words(cure)),
    }
}

/// The wood of an item in words; a sheet's has its thickness behind its id.
fn called(wood: &str) -> String {
    match wood.split_once(' ') {
        Some((id, thickness)) => format!("{} {thickness}", name_of(id)),
        None => name_of(wood),
    }
}

fn named(items: &[&Item]) -> String {
    let shown: Vec<&str> = items.iter().take(NAMES_SHOWN).map(|i| i.id.as_str()).collect();
    let more = items.len().saturating_sub(NAMES_SHOWN);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{}{more}", shown.join(", "))
}
