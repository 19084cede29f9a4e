//! The independent judge of a plan: written apart from the search, in plain millimeters, trusting nothing.
//!
//! It looks at the parts as they lie (size, board, wood, thickness, rim, faults, kerf, runs), decides from
//! scratch whether saw cuts from edge to edge can free them, and then follows the plan's own tree of cuts
//! to see that it frees exactly these parts.

mod guillotine;
mod tree;

use super::demand::{Demand, Rules, Run, Stock};
use super::layout::{Layout, Placed, Plan};
use crate::units::Length;
use thiserror::Error;

/// What binary fractions may be off by, in millimeters.
const NOISE: f64 = 1e-6;
/// What the search's whole ticks may add where a length has to be hit exactly, in millimeters.
const GRAIN: f64 = 0.01;

/// Something wrong with a plan.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Problem {
    /// An item that is placed or reported short other than once in all.
    #[error("item {item} is accounted for {times} times; it must be placed once or reported short once")]
    NotOnce {
        /// Its place in the demand.
        item: usize,
        /// Placements and shortages together.
        times: usize,
    },
    /// A number that points at nothing.
    #[error("the plan names {what} number {place}, which does not exist")]
    NoSuch {
        /// `item`, `stock` or `run`.
        what: &'static str,
        /// The number.
        place: usize,
    },
    /// A board cut twice.
    #[error("board {stock} is cut up twice")]
    BoardTwice {
        /// Its place in the stock.
        stock: usize,
    },
    /// A part of the wrong size.
    #[error("item {item} is laid out in another size than it has")]
    WrongSize {
        /// The item.
        item: usize,
    },
    /// A part that reaches beyond the usable face.
    #[error("item {item} reaches beyond the usable face of board {stock}")]
    OffBoard {
        /// The item.
        item: usize,
        /// The board.
        stock: usize,
    },
    /// The wrong wood.
    #[error("item {item} lies on board {stock}, which is another wood")]
    WrongWood {
        /// The item.
        item: usize,
        /// The board.
        stock: usize,
    },
    /// Too thin a board.
    #[error("item {item} lies on board {stock}, which is too thin")]
    TooThin {
        /// The item.
        item: usize,
        /// The board.
        stock: usize,
    },
    /// A part on a fault.
    #[error("item {item} lies on fault {defect} of board {stock}")]
    OnDefect {
        /// The item.
        item: usize,
        /// The board.
        stock: usize,
        /// The fault's place on the board.
        defect: usize,
    },
    /// Two parts closer than a kerf.
    #[error("items {a} and {b} on board {stock} are not a kerf apart")]
    TooClose {
        /// One.
        a: usize,
        /// The other.
        b: usize,
        /// The board.
        stock: usize,
    },
    /// A run that is torn apart, out of order or wrongly spaced.
    #[error("run {run} does not lie in one strip, in order, one gap between neighbors")]
    BrokenRun {
        /// The run's place in the demand.
        run: usize,
    },
    /// No order of cuts from edge to edge frees the parts.
    #[error("no cuts from edge to edge can free the parts on board {stock}")]
    NotGuillotine {
        /// The board.
        stock: usize,
    },
    /// The tree of cuts is wrong.
    #[error("the cuts of board {stock} do not follow: {why}")]
    Tree {
        /// The board.
        stock: usize,
        /// What is wrong.
        why: &'static str,
    },
    /// Sums that do not agree.
    #[error("the plan's {what} does not agree with its boards")]
    Sum {
        /// Which.
        what: &'static str,
    },
}

/// The first thing wrong with a plan.
///
/// # Errors
/// The first [`Problem`].
pub fn verify(demand: &Demand, plan: &Plan) -> Result<(), Problem> {
    problems(demand, plan).into_iter().next().map_or(Ok(()), Err)
}

/// Everything wrong with a plan.
pub fn problems(demand: &Demand, plan: &Plan) -> Vec<Problem> {
    let mut out = Vec::new();
    counted(demand, plan, &mut out);
    let mut seen = vec![false; demand.stock.len()];
    for layout in &plan.layouts {
        let place = layout.stock;
        let (Some(stock), Some(mark)) = (demand.stock.get(place), seen.get_mut(place)) else {
            out.push(Problem::NoSuch { what: "stock", place });
            continue;
        };
        if core::mem::replace(mark, true) {
            out.push(Problem::BoardTwice { stock: place });
        }
        for part in &layout.parts {
            one_part(demand, stock, place, part, &mut out);
        }
        pairs(&demand.rules, layout, &mut out);
        let rects: Vec<guillotine::Rect> = layout.parts.iter().map(guillotine::Rect::of).collect();
        if !guillotine::can_be_cut(rects, demand.rules.kerf.to_mm()) {
            out.push(Problem::NotGuillotine { stock: place });
        }
        tree::follow(demand, stock, layout, &mut out);
        if layout.cost != stock.cost {
            out.push(Problem::Sum { what: "cost of a board" });
        }
    }
    for (n, run) in demand.runs.iter().enumerate() {
        if !run_holds(demand, plan, run) {
            out.push(Problem::BrokenRun { run: n });
        }
    }
    if plan.cost != plan.layouts.iter().fold(0_u64, |sum, l| sum.saturating_add(l.cost)) {
        out.push(Problem::Sum { what: "cost" });
    }
    out
}

fn counted(demand: &Demand, plan: &Plan, out: &mut Vec<Problem>) {
    let mut times = vec![0_usize; demand.items.len()];
    let placed = plan.layouts.iter().flat_map(|l| l.parts.iter().map(|p| p.item));
    for item in placed.chain(plan.short.iter().map(|s| s.item)) {
        match times.get_mut(item) {
            Some(t) => *t += 1,
            None => out.push(Problem::NoSuch { what: "item", place: item }),
        }
    }
    let wrong = times.iter().enumerate().filter(|(_, t)| **t != 1);
    out.extend(wrong.map(|(item, &times)| Problem::NotOnce { item, times }));
}

fn one_part(demand: &Demand, stock: &Stock, place: usize, part: &Placed, out: &mut Vec<Problem>) {
    let Some(item) = demand.items.get(part.item) else {
        return;
    };
    let n = part.item;
    if !(near(part.length, item.length, NOISE) && near(part.width, item.width, NOISE)) {
        out.push(Problem::WrongSize { item: n });
    }
    let m = &stock.margins;
    let (right, top) = (part.x + part.length, part.y + part.width);
    let inside = part.x.to_mm() >= m.left.to_mm() - NOISE
        && part.y.to_mm() >= m.lower.to_mm() - NOISE
        && right.to_mm() <= (stock.length - m.right).to_mm() + NOISE
        && top.to_mm() <= (stock.width - m.upper).to_mm() + NOISE;
    if !inside {
        out.push(Problem::OffBoard { item: n, stock: place });
    }
    if item.wood != stock.wood {
        out.push(Problem::WrongWood { item: n, stock: place });
    }
    if item.min_thickness.to_mm() > stock.thickness.to_mm() + NOISE {
        out.push(Problem::TooThin { item: n, stock: place });
    }
    for (d, defect) in stock.defects.iter().enumerate() {
        let along = right.min(defect.x + defect.length) - part.x.max(defect.x);
        let across = top.min(defect.y + defect.width) - part.y.max(defect.y);
        if along.to_mm() > NOISE && across.to_mm() > NOISE {
            out.push(Problem::OnDefect { item: n, stock: place, defect: d });
        }
    }
}

fn pairs(rules: &Rules, layout: &Layout, out: &mut Vec<Problem>) {
    let kerf = rules.kerf.to_mm() - NOISE;
    for (n, a) in layout.parts.iter().enumerate() {
        for b in layout.parts.iter().skip(n + 1) {
            let along = (b.x - a.x - a.length).max(a.x - b.x - b.length).to_mm();
            let across = (b.y - a.y - a.width).max(a.y - b.y - b.width).to_mm();
            if along < kerf && across < kerf {
                out.push(Problem::TooClose { a: a.item, b: b.item, stock: layout.stock });
            }
        }
    }
}

/// All of a run is short, or all of it lies on one board as it should.
fn run_holds(demand: &Demand, plan: &Plan, run: &Run) -> bool {
    let find = |item: usize| {
        plan.layouts.iter().find_map(|l| l.parts.iter().find(|p| p.item == item).map(|p| (l.stock, p)))
    };
    let found: Vec<Option<(usize, &Placed)>> = run.items.iter().map(|&i| find(i)).collect();
    if found.iter().all(Option::is_none) {
        return true;
    }
    let gap = run.gap.unwrap_or(demand.rules.kerf);
    found.windows(2).all(|pair| match pair {
        [Some((board_a, a)), Some((board_b, b))] => {
            let between = b.x - (a.x + a.length);
            board_a == board_b
                && near(a.y, b.y, NOISE)
                && between.to_mm() >= gap.to_mm() - NOISE
                && near(between, gap, GRAIN)
        }
        _ => false,
    }) && found.iter().all(Option::is_some)
}

fn near(a: Length, b: Length, within: f64) -> bool {
    (a - b).abs().to_mm() <= within
}
