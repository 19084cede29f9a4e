//! Drawings at full scale side by side, so that one check bar serves a page of them.

use crate::drawing::{Affine, Anchor, Drawing, Rise, Text};
use crate::drawings::Titled;
use crate::faces::Face;
use crate::flow::Block;
use crate::page::Frame;
use crate::shown::capital;

use super::draft::full_scale;

/// Size of a drawing's name, millimetres.
const NAME: f64 = 3.8;
/// From a name to its drawing, millimetres.
const BELOW_NAME: f64 = 4.5;
/// Clear space between drawings, millimetres.
const GAP: [f64; 2] = [12.0, 9.0];
/// Height of the check bar with the space above it, millimetres.
const BAR: f64 = 24.0;

/// One page's drawings as they are set.
#[derive(Debug, Default)]
struct Shelf {
    drawing: Drawing,
    names: Vec<String>,
    /// Where the next drawing goes.
    x: f64,
    /// Top of the row under way, going down.
    y: f64,
    /// Height of the row under way.
    row: f64,
}

/// The drawings as figures of at most a page each, their names above them; the first page keeps `used` millimetres for
/// what stands above. A drawing larger than a page stands alone and is divided over sheets.
pub(super) fn pages(drawings: &[Titled], frame: Frame, used: f64) -> Vec<Block> {
    let mut out = Vec::new();
    let mut shelf = Shelf::default();
    let mut room = frame.height - BAR - used;
    let mut close = |shelf: &mut Shelf| {
        if !shelf.names.is_empty() {
            let done = core::mem::take(shelf);
            out.push(full_scale(done.drawing, "", format!("At full scale: {}.", done.names.join(", "))));
        }
    };
    let mut alone = Vec::new();
    for titled in drawings {
        let Some(b) = titled.drawing.bounds(1.0) else { continue };
        let name = capital(&titled.title);
        let wide = b.width().max(Face::Bold.advance(&name) * NAME);
        let tall = b.height() + NAME + BELOW_NAME;
        if wide > frame.width - 2.0 || tall > frame.height - BAR - 2.0 {
            alone.push(titled);
            continue;
        }
        if shelf.x > 0.0 && shelf.x + wide > frame.width - 2.0 {
            (shelf.x, shelf.y, shelf.row) = (0.0, shelf.y - shelf.row - GAP[1], 0.0);
        }
        if tall - shelf.y > room && (!shelf.names.is_empty() || room < frame.height - BAR) {
            close(&mut shelf);
            room = frame.height - BAR;
        }
        let text = Text::new([shelf.x, shelf.y - NAME], name.clone()).sized(NAME).faced(Face::Bold);
        shelf.drawing.text(text.hung(Anchor::Start, Rise::Baseline));
        let at = Affine::shift(shelf.x - b.left, shelf.y - NAME - BELOW_NAME - b.top);
        shelf.drawing.place(titled.drawing.clone(), at);
        shelf.names.push(name);
        shelf.x += wide + GAP[0];
        shelf.row = shelf.row.max(tall);
    }
    close(&mut shelf);
    for titled in alone {
        let name = capital(&titled.title);
        out.push(full_scale(titled.drawing.clone(), &name, format!("At full scale: {name}.")));
    }
    out
}
