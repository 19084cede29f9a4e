//! From laid blanks to a tree of cuts, and from there to the layout that the shop follows.

use super::blanks::{Blank, Ground, Spot};
use super::demand::{Demand, Order, Stock};
use super::layout::{Cut, CutKind, Layout, Next, Offcut, Piece, Placed};
use super::ticks;
use crate::units::{Area, Length};

/// A blank on the whole board, in ticks, without kerf.
#[derive(Clone, Copy, Debug)]
pub(super) struct Laid {
    pub(super) blank: Blank,
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) len: i64,
    pub(super) high: i64,
}

/// How the cutting of a board begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Start {
    Rip,
    Crosscut,
    /// One crosscut frees what is unused at the right end, whole; then as with `Rip`.
    CutOffEnd,
}

#[derive(Clone, Copy, Debug)]
struct Box4 {
    x: i64,
    y: i64,
    len: i64,
    high: i64,
}

/// Gives each spot a blank of its kind; `taken` counts the blanks given so far, per kind.
pub(super) fn lay_blanks(
    demand: &Demand,
    ground: &Ground,
    slab: usize,
    spots: &[Spot],
    taken: &mut [usize],
) -> Vec<Laid> {
    let kerf = ticks::up(demand.rules.kerf);
    let corner = ground.slabs[slab].corner;
    let mut spots = spots.to_vec();
    spots.sort_by_key(|s| (s.y, s.x));
    let mut out = Vec::with_capacity(spots.len());
    for s in spots {
        let kind = &ground.kinds[s.kind];
        if let Some(&blank) = kind.blanks.get(taken[s.kind]) {
            taken[s.kind] += 1;
            let (len, high) = (kind.len - kerf, kind.high - kerf);
            out.push(Laid { blank, x: s.x + corner.0, y: s.y + corner.1, len, high });
        }
    }
    out
}

/// The layout of one board; of the allowed orders of cutting, the one that keeps the largest offcut.
pub(super) fn layout(demand: &Demand, stock_place: usize, stock: &Stock, blanks: &[Laid]) -> Layout {
    let starts: &[Start] = match demand.rules.order {
        Order::RipFirst => &[Start::Rip],
        Order::CrosscutFirst => &[Start::Crosscut, Start::CutOffEnd],
        Order::Either => &[Start::Rip, Start::Crosscut, Start::CutOffEnd],
    };
    let mut best: Option<(f64, Layout)> = None;
    for &start in starts {
        let mut builder = Builder {
            demand,
            stock,
            kerf: ticks::up(demand.rules.kerf),
            parts: Vec::new(),
            offcuts: Vec::new(),
        };
        let whole = Box4 { x: 0, y: 0, len: ticks::down(stock.length), high: ticks::down(stock.width) };
        let mut root = builder.whole_board(whole, blanks, start);
        root.length = stock.length;
        root.width = stock.width;
        let used: Area = builder.parts.iter().map(|p| p.length * p.width).sum();
        let kept: Area = builder.offcuts.iter().map(|o| o.length * o.width).sum();
        let largest = builder.offcuts.iter().map(|o| (o.length * o.width).to_mm2()).fold(0.0, f64::max);
        if best.as_ref().is_none_or(|b| largest > b.0) {
            let waste = stock.length * stock.width - used - kept;
            let (parts, offcuts) = (builder.parts, builder.offcuts);
            let cost = stock.cost;
            best = Some((largest, Layout { stock: stock_place, root, parts, offcuts, waste, cost }));
        }
    }
    best.map_or_else(|| bare(stock_place, stock), |b| b.1)
}

fn bare(stock_place: usize, stock: &Stock) -> Layout {
    let root = Piece {
        x: Length::ZERO,
        y: Length::ZERO,
        length: stock.length,
        width: stock.width,
        next: Next::Waste,
    };
    let waste = stock.length * stock.width;
    Layout { stock: stock_place, root, parts: Vec::new(), offcuts: Vec::new(), waste, cost: stock.cost }
}

struct Builder<'a> {
    demand: &'a Demand,
    stock: &'a Stock,
    kerf: i64,
    parts: Vec<Placed>,
    offcuts: Vec<Offcut>,
}

impl Builder<'_> {
    fn whole_board(&mut self, at: Box4, blanks: &[Laid], start: Start) -> Piece {
        let far = blanks.iter().map(|b| b.x + b.len).max().unwrap_or(at.len);
        match start {
            Start::Rip => self.piece(at, blanks, CutKind::Rip),
            Start::CutOffEnd if far < at.len => {
                let next = self.split(at, blanks, CutKind::Crosscut, far, CutKind::Rip);
                Piece { next, ..bare_piece(at) }
            }
            Start::Crosscut | Start::CutOffEnd => self.piece(at, blanks, CutKind::Crosscut),
        }
    }

    fn piece(&mut self, at: Box4, blanks: &[Laid], prefer: CutKind) -> Piece {
        let next = self.next(at, blanks, prefer);
        Piece { next, ..bare_piece(at) }
    }

    fn next(&mut self, at: Box4, blanks: &[Laid], prefer: CutKind) -> Next {
        let Some(only) = blanks.first() else {
            return self.leftover(at);
        };
        if blanks.len() == 1 && (only.x, only.y, only.len, only.high) == (at.x, at.y, at.len, at.high) {
            return self.finished(only);
        }
        let other = turned(prefer);
        // Cuts between blanks first, then trims; in the wanted direction first.
        let tries = [(prefer, false), (other, false), (prefer, true), (other, true)];
        for (kind, trims) in tries {
            let found = if trims { self.trim(at, blanks, kind) } else { self.parting(blanks, kind) };
            if let Some(edge) = found {
                return self.split(at, blanks, kind, edge, prefer);
            }
        }
        // The search lays only what guillotine cuts can free; if that ever failed, the judge says so.
        Next::Waste
    }

    /// Where a cut can pass between blanks: the far edge of those before it.
    fn parting(&self, blanks: &[Laid], kind: CutKind) -> Option<i64> {
        let mut sides: Vec<(i64, i64)> = blanks.iter().map(|b| side(b, kind)).collect();
        sides.sort_unstable();
        let mut reach = sides.first()?.1;
        for &(from, to) in &sides {
            if from >= reach + self.kerf && from > sides.first()?.0 {
                return Some(reach);
            }
            reach = reach.max(to);
        }
        None
    }

    /// Where a trimming cut frees the near or far edge of the blanks.
    fn trim(&self, at: Box4, blanks: &[Laid], kind: CutKind) -> Option<i64> {
        let (from, to) = match kind {
            CutKind::Crosscut => (at.x, at.x + at.len),
            CutKind::Rip => (at.y, at.y + at.high),
        };
        let near = blanks.iter().map(|b| side(b, kind).0).min()?;
        let far = blanks.iter().map(|b| side(b, kind).1).max()?;
        if near > from {
            Some(near - self.kerf)
        } else if far < to {
            Some(far)
        } else {
            None
        }
    }

    fn split(&mut self, at: Box4, blanks: &[Laid], kind: CutKind, edge: i64, prefer: CutKind) -> Next {
        let (before, after): (Vec<Laid>, Vec<Laid>) = blanks.iter().partition(|b| side(b, kind).1 <= edge);
        let (first, second) = match kind {
            CutKind::Crosscut => (
                Box4 { len: edge - at.x, ..at },
                Box4 { x: edge + self.kerf, len: at.x + at.len - edge - self.kerf, ..at },
            ),
            CutKind::Rip => (
                Box4 { high: edge - at.y, ..at },
                Box4 { y: edge + self.kerf, high: at.y + at.high - edge - self.kerf, ..at },
            ),
        };
        // What is cut off is worked the other way; what remains goes on in the same way.
        let first_prefer = if kind == prefer { turned(prefer) } else { prefer };
        let first = (first.len > 0 && first.high > 0).then(|| self.piece(first, &before, first_prefer));
        let second = (second.len > 0 && second.high > 0).then(|| self.piece(second, &after, prefer));
        Next::Split {
            cut: Cut { kind, at: ticks::length(edge) },
            first: first.map(Box::new),
            second: second.map(Box::new),
        }
    }

    fn leftover(&mut self, at: Box4) -> Next {
        let (length, width) = (ticks::length(at.len), ticks::length(at.high));
        let keep = &self.demand.rules.keep;
        if length < keep.length || width < keep.width {
            return Next::Waste;
        }
        let (x, y) = (ticks::length(at.x), ticks::length(at.y));
        let reaches = |d: &&super::demand::StockDefect| {
            d.x < x + length && d.x + d.length > x && d.y < y + width && d.y + d.width > y
        };
        let faults = self.stock.defects.iter().filter(reaches).count();
        self.offcuts.push(Offcut { x, y, length, width, faults });
        Next::Offcut
    }

    fn finished(&mut self, laid: &Laid) -> Next {
        match laid.blank {
            Blank::Item(item) => {
                self.place(item, laid.x, laid.y);
                Next::Part(item)
            }
            Blank::Run(r) => {
                if let Some(run) = self.demand.runs.get(r) {
                    let gap = ticks::up(self.demand.gap_of(run));
                    let mut x = laid.x;
                    for &item in &run.items {
                        self.place(item, x, laid.y);
                        x += self.demand.items.get(item).map_or(0, |i| ticks::up(i.length)) + gap;
                    }
                }
                Next::Run(r)
            }
        }
    }

    fn place(&mut self, item: usize, x: i64, y: i64) {
        if let Some(of) = self.demand.items.get(item) {
            let (x, y) = (ticks::length(x), ticks::length(y));
            self.parts.push(Placed { item, x, y, length: of.length, width: of.width });
        }
    }
}

fn bare_piece(at: Box4) -> Piece {
    Piece {
        x: ticks::length(at.x),
        y: ticks::length(at.y),
        length: ticks::length(at.len),
        width: ticks::length(at.high),
        next: Next::Waste,
    }
}

const fn turned(kind: CutKind) -> CutKind {
    match kind {
        CutKind::Crosscut => CutKind::Rip,
        CutKind::Rip => CutKind::Crosscut,
    }
}

const fn side(b: &Laid, kind: CutKind) -> (i64, i64) {
    match kind {
        CutKind::Crosscut => (b.x, b.x + b.len),
        CutKind::Rip => (b.y, b.y + b.high),
    }
}
