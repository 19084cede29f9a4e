//! Follows a plan's own cuts from the whole board to the last blank.

use super::super::demand::{Demand, Order, Stock};
use super::super::layout::{CutKind, Layout, Next, Offcut, Piece};
use super::{GRAIN, NOISE, Problem, near};
use crate::units::{Area, Length};

struct Follow<'a> {
    demand: &'a Demand,
    layout: &'a Layout,
    kerf: f64,
    freed: Vec<usize>,
    kept: usize,
    wrong: Vec<&'static str>,
}

/// Adds what is wrong with the cuts of one board.
pub(super) fn follow(demand: &Demand, stock: &Stock, layout: &Layout, out: &mut Vec<Problem>) {
    let kerf = demand.rules.kerf.to_mm();
    let mut f = Follow { demand, layout, kerf, freed: Vec::new(), kept: 0, wrong: Vec::new() };
    let root = &layout.root;
    let whole = near(root.length, stock.length, NOISE)
        && near(root.width, stock.width, NOISE)
        && near(root.x, Length::ZERO, NOISE)
        && near(root.y, Length::ZERO, NOISE);
    if !whole {
        f.wrong.push("it does not begin with the whole board");
    }
    f.pieces(root);
    f.freed.sort_unstable();
    let mut laid: Vec<usize> = layout.parts.iter().map(|p| p.item).collect();
    laid.sort_unstable();
    if f.freed != laid {
        f.wrong.push("the cuts do not free exactly the parts laid out");
    }
    if f.kept != layout.offcuts.len() {
        f.wrong.push("the offcuts listed are not those that the cuts leave");
    }
    if demand.rules.order == Order::RipFirst && crosscut_before_parting_rip(root) {
        f.wrong.push("a crosscut comes before a rip that parts blanks, though rips come first");
    }
    f.areas(stock);
    let stock = layout.stock;
    out.extend(f.wrong.into_iter().map(|why| Problem::Tree { stock, why }));
}

impl Follow<'_> {
    fn pieces(&mut self, root: &Piece) {
        let mut stack = vec![root];
        while let Some(piece) = stack.pop() {
            match &piece.next {
                Next::Split { cut, first, second } => {
                    if first.is_none() && second.is_none() {
                        self.wrong.push("a cut leaves nothing");
                    }
                    let (from, to) = span(piece, cut.kind);
                    let (at, end) = (cut.at.to_mm(), cut.at.to_mm() + self.kerf);
                    if at > to + NOISE || end < from - NOISE {
                        self.wrong.push("a cut misses its piece");
                    }
                    self.side(piece, first.as_deref(), cut.kind, (from, at));
                    self.side(piece, second.as_deref(), cut.kind, (end, to));
                    stack.extend(second.as_deref());
                    stack.extend(first.as_deref());
                }
                Next::Part(item) => self.part(piece, *item),
                Next::Run(run) => self.run(piece, *run),
                Next::Offcut => self.offcut(piece),
                Next::Waste => {}
            }
        }
    }

    /// One side of a cut: as wide as the piece was, and reaching from the cut to the piece's edge.
    fn side(&mut self, piece: &Piece, side: Option<&Piece>, kind: CutKind, want: (f64, f64)) {
        let Some(side) = side else { return };
        let (from, to) = span(side, kind);
        let (cross, of_piece) = (span(side, other(kind)), span(piece, other(kind)));
        let holds = from >= want.0 - NOISE
            && to <= want.1 + NOISE
            && from <= want.0 + GRAIN
            && to >= want.1 - GRAIN
            && (cross.0 - of_piece.0).abs() <= NOISE
            && cross.1 <= of_piece.1 + NOISE
            && cross.1 >= of_piece.1 - GRAIN;
        if !holds {
            self.wrong.push("a piece is not what its cut leaves");
        }
    }

    fn part(&mut self, piece: &Piece, item: usize) {
        self.freed.push(item);
        let Some(part) = self.layout.parts.iter().find(|p| p.item == item) else {
            return;
        };
        let holds = near(piece.x, part.x, NOISE)
            && near(piece.y, part.y, NOISE)
            && snug(piece.length, part.length)
            && snug(piece.width, part.width);
        if !holds {
            self.wrong.push("a freed blank is not where or what the layout says");
        }
    }

    fn run(&mut self, piece: &Piece, run: usize) {
        let Some(run) = self.demand.runs.get(run) else {
            self.wrong.push("a strip for a run that does not exist");
            return;
        };
        self.freed.extend(&run.items);
        let place = |item: &usize| self.layout.parts.iter().find(|p| p.item == *item);
        let (Some(head), Some(tail)) = (run.items.first().and_then(place), run.items.last().and_then(place))
        else {
            return;
        };
        let holds = near(piece.x, head.x, NOISE)
            && near(piece.y, head.y, NOISE)
            && snug(piece.length, tail.x + tail.length - head.x)
            && snug(piece.width, head.width);
        if !holds {
            self.wrong.push("a strip is not where or what its run says");
        }
    }

    fn offcut(&mut self, piece: &Piece) {
        self.kept += 1;
        let keep = &self.demand.rules.keep;
        if piece.length < keep.length || piece.width < keep.width {
            self.wrong.push("an offcut is kept that is too small");
        }
        let same = |o: &&Offcut| {
            near(o.x, piece.x, NOISE)
                && near(o.y, piece.y, NOISE)
                && near(o.length, piece.length, NOISE)
                && near(o.width, piece.width, NOISE)
        };
        if self.layout.offcuts.iter().find(same).is_none() {
            self.wrong.push("an offcut is not listed");
        }
    }

    fn areas(&mut self, stock: &Stock) {
        let parts: Area = self.layout.parts.iter().map(|p| p.length * p.width).sum();
        let kept: Area = self.layout.offcuts.iter().map(|o| o.length * o.width).sum();
        let waste = stock.length * stock.width - parts - kept;
        if (waste - self.layout.waste).to_mm2().abs() > 1e-3 || waste.to_mm2() < -1e-3 {
            self.wrong.push("parts, offcuts and waste do not add up to the board");
        }
    }
}

fn span(piece: &Piece, kind: CutKind) -> (f64, f64) {
    match kind {
        CutKind::Crosscut => (piece.x.to_mm(), (piece.x + piece.length).to_mm()),
        CutKind::Rip => (piece.y.to_mm(), (piece.y + piece.width).to_mm()),
    }
}

const fn other(kind: CutKind) -> CutKind {
    match kind {
        CutKind::Crosscut => CutKind::Rip,
        CutKind::Rip => CutKind::Crosscut,
    }
}

/// A piece is never smaller than its part and larger only by the grain of the ticks.
fn snug(piece: Length, part: Length) -> bool {
    piece.to_mm() >= part.to_mm() - NOISE && piece.to_mm() <= part.to_mm() + GRAIN
}

/// Whether somewhere below a crosscut a rip has blanks on both sides.
fn crosscut_before_parting_rip(root: &Piece) -> bool {
    let mut stack = vec![(root, false)];
    while let Some((piece, crosscut)) = stack.pop() {
        if let Next::Split { cut, first, second } = &piece.next {
            let both = [first, second].into_iter().all(|s| s.as_deref().is_some_and(holds_blank));
            if cut.kind == CutKind::Rip && crosscut && both {
                return true;
            }
            let crosscut = crosscut || cut.kind == CutKind::Crosscut;
            stack.extend(first.as_deref().map(|p| (p, crosscut)));
            stack.extend(second.as_deref().map(|p| (p, crosscut)));
        }
    }
    false
}

fn holds_blank(piece: &Piece) -> bool {
    let mut stack = vec![piece];
    while let Some(piece) = stack.pop() {
        match &piece.next {
            Next::Split { first, second, .. } => {
                stack.extend(first.as_deref());
                stack.extend(second.as_deref());
            }
            Next::Part(_) | Next::Run(_) => return true,
            Next::Offcut | Next::Waste => {}
        }
    }
    false
}
