//! From billets to boards: the cutting plan with its bound and its judge, and what must be bought.

use super::billets::{Billet, BoxOrder, Question, ask};
use super::shopping::{Purchase, purchases};
use crate::boards::{Board, Milling};
use crate::cutting::{self, Bound, Demand, KeepOffcuts, Listener, Order, Terminator};
use crate::parts::BoxParts;
use crate::units::{Area, Length, Money};

/// What a shop brings to the cutting of boards.
#[derive(Clone, Debug, PartialEq)]
pub struct StockRules {
    /// Kerf of the saw that breaks boards down.
    pub kerf: Length,
    /// What planer and bandsaw take.
    pub milling: Milling,
    /// Which cuts come first.
    pub order: Order,
    /// Offcuts worth keeping.
    pub keep: KeepOffcuts,
    /// Added to the width of each strip of an edge-glued panel for jointing its edges.
    pub jointing: Length,
    /// Share of waste to buy for, where no rack is there to plan on (20 to 40 % for boxes, common practice).
    pub buying_waste: f64,
    /// Spare parts in a batch, as a share (5 to 10 %, common practice); keys only.
    pub spares: f64,
}

/// Everything about the stock of one job.
#[derive(Clone, Debug, PartialEq)]
pub struct StockPlan {
    /// One per item of the demand, in order.
    pub billets: Vec<Billet>,
    /// What was asked of the boards.
    pub demand: Demand,
    /// The layouts.
    pub cutting: cutting::Plan,
    /// No complete plan of these billets on this rack is cheaper; `None` without a rack.
    pub bound: Option<Bound>,
    /// No complete plan of these billets on this rack uses less board; `None` where there is none.
    pub area_bound: Option<Area>,
    /// What the independent judge finds wrong with the layouts: nothing, or the plan must not be cut.
    pub judged: Vec<cutting::verify::Problem>,
    /// What is missing, or everything when there is no rack.
    pub shopping: Vec<Purchase>,
    /// How many boxes the layout is for.
    pub laid_out: u32,
    /// Area of all boards used.
    pub board_area: Area,
    /// Area of the billets laid out on them.
    pub billet_area: Area,
    /// Area of offcuts kept.
    pub kept_area: Area,
    /// Cost of the boards used, less the share of kept offcuts.
    pub cost: Money,
}

impl StockPlan {
    /// Share of the boards that does not become a billet, kept offcuts included.
    pub fn not_billets(&self) -> f64 {
        let all = self.board_area.to_mm2();
        if all > 0.0 { 1.0 - self.billet_area.to_mm2() / all } else { 0.0 }
    }

    /// No complete plan leaves a smaller share than this (see [`StockPlan::not_billets`]).
    pub fn least_not_billets(&self) -> Option<f64> {
        let least = self.area_bound?.to_mm2();
        (least > 0.0).then(|| (1.0 - self.billet_area.to_mm2() / least).max(0.0))
    }

    /// Share of the boards that neither becomes a billet nor a kept offcut.
    pub fn waste(&self) -> f64 {
        let all = self.board_area.to_mm2();
        if all > 0.0 { 1.0 - (self.billet_area + self.kept_area).to_mm2() / all } else { 0.0 }
    }
}

/// Plans the stock for a batch.
pub fn plan_stock(
    parts: &BoxParts,
    count: u32,
    rack: Option<&[Board]>,
    rules: &StockRules,
    settings: cutting::Settings,
    stop: &mut dyn Terminator,
) -> StockPlan {
    let order = [BoxOrder { name: None, parts, count }];
    lay_out(ask(&order, rack.unwrap_or_default(), rules), settings, stop, &mut cutting::Silent)
}

/// Lays out what is asked, judges the result and lists what is missing; `listener` hears of every better plan.
pub fn lay_out(
    question: Question<'_>,
    settings: cutting::Settings,
    stop: &mut dyn Terminator,
    listener: &mut dyn Listener,
) -> StockPlan {
    let demand = &question.demand;
    let nothing = || cutting::Plan {
        layouts: Vec::new(),
        short: all_short(demand),
        cost: 0,
        seed: settings.seed,
        steps: 0,
    };
    let without = demand.stock.is_empty();
    let cutting = if without {
        nothing()
    } else {
        cutting::plan(demand, settings, stop, listener).unwrap_or_else(|_| nothing())
    };
    let judged = if without { Vec::new() } else { cutting::verify::problems(demand, &cutting) };
    let bound = question.bound();
    let area_bound = bound.and_then(|_| question.least_area());
    let shopping = purchases(&question, &cutting);
    let area = |l: Length, w: Length| l * w;
    let board_area = cutting.layouts.iter().map(|l| area(l.root.length, l.root.width)).sum();
    let billet_area = cutting.layouts.iter().flat_map(|l| &l.parts).map(|p| area(p.length, p.width)).sum();
    let kept_area = cutting.layouts.iter().flat_map(|l| &l.offcuts).map(|o| area(o.length, o.width)).sum();
    let cost = cutting.layouts.iter().map(less_offcuts).sum();
    let laid_out = question.orders.iter().map(BoxOrder::laid_out).sum();
    let Question { demand, billets, .. } = question;
    StockPlan {
        billets,
        demand,
        cutting,
        bound,
        area_bound,
        judged,
        shopping,
        laid_out,
        board_area,
        billet_area,
        kept_area,
        cost,
    }
}

/// Cost of a board less the share of its kept offcuts.
fn less_offcuts(layout: &cutting::Layout) -> Money {
    let whole = (layout.root.length * layout.root.width).to_mm2();
    let kept: f64 = layout.offcuts.iter().map(|o| (o.length * o.width).to_mm2()).sum();
    let price = Money::minor(i64::try_from(layout.cost).unwrap_or(i64::MAX));
    price.times(1.0 - kept / whole.max(1.0))
}

/// Every item is short: there is no board at all.
fn all_short(demand: &Demand) -> Vec<cutting::Shortage> {
    (0..demand.items.len())
        .map(|item| cutting::Shortage { item, why: cutting::ShortWhy::NoSuchWood })
        .collect()
}
