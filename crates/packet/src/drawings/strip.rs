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
/// Millimeters of the paper, no larger than `room`; an empty drawing if there is no such run.
pub fn strip_plan(parts: &BoxParts, run: usize, shown: Shown, room: Room) -> Drawing {
    let Some(first) = parts.runs.get(run) else { return Drawing::new() };
    let second = parts.runs.iter().find(|r| r.mirrors == Some(run));
    let total = first.strip_length.to_mm() + second.map_or(0.0, |r| r.strip_length.to_mm());
    let tall = first.strip_width.to_mm();
    fitted(room, [total, tall], 1.0, |scale| {
        let mut drawing = Drawing::new();
        let strip = Strip { parts, run: first, left: 0.0, mirrored: false, scale };
        strip.draw(&mut drawing, shown);
        if let Some(run) = second {
            let other = Strip { run, left: strip.right(), mirrored: true, ..strip };
            other.draw(&mut drawing, shown);
            mirror_mark(&mut drawing, strip.right(), tall * scale);
            let words = format!("both slices {}", shown.mm(total));
            drawing.dimension(Dimension::level([0.0, 0.0], [other.right(), 0.0], -23.0, words));
        }
        drawing
    })
}

/// One strip on paper.
struct Strip<'p> {
    parts: &'p BoxParts,
    run: &'p Run,
    /// Its left end on paper.
    left: f64,
    /// The second slice of a bookmatched pair: its figure runs the other way.
    mirrored: bool,
    scale: f64,
}

impl Strip<'_> {
    /// Length and width on paper.
    fn size(&self) -> [f64; 2] {
        [self.run.strip_length, self.run.strip_width].map(|l| l.to_mm() * self.scale)
    }

    fn right(&self) -> f64 {
        self.left + self.size()[0]
    }

    fn draw(&self, drawing: &mut Drawing, shown: Shown) {
        self.ground(drawing);
        self.walls(drawing, shown);
        let words = format!("strip {}", shown.dimension(self.run.strip_length));
        drawing.dimension(Dimension::level([self.left, 0.0], [self.right(), 0.0], -15.0, words));
    }

    /// The strip with its figure and the trims at its ends.
    fn ground(&self, drawing: &mut Drawing) {
        let ([long, tall], left, scale) = (self.size(), self.left, self.scale);
        let first = self.run.parts.first().and_then(|id| self.parts.parts.get(id.0));
        let color = wood::color(first.map_or("", |p| p.wood.as_str()));
        drawing.rectangle([left, 0.0], long, tall, Some(color.tint(0.4)), None);
        let size = [self.run.strip_length.to_mm(), self.run.strip_width.to_mm()];
        let figure = wood::figure(size, 0.0, |u, v| {
            // Opened like a book at the joint between the slices, the second shows the figure reversed.
            let u = if self.mirrored { size[0] - u } else { u };
            [left + u * scale, v * scale]
        });
        let outline = [[left, 0.0], [left + long, 0.0], [left + long, tall], [left, tall]];
        drawing.place_clipped(figure, Affine::SAME, outline);
        let trim = self.run.end_trim.to_mm() * scale;
        for x in [left, left + long - trim] {
            let pen = Pen::new(Line::Visible).wide(0.25);
            drawing.rectangle([x, 0.0], trim, tall, Some(ink::PAPER), Some(pen));
            drawing.cut_surface([[x, 0.0], [x + trim, 0.0], [x + trim, tall], [x, tall]]);
        }
    }

    /// The walls in order with what is lost between them.
    fn walls(&self, drawing: &mut Drawing, shown: Shown) {
        let tall = self.size()[1];
        let mut x = self.left + self.run.end_trim.to_mm() * self.scale;
        let count = self.run.parts.len();
        for (index, id) in self.run.parts.iter().enumerate() {
            let Some(part) = self.parts.parts.get(id.0) else { continue };
            let length = part.size[0].to_mm() * self.scale;
            drawing.rectangle([x, 0.0], length, tall, None, Some(Pen::new(Line::Visible)));
            wall(drawing, &part.name, [x, length, tall], self.mirrored);
            let dim = shown.dimension(part.size[0]);
            drawing.dimension(Dimension::level([x, 0.0], [x + length, 0.0], -7.0, dim).sized(3.0));
            x += length;
            let Some(corner) = self.run.corners.get(index) else { continue };
            let number = corner.corner.0 + 1;
            if index + 1 < count {
                let loss = corner.loss.to_mm() * self.scale;
                drawing.rectangle([x, -1.0], loss, tall + 2.0, Some(ink::INK.tint(0.55)), None);
                between(drawing, [x + loss / 2.0, tall], number, &shown.dimension(corner.loss));
                x += loss;
            } else {
                closing(drawing, [x, tall], number, corner.figure);
            }
        }
    }
}

/// A wall's name with the way its figure runs.
fn wall(drawing: &mut Drawing, name: &str, [x, length, tall]: [f64; 3], mirrored: bool) {
    let middle = x + length / 2.0;
    let size = 3.6_f64.min(tall * 0.4).min(length / width(name, 1.0).max(0.1) * 0.8);
    let y = if tall > 9.0 { tall * 0.62 } else { tall * 0.5 };
    drawing.text(Text::new([middle, y], name).sized(size).faced(Face::Bold));
    if tall > 9.0 {
        let half = (length * 0.3).min(9.0) * if mirrored { -1.0 } else { 1.0 };
        let (from, to, y) = (middle - half, middle + half, tall * 0.24);
        let back = 2.4 * half.signum();
        drawing.line([from, y], [to - back * 0.6, y], Pen::new(Line::Dimension));
        drawing.polygon([[to, y], [to - back, y + 0.7], [to - back, y - 0.7]], Some(ink::SOFT), None);
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
