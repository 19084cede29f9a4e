//! A board with what is cut from it: parts, faults, kept offcuts, the cuts in order.

use super::place::{Scale, running, spread, width};
use super::{Room, Shown, fitted, wood};
use crate::drawing::{Dimension, Drawing, Item, Line, Pen, Text};
use crate::faces::Face;
use crate::ink;
use keepwright_model::cutting::{Cut, CutKind, Layout, Next, Piece, Stock};
use keepwright_model::units::Length;

/// A board's drawing with the names that did not fit into it.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardDrawing {
    /// The board.
    pub drawing: Drawing,
    /// What the numbers written into narrow parts stand for: number and name.
    pub legend: Vec<(u32, String)>,
}

/// The board of a layout, to scale.
///
/// `stock` is the board that the layout cuts, `names` the items of the demand by their place.
///
/// # Units
/// Millimeters of the paper, no larger than `room`.
pub fn board_layout(
    stock: &Stock,
    layout: &Layout,
    names: &[String],
    shown: Shown,
    room: Room,
) -> BoardDrawing {
    let size = [stock.length.to_mm(), stock.width.to_mm()];
    let mut legend = Vec::new();
    let drawing = fitted(room, size, 1.0, |scale| board(stock, layout, names, shown, scale).0);
    // The legend depends on the scale only through which names fit: asked again at the scale that was drawn.
    if let Some(scale) = drawn_scale(&drawing, size[0]) {
        legend = board(stock, layout, names, shown, scale).1;
    }
    BoardDrawing { drawing, legend }
}

/// The scale at which the board's outline, the first item, was drawn.
fn drawn_scale(drawing: &Drawing, length: f64) -> Option<f64> {
    match drawing.items.first()? {
        Item::Polygon { points, .. } => Some(points.get(1)?[0] / length.max(1e-6)),
        _ => None,
    }
}

fn board(
    stock: &Stock,
    layout: &Layout,
    names: &[String],
    shown: Shown,
    scale: f64,
) -> (Drawing, Vec<(u32, String)>) {
    let mm = |l: Length| l.to_mm() * scale;
    let (long, tall) = (mm(stock.length), mm(stock.width));
    let mut drawing = Drawing::new();
    let color = wood::color(&stock.wood);
    drawing.rectangle([0.0, 0.0], long, tall, Some(color.tint(0.22)), None);
    let mut legend: Vec<(u32, String)> = Vec::new();
    for offcut in &layout.offcuts {
        let (x, y, w, h) = (mm(offcut.x), mm(offcut.y), mm(offcut.length), mm(offcut.width));
        let pen = Pen::new(Line::Hidden).colored(ink::DONE);
        drawing.rectangle(
            [x + 0.4, y + 0.4],
            (w - 0.8).max(0.1),
            (h - 0.8).max(0.1),
            Some(ink::PAPER),
            Some(pen),
        );
        let size = 2.6_f64.min(h * 0.5);
        if size > 1.6 && width("keep", size) < w - 1.0 {
            drawing.text(Text::new([x + w / 2.0, y + h / 2.0], "keep").sized(size).colored(ink::DONE));
        }
    }
    margins(&mut drawing, stock, scale);
    for placed in &layout.parts {
        let (x, y, w, h) = (mm(placed.x), mm(placed.y), mm(placed.length), mm(placed.width));
        let pen = Pen::new(Line::Visible).wide(0.35);
        drawing.rectangle([x, y], w, h, Some(color.tint(0.55)), Some(pen));
    }
    for fault in &stock.defects {
        let (x, y, w, h) = (mm(fault.x), mm(fault.y), mm(fault.length), mm(fault.width));
        let pen = Pen::new(Line::Dimension).colored(ink::CANNOT).wide(0.35);
        drawing.rectangle([x, y], w, h, Some(ink::CANNOT.tint(0.2)), Some(pen));
        drawing.line([x, y], [x + w, y + h], pen);
        drawing.line([x, y + h], [x + w, y], pen);
    }
    let outline = Pen::new(Line::Visible);
    drawing.rectangle([0.0, 0.0], long, tall, None, Some(outline));
    let lowest = cuts(&mut drawing, layout, scale);
    for placed in &layout.parts {
        let at = [mm(placed.x), mm(placed.y), mm(placed.length), mm(placed.width)];
        let name = names.get(placed.item).map_or("", String::as_str);
        write_name(&mut drawing, &mut legend, name, at);
    }
    first_stage(&mut drawing, layout, [long, tall], shown, scale);
    let words = shown.dimension(stock.length);
    drawing.dimension(Dimension::level([0.0, 0.0], [long, 0.0], lowest - 9.0, words).sized(3.0));
    (drawing, legend)
}

/// What is unfit at the rim, hatched.
fn margins(drawing: &mut Drawing, stock: &Stock, scale: f64) {
    let (l, w) = (stock.length.to_mm() * scale, stock.width.to_mm() * scale);
    let m = &stock.margins;
    let [left, right, lower, upper] = [m.left, m.right, m.lower, m.upper].map(|v| v.to_mm() * scale);
    for [x, y, dx, dy] in
        [[0.0, 0.0, left, w], [l - right, 0.0, right, w], [0.0, 0.0, l, lower], [0.0, w - upper, l, upper]]
    {
        if dx > 0.05 && dy > 0.05 {
            let points = vec![[x, y], [x + dx, y], [x + dx, y + dy], [x, y + dy]];
            let pen = Pen::new(Line::Figure);
            drawing.push(Item::Hatch { points, angle: 45.0, spacing: 1.2, pen });
        }
    }
}

/// A part's name inside its rectangle, level or upright; else a number that the legend explains.
fn write_name(drawing: &mut Drawing, legend: &mut Vec<(u32, String)>, name: &str, [x, y, w, h]: [f64; 4]) {
    let middle = [x + w / 2.0, y + h / 2.0];
    let level = |words: &str, size: f64| width(words, size) <= w - 1.2 && size <= h * 0.8;
    let upright = |words: &str, size: f64| width(words, size) <= h - 1.2 && size <= w * 0.8;
    for size in [3.0, 2.6, 2.2] {
        if level(name, size) {
            return drawing.text(Text::new(middle, name).sized(size));
        }
    }
    for size in [2.6, 2.2] {
        if upright(name, size) {
            return drawing.text(Text::new(middle, name).sized(size).turned(90.0));
        }
    }
    let known = legend.iter().find(|l| l.1 == name).map(|l| l.0);
    let number = known.unwrap_or_else(|| {
        let next = u32::try_from(legend.len() + 1).unwrap_or(u32::MAX);
        legend.push((next, name.to_owned()));
        next
    });
    let words = number.to_string();
    for size in [2.6, 2.2, 1.8, 1.4, 1.0] {
        if level(&words, size) || size < 1.2 {
            return drawing.text(Text::new(middle, words).sized(size).faced(Face::Bold));
        }
    }
}

/// Every cut as a line through the piece in hand, with its number in the order of the shop: crosscuts are numbered
/// below the board, rips at its left, each with a hairline to where its cut begins. More than [`MOST_NUMBERED`] are
/// lines alone, for their numbers would leave no room for the board. Gives the lowest level used.
fn cuts(drawing: &mut Drawing, layout: &Layout, scale: f64) -> f64 {
    let pen = Pen::new(Line::CuttingPlane).colored(ink::WORTH).wide(0.3);
    let (mut below, mut left): (Vec<Numbered>, Vec<Numbered>) = (Vec::new(), Vec::new());
    for (number, (piece, cut)) in (1_u32..).zip(layout.cuts()) {
        let (from, to) = ends(piece, cut, scale);
        drawing.line(from, to, pen);
        let list = if cut.kind == CutKind::Crosscut { &mut below } else { &mut left };
        list.push(Numbered { number, begins: from });
    }
    if below.len() + left.len() > MOST_NUMBERED {
        return 0.0;
    }
    below.sort_by(|a, b| a.begins[0].total_cmp(&b.begins[0]).then(a.begins[1].total_cmp(&b.begins[1])));
    left.sort_by(|a, b| a.begins[1].total_cmp(&b.begins[1]).then(a.begins[0].total_cmp(&b.begins[0])));
    let wanted: Vec<f64> = left.iter().map(|n| n.begins[1]).collect();
    let levels = spread(&wanted, APART);
    for (one, y) in left.iter().zip(&levels) {
        let [along, up] = one.begins;
        one.tag(drawing, [TAGS, *y], &[[along, up], [-1.0, up], [TAGS + TAG, *y]]);
    }
    // The row below stands clear of the column at the left.
    let row = levels.first().map_or(TAGS, |y| TAGS.min(y - APART));
    let wanted: Vec<f64> = below.iter().map(|n| n.begins[0]).collect();
    for (one, x) in below.iter().zip(spread(&wanted, APART)) {
        let [along, up] = one.begins;
        one.tag(drawing, [x, row], &[[along, up], [along, -1.0], [x, row + TAG]]);
    }
    if below.is_empty() { levels.first().map_or(0.0, |y| y.min(0.0)) } else { row }
}

/// The most cuts of one board that are numbered: with their rings they take about the room of a page.
const MOST_NUMBERED: usize = 60;
/// Radius of the ring round a cut's number, millimeters.
const TAG: f64 = 1.7;
/// Distance between neighboring rings.
const APART: f64 = 3.8;
/// How far outside the board the rings stand.
const TAGS: f64 = -5.5;

/// A cut's number and where its line begins on paper.
struct Numbered {
    number: u32,
    begins: [f64; 2],
}

impl Numbered {
    fn tag(&self, drawing: &mut Drawing, at: [f64; 2], way: &[[f64; 2]]) {
        let pen = Pen::new(Line::Figure).colored(ink::WORTH);
        drawing.polyline(way.to_vec(), pen);
        drawing.circle(self.begins, 0.45, Some(ink::WORTH), None);
        drawing.circle(at, TAG, Some(ink::PAPER), Some(Pen::new(Line::Dimension).colored(ink::WORTH)));
        let text = Text::new(at, self.number.to_string()).sized(2.2);
        drawing.text(text.faced(Face::Bold).colored(ink::WORTH));
    }
}

/// The ends of a cut's line on paper.
fn ends(piece: &Piece, cut: Cut, scale: f64) -> ([f64; 2], [f64; 2]) {
    let mm = |l: Length| l.to_mm() * scale;
    match cut.kind {
        CutKind::Crosscut => ([mm(cut.at), mm(piece.y)], [mm(cut.at), mm(piece.y + piece.width)]),
        CutKind::Rip => ([mm(piece.x), mm(cut.at)], [mm(piece.x + piece.length), mm(cut.at)]),
    }
}

/// Dimensions of the first-stage cuts: those in one direction that part the whole board; none of more than
/// [`MOST_NUMBERED`].
fn first_stage(drawing: &mut Drawing, layout: &Layout, [long, tall]: [f64; 2], shown: Shown, scale: f64) {
    let mut marks: Vec<(f64, String)> = Vec::new();
    let mut kind = None;
    let mut piece = Some(&layout.root);
    while let Some(Next::Split { cut, first, second }) = piece.map(|p| &p.next) {
        if kind.is_some_and(|k| k != cut.kind) {
            break;
        }
        kind = Some(cut.kind);
        if cut.at > Length::ZERO {
            marks.push((cut.at.to_mm() * scale, shown.dimension(cut.at)));
        }
        // Whichever side goes on in the same way is the rest of the board.
        let goes_on = |p: &Piece| matches!(&p.next, Next::Split { cut: next, .. } if next.kind == cut.kind);
        piece = second.as_deref().filter(|p| goes_on(p)).or(first.as_deref().filter(|p| goes_on(p)));
    }
    if marks.len() > MOST_NUMBERED {
        return;
    }
    marks.sort_by(|a, b| a.0.total_cmp(&b.0));
    match kind {
        Some(CutKind::Crosscut) => {
            let feet: Vec<f64> = marks.iter().map(|_| tall + 1.0).collect();
            running(drawing, &marks, &feet, Scale::Above(tall + 7.0), 2.8);
        }
        Some(CutKind::Rip) => {
            let feet: Vec<f64> = marks.iter().map(|_| long + 1.0).collect();
            running(drawing, &marks, &feet, Scale::Right(long + 7.0), 2.8);
        }
        None => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_model::cutting::Margins;
    use keepwright_model::units::Area;

    /// A board that is crosscut from the left, 10 mm and then 10 mm.
    fn sliced(from: f64, cuts: u32) -> Piece {
        let mm = Length::mm;
        let next = if cuts == 0 {
            Next::Waste
        } else {
            let cut = Cut { kind: CutKind::Crosscut, at: mm(from + 10.0) };
            let slice =
                Piece { x: mm(from), y: mm(0.0), length: mm(10.0), width: mm(150.0), next: Next::Waste };
            let rest = sliced(from + 10.0, cuts - 1);
            Next::Split { cut, first: Some(Box::new(slice)), second: Some(Box::new(rest)) }
        };
        Piece { x: mm(from), y: mm(0.0), length: mm(1500.0 - from), width: mm(150.0), next }
    }

    #[test]
    fn a_board_of_very_many_cuts_still_fills_its_room() {
        let stock = Stock {
            board: 0,
            length: Length::mm(1500.0),
            width: Length::mm(150.0),
            cost: 0,
            defects: Vec::new(),
            thickness: Length::mm(20.0),
            wood: "cherry_black".into(),
            margins: Margins::default(),
        };
        let numbers = |drawing: &Drawing| drawing.items.iter().filter(|i| matches!(i, Item::Text(_))).count();
        for (cuts, numbered) in [(12, true), (120, false)] {
            let root = sliced(0.0, cuts);
            let layout =
                Layout { stock: 0, root, parts: Vec::new(), offcuts: Vec::new(), waste: Area::ZERO, cost: 0 };
            let drawn = board_layout(&stock, &layout, &[], Shown::MM, Room::new(280.0, 120.0));
            let scale = drawn_scale(&drawn.drawing, 1500.0).unwrap();
            assert!(scale * 1500.0 > 240.0, "{cuts} cuts: the board is {} mm wide", scale * 1500.0);
            assert_eq!(numbers(&drawn.drawing) >= 12, numbered, "{cuts} cuts");
        }
    }
}
