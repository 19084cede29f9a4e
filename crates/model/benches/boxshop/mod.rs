//! Reads the planted box-shop problems (`benches/data/README.md`).

use keepwright_model::cutting::{Demand, Item, KeepOffcuts, Margins, Order, Rules, Run, Stock, StockDefect};
use keepwright_model::units::Length;

/// The instances of the file.
pub(crate) fn instances() -> Vec<serde_json::Value> {
    let file: serde_json::Value =
        serde_json::from_str(include_str!("../data/boxshop_planted.json")).expect("the file is JSON");
    list(&file["instances"]).to_vec()
}

/// A number, or 0.
pub(crate) fn number(value: &serde_json::Value) -> f64 {
    value.as_f64().unwrap_or(0.0)
}

fn place(value: &serde_json::Value) -> usize {
    value.as_u64().and_then(|v| usize::try_from(v).ok()).unwrap_or(0)
}

/// A list, or nothing.
fn list(value: &serde_json::Value) -> &[serde_json::Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// One instance as a demand.
pub(crate) fn demand_of(instance: &serde_json::Value) -> Demand {
    let wood = "hard-maple";
    let mut stock: Vec<Stock> = list(&instance["stock"])
        .iter()
        .enumerate()
        .map(|(board, s)| Stock {
            board,
            length: Length::mm(number(&s["l"])),
            width: Length::mm(number(&s["w"])),
            cost: s["cost"].as_u64().unwrap_or(0),
            defects: Vec::new(),
            thickness: Length::mm(20.0),
            wood: wood.to_owned(),
            margins: Margins::default(),
        })
        .collect();
    for d in list(&instance["defects"]) {
        if let Some(board) = stock.get_mut(place(&d[0])) {
            board.defects.push(StockDefect {
                x: Length::mm(number(&d[1])),
                y: Length::mm(number(&d[2])),
                length: Length::mm(number(&d[3])),
                width: Length::mm(number(&d[4])),
            });
        }
    }
    let items = list(&instance["items"])
        .iter()
        .enumerate()
        .map(|(n, i)| Item {
            id: n.to_string(),
            length: Length::mm(number(&i[0])),
            width: Length::mm(number(&i[1])),
            min_thickness: Length::mm(12.0),
            wood: wood.to_owned(),
        })
        .collect();
    let runs = list(&instance["chains"])
        .iter()
        .enumerate()
        .map(|(n, c)| Run { name: n.to_string(), items: list(c).iter().map(place).collect(), gap: None })
        .collect();
    let kerf = Length::mm(number(&instance["rules"]["kerf"]));
    let keep = KeepOffcuts { length: Length::mm(300.0), width: Length::mm(50.0) };
    Demand { items, runs, stock, rules: Rules { kerf, order: Order::Either, keep } }
}
