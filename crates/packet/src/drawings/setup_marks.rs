//! Words, guide, arrows and dimensions of a set-up's sketch.

use super::setup::{Sketch, TABLE, WORDS};
use super::{Shown, wood};
use crate::drawing::{Anchor, Dimension, Drawing, Line, Pen, Rise, Text};
use crate::faces::Face;
use crate::ink;
use keepwright_model::saw::{Cutter, Guide, Offcut};
use keepwright_model::units::Length;

impl Sketch<'_> {
    /// The face that is up, written in the work or above it.
    pub(super) fn face_words(&self, drawing: &mut Drawing, [from, to]: [f64; 2]) {
        if self.up.is_empty() {
            return;
        }
        let (a, b) = (self.x(from), self.x(to));
        let middle = f64::midpoint(a, b);
        let top = (self.floor + self.stands) * self.scale;
        let words = super::place::width(&self.up, WORDS);
        let broken = if self.cut_out > 0.0 { (b - a).abs() * 0.6 } else { (b - a).abs() };
        if words < broken - 4.0 && self.stands * self.scale > 6.5 && self.through() {
            let x = if self.cut_out > 0.0 { a + (b - a) * 0.66 } else { middle };
            drawing.text(Text::new([x, top / 2.0], self.up.clone()).sized(WORDS).faced(Face::Bold));
        } else {
            let anchor = if self.sign > 0.0 { Anchor::Start } else { Anchor::End };
            let from =
                if self.setup.guide == Guide::Mark { self.x(from) + self.sign } else { -self.sign * 6.0 };
            // Above the guide's own words, or above those at a knife line.
            let text = Text::new([from, self.label_level() + 5.6], self.up.clone());
            drawing.text(text.sized(WORDS).faced(Face::Bold).hung(anchor, Rise::Baseline));
        }
    }

    /// How high the guide stands on paper.
    fn guide_high(&self) -> f64 {
        match self.setup.guide {
            Guide::Fence => 20.0,
            Guide::Stop | Guide::CradleStop => 15.0,
            Guide::FingerPin => 8.0,
            Guide::Mark | Guide::Free => 0.0,
        }
    }

    /// Baseline of the words above work, guide and cutter.
    fn label_level(&self) -> f64 {
        let base = self.floor * self.scale;
        let work = (self.floor + self.stands) * self.scale;
        let cutter = self.pass.height.to_mm() * self.scale;
        let over = if self.open_top { 5.0 } else { 2.6 };
        // The arc of a tilt stands over a blade that stays within the work.
        let tilted = self.setup.tilt.to_degrees() > 0.05 && !self.through();
        let arc = if tilted { self.arc_radius() + 6.5 } else { 0.0 };
        (base + self.guide_high()).max(work).max(cutter).max(arc) + over
    }

    /// Radius of the arc that shows the tilt.
    fn arc_radius(&self) -> f64 {
        let over = if self.through() { 0.0 } else { (self.floor + self.stands) * self.scale + 2.5 };
        (self.pass.height.to_mm() * self.scale * 1.25).max(14.0).max(over)
    }

    /// The guide on its side, named.
    pub(super) fn guide(&self, drawing: &mut Drawing) {
        let name = match self.setup.guide {
            Guide::Fence => "fence",
            Guide::Stop | Guide::CradleStop => "stop",
            Guide::FingerPin => "pin",
            Guide::Mark | Guide::Free => return self.knife_line(drawing),
        };
        let high = self.guide_high();
        let color = wood::color("").tint(0.3);
        let base = self.floor * self.scale;
        let x = if self.sign > 0.0 { -6.0 } else { 0.0 };
        let profile = matches!(self.setup.cutter, Cutter::ChamferBit | Cutter::RoundBit(_));
        let low = if profile { self.pass.height.to_mm() * self.scale + 1.0 } else { base };
        drawing.rectangle(
            [x, low],
            6.0,
            (high + base - low).max(4.0),
            Some(color),
            Some(Pen::new(Line::Visible)),
        );
        let words = if self.toward.is_empty() { name.to_owned() } else { format!("{name}: {}", self.toward) };
        let anchor = if self.sign > 0.0 { Anchor::Start } else { Anchor::End };
        let text = Text::new([-self.sign * 6.0, self.label_level()], words).sized(WORDS);
        drawing.text(text.hung(anchor, Rise::Baseline));
    }

    fn knife_line(&self, drawing: &mut Drawing) {
        if self.setup.guide == Guide::Mark {
            let foot = self.x(self.distance);
            drawing.line([foot, -TABLE - 1.0], [foot, -TABLE - 4.5], Pen::new(Line::Dimension));
            drawing.text(Text::new([foot, -TABLE - 7.0], "blade to the knife line").sized(WORDS));
        }
    }

    /// Where the offcut goes.
    pub(super) fn offcut(&self, drawing: &mut Drawing, far: f64) {
        let words = match self.setup.offcut {
            Offcut::FreeSide(_) => "offcut",
            Offcut::Kept => "kept",
            Offcut::SkinHeld => "held by its skin",
            Offcut::None => return,
        };
        let x = self.x(far);
        let y = self.stands * self.scale * 0.5;
        let s = self.sign;
        drawing.line([x + s * 2.0, y], [x + s * 8.0, y], Pen::new(Line::Visible).wide(0.35));
        drawing.polygon(
            [[x + s * 11.0, y], [x + s * 7.5, y + 1.1], [x + s * 7.5, y - 1.1]],
            Some(ink::INK),
            None,
        );
        let anchor = if s > 0.0 { Anchor::Start } else { Anchor::End };
        drawing.text(Text::new([x + s * 12.5, y], words).sized(WORDS).hung(anchor, Rise::Middle));
    }

    /// Distance below, height beside, tilt above.
    pub(super) fn sizes(&self, drawing: &mut Drawing, far: f64) {
        let placed = !matches!(self.setup.guide, Guide::Mark | Guide::Free);
        let profile = matches!(self.setup.cutter, Cutter::ChamferBit | Cutter::RoundBit(_));
        if placed && !profile {
            let (a, b) = (self.x(0.0), self.x(self.distance));
            let words = self.distances();
            drawing
                .dimension(Dimension::level([a.min(b), -TABLE], [a.max(b), -TABLE], -8.0, words).sized(4.2));
        }
        let up = self.pass.height.to_mm();
        let top = self.at(self.distance + self.kerf() + self.slant(up), up);
        let foot = [top[0], 0.0];
        let arrow = matches!(self.setup.offcut, Offcut::None) || !self.through();
        let off = (self.x(far) - top[0]).abs() + if arrow { 9.0 } else { 9.0 + 12.5 + 12.0 };
        let words = self.shown.dimension(self.pass.height);
        drawing.dimension(Dimension::upright(foot, top, self.sign * off, words).sized(4.2));
        if self.setup.tilt.to_degrees() > 0.05 {
            let foot = self.at(self.distance, 0.0);
            let radius = self.arc_radius();
            let lean = self.slant(1.0).signum() * self.sign;
            let (from, to) = if lean > 0.0 {
                (90.0 - self.setup.tilt.to_degrees(), 90.0)
            } else {
                (90.0, 90.0 + self.setup.tilt.to_degrees())
            };
            drawing.arc(foot, radius, from, to, Pen::new(Line::Dimension));
            drawing.line(foot, [foot[0], radius + 2.0], Pen::new(Line::Center));
            let middle = f64::midpoint(from, to).to_radians();
            let at = [foot[0] + (radius + 4.2) * middle.cos(), foot[1] + (radius + 4.2) * middle.sin()];
            drawing.text(Text::new(at, Shown::angle(self.setup.tilt)).sized(4.2));
        }
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
