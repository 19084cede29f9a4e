//! Labels to cut out: for parts, offcuts, the finished box.

use super::prose::SMALL;
use super::slab::{Mark, Slab};
use super::tags::{Kind, Tree};
use super::{Layout, Words};
use crate::drawing::Line;
use crate::faces::Face;
use crate::ink;
use crate::typeset::{Align, Style};

/// One label.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The big word: a part's name.
    pub name: String,
    /// Lines under it.
    pub lines: Vec<String>,
}

/// A grid of labels of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct Labels {
    /// Width of a label, millimeters; at least 25.
    pub width: f64,
    /// The labels.
    pub labels: Vec<Label>,
}

const NAME: Style = Style::new(Face::Bold, 5.2).leaded(1.2);

impl Layout<'_> {
    pub(super) fn labels(&mut self, labels: &Labels, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let wanted = if labels.width.is_finite() { labels.width.clamp(25.0, width.max(25.0)) } else { 60.0 };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "at least 1, a few at most"
        )]
        let across = (width / wanted + 1e-6).floor().max(1.0) as usize;
        let cell = wanted.min(width);
        let (pad, inner) = (2.5, cell - 5.0);
        let tree = self.tags.under(tree, Kind::List { numbered: false });
        let mut made = Vec::with_capacity(labels.labels.len());
        for label in &labels.labels {
            let item = self.tags.under(tree, Kind::Item);
            let body = self.tags.under(item, Kind::ItemBody);
            let mut slab = Slab::default();
            let mut y = pad;
            let texts =
                std::iter::once((&label.name, NAME)).chain(label.lines.iter().map(|line| (line, SMALL)));
            for (text, style) in texts {
                let lines = self.setter.set(&Words::plain(text.as_str()), style, inner);
                slab.lines([pad, y], &lines, inner, Align::Left, body);
                y += lines.height();
            }
            slab.height = y + pad;
            made.push(slab);
        }
        let height = made.iter().map(|slab| slab.height).fold(0.0, f64::max);
        let mut made = made.into_iter().peekable();
        let mut first = true;
        while made.peek().is_some() {
            let mut row = Slab { above: if first { 3.0 } else { 0.0 }, ..Slab::empty(height) };
            let mut count = 0.0;
            for (index, slab) in made.by_ref().take(across).enumerate() {
                let x = cell * index as f64;
                row.place(slab, x, 0.0);
                cut_line(&mut row, [x, 0.0], [x, height]);
                count = (index + 1) as f64;
            }
            let right = cell * count;
            cut_line(&mut row, [right, 0.0], [right, height]);
            cut_line(&mut row, [0.0, 0.0], [right, 0.0]);
            cut_line(&mut row, [0.0, height], [right, height]);
            out.push(row);
            first = false;
        }
    }
}

/// A line for the scissors.
fn cut_line(slab: &mut Slab, from: [f64; 2], to: [f64; 2]) {
    let dashes = Line::CutOut.dashes();
    slab.put(Mark::Rule { from, to, color: ink::SOFT, width: 0.2, dashes }, None);
}
