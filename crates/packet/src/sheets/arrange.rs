//! Drawings at full scale side by side, so that one check bar serves a page of them.

use super::draft::full_scale;
use crate::drawing::{Affine, Anchor, Bounds, Drawing, Rise, Text};
use crate::drawings::Titled;
use crate::faces::Face;
use crate::flow::Block;
use crate::page::Frame;
use crate::shown::capital;

/// Size of a drawing's name, millimeters.
const NAME: f64 = 3.8;
/// From a name to its drawing, millimeters.
const BELOW_NAME: f64 = 4.5;
/// Clear space between drawings, millimeters.
const GAP: [f64; 2] = [12.0, 8.0];
/// Height of the check bar with the space above it, millimeters.
const BAR: f64 = 24.0;

/// A drawing about to find its place.
struct Piece<'a> {
    drawing: &'a Drawing,
    name: String,
    bounds: Bounds,
    wide: f64,
    tall: f64,
}

impl<'a> Piece<'a> {
    fn new(titled: &'a Titled) -> Option<Self> {
        let bounds = titled.drawing.bounds(1.0)?;
        let name = capital(&titled.title);
        let wide = bounds.width().max(Face::Bold.advance(&name) * NAME);
        let tall = bounds.height() + NAME + BELOW_NAME;
        Some(Self { drawing: &titled.drawing, name, bounds, wide, tall })
    }
}

/// Whether a drawing goes on one page at full scale, check bar and name with it.
pub(super) fn fits(drawing: &Drawing, frame: Frame) -> bool {
    drawing.bounds(1.0).is_some_and(|b| {
        b.width() < frame.width - 4.0 && b.height() + NAME + BELOW_NAME < frame.height - BAR - 4.0
    })
}

/// One page's drawings as they are set: rows from the top, each as high as its highest drawing.
#[derive(Default)]
struct Shelf {
    drawing: Drawing,
    names: Vec<String>,
    /// Where the next drawing of the row goes.
    x: f64,
    /// Top of the row under way, going down.
    y: f64,
    /// Height of the row under way.
    row: f64,
}

impl Shelf {
    /// Sets a drawing if there is room for it; says whether it did.
    fn take(&mut self, piece: &Piece<'_>, width: f64, height: f64) -> bool {
        let beside = self.x + piece.wide <= width && piece.tall - self.y <= height;
        let (x, y) = if beside { (self.x, self.y) } else { (0.0, self.y - self.row - GAP[1]) };
        if !beside && (self.names.is_empty() || piece.wide > width || piece.tall - y > height) {
            return false;
        }
        if !beside {
            self.row = 0.0;
        }
        let text = Text::new([x, y - NAME], piece.name.clone()).sized(NAME).faced(Face::Bold);
        self.drawing.text(text.hung(Anchor::Start, Rise::Baseline));
        let at = Affine::shift(x - piece.bounds.left, y - NAME - BELOW_NAME - piece.bounds.top);
        self.drawing.place(piece.drawing.clone(), at);
        self.names.push(piece.name.clone());
        (self.x, self.y, self.row) = (x + piece.wide + GAP[0], y, self.row.max(piece.tall));
        true
    }
}

/// The drawings as figures of at most a page each, their names above them; the first page keeps `used` millimeters for
/// what stands above. A page is filled with whatever later drawing still fits. A drawing larger than a page stands
/// alone at the end, divided over sheets.
pub(super) fn pages(drawings: &[&Titled], frame: Frame, used: f64) -> Vec<Block> {
    let (mut left, alone): (Vec<Piece<'_>>, Vec<Piece<'_>>) =
        drawings.iter().filter_map(|t| Piece::new(t)).partition(|p| fits(p.drawing, frame));
    let mut out = Vec::new();
    let (width, whole) = (frame.width - 2.0, frame.height - BAR);
    let mut height = whole - used;
    while !left.is_empty() {
        let mut shelf = Shelf::default();
        left.retain(|piece| !shelf.take(piece, width, height));
        if !shelf.names.is_empty() {
            out.push(full_scale(shelf.drawing, "", format!("At full scale: {}.", shelf.names.join(", "))));
        } else if height >= whole {
            // What fits a page is always taken by an empty one; this ends the loop whatever happens.
            break;
        }
        height = whole;
    }
    for piece in alone {
        out.push(full_scale(piece.drawing.clone(), &piece.name, format!("At full scale: {}.", piece.name)));
    }
    out
}
