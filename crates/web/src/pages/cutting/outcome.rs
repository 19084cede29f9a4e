//! What a cutting run found, as it is kept: made for the file, not the model's own types.

use keepwright_model::boards::Board;
use keepwright_model::cutting::{Bound, Demand, Plan};
use keepwright_model::job::{Shop, StockPlan};
use keepwright_model::units::Money;
use keepwright_packet::drawings::{Room, board_layout};
use keepwright_packet::shown::{Showing, percent};
use keepwright_packet::svg;
use serde::{Deserialize, Serialize};

use super::super::rack::showing;

/// The paper that a board's drawing fills, in millimeters: as wide as a page on a desk.
const ROOM: Room = Room::new(280.0, 120.0);

/// A document that a run was made from, at the version that it had.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Source {
    /// Its number.
    pub(crate) id: i64,
    /// Its address.
    pub(crate) slug: String,
    /// Its name.
    pub(crate) name: String,
    /// The version that was read.
    pub(crate) version: i64,
}

/// What was asked of a run.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Inputs {
    /// The boxes.
    pub(crate) boxes: Vec<Source>,
    /// The boards.
    pub(crate) boards: Vec<Source>,
    /// The longest search, in seconds.
    pub(crate) seconds: u64,
}

/// A rectangle on a board, in millimeters from its lower left corner.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Spot {
    /// Along the grain.
    pub(crate) x: f64,
    /// Across.
    pub(crate) y: f64,
    /// Along.
    pub(crate) length: f64,
    /// Across.
    pub(crate) width: f64,
}

/// A blank that lies on a board.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Blank {
    /// Its name, with that of its box.
    pub(crate) name: String,
    /// The place of its box in [`Inputs::boxes`].
    pub(crate) of: usize,
    /// Where it lies.
    pub(crate) at: Spot,
}

/// A board cut up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct BoardCut {
    /// The place of the board in [`Inputs::boards`].
    pub(crate) board: usize,
    /// Its name.
    pub(crate) name: String,
    /// The drawing.
    pub(crate) svg: String,
    /// What the numbers in it stand for.
    pub(crate) legend: Vec<(u32, String)>,
    /// What lies where.
    pub(crate) blanks: Vec<Blank>,
    /// Offcuts worth keeping.
    pub(crate) offcuts: Vec<Spot>,
    /// How many saw cuts.
    pub(crate) cuts: usize,
    /// Cost of the board, in minor units.
    pub(crate) cost: u64,
}

/// What is left out, and why.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Missing {
    /// The blank.
    pub(crate) name: String,
    /// The place of its box in [`Inputs::boxes`].
    pub(crate) of: usize,
    /// Why.
    pub(crate) why: String,
}

/// What a run found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Outcome {
    /// One per board used.
    pub(crate) boards: Vec<BoardCut>,
    /// What found no place.
    pub(crate) missing: Vec<Missing>,
    /// The numbers.
    pub(crate) figures: Figures,
    /// What the judge finds wrong: nothing, or it must not be cut.
    pub(crate) judged: Vec<String>,
    /// The seed of the search.
    pub(crate) seed: u64,
    /// Its steps: the same seed and steps give the same plan.
    pub(crate) steps: u64,
}

/// The numbers of a plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(crate) struct Figures {
    /// Cost of the boards used, in minor units.
    pub(crate) cost: u64,
    /// No complete plan costs less; none where that is not known.
    pub(crate) bound: Option<u64>,
    /// It is proved that not everything can be laid out on these boards.
    pub(crate) impossible: bool,
    /// Share of the boards that becomes neither a blank nor a kept offcut.
    pub(crate) waste: f64,
    /// How many blanks found no place.
    pub(crate) missing: usize,
    /// How many boards are used.
    pub(crate) boards: usize,
}

impl Figures {
    /// Of a plan, with the bound of its demand.
    pub(crate) fn of(plan: &Plan, bound: Option<Bound>) -> Self {
        let boards: f64 = plan.layouts.iter().map(|l| (l.root.length * l.root.width).to_mm2()).sum();
        let waste: f64 = plan.layouts.iter().map(|l| l.waste.to_mm2()).sum();
        Self {
            cost: plan.cost,
            bound: match bound {
                Some(Bound::Cost(cost)) => Some(cost),
                Some(Bound::Impossible) | None => None,
            },
            impossible: bound == Some(Bound::Impossible),
            waste: if boards > 0.0 { waste / boards } else { 0.0 },
            missing: plan.short.len(),
            boards: plan.layouts.len(),
        }
    }

    /// The cost in words.
    pub(crate) fn cost_words(&self, show: &Showing) -> String {
        show.money(minor(self.cost))
    }

    /// The bound in words.
    pub(crate) fn bound_words(&self, show: &Showing) -> String {
        match (self.bound, self.impossible) {
            (Some(bound), _) => show.money(minor(bound)),
            (None, true) => "no complete plan is possible on these boards".to_owned(),
            (None, false) => "not known".to_owned(),
        }
    }

    /// How far the cost lies above the bound, in words.
    pub(crate) fn gap_words(&self, show: &Showing) -> String {
        match self.bound {
            Some(bound) if self.missing == 0 => match self.cost.saturating_sub(bound) {
                0 => "none: proved cheapest".to_owned(),
                gap => format!("{} ({})", show.money(minor(gap)), percent(gap as f64 / bound.max(1) as f64)),
            },
            _ => "known once everything has its place".to_owned(),
        }
    }

    /// The waste in words.
    pub(crate) fn waste_words(&self) -> String {
        percent(self.waste)
    }
}

/// Whole minor units as money.
pub(crate) fn minor(units: u64) -> Money {
    Money::minor(i64::try_from(units).unwrap_or(i64::MAX))
}

impl Outcome {
    /// Of a finished plan; `rack` in the order of [`Inputs::boards`], `order_of` the box of each item.
    pub(crate) fn of(plan: &StockPlan, rack: &[Board], order_of: &[usize], shop: &Shop) -> Self {
        let item = |i: usize| plan.demand.items.get(i).map_or_else(String::new, |item| item.id.clone());
        let of = |i: usize| order_of.get(i).copied().unwrap_or(0);
        Self {
            boards: boards_cut(&plan.demand, &plan.cutting, rack, order_of, shop),
            missing: plan
                .cutting
                .short
                .iter()
                .map(|s| Missing { name: item(s.item), of: of(s.item), why: s.why.words().to_owned() })
                .collect(),
            figures: Figures::of(&plan.cutting, plan.bound),
            judged: plan.judged.iter().map(ToString::to_string).collect(),
            seed: plan.cutting.seed,
            steps: plan.cutting.steps,
        }
    }
}

/// Every board that a plan cuts, drawn.
pub(crate) fn boards_cut(
    demand: &Demand,
    plan: &Plan,
    rack: &[Board],
    order_of: &[usize],
    shop: &Shop,
) -> Vec<BoardCut> {
    let show = showing(shop);
    let names: Vec<String> = demand.items.iter().map(|i| i.id.clone()).collect();
    let mut out = Vec::with_capacity(plan.layouts.len());
    for layout in &plan.layouts {
        let Some(stock) = demand.stock.get(layout.stock) else { continue };
        let name = rack.get(stock.board).map_or_else(String::new, |b| b.name.clone());
        let drawn = board_layout(stock, layout, &names, show.shown, ROOM);
        let blanks = layout.parts.iter().map(|p| Blank {
            name: names.get(p.item).cloned().unwrap_or_default(),
            of: order_of.get(p.item).copied().unwrap_or(0),
            at: Spot { x: p.x.to_mm(), y: p.y.to_mm(), length: p.length.to_mm(), width: p.width.to_mm() },
        });
        let offcuts = layout.offcuts.iter().map(|o| Spot {
            x: o.x.to_mm(),
            y: o.y.to_mm(),
            length: o.length.to_mm(),
            width: o.width.to_mm(),
        });
        out.push(BoardCut {
            board: stock.board,
            svg: svg::write(&drawn.drawing, 1.0, 2.0, &format!("Board {name} with its blanks and cuts")),
            name,
            legend: drawn.legend,
            blanks: blanks.collect(),
            offcuts: offcuts.collect(),
            cuts: layout.cuts().len(),
            cost: layout.cost,
        });
    }
    out
}
