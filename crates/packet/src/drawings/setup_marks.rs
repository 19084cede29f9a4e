//! Words, guide, arrows and dimensions of a set-up's sketch.

use super::place::Taken;
use super::setup::{Sketch, WORDS};
use super::{Shown, wood};
use crate::drawing::{Anchor, Dimension, Drawing, Line, Pen, Rise, Text};
use crate::faces::Face;
use crate::ink;
use keepwright_model::saw::{Guide, Offcut};
use keepwright_model::units::Length;

/// Size of the figures, millimeters.
const FIGURES: f64 = 4.2;
/// From the work to the tip of the offcut's arrow, millimeters.
const ARROW: f64 = 11.0;
/// Width of the guide, millimeters.
const GUIDE: f64 = 6.0;

impl Sketch<'_> {
    /// Everything that is only said, put where nothing is drawn; last, for words give way to lines.
    pub(super) fn words(&self, drawing: &mut Drawing) {
        self.offcut_said(drawing);
        self.cradle_words(drawing);
        self.guide_words(drawing);
        self.face_words(drawing);
    }

    /// The face that is up, written in the work or above it.
    fn face_words(&self, drawing: &mut Drawing) {
        if self.up.is_empty() {
            return;
        }
        let [from, to] = self.work();
        let (a, b) = (self.x(from), self.x(to));
        let (low, top) = (self.floor * self.scale, (self.floor + self.stands) * self.scale);
        let cut = self.pass.height.to_mm() * self.scale;
        let taken = Taken::of(drawing);
        let text = Text::new([a, top], self.up.clone()).sized(WORDS).faced(Face::Bold);
        let places = [f64::midpoint(low, top), f64::midpoint(cut.min(top), top)]
            .into_iter()
            .flat_map(|y| [0.5, 0.66, 0.75, 0.58, 0.4, 0.3].map(|share| [a + (b - a) * share, y]));
        if let Some(at) = places.into_iter().find(|at| taken.frees(&Text { at: *at, ..text.clone() })) {
            drawing.text(Text { at, ..text });
        } else {
            let guided = !matches!(self.setup.guide, Guide::Mark | Guide::Free);
            let from = if guided { -self.sign * self.mm(GUIDE) } else { a + self.sign };
            let text = Text { at: [from, self.over_all()], ..text };
            drawing.text(taken.raised(text.hung(self.outward(), Rise::Baseline)));
        }
    }

    /// Words that run from the guide toward the work.
    fn outward(&self) -> Anchor {
        if self.sign > 0.0 { Anchor::Start } else { Anchor::End }
    }

    /// From where to where the work lies that is held, across.
    fn work(&self) -> [f64; 2] {
        if self.shaped() {
            [self.pass.height.to_mm(), self.across.min(self.far())]
        } else if self.through() {
            [self.held_from(), self.distance]
        } else {
            [0.0, self.across.min(self.far())]
        }
    }

    /// Just above work and guide.
    fn over_all(&self) -> f64 {
        let work = (self.floor + self.stands) * self.scale;
        (self.floor * self.scale + self.guide_high()).max(work) + 1.4
    }

    /// How high the guide stands on paper.
    fn guide_high(&self) -> f64 {
        self.mm(match self.setup.guide {
            Guide::Fence => 20.0,
            Guide::Stop | Guide::CradleStop => 15.0,
            Guide::FingerPin => 8.0,
            Guide::Mark | Guide::Free => 0.0,
        })
    }

    /// What the guide is called; nothing where a knife line guides.
    const fn guide_name(&self) -> Option<&'static str> {
        match self.setup.guide {
            Guide::Fence => Some("fence"),
            Guide::Stop | Guide::CradleStop => Some("stop"),
            Guide::FingerPin => Some("pin"),
            Guide::Mark | Guide::Free => None,
        }
    }

    /// The guide on its side.
    pub(super) fn guide(&self, drawing: &mut Drawing) {
        if self.guide_name().is_none() {
            return self.knife_line(drawing);
        }
        let high = self.guide_high();
        let color = wood::color("").tint(0.3);
        let base = self.floor * self.scale;
        let wide = self.mm(GUIDE);
        let x = if self.sign > 0.0 { -wide } else { 0.0 };
        let low = if self.shaped() { self.pass.height.to_mm() * self.scale + self.mm(1.0) } else { base };
        let tall = (high + base - low).max(self.mm(4.0));
        drawing.rectangle([x, low], wide, tall, Some(color), Some(Pen::new(Line::Visible)));
    }

    fn guide_words(&self, drawing: &mut Drawing) {
        let Some(name) = self.guide_name() else { return };
        let words = if self.toward.is_empty() { name.to_owned() } else { format!("{name}: {}", self.toward) };
        let text = Text::new([-self.sign * self.mm(GUIDE), self.over_all()], words).sized(WORDS);
        let raised = Taken::of(drawing).raised(text.hung(self.outward(), Rise::Baseline));
        drawing.text(raised);
    }

    fn cradle_words(&self, drawing: &mut Drawing) {
        if self.floor <= 0.0 {
            return;
        }
        let (end, y) = (self.x(self.far()), self.floor * self.scale / 2.0);
        let inside = Text::new([end - self.sign * self.mm(9.0), y], "cradle").sized(2.8);
        let taken = Taken::of(drawing);
        if taken.frees(&inside) {
            drawing.text(inside);
            return;
        }
        let beside = Text { at: [end + self.sign * self.mm(7.5), y], ..inside };
        drawing.text(taken.raised(beside.hung(self.outward(), Rise::Middle)));
    }

    fn knife_line(&self, drawing: &mut Drawing) {
        if self.setup.guide == Guide::Mark {
            let (foot, deep) = (self.x(self.distance), self.table_deep());
            let end = -deep - self.mm(4.5);
            drawing.line([foot, -deep - self.mm(1.0)], [foot, end], Pen::new(Line::Dimension));
            let text = Text::new([foot, end - 1.0], "blade to the knife line").sized(WORDS);
            drawing.text(text.hung(Anchor::Middle, Rise::Top));
        }
    }

    /// Words beside the arrow of the offcut.
    const fn offcut_words(&self) -> Option<&'static str> {
        match self.setup.offcut {
            Offcut::FreeSide(_) => Some("offcut"),
            Offcut::Kept => Some("kept"),
            Offcut::SkinHeld => Some("held by its skin"),
            Offcut::None => None,
        }
    }

    /// Where the offcut goes.
    pub(super) fn offcut(&self, drawing: &mut Drawing, far: f64) {
        if self.offcut_words().is_none() {
            return;
        }
        let (x, y) = (self.x(far), self.stands * self.scale * 0.5);
        let [start, neck, tip] = [2.0, 7.5, ARROW].map(|l| x + self.sign * self.mm(l));
        drawing.line([start, y], [neck, y], Pen::new(Line::Visible).wide(0.35));
        let half = self.mm(1.1);
        drawing.polygon([[tip, y], [neck, y + half], [neck, y - half]], Some(ink::INK), None);
    }

    /// What becomes of the offcut, beside its arrow; over the height's line where that would cross it.
    fn offcut_said(&self, drawing: &mut Drawing) {
        let Some(words) = self.offcut_words().filter(|_| self.through() && !self.shaped()) else { return };
        let x = self.x(self.far()) + self.sign * (self.mm(ARROW) + 1.5);
        let text = Text::new([x, self.stands * self.scale * 0.5], words).sized(WORDS);
        let raised = Taken::of(drawing).raised(text.hung(self.outward(), Rise::Middle));
        drawing.text(raised);
    }

    /// Distance below, height beside.
    pub(super) fn sizes(&self, drawing: &mut Drawing, far: f64) {
        let placed = !matches!(self.setup.guide, Guide::Mark | Guide::Free);
        if placed && !self.shaped() {
            let (a, b, y) = (self.x(0.0), self.x(self.distance), -self.table_deep());
            let off = -self.mm(8.0).max(5.6);
            let words = self.distances();
            drawing.dimension(Dimension::level([a.min(b), y], [a.max(b), y], off, words).sized(FIGURES));
        }
        let up = self.pass.height.to_mm();
        let top = self.at(self.distance + self.kerf() + self.slant(up), up);
        let foot = [top[0], 0.0];
        let beyond = match self.offcut_words().filter(|_| self.through()) {
            // The figures stand on the near side of their line.
            Some(words) => self.mm(ARROW) + 1.5 + super::place::width(words, WORDS) + FIGURES + 2.0,
            None => self.mm(9.0).max(FIGURES + 2.0),
        };
        let off = (self.x(far) - top[0]).abs() + beyond;
        let words = self.shown.dimension(self.pass.height);
        drawing.dimension(Dimension::upright(foot, top, self.sign * off, words).sized(FIGURES));
    }

    /// The tilt from upright, over the blade: the arc is as wide as its figure needs to stand free.
    pub(super) fn tilt(&self, drawing: &mut Drawing) {
        if self.setup.tilt.to_degrees() <= 0.05 {
            return;
        }
        let foot = self.at(self.distance, 0.0);
        let lean = self.slant(1.0).signum() * self.sign;
        let tilt = self.setup.tilt.to_degrees();
        let (from, to) = if lean > 0.0 { (90.0 - tilt, 90.0) } else { (90.0, 90.0 + tilt) };
        let (sin, cos) = f64::midpoint(from, to).to_radians().sin_cos();
        let words = Shown::angle(self.setup.tilt);
        // From the middle of the figure to its edge, the way the arc's middle lies.
        let (half, high) = (super::place::width(&words, FIGURES) / 2.0, FIGURES / 2.0);
        let reach = (half / cos.abs().max(1e-6)).min(high / sin.abs().max(1e-6)) + 1.2;
        let over = if self.through() { 0.0 } else { (self.floor + self.stands) * self.scale + self.mm(2.5) };
        let least = (self.pass.height.to_mm() * self.scale * 1.25).max(self.mm(14.0)).max(over);
        let taken = Taken::of(drawing);
        let figure = |radius: f64| {
            let at = [foot[0] + (radius + reach) * cos, foot[1] + (radius + reach) * sin];
            Text::new(at, words.clone()).sized(FIGURES)
        };
        let radius = (0..80_u32).map(|i| least + 0.5 * f64::from(i)).find(|r| taken.frees(&figure(*r)));
        let radius = radius.unwrap_or(least);
        drawing.arc(foot, radius, from, to, Pen::new(Line::Dimension));
        drawing.line(foot, [foot[0], radius], Pen::new(Line::Center));
        drawing.text(figure(radius));
    }

    /// The first distance and what follows it. More than one other place is only counted: the table beside the sketch
    /// has them all. They stand in the dimension's own words because only these keep their distance at any scale.
    fn distances(&self) -> String {
        let first = self.shown.dimension(self.pass.distance);
        let passes = self.setup.passes.iter().skip(1).map(|p| p.distance);
        let others: Vec<Length> = passes.chain(self.setup.more_stops.iter().copied()).collect();
        match others.as_slice() {
            [] => first,
            [other] => format!("{first}, then {}", self.shown.dimension(*other)),
            more => format!("{first}, then {} more", more.len()),
        }
    }
}
