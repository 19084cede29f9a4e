//! The ground of the search: blanks and boards in ticks, with the kerf folded in.
//!
//! Every blank and every board grows by one kerf in both directions; then blanks need only not overlap.
//! A fault shrinks by one kerf at its left and lower side for the same reason (a blank's own kerf may
//! run into it). A run is one long blank.

use super::demand::{Demand, Stock};
use super::layout::{ShortWhy, Shortage};
use super::ticks;

/// What a blank becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Blank {
    Item(usize),
    Run(usize),
}

/// Blanks that are alike for the search.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    pub(super) len: i64,
    pub(super) high: i64,
    pub(super) blanks: Vec<Blank>,
    pub(super) wood: String,
    pub(super) thick: i64,
}

impl Kind {
    pub(super) fn area(&self) -> i64 {
        self.len.saturating_mul(self.high)
    }
}

/// A fault, from the lower left corner of the usable face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Fault {
    pub(super) x0: i64,
    pub(super) x1: i64,
    pub(super) y0: i64,
    pub(super) y1: i64,
}

/// The usable face of a board.
#[derive(Clone, Debug)]
pub(super) struct Slab {
    pub(super) len: i64,
    pub(super) high: i64,
    /// Corner of the usable face on the whole board.
    pub(super) corner: (i64, i64),
    /// Left to right.
    pub(super) faults: Vec<Fault>,
    pub(super) cost: u64,
    /// What the search minimizes: cost first, and at the same cost the area of the boards used.
    pub(super) rank: u64,
    /// Per kind: right wood, thick enough, and a clear place large enough.
    pub(super) fits: Vec<bool>,
}

/// A kind laid somewhere, in ticks from the corner of the usable face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    pub(super) kind: usize,
    pub(super) x: i64,
    pub(super) y: i64,
}

/// All that the search and the bound look at.
#[derive(Clone, Debug)]
pub(super) struct Ground {
    pub(super) kinds: Vec<Kind>,
    pub(super) slabs: Vec<Slab>,
    /// What no board can ever give; not among the kinds.
    pub(super) short: Vec<Shortage>,
}

impl Ground {
    /// The ground of a checked demand.
    pub(super) fn of(demand: &Demand) -> Self {
        let kerf = ticks::up(demand.rules.kerf);
        let mut slabs: Vec<Slab> = demand.stock.iter().map(|s| slab(s, kerf)).collect();
        let mut kinds = kinds(demand, kerf);
        let mut short = Vec::new();
        kinds.retain(|kind| {
            let why = misfit(kind, demand, &slabs);
            if let Some(why) = why {
                short.extend(items_of(kind, demand).map(|item| Shortage { item, why }));
            }
            why.is_none()
        });
        // Widest and longest first: a fixed order, whatever the order of the demand.
        kinds.sort_by(|a, b| (b.high, b.len, &a.wood, a.thick).cmp(&(a.high, a.len, &b.wood, b.thick)));
        for (slab, stock) in slabs.iter_mut().zip(&demand.stock) {
            slab.fits = kinds.iter().map(|k| suits(k, stock) && has_place(k, slab)).collect();
        }
        rank(&mut slabs);
        short.sort();
        Self { kinds, slabs, short }
    }

    /// How many blanks of each kind are needed.
    pub(super) fn need(&self) -> Vec<u32> {
        self.kinds.iter().map(|k| u32::try_from(k.blanks.len()).unwrap_or(u32::MAX)).collect()
    }
}

/// Cost first, area (in square centimeters) second: boards that are already paid for are not wasted.
fn rank(slabs: &mut [Slab]) {
    let area = |s: &Slab| u64::try_from(s.len.max(0) * s.high.max(0) / (3200 * 3200)).unwrap_or(0) + 1;
    let all = slabs.iter().map(area).fold(1_u64, u64::saturating_add);
    for slab in slabs {
        slab.rank = slab.cost.saturating_mul(all).saturating_add(area(slab));
    }
}

/// The items that a kind stands for.
pub(super) fn items_of<'a>(kind: &'a Kind, demand: &'a Demand) -> impl Iterator<Item = usize> + 'a {
    kind.blanks.iter().flat_map(move |&blank| items_of_blank(blank, demand))
}

/// The items that one blank stands for.
pub(super) fn items_of_blank(blank: Blank, demand: &Demand) -> Vec<usize> {
    match blank {
        Blank::Item(i) => vec![i],
        Blank::Run(r) => demand.runs.get(r).map_or_else(Vec::new, |run| run.items.clone()),
    }
}

fn kinds(demand: &Demand, kerf: i64) -> Vec<Kind> {
    let mut out: Vec<Kind> = Vec::new();
    let mut add = |blank: Blank, len: i64, item: &super::demand::Item| {
        let (len, high) = (len + kerf, ticks::up(item.width) + kerf);
        let thick = ticks::up(item.min_thickness);
        let same = |k: &&mut Kind| k.len == len && k.high == high && k.thick == thick && k.wood == item.wood;
        if let Some(kind) = out.iter_mut().find(same) {
            kind.blanks.push(blank);
        } else {
            out.push(Kind { len, high, blanks: vec![blank], wood: item.wood.clone(), thick });
        }
    };
    let mut in_run = vec![false; demand.items.len()];
    for (r, run) in demand.runs.iter().enumerate() {
        let gap = ticks::up(demand.gap_of(run));
        let mut len = -gap;
        for &i in &run.items {
            if let (Some(item), Some(mark)) = (demand.items.get(i), in_run.get_mut(i)) {
                *mark = true;
                len += ticks::up(item.length) + gap;
            }
        }
        let widest = run.items.iter().filter_map(|&i| demand.items.get(i));
        if let Some(item) = widest.max_by_key(|i| (ticks::up(i.width), ticks::up(i.min_thickness))) {
            add(Blank::Run(r), len, item);
        }
    }
    for (i, item) in demand.items.iter().enumerate() {
        if in_run.get(i) == Some(&false) {
            add(Blank::Item(i), ticks::up(item.length), item);
        }
    }
    out
}

fn slab(stock: &Stock, kerf: i64) -> Slab {
    let m = &stock.margins;
    let corner = (ticks::up(m.left), ticks::up(m.lower));
    let len = ticks::down(stock.length) - corner.0 - ticks::up(m.right) + kerf;
    let high = ticks::down(stock.width) - corner.1 - ticks::up(m.upper) + kerf;
    let mut faults: Vec<Fault> = Vec::new();
    for d in &stock.defects {
        let (x0, x1) = shrunk(ticks::down(d.x) - corner.0, ticks::up(d.x + d.length) - corner.0, kerf);
        let (y0, y1) = shrunk(ticks::down(d.y) - corner.1, ticks::up(d.y + d.width) - corner.1, kerf);
        let fault = Fault { x0: x0.max(0), x1: x1.min(len), y0: y0.max(0), y1: y1.min(high) };
        if fault.x0 < fault.x1 && fault.y0 < fault.y1 {
            faults.push(fault);
        }
    }
    faults.sort_by_key(|f| (f.x0, f.y0, f.x1, f.y1));
    faults.dedup();
    Slab { len, high, corner, faults, cost: stock.cost, rank: 0, fits: Vec::new() }
}

/// A fault's side without the kerf that a neighbor's saw cut may take from it; never empty, to be safe.
fn shrunk(from: i64, to: i64, kerf: i64) -> (i64, i64) {
    ((from + kerf).min(to - 1), to)
}

fn suits(kind: &Kind, stock: &Stock) -> bool {
    kind.wood == stock.wood && kind.thick <= ticks::down(stock.thickness)
}

/// Whether both are sheets of one kind, which are asked for by name and thickness with a blank between.
fn same_sheet(a: &str, b: &str) -> bool {
    matches!((a.split_once(' '), b.split_once(' ')), (Some((a, _)), Some((b, _))) if a == b)
}

fn misfit(kind: &Kind, demand: &Demand, slabs: &[Slab]) -> Option<ShortWhy> {
    let mut why = ShortWhy::NoSuchWood;
    for (stock, slab) in demand.stock.iter().zip(slabs) {
        if kind.wood == stock.wood {
            why = why.max(ShortWhy::TooThin);
        } else if same_sheet(&kind.wood, &stock.wood) {
            why = why.max(ShortWhy::NoSuchThickness);
        }
        if suits(kind, stock) {
            if has_place(kind, slab) {
                return None;
            }
            why = ShortWhy::NoClearPlace;
        }
    }
    Some(why)
}

fn has_place(kind: &Kind, slab: &Slab) -> bool {
    let starts = core::iter::once(0).chain(slab.faults.iter().map(|f| f.y1));
    let mut clear = Vec::new();
    for y in starts {
        if y + kind.high <= slab.high {
            clear_intervals(&slab.faults, (y, y + kind.high), (0, slab.len), &mut clear);
            if clear.iter().any(|&(a, b)| b - a >= kind.len) {
                return true;
            }
        }
    }
    false
}

/// The stretches of `span` that no fault reaches within `rows`, left to right.
pub(super) fn clear_intervals(
    faults: &[Fault],
    rows: (i64, i64),
    span: (i64, i64),
    out: &mut Vec<(i64, i64)>,
) {
    out.clear();
    let mut at = span.0;
    for f in faults {
        if f.x0 >= span.1 {
            break;
        }
        if f.y0 < rows.1 && f.y1 > rows.0 {
            if f.x0 > at {
                out.push((at, f.x0));
            }
            at = at.max(f.x1);
        }
    }
    if at < span.1 {
        out.push((at, span.1));
    }
}
