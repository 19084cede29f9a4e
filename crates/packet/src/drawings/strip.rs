//! The strip that walls are cut from, in order, with what is lost between them.

use super::place::width;
use super::{Room, Shown, fitted, wood};
use crate::drawing::{Affine, Anchor, Dimension, Drawing, Line, Pen, Rise, Text};
use crate::faces::Face;
use crate::ink;
use keepwright_model::parts::{BoxParts, Figure, Run};
use keepwright_model::units::Length;

/// The walls of a run in the strip they are cut from: order, losses drawn true, trims, total length. A bookmatched
/// pair of slices lies as an opened book, the second's figure mirrored.
///
/// # Units
/// Millimetres of the paper, no larger than `room`; an empty drawing if there is no such run.
pub fn strip_plan(parts: &BoxParts, run: usize, shown: Shown, room: Room) -> Drawing {
    let Some(first) = parts.runs.get(run) else { return Drawing::new() };
    let second = parts.runs.iter().find(|r| r.mirrors == Some(run));
    let total = first.strip_length.to_mm() + second.map_or(0.0, |r| r.strip_length.to_mm());
    let tall = first.strip_width.to_mm();
    fitted(room, [total, tall], 1.0, |scale| {
        let mut drawing = Drawing::new();
        let end = one(&mut drawing, parts, first, 0.0, false, shown, scale);
        if let Some(other) = second {
            let far = one(&mut drawing, parts, other, end, true, shown, scale);
            mirror_mark(&mut drawing, end, tall * scale);
            let words = format!("both slices {}", shown.mm(total));
            drawing.dimension(Dimension::level([0.0, 0.0], [far, 0.0], -23.0, words));
        }
        drawing
    })
}

/// One strip from `left` on; gives its right end. Everything on paper.
fn one(
    drawing: &mut Drawing,
    parts: &BoxParts,
    run: &Run,
    left: f64,
    mirrored: bool,
    shown: Shown,
    scale: f64,
) -> f64 {
    let (long, tall) = (run.strip_length.to_mm() * scale, run.strip_width.to_mm() * scale);
    let trim = run.end_trim.to_mm() * scale;
    let id = run.parts.first().and_then(|id| parts.parts.get(id.0)).map_or("", |p| p.wood.as_str());
    let visible = Pen::new(Line::Visible);
    let kerf = ink::INK.tint(0.55);
    drawing.rectangle([left, 0.0], long, tall, Some(wood::color(id).tint(0.4)), None);
    let figure = wood::figure([run.strip_length.to_mm(), run.strip_width.to_mm()], 0.0, |u, v| {
        // Opened like a book at the joint between the slices, the second shows the figure reversed.
        let u = if mirrored { run.strip_length.to_mm() - u } else { u };
        [left + u * scale, v * scale]
    });
    drawing.place_clipped(
        figure,
        Affine::SAME,
        [[left, 0.0], [left + long, 0.0], [left + long, tall], [left, tall]],
    );
    for x in [left, left + long - trim] {
        drawing.rectangle([x, 0.0], trim, tall, Some(ink::PAPER), Some(visible.wide(0.25)));
        drawing.cut_surface([[x, 0.0], [x + trim, 0.0], [x + trim, tall], [x, tall]]);
    }
    let mut x = left + trim;
    let count = run.parts.len();
    for (index, id) in run.parts.iter().enumerate() {
        let Some(part) = parts.parts.get(id.0) else { continue };
        let length = part.size[0].to_mm() * scale;
        drawing.rectangle([x, 0.0], length, tall, None, Some(visible));
        wall(drawing, &part.name, [x, length, tall]);
        let dim = shown.dimension(part.size[0]);
        drawing.dimension(Dimension::level([x, 0.0], [x + length, 0.0], -7.0, dim).sized(3.0));
        x += length;
        if let Some(corner) = run.corners.get(index) {
            let loss = corner.loss.to_mm() * scale;
            if index + 1 < count {
                drawing.rectangle([x, -1.0], loss, tall + 2.0, Some(kerf), None);
                between(drawing, [x + loss / 2.0, tall], corner.corner.0 + 1, &shown.dimension(corner.loss));
                x += loss;
            } else {
                closing(drawing, [x, tall], corner.corner.0 + 1, corner.figure);
            }
        }
    }
    let words = format!("strip {}", shown.dimension(run.strip_length));
    drawing.dimension(Dimension::level([left, 0.0], [left + long, 0.0], -15.0, words));
    left + long
}

/// A wall's name with the way its figure runs.
fn wall(drawing: &mut Drawing, name: &str, [x, length, tall]: [f64; 3]) {
    let middle = x + length / 2.0;
    let size = 3.6_f64.min(tall * 0.4).min(length / width(name, 1.0).max(0.1) * 0.8);
    let y = if tall > 9.0 { tall * 0.62 } else { tall * 0.5 };
    drawing.text(Text::new([middle, y], name).sized(size).faced(Face::Bold));
    if tall > 9.0 {
        let (from, to) = (middle - (length * 0.3).min(9.0), middle + (length * 0.3).min(9.0));
        let y = tall * 0.24;
        let pen = Pen::new(Line::Dimension);
        drawing.line([from, y], [to - 1.5, y], pen);
        drawing.polygon([[to, y], [to - 2.4, y + 0.7], [to - 2.4, y - 0.7]], Some(ink::SOFT), None);
    }
}

/// The number of a corner between two walls with its loss.
fn between(drawing: &mut Drawing, at: [f64; 2], number: u32, loss: &str) {
    let [x, y] = at;
    drawing.line([x, y + 1.5], [x, y + 4.0], Pen::new(Line::Dimension));
    ring(drawing, [x, y + 6.4], number);
    drawing.text(Text::new([x, y + 11.6], format!("− {loss}")).sized(3.0));
}

/// A corner's number in a ring.
fn ring(drawing: &mut Drawing, at: [f64; 2], number: u32) {
    drawing.circle(at, 2.4, Some(ink::PAPER), Some(Pen::new(Line::Visible).wide(0.3)));
    drawing.text(Text::new(at, number.to_string()).sized(3.0).faced(Face::Bold));
}

/// The corner where a strip ends: it closes the ring, or meets the other slice mirrored.
fn closing(drawing: &mut Drawing, at: [f64; 2], number: u32, figure: Figure) {
    let [x, y] = at;
    let words = match figure {
        Figure::Closes => "closes here",
        Figure::Mirrors => "mirrors",
        Figure::RunsOn => "runs on",
        Figure::Unmatched => "not matched",
    };
    drawing.line([x, y], [x, y + 4.0], Pen::new(Line::Dimension));
    ring(drawing, [x, y + 6.4], number);
    drawing.text(Text::new([x - 1.0, y + 11.6], words).sized(3.0).hung(Anchor::End, Rise::Middle));
}

/// Where the book is hinged: the second slice shows the figure of the first mirrored.
fn mirror_mark(drawing: &mut Drawing, x: f64, tall: f64) {
    drawing.line([x, -5.0], [x, tall + 18.0], Pen::new(Line::Center).colored(ink::INK));
    let text = Text::new([x, tall + 20.5], "mirror: the slices open here like a book").sized(2.8);
    drawing.text(text);
}

/// How the strip lies, in words: for the caption under [`strip_plan`].
pub fn strip_note(parts: &BoxParts, run: usize, shown: Shown) -> String {
    let Some(run) = parts.runs.get(run) else { return String::new() };
    let trims = shown.length(run.end_trim);
    let wide: Length = run.strip_width;
    format!(
        "Show face up; the arrow marks the same end of the figure on every wall. {} wide, {trims} to trim at each end.",
        shown.length(wide)
    )
}
