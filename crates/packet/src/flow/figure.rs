//! A drawing on the page: fitted, or at full scale with its check bar, over several sheets if need be.

use std::rc::Rc;

use super::prose::SMALL;
use super::slab::{Art, Mark, Slab};
use super::tags::{Kind, Tree};
use super::{Layout, Words};
use crate::drawing::{Drawing, bounds, flat, scale_bar};
use crate::typeset::Align;

/// How large a drawing is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fit {
    /// As large as fits, at most this high on paper (millimeters) and at most full scale.
    Within(f64),
    /// Exactly full scale, with a check bar; on several sheets to be joined if it is larger than one.
    FullScale,
}

/// A drawing with its words.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The drawing.
    pub drawing: Drawing,
    /// How large.
    pub fit: Fit,
    /// Words under it; may be empty.
    pub caption: Words,
    /// What it shows, for a reader who cannot see it.
    pub alt: String,
}

/// Clear space around a fitted drawing, so that no stroke lies on its edge.
const EDGE: f64 = 0.5;

impl Layout<'_> {
    pub(super) fn figure(&mut self, figure: &Figure, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let tree = self.tags.under(tree, Kind::Figure { alt: figure.alt.clone() });
        match figure.fit {
            Fit::Within(most) => {
                let most = if most.is_finite() { most } else { self.page };
                let caption = self.caption_lines(figure, width, tree);
                let room = (self.page - caption.height).max(20.0);
                if let Some(art) = fitted(&figure.drawing, width, most.clamp(10.0, room)) {
                    out.push(with_caption(art, width, tree, caption));
                }
            }
            Fit::FullScale => self.full_scale(figure, width, tree, out),
        }
    }

    fn full_scale(&mut self, figure: &Figure, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let marks = flat::flatten(&figure.drawing, 1.0);
        let Some(around) = bounds::of(&marks).map(|b| b.grown(EDGE)) else {
            return;
        };
        let bar = check_bar();
        let caption = self.caption_lines(figure, width, tree);
        let below = bar.as_ref().map_or(0.0, |bar| bar.bounds.height() + 3.0);
        let room = self.page - caption.height - below;
        if around.width() <= width && around.height() <= room {
            let art = Art { marks, bounds: around };
            let mut slab = with_caption(art, width, tree, caption);
            if let Some(bar) = bar {
                let y = slab.height + 3.0;
                slab.height = y + bar.bounds.height();
                slab.put(Mark::Art { x: 0.0, y, art: Rc::new(bar) }, Some(tree));
            }
            out.push(slab);
        } else {
            self.tiles(&marks, around, figure, width, tree, out);
        }
    }

    pub(super) fn caption_lines(&mut self, figure: &Figure, width: f64, tree: Tree) -> Slab {
        let mut slab = Slab::default();
        if !figure.caption.is_empty() {
            let lines = self.setter.set(&figure.caption, SMALL, width.min(150.0));
            slab.height = lines.height() + 1.5;
            slab.lines([0.0, 1.5], &lines, width, Align::Center, tree);
        }
        slab
    }
}

/// The check bar, ready to be placed.
pub(super) fn check_bar() -> Option<Art> {
    let marks = flat::flatten(&scale_bar::scale_bar(), 1.0);
    bounds::of(&marks).map(|bounds| Art { marks, bounds: bounds.grown(0.3) })
}

fn with_caption(art: Art, width: f64, tree: Tree, caption: Slab) -> Slab {
    let mut slab = Slab { above: 3.5, ..Slab::empty(art.bounds.height()) };
    let x = ((width - art.bounds.width()) / 2.0).max(0.0);
    slab.put(Mark::Art { x, y: 0.0, art: Rc::new(art) }, Some(tree));
    let y = slab.height;
    slab.height += caption.height;
    slab.place(caption, 0.0, y);
    slab
}

/// The drawing at the largest scale, at most 1, that fits with its words and dimensions.
pub(super) fn fitted(drawing: &Drawing, width: f64, height: f64) -> Option<Art> {
    let size = |scale: f64| drawing.bounds(scale).map(|b| [b.width() + 2.0 * EDGE, b.height() + 2.0 * EDGE]);
    let fits = |scale: f64| size(scale).is_some_and(|[w, h]| w <= width && h <= height);
    let mut best = None;
    if fits(1.0) {
        best = Some(1.0);
    } else {
        // Width and height grow with the scale: halve the interval, in powers because scales span decades.
        let (mut low, mut high) = (1e-4_f64, 1.0_f64);
        if fits(low) {
            for _ in 0..14 {
                let middle = (low * high).sqrt();
                if fits(middle) { low = middle } else { high = middle }
            }
            best = Some(low);
        }
    }
    // Without a scale that fits, words alone are wider than the place: then words shrink too.
    let Some(scale) = best else { return shrunk(drawing, width, height) };
    let marks = flat::flatten(drawing, scale);
    let bounds = bounds::of(&marks)?.grown(EDGE);
    Some(Art { marks, bounds })
}

/// For a drawing whose words alone do not fit: everything smaller, words too.
fn shrunk(drawing: &Drawing, width: f64, height: f64) -> Option<Art> {
    let full = drawing.bounds(1.0)?.grown(EDGE);
    let factor = (width / full.width()).min(height / full.height());
    let marks = flat::smaller(flat::flatten(drawing, 1.0), factor);
    let bounds = bounds::of(&marks)?;
    Some(Art { marks, bounds: bounds.grown(EDGE * factor) })
}
