//! A small sketch for a set-up card: the table, the blade at its height and tilt, the work as it lies, the guide
//! on its side with its distance, where the offcut goes.

use super::setup_above::from_above;
use super::{Room, Shown, wood};
use crate::drawing::{Anchor, Dimension, Drawing, Leader, Line, Pen, Point, Rise, Text};
use crate::faces::Face;
use crate::ink;
use keepwright_model::reason::Value;
use keepwright_model::saw::{Cutter, Guide, Lean, Member, Offcut, Pass, Purpose, Setup, Side, Surface};

/// Size of the words, millimetres.
pub(super) const WORDS: f64 = 3.4;
/// Depth of the table that is drawn.
const TABLE: f64 = 4.0;

/// The sketch of a set-up; `None` where there is nothing to see (hand tools).
///
/// # Units
/// Millimetres of the paper, no larger than `room`. Heights, kerf and tilt are to one scale; a long distance is
/// broken off and says its true number.
pub fn setup_drawing(setup: &Setup, shown: Shown, room: Room) -> Option<Drawing> {
    let member = setup.members.first()?;
    let pass = first_pass(setup, member);
    Some(match (setup.cutter, setup.purpose) {
        (Cutter::Hand, _) => return None,
        (Cutter::Knives, _) => planer(pass?, shown),
        (_, Purpose::GaugeMiter | Purpose::CompoundMiter) => from_above(setup, member, pass?, shown),
        _ => Sketch::of(setup, member, pass?, shown, room).draw(),
    })
}

/// The pass that is drawn: the set-up's first, else the member's own first.
fn first_pass(setup: &Setup, member: &Member) -> Option<Pass> {
    setup.passes.first().or(member.own_passes.first()).copied()
}

/// Extent of the block along the axis of a surface.
pub(super) fn extent(member: &Member, surface: Surface) -> f64 {
    let axis = match surface {
        Surface::End(_) => 0,
        Surface::Edge(_) => 1,
        Surface::Face(_) => 2,
    };
    member.size.get(axis).map_or(0.0, |l| l.to_mm())
}

/// What is set, ready to be drawn as seen by the maker who feeds the work. `a` runs from the guide to the blade.
struct Sketch<'s> {
    setup: &'s Setup,
    shown: Shown,
    pass: Pass,
    /// Paper millimetres per millimetre.
    scale: f64,
    /// Paper millimetres taken out of the distance.
    cut_out: f64,
    /// Guide to blade, and the work's extent across, height; millimetres.
    distance: f64,
    across: f64,
    stands: f64,
    /// Height of the work's underside (a cradle's floor).
    floor: f64,
    /// The upper side and the guide's side in words.
    up: String,
    toward: String,
    /// 1 with the guide at the left, −1 at the right.
    sign: f64,
    open_top: bool,
}

impl<'s> Sketch<'s> {
    fn of(setup: &'s Setup, member: &Member, pass: Pass, shown: Shown, room: Room) -> Self {
        let floor = setup
            .reasons
            .iter()
            .flat_map(|r| &r.given)
            .find_map(|g| match (g.name.as_str(), &g.value) {
                ("cradle floor", Value::Length(l)) => Some(l.to_mm()),
                _ => None,
            })
            .unwrap_or(0.0);
        let height = pass.height.to_mm();
        let [l, w, t] = member.size.map(|v| v.to_mm());
        let (across, stands, open_top) = match (member.placement, setup.purpose) {
            (Some(p), _) => (extent(member, p.toward) + member.excess.to_mm(), extent(member, p.down), false),
            (None, Purpose::RipStrip) => (w, t, false),
            (None, Purpose::CrosscutBlank) => (l, t, false),
            (None, Purpose::Resaw) => (t, w, false),
            (None, Purpose::SawOff) => (t, height * 2.4, true),
            (None, _) => (pass.distance.to_mm() + 40.0, (height - floor).max(4.0) * 2.6, true),
        };
        let (up, toward) = member.placement.map_or((String::new(), String::new()), |p| {
            (format!("{} up", p.down.opposite().words()), p.toward.words().to_owned())
        });
        let tall = (stands.min(3.0 * height.max(8.0)) + floor).max(height).max(1.0);
        let open_top = open_top || stands > 3.0 * height.max(8.0);
        let stands = stands.min(3.0 * height.max(8.0));
        let scale = ((room.height - 34.0).max(14.0) / tall).min(1.5);
        let distance = pass.distance.to_mm();
        let most = (room.width * 0.5).min(80.0);
        let cut_out = (distance * scale - most).max(0.0);
        let sign = if setup.side == Side::Left { 1.0 } else { -1.0 };
        Self {
            setup,
            shown,
            pass,
            scale,
            cut_out,
            distance,
            across,
            stands,
            floor,
            up,
            toward,
            sign,
            open_top,
        }
    }

    /// A place across on paper: beyond the break everything moves nearer.
    fn x(&self, a: f64) -> f64 {
        let x = a * self.scale;
        let moved = if self.cut_out > 0.0 && a > self.distance * 0.5 { x - self.cut_out } else { x };
        moved * self.sign
    }

    fn at(&self, a: f64, up: f64) -> Point {
        [self.x(a), up * self.scale]
    }

    /// Whether the cutter comes through the work.
    fn through(&self) -> bool {
        matches!(
            self.setup.purpose,
            Purpose::Crosscut
                | Purpose::CrosscutBlank
                | Purpose::BladeMiter
                | Purpose::MiterFromStrip
                | Purpose::Rip
                | Purpose::RipStrip
                | Purpose::BevelRip
                | Purpose::Resaw
        )
    }

    /// Width of the cutter on the table, millimetres.
    fn kerf(&self) -> f64 {
        let wide = match self.setup.cutter {
            Cutter::Blade { kerf, .. } | Cutter::Band(kerf) => kerf.to_mm(),
            Cutter::StraightBit(d) => d.to_mm(),
            Cutter::ChamferBit => self.pass.height.to_mm(),
            Cutter::RoundBit(r) => r.to_mm(),
            Cutter::Knives | Cutter::Hand => 0.0,
        };
        wide / self.setup.tilt.cos().max(0.1)
    }

    /// How far the blade has moved across at a height above the table.
    fn slant(&self, up: f64) -> f64 {
        let lean = match self.setup.lean {
            Lean::Upright => 0.0,
            Lean::Away => 1.0,
            Lean::Toward => -1.0,
        };
        lean * self.setup.tilt.tan() * up
    }

    fn draw(&self) -> Drawing {
        let mut drawing = Drawing::new();
        let far = self.far();
        self.table(&mut drawing, far);
        if matches!(self.setup.cutter, Cutter::ChamferBit | Cutter::RoundBit(_)) {
            self.profile(&mut drawing, far);
        } else if self.through() {
            self.parted(&mut drawing, far);
        } else {
            self.trench(&mut drawing, far);
        }
        self.guide(&mut drawing);
        self.sizes(&mut drawing, far);
        drawing
    }

    /// The far end of what is drawn, across.
    fn far(&self) -> f64 {
        let beyond = self.distance.max(0.0) + self.kerf() + self.slant(self.stands).max(0.0);
        let rest = (self.across - beyond).max(6.0 / self.scale).min(26.0 / self.scale);
        beyond + rest
    }

    fn table(&self, drawing: &mut Drawing, far: f64) {
        let (a, b) = (self.x(0.0) - self.sign * 12.0, self.x(far) + self.sign * 10.0);
        let (left, right) = (a.min(b), a.max(b));
        let fill = ink::SOFT.tint(0.22);
        drawing.rectangle([left, -TABLE], right - left, TABLE, Some(fill), None);
        drawing.line([left, 0.0], [right, 0.0], Pen::new(Line::Visible));
        if self.floor > 0.0 {
            let floor = self.floor * self.scale;
            let (a, b) = (self.x(0.0) - self.sign * 5.0, self.x(far) + self.sign * 6.0);
            let color = wood::color("").tint(0.25);
            let pen = Pen::new(Line::Visible).wide(0.3);
            drawing.rectangle([a.min(b), 0.0], (b - a).abs(), floor, Some(color), Some(pen));
            let words = Text::new([self.x(far) - self.sign * 9.0, floor / 2.0], "cradle");
            drawing.text(words.sized(2.8_f64.min(floor * 0.7)));
        }
    }

    /// The work sawn through: what is held, what falls.
    fn parted(&self, drawing: &mut Drawing, far: f64) {
        let (d, h) = (self.distance, self.stands);
        let visible = Pen::new(Line::Visible);
        let fill = wood::color("").tint(0.55);
        let start =
            if self.setup.guide == Guide::Mark { d - (40.0 / self.scale).min(d.max(30.0)) } else { 0.0 };
        let held = [self.at(start, 0.0), self.at(d, 0.0), self.at(d + self.slant(h), h), self.at(start, h)];
        drawing.polygon(held, Some(fill), Some(visible));
        let k = self.kerf();
        let waste =
            [self.at(d + k, 0.0), self.at(far, 0.0), self.at(far, h), self.at(d + k + self.slant(h), h)];
        drawing.polygon(waste, Some(ink::PAPER), Some(Pen::new(Line::Hidden)));
        self.blade(drawing, self.pass, true);
        self.face_words(drawing, [start, d]);
        self.breaks(drawing);
        self.offcut(drawing, far);
    }

    /// The work over a cutter that does not come through, with a slot for each pass.
    fn trench(&self, drawing: &mut Drawing, far: f64) {
        let (low, h) = (self.floor, self.floor + self.stands);
        let visible = Pen::new(Line::Visible);
        let fill = wood::color("").tint(0.55);
        let end = self.across.min(far);
        let block = [self.at(0.0, low), self.at(end, low), self.at(end, h), self.at(0.0, h)];
        drawing.polygon(block, Some(fill), Some(visible));
        if end < self.across - 1e-6 {
            let x = self.x(end);
            drawing.break_line([x, low * self.scale - 1.5], [x, h * self.scale + 1.5]);
        }
        if self.open_top {
            drawing.break_line(
                [self.x(0.0).min(self.x(end)) - 1.5, h * self.scale],
                [self.x(0.0).max(self.x(end)) + 1.5, h * self.scale],
            );
        }
        let passes = if self.setup.passes.is_empty() { vec![self.pass] } else { self.setup.passes.clone() };
        for pass in passes.iter().rev() {
            let first = *pass == self.pass;
            let (d, up, k) = (pass.distance.to_mm(), pass.height.to_mm(), self.kerf());
            let slot = [
                self.at(d + self.slant(low), low),
                self.at(d + k + self.slant(low), low),
                self.at(d + k + self.slant(up), up),
                self.at(d + self.slant(up), up),
            ];
            drawing.polygon(slot, Some(ink::PAPER), Some(Pen::new(Line::Dimension)));
            if first {
                self.blade(drawing, *pass, false);
            }
        }
        self.face_words(drawing, [0.0, end]);
        self.breaks(drawing);
    }

    /// A bit that shapes the arris that meets the fence.
    fn profile(&self, drawing: &mut Drawing, far: f64) {
        let (h, s) = (self.stands, self.pass.height.to_mm());
        let visible = Pen::new(Line::Visible);
        let fill = wood::color("").tint(0.55);
        let end = self.across.min(far);
        let mut block = vec![self.at(end, 0.0), self.at(end, h), self.at(0.0, h), self.at(0.0, s)];
        let mut bit = vec![self.at(-0.4 * s, 0.0), self.at(-0.4 * s, s), self.at(0.0, s)];
        if matches!(self.setup.cutter, Cutter::RoundBit(_)) {
            for i in 1..8_u32 {
                let t = f64::from(i) / 8.0 * core::f64::consts::FRAC_PI_2;
                let p = self.at(s - s * t.cos(), s - s * t.sin());
                block.push(p);
                bit.push(p);
            }
        }
        block.push(self.at(s, 0.0));
        bit.push(self.at(s, 0.0));
        drawing.polygon(block, Some(fill), Some(visible));
        drawing.polygon(bit, Some(ink::SOFT.tint(0.6)), Some(visible.wide(0.35)));
        if end < self.across - 1e-6 {
            let x = self.x(end);
            drawing.break_line([x, -1.5], [x, h * self.scale + 1.5]);
        }
        self.face_words(drawing, [s, end]);
    }

    /// The blade, from under the table to its highest tooth.
    fn blade(&self, drawing: &mut Drawing, pass: Pass, over: bool) {
        let (d, up) = (pass.distance.to_mm(), pass.height.to_mm());
        let k = self.kerf().max(0.5 / self.scale);
        let below = -TABLE / self.scale;
        let edge = |a: f64, z: f64| self.at(a + self.slant(z), z);
        let blade = [edge(d, below), edge(d + k, below), edge(d + k, up), edge(d, up)];
        let fill = if over { ink::INK.tint(0.75) } else { ink::INK.tint(0.6) };
        drawing.polygon(blade, Some(fill), Some(Pen::new(Line::Visible).wide(0.25)));
    }

    /// Where the long distance is broken off.
    fn breaks(&self, drawing: &mut Drawing) {
        if self.cut_out > 0.0 && self.setup.guide != Guide::Mark {
            let x = self.sign * (self.distance * self.scale - self.cut_out) * 0.3;
            let top = (self.floor + self.stands) * self.scale;
            let gap = 1.6;
            let band = [[x - gap, -0.2], [x + gap, -0.2], [x + gap, top + 0.4], [x - gap, top + 0.4]];
            drawing.polygon(band, Some(ink::PAPER), None);
            for side in [x - gap, x + gap] {
                drawing.break_line([side, self.floor * self.scale - 1.5], [side, top + 1.5]);
            }
            drawing.line([x - gap, 0.0], [x + gap, 0.0], Pen::new(Line::Visible));
        }
    }

    /// The face that is up, written in the work or above it.
    fn face_words(&self, drawing: &mut Drawing, [from, to]: [f64; 2]) {
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
        (base + self.guide_high()).max(work).max(cutter) + 2.6
    }

    /// The guide on its side, named.
    fn guide(&self, drawing: &mut Drawing) {
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
            let (d, h) = (self.distance + self.slant(self.stands), self.stands);
            let knee = [-self.sign * 18.0, self.label_level() + 1.2 - h * self.scale];
            drawing.leader(Leader::new(self.at(d, h), knee, "to the knife line"));
        }
    }

    /// Where the offcut goes.
    fn offcut(&self, drawing: &mut Drawing, far: f64) {
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
    fn sizes(&self, drawing: &mut Drawing, far: f64) {
        let placed = !matches!(self.setup.guide, Guide::Mark | Guide::Free);
        let profile = matches!(self.setup.cutter, Cutter::ChamferBit | Cutter::RoundBit(_));
        if placed && !profile {
            let (a, b) = (self.x(0.0), self.x(self.distance));
            let words = self.shown.dimension(self.pass.distance);
            drawing
                .dimension(Dimension::level([a.min(b), -TABLE], [a.max(b), -TABLE], -8.0, words).sized(4.2));
            self.more_passes(drawing);
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
            let radius = (up * self.scale * 1.25).max(14.0);
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

    /// The other fence positions of a rabbet or groove.
    fn more_passes(&self, drawing: &mut Drawing) {
        let rest: Vec<String> =
            self.setup.passes.iter().skip(1).map(|p| self.shown.dimension(p.distance)).collect();
        let mut lines = Vec::new();
        if !rest.is_empty() {
            lines.push(format!("then {}", rest.join(", ")));
        }
        if !self.setup.more_stops.is_empty() {
            let stops: Vec<String> = self.setup.more_stops.iter().map(|l| self.shown.dimension(*l)).collect();
            lines.push(format!("more stops {}", stops.join(", ")));
        }
        for (i, line) in lines.into_iter().enumerate() {
            let y = -TABLE - 13.5 - 5.0 * i as f64;
            let anchor = if self.sign > 0.0 { Anchor::Start } else { Anchor::End };
            drawing.text(Text::new([0.0, y], line).sized(WORDS).hung(anchor, Rise::Middle));
        }
    }
}

/// Milling to thickness.
fn planer(pass: Pass, shown: Shown) -> Drawing {
    let mut drawing = Drawing::new();
    let thick = pass.height.to_mm();
    let scale = (16.0 / thick.max(1.0)).min(1.5);
    let (h, long) = (thick * scale, 70.0);
    drawing.rectangle([-8.0, -TABLE], long + 16.0, TABLE, Some(ink::SOFT.tint(0.22)), None);
    drawing.line([-8.0, 0.0], [long + 8.0, 0.0], Pen::new(Line::Visible));
    drawing.rectangle([0.0, 0.0], long, h, Some(wood::color("").tint(0.55)), None);
    drawing.polyline([[0.0, 0.0], [0.0, h], [long, h], [long, 0.0]], Pen::new(Line::Visible));
    let knives = 9.0;
    drawing.circle(
        [long * 0.5, h + knives],
        knives,
        Some(ink::SOFT.tint(0.25)),
        Some(Pen::new(Line::Visible)),
    );
    drawing.text(Text::new([long * 0.5, h + knives], "knives").sized(3.0));
    drawing
        .dimension(Dimension::upright([long, 0.0], [long, h], 10.0, shown.dimension(pass.height)).sized(4.2));
    drawing
}
