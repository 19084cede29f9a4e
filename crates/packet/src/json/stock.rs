//! Boards with what is cut from them, waste and its proven limit, what is short, what to buy.

#![expect(clippy::struct_field_names, reason = "the unit stands in every field's name")]

use super::numbers::{mm, mm2, percent, rounded};
use keepwright_model::cutting::{Bound, CutKind};
use keepwright_model::job::{Plan, Purchase};
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct BoardLine<'a> {
    name: &'a str,
    wood: &'a str,
    length_mm: f64,
    width_mm: f64,
    usable_thickness_mm: f64,
    cost_minor: u64,
    parts: Vec<PlacedLine<'a>>,
    offcuts: Vec<Place>,
    cuts: Vec<CutLine>,
    waste_mm2: f64,
}

#[derive(Serialize)]
struct Place {
    x_mm: f64,
    y_mm: f64,
    length_mm: f64,
    width_mm: f64,
}

#[derive(Serialize)]
struct PlacedLine<'a> {
    name: &'a str,
    of_box: u32,
    x_mm: f64,
    y_mm: f64,
    length_mm: f64,
    width_mm: f64,
}

#[derive(Serialize)]
struct CutLine {
    kind: &'static str,
    at_mm: f64,
}

/// The boards used, with what lies where.
pub(super) fn boards(plan: &Plan) -> Vec<BoardLine<'_>> {
    let stock = &plan.stock;
    stock
        .cutting
        .layouts
        .iter()
        .filter_map(|layout| {
            let slab = stock.demand.stock.get(layout.stock)?;
            let board = plan.rack.get(slab.board)?;
            Some(BoardLine {
                name: &board.name,
                wood: &board.wood,
                length_mm: mm(layout.root.length),
                width_mm: mm(layout.root.width),
                usable_thickness_mm: mm(slab.thickness),
                cost_minor: layout.cost,
                parts: layout
                    .parts
                    .iter()
                    .map(|p| PlacedLine {
                        name: stock.demand.items.get(p.item).map_or("", |i| i.id.as_str()),
                        of_box: stock.billets.get(p.item).map_or(0, |b| b.of_box),
                        x_mm: mm(p.x),
                        y_mm: mm(p.y),
                        length_mm: mm(p.length),
                        width_mm: mm(p.width),
                    })
                    .collect(),
                offcuts: layout
                    .offcuts
                    .iter()
                    .map(|o| Place {
                        x_mm: mm(o.x),
                        y_mm: mm(o.y),
                        length_mm: mm(o.length),
                        width_mm: mm(o.width),
                    })
                    .collect(),
                cuts: layout
                    .cuts()
                    .iter()
                    .map(|(_, cut)| CutLine {
                        kind: match cut.kind {
                            CutKind::Crosscut => "crosscut",
                            CutKind::Rip => "rip",
                        },
                        at_mm: mm(cut.at),
                    })
                    .collect(),
                waste_mm2: mm2(layout.waste),
            })
        })
        .collect()
}

#[derive(Serialize)]
pub(super) struct CuttingLine {
    complete: bool,
    boxes_laid_out: u32,
    seed: u64,
    steps: u64,
    cost_minor: i64,
}

/// How the cutting plan came about.
pub(super) fn cutting(plan: &Plan) -> CuttingLine {
    let stock = &plan.stock;
    CuttingLine {
        complete: stock.cutting.is_complete(),
        boxes_laid_out: stock.laid_out,
        seed: stock.cutting.seed,
        steps: stock.cutting.steps,
        cost_minor: stock.cost.to_minor(),
    }
}

#[derive(Serialize)]
pub(super) struct WasteLine {
    board_area_mm2: f64,
    blank_area_mm2: f64,
    kept_offcuts_mm2: f64,
    not_blanks_percent: f64,
    least_not_blanks_percent: Option<f64>,
    waste_percent: f64,
}

/// What does not become a blank.
pub(super) fn waste(plan: &Plan) -> WasteLine {
    let stock = &plan.stock;
    WasteLine {
        board_area_mm2: mm2(stock.board_area),
        blank_area_mm2: mm2(stock.billet_area),
        kept_offcuts_mm2: mm2(stock.kept_area),
        not_blanks_percent: percent(stock.not_billets()),
        least_not_blanks_percent: stock.least_not_billets().map(percent),
        waste_percent: percent(stock.waste()),
    }
}

#[derive(Serialize)]
pub(super) struct BoundLine {
    complete_plan_exists: Option<bool>,
    least_cost_minor: Option<u64>,
    least_board_area_mm2: Option<f64>,
}

/// What no plan on this rack can do better than; `None` without a rack.
pub(super) fn bound(plan: &Plan) -> Option<BoundLine> {
    let stock = &plan.stock;
    let least_board_area_mm2 = stock.area_bound.map(mm2);
    Some(match stock.bound? {
        Bound::Impossible => BoundLine {
            complete_plan_exists: Some(false),
            least_cost_minor: None,
            least_board_area_mm2: None,
        },
        Bound::Cost(cost) => BoundLine {
            // A bound alone proves no plan; one that was found does.
            complete_plan_exists: stock.cutting.is_complete().then_some(true),
            least_cost_minor: Some(cost),
            least_board_area_mm2,
        },
    })
}

#[derive(Serialize)]
pub(super) struct ShortLine<'a> {
    name: &'a str,
    wood: &'a str,
    length_mm: f64,
    width_mm: f64,
    thickness_mm: f64,
    why: &'static str,
}

/// Blanks that the rack does not give.
pub(super) fn short(plan: &Plan) -> Vec<ShortLine<'_>> {
    let demand = &plan.stock.demand;
    plan.stock
        .cutting
        .short
        .iter()
        .filter_map(|s| {
            let item = demand.items.get(s.item)?;
            Some(ShortLine {
                name: &item.id,
                wood: &item.wood,
                length_mm: mm(item.length),
                width_mm: mm(item.width),
                thickness_mm: mm(item.min_thickness),
                why: s.why.words(),
            })
        })
        .collect()
}

#[derive(Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub(super) enum BuyLine {
    Lumber {
        wood: String,
        sold_as: Option<String>,
        thickness_mm: f64,
        longest_mm: f64,
        widest_mm: f64,
        net_board_feet: f64,
        board_feet: f64,
        board_feet_by_rule: f64,
        pieces: usize,
        why: &'static str,
    },
    Sheet {
        sheet: String,
        thickness_mm: f64,
        area_mm2: f64,
        largest_length_mm: f64,
        largest_width_mm: f64,
        pieces: usize,
    },
    Veneer {
        wood: String,
        area_mm2: f64,
        pieces: usize,
    },
}

/// What to buy.
pub(super) fn shopping(plan: &Plan) -> Vec<BuyLine> {
    plan.stock
        .shopping
        .iter()
        .map(|line| match line {
            Purchase::Lumber {
                wood,
                quarters,
                thickness,
                longest,
                widest,
                net_board_feet,
                board_feet,
                by_rule,
                pieces,
                why,
            } => BuyLine::Lumber {
                wood: wood.clone(),
                sold_as: quarters.map(|q| q.to_string()),
                thickness_mm: mm(*thickness),
                longest_mm: mm(*longest),
                widest_mm: mm(*widest),
                net_board_feet: rounded(*net_board_feet, 3),
                board_feet: rounded(*board_feet, 3),
                board_feet_by_rule: rounded(*by_rule, 3),
                pieces: *pieces,
                why: why.words(),
            },
            Purchase::Sheet { id, thickness, area, largest, pieces } => BuyLine::Sheet {
                sheet: id.clone(),
                thickness_mm: mm(*thickness),
                area_mm2: mm2(*area),
                largest_length_mm: mm(largest.0),
                largest_width_mm: mm(largest.1),
                pieces: *pieces,
            },
            Purchase::Veneer { wood, area, pieces } => {
                BuyLine::Veneer { wood: wood.clone(), area_mm2: mm2(*area), pieces: *pieces }
            }
        })
        .collect()
}
