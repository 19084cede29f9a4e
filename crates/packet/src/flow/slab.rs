//! A slab: a piece of a column that is placed whole, with its marks.

use std::rc::Rc;

use super::tags::Tree;
use crate::drawing::Bounds;
use crate::drawing::flat;
use crate::ink::{self, Color};
use crate::typeset::{Align, Lines};

/// A drawing ready to be placed.
#[derive(Debug)]
pub(crate) struct Art {
    pub(crate) marks: Vec<flat::Mark>,
    /// What is placed: the upper left corner of this rectangle goes to the mark's point.
    pub(crate) bounds: Bounds,
}

/// One mark; x right and **y down**, millimeters, from the slab's (later the page's) upper left corner.
#[derive(Clone, Debug)]
pub(crate) enum Mark {
    /// One line of set text; `y` is the line's top.
    Text { x: f64, y: f64, lines: Rc<Lines>, index: usize },
    /// An upright rectangle.
    Rect { x: f64, y: f64, width: f64, height: f64, fill: Option<Color>, stroke: Option<(Color, f64)> },
    /// A straight line.
    Rule { from: [f64; 2], to: [f64; 2], color: Color, width: f64, dashes: &'static [f64] },
    /// A drawing.
    Art { x: f64, y: f64, art: Rc<Art> },
}

/// A mark and what it belongs to; `None` for decoration.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    pub(crate) mark: Mark,
    pub(crate) tree: Option<Tree>,
}

impl Mark {
    /// Left, top, right, bottom.
    pub(crate) fn extent(&self) -> [f64; 4] {
        match self {
            Self::Text { x, y, lines, index } => {
                let width = lines.rows.get(*index).map_or(0.0, |line| line.width);
                [*x, *y, x + width, y + lines.line_height()]
            }
            Self::Rect { x, y, width, height, .. } => [*x, *y, x + width, y + height],
            Self::Rule { from, to, .. } => {
                [from[0].min(to[0]), from[1].min(to[1]), from[0].max(to[0]), from[1].max(to[1])]
            }
            Self::Art { x, y, art } => [*x, *y, x + art.bounds.width(), y + art.bounds.height()],
        }
    }

    fn shift(&mut self, dx: f64, dy: f64) {
        match self {
            Self::Text { x, y, .. } | Self::Rect { x, y, .. } | Self::Art { x, y, .. } => {
                *x += dx;
                *y += dy;
            }
            Self::Rule { from, to, .. } => {
                for point in [from, to] {
                    point[0] += dx;
                    point[1] += dy;
                }
            }
        }
    }

    /// Whether it must not be cut across.
    fn whole(&self) -> bool {
        matches!(self, Self::Text { .. } | Self::Art { .. })
    }
}

/// A piece of a column that is placed whole.
#[derive(Clone, Debug, Default)]
pub(crate) struct Slab {
    pub(crate) height: f64,
    /// Clear space above, dropped at the top of a page.
    pub(crate) above: f64,
    /// Must stand on the same page as the next one.
    pub(crate) keep_next: bool,
    /// Begins a new page.
    pub(crate) new_page: bool,
    pub(crate) marks: Vec<Placed>,
    /// Stands again at the top of a page that begins with this slab.
    pub(crate) repeat: Option<Rc<Slab>>,
}

impl Slab {
    pub(crate) fn empty(height: f64) -> Self {
        Self { height, ..Self::default() }
    }

    pub(crate) fn rule(width: f64) -> Self {
        let mut slab = Self { above: 3.0, ..Self::empty(0.4) };
        slab.hairline(0.0, 0.2, width, ink::RULE, 0.2);
        slab
    }

    pub(crate) fn put(&mut self, mark: Mark, tree: Option<Tree>) {
        self.marks.push(Placed { mark, tree });
    }

    /// A level line.
    pub(crate) fn hairline(&mut self, x: f64, y: f64, width: f64, color: Color, weight: f64) {
        let rule = Mark::Rule { from: [x, y], to: [x + width, y], color, width: weight, dashes: &[] };
        self.put(rule, None);
    }

    /// Set text with its upper left corner at a point, in a column of `width`.
    pub(crate) fn lines(&mut self, at: [f64; 2], lines: &Rc<Lines>, width: f64, align: Align, tree: Tree) {
        for (index, line) in lines.rows.iter().enumerate() {
            let spare = (width - line.width).max(0.0);
            let x = at[0]
                + match align {
                    Align::Left => 0.0,
                    Align::Center => spare / 2.0,
                    Align::Right => spare,
                };
            let y = at[1] + lines.line_height() * index as f64;
            if !line.runs.is_empty() {
                self.put(Mark::Text { x, y, lines: Rc::clone(lines), index }, Some(tree));
            }
        }
    }

    /// Another slab's marks with its upper left corner at a point.
    pub(crate) fn place(&mut self, other: Slab, x: f64, y: f64) {
        for mut placed in other.marks {
            placed.mark.shift(x, y);
            self.marks.push(placed);
        }
    }

    /// Slabs one under the other as one that is kept whole; the space above the first is dropped.
    pub(crate) fn stack(slabs: Vec<Slab>) -> Self {
        let mut all = Self::default();
        for slab in slabs {
            let y = if all.height > 0.0 { all.height + slab.above } else { 0.0 };
            all.height = y + slab.height;
            all.place(slab, 0.0, y);
        }
        all
    }

    /// In two: what ends within `room` from the top, and the rest from the first text or drawing on that
    /// does not; none of them is cut. `None` if nothing would be gained. Only for a slab that is taller
    /// than a page.
    pub(crate) fn split(self, room: f64) -> Option<(Self, Self)> {
        let fits = |mark: &Mark| mark.extent()[3] <= room + 1e-9;
        let whole = || self.marks.iter().map(|placed| &placed.mark).filter(|mark| mark.whole());
        // Lines of neighboring columns need not stand level: the rest begins at its highest one.
        let cut = whole().filter(|mark| !fits(mark)).map(|mark| mark.extent()[1]).fold(room, f64::min);
        let end = whole().filter(|mark| fits(mark)).map(|mark| mark.extent()[3]).fold(cut, f64::max);
        if cut < 1.0 {
            return None;
        }
        let mut upper = Self { height: end, above: self.above, new_page: self.new_page, ..Self::default() };
        let mut lower = Self { height: self.height - cut, keep_next: self.keep_next, ..Self::default() };
        for placed in self.marks {
            let [_, top, _, bottom] = placed.mark.extent();
            let down = if placed.mark.whole() { bottom > room + 1e-9 } else { top >= end - 1e-9 };
            if down {
                lower.place(Self { marks: vec![placed], ..Self::default() }, 0.0, -cut);
            } else if placed.mark.whole() || bottom <= end + 1e-9 {
                upper.marks.push(placed);
            } else {
                let (first, mut second) = (placed.mark.clone().cut(top, end), placed.mark.cut(cut, bottom));
                second.shift(0.0, -cut);
                upper.put(first, placed.tree);
                lower.put(second, placed.tree);
            }
        }
        Some((upper, lower))
    }

    /// Where the marks reach: left, top, right, bottom.
    pub(crate) fn extent(&self) -> [f64; 4] {
        self.marks
            .iter()
            .map(|p| p.mark.extent())
            .fold([0.0; 4], |[a, b, c, d], [e, f, g, h]| [a.min(e), b.min(f), c.max(g), d.max(h)])
    }

    /// In debug builds: what is drawn lies inside the measured height and the column's width.
    pub(crate) fn check(&self, width: f64) {
        if cfg!(debug_assertions) {
            let [left, top, right, bottom] = self.extent();
            debug_assert!(
                left > -0.01 && top > -0.01 && right < width + 0.01 && bottom < self.height + 0.01,
                "a block leaves its place: {left} {top} {right} {bottom} in {width} by {}",
                self.height
            );
        }
    }
}

impl Mark {
    /// The part of a rectangle or upright line between two heights.
    fn cut(mut self, from_y: f64, to_y: f64) -> Self {
        match &mut self {
            Self::Rect { y, height, .. } => {
                *y = from_y;
                *height = to_y - from_y;
            }
            Self::Rule { from, to, .. } => {
                let down = to[1] >= from[1];
                (from[1], to[1]) = if down { (from_y, to_y) } else { (to_y, from_y) };
            }
            Self::Text { .. } | Self::Art { .. } => {}
        }
        self
    }
}
