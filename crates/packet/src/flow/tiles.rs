//! A full-scale drawing larger than the sheet: several sheets with overlap, match lines and letters.

use std::rc::Rc;

use super::figure::check_bar;
use super::prose::{BODY, SMALL, SUBHEADING};
use super::slab::{Art, Mark, Slab};
use super::tags::Tree;
use super::{Figure, Layout};
use crate::drawing::flat::{self, Mark as Flat};
use crate::drawing::{Bounds, Line, Pen, Point, Text, bounds};
use crate::faces::Face;
use crate::ink;
use crate::typeset::Align;

/// What neighboring sheets show twice, millimeters.
const OVERLAP: f64 = 16.0;

/// How a drawing is divided along one direction.
#[derive(Clone, Copy, Debug)]
struct Cuts {
    /// Where the first window begins.
    start: f64,
    /// Length of a window.
    window: f64,
    count: usize,
}

impl Cuts {
    fn new(start: f64, length: f64, window: f64) -> Self {
        let window = window.max(2.0 * OVERLAP);
        let steps = ((length - OVERLAP) / (window - OVERLAP) - 1e-9).ceil().clamp(1.0, 400.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1..=400")]
        let count = steps as usize;
        // Sheets of one size: the last is not left nearly empty.
        let window = (length + OVERLAP * (steps - 1.0)) / steps;
        Self { start, window, count }
    }

    fn from(self, index: usize) -> f64 {
        self.start + (self.window - OVERLAP) * index as f64
    }

    /// The match line between a window and the next.
    fn join(self, index: usize) -> f64 {
        self.from(index + 1) + OVERLAP / 2.0
    }
}

impl Layout<'_> {
    /// One page-high slab for each sheet, row by row from the top.
    pub(super) fn tiles(
        &mut self,
        marks: &[Flat],
        around: Bounds,
        figure: &Figure,
        width: f64,
        tree: Tree,
        out: &mut Vec<Slab>,
    ) {
        let bar = check_bar().map(Rc::new);
        let below = bar.as_ref().map_or(0.0, |bar| bar.bounds.height() + 3.0);
        let head = BODY.line_height() + SMALL.line_height() + 2.0;
        let room = self.page - below - head;
        let across = Cuts::new(around.left, around.width(), width);
        let down = Cuts::new(-around.top, around.height(), room);
        let count = across.count * down.count;
        for row in 0..down.count {
            for column in 0..across.count {
                let sheet = row * across.count + column + 1;
                let mut slab = Slab { new_page: true, ..Slab::empty(self.page) };
                let title = format!("Sheet {sheet} of {count}: row {}, column {}", row + 1, column + 1);
                let line = self.setter.line_within(&title, SUBHEADING, width);
                slab.lines([0.0, 0.0], &line, width, Align::Left, tree);
                let caption =
                    self.setter.line_within(&figure.caption.text(), BODY, width - line.width() - 6.0);
                slab.lines([0.0, 0.0], &caption, width, Align::Right, tree);
                let how =
                    "Cut along a dash-dot line, lay it on the same line and letter of the next sheet, tape.";
                let line = self.setter.line_within(how, SMALL, width);
                slab.lines([0.0, BODY.line_height()], &line, width, Align::Left, tree);
                let top = -down.from(row);
                let left = across.from(column);
                let window = Bounds { left, right: left + across.window, top, bottom: top - down.window };
                let art = tile(marks, window, across, down, [column, row]);
                let x = (width - across.window) / 2.0;
                slab.put(Mark::Art { x, y: head, art: Rc::new(art) }, Some(tree));
                if let Some(bar) = &bar {
                    let y = self.page - bar.bounds.height();
                    slab.put(Mark::Art { x: 0.0, y, art: Rc::clone(bar) }, Some(tree));
                }
                out.push(slab);
            }
        }
    }
}

/// What one sheet shows: its window of the drawing, and the match lines with their letters.
fn tile(marks: &[Flat], window: Bounds, across: Cuts, down: Cuts, [column, row]: [usize; 2]) -> Art {
    let Bounds { left, bottom, right, top } = window;
    let outline = vec![[left, bottom], [right, bottom], [right, top], [left, top]];
    let shows = |mark: &&Flat| {
        bounds::of(std::slice::from_ref(*mark))
            .is_some_and(|b| b.left <= right && b.right >= left && b.bottom <= top && b.top >= bottom)
    };
    let seen = marks.iter().filter(shows).cloned().collect();
    let mut all = vec![Flat::Clip { outline, marks: seen }];
    let upright = |index: usize, all: &mut Vec<Flat>| {
        let x = across.join(index);
        let letter = letters(row * (across.count - 1) + index);
        match_line([x, bottom], [x, top], &letter, all);
    };
    if column > 0 {
        upright(column - 1, &mut all);
    }
    if column + 1 < across.count {
        upright(column, &mut all);
    }
    let first_level = (across.count - 1) * down.count;
    let level = |index: usize, all: &mut Vec<Flat>| {
        let y = -down.join(index);
        let letter = letters(first_level + index * across.count + column);
        match_line([left, y], [right, y], &letter, all);
    };
    if row > 0 {
        level(row - 1, &mut all);
    }
    if row + 1 < down.count {
        level(row, &mut all);
    }
    Art { marks: all, bounds: window }
}

/// A dash-dot line with its letter at a quarter and three quarters.
fn match_line(from: Point, to: Point, letter: &str, all: &mut Vec<Flat>) {
    let pen = Pen::new(Line::Center).colored(ink::INK);
    all.push(flat::stroke(vec![from, to], pen));
    for part in [0.25, 0.75] {
        let at = [from[0] + (to[0] - from[0]) * part, from[1] + (to[1] - from[1]) * part];
        let ring = Some(Pen::new(Line::Dimension).colored(ink::INK));
        all.push(Flat::Circle { center: at, radius: 3.4, fill: Some(ink::PAPER), stroke: ring });
        all.push(flat::words(&Text::new(at, letter).sized(4.2).faced(Face::Bold)));
        for way in [-1.0, 1.0] {
            // Short ticks across the line: laid on those of the other sheet they fix both directions.
            let along = if (from[0] - to[0]).abs() < 1e-9 { [0.0, 1.0] } else { [1.0, 0.0] };
            let tick = [at[0] + along[0] * 8.0 * way, at[1] + along[1] * 8.0 * way];
            let side = [along[1] * 2.0, along[0] * 2.0];
            let ends = vec![[tick[0] - side[0], tick[1] - side[1]], [tick[0] + side[0], tick[1] + side[1]]];
            all.push(flat::stroke(ends, Pen::new(Line::Dimension).colored(ink::INK)));
        }
    }
}

/// A, B, … Z, AA, AB, …
fn letters(mut index: usize) -> String {
    let mut out = Vec::new();
    loop {
        let letter = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ".get(index % 26).copied().unwrap_or(b'?');
        out.push(char::from(letter));
        if index < 26 {
            break;
        }
        index = index / 26 - 1;
    }
    out.iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn windows_cover_the_whole_length_and_overlap() {
        for (length, window) in [(500.0, 180.0), (181.0, 180.0), (164.0, 90.0), (1000.0, 200.0)] {
            let cuts = Cuts::new(-20.0, length, window);
            let end = cuts.from(cuts.count - 1) + cuts.window;
            assert!(end >= -20.0 + length - 1e-9, "{length} in {window}");
            // One full window fewer would not do.
            let fewer = (cuts.count - 1) as f64;
            assert!(fewer * (window - OVERLAP) + OVERLAP < length && cuts.window <= window + 1e-9);
            for index in 0..cuts.count.saturating_sub(1) {
                let join = cuts.join(index);
                assert!(join > cuts.from(index + 1) && join < cuts.from(index) + cuts.window);
            }
        }
    }

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 27, 52].map(letters), ["A", "Z", "AA", "AB", "BA"]);
    }
}
