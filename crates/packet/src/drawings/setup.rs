//! A small sketch for a set-up card: the table, the blade at its height and tilt, the work as it lies, the guide
//! on its side with its distance, where the offcut goes.

use super::place::Taken;
use super::setup_above::from_above;
use super::{Room, Shown, wood};
use crate::drawing::{Anchor, Bounds, Dimension, Drawing, Line, Pen, Point, Rise, Text};
use crate::ink;
use keepwright_model::reason::Value;
use keepwright_model::saw::{Cutter, Guide, Lean, Member, Pass, Purpose, Setup, Side, Surface};
use keepwright_model::units::Length;

/// Size of the words, millimeters.
pub(super) const WORDS: f64 = 3.4;
/// The smallest that table, guide and work are drawn, as a share of their usual size.
const LEAST_UNIT: f64 = 0.15;
/// Depth of the table that is drawn.
const TABLE: f64 = 4.0;

/// The sketch of a set-up; `None` where there is nothing to see (hand tools).
///
/// # Units
/// Millimeters of the paper, no larger than `room` if words leave any room at all. Heights, kerf and tilt are to one
/// scale; a long distance is broken off and says its true number.
pub fn setup_drawing(setup: &Setup, shown: Shown, room: Room) -> Option<Drawing> {
    let member = setup.members.first()?;
    let pass = first_pass(setup, member);
    if setup.cutter == Cutter::Hand {
        return None;
    }
    let pass = pass?;
    Some(as_large_as_fits(room, |unit| match (setup.cutter, setup.purpose) {
        (Cutter::Knives, _) => planer(pass, shown, unit),
        (_, Purpose::GaugeMiter | Purpose::CompoundMiter) => from_above(setup, member, pass, shown, unit),
        _ => Sketch::of(setup, member, pass, shown, room, unit).draw(),
    }))
}

/// Draws with the largest unit, at most 1, that stays in the room. Letters keep their size, so where they stand is
/// decided with the unit known; nothing is made smaller afterward.
fn as_large_as_fits(room: Room, draw: impl Fn(f64) -> Drawing) -> Drawing {
    let fits = |drawing: &Drawing| {
        let clear = 2.0 * super::CLEAR;
        let within = |b: Bounds| b.width() + clear <= room.width && b.height() + clear <= room.height;
        drawing.bounds(1.0).is_none_or(within)
    };
    let mut best = draw(1.0);
    if fits(&best) {
        return best;
    }
    let (mut low, mut high) = (LEAST_UNIT, 1.0_f64);
    best = draw(low);
    for _ in 0..8 {
        let middle = (low * high).sqrt();
        let drawing = draw(middle);
        if fits(&drawing) {
            (low, best) = (middle, drawing);
        } else {
            high = middle;
        }
    }
    best
}

/// Whether [`setup_drawing`] has something to show of a set-up.
pub fn has_setup_drawing(setup: &Setup) -> bool {
    let pass = setup.members.first().and_then(|member| first_pass(setup, member));
    setup.cutter != Cutter::Hand && pass.is_some()
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
pub(super) struct Sketch<'s> {
    pub(super) setup: &'s Setup,
    pub(super) shown: Shown,
    pub(super) pass: Pass,
    /// Paper millimeters per millimeter.
    pub(super) scale: f64,
    /// Paper millimeters for a millimeter of table, guide and arrows.
    unit: f64,
    /// Paper millimeters taken out of the distance.
    pub(super) cut_out: f64,
    /// Guide to blade, and the work's extent across, height; millimeters.
    pub(super) distance: f64,
    pub(super) across: f64,
    pub(super) stands: f64,
    /// Height of the work's underside (a cradle's floor).
    pub(super) floor: f64,
    /// The upper side and the guide's side in words.
    pub(super) up: String,
    pub(super) toward: String,
    /// 1 with the guide at the left, −1 at the right.
    pub(super) sign: f64,
    pub(super) open_top: bool,
    /// How far the miter at the guide has run back where it meets the table, millimeters.
    pub(super) miter: f64,
}

impl<'s> Sketch<'s> {
    fn of(setup: &'s Setup, member: &Member, pass: Pass, shown: Shown, room: Room, unit: f64) -> Self {
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
        let [l, w, t] = member.size.map(Length::to_mm);
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
        let scale = ((room.height - 34.0).max(14.0) / tall).min(1.5) * unit;
        let distance = pass.distance.to_mm();
        let most = (room.width * 0.5).min(80.0) * unit;
        let cut_out = (distance * scale - most).max(0.0);
        // Lying flat, the slot is square to the miter face, so the face leans the other way than the blade.
        let flat = member.placement.is_some_and(|p| matches!(p.down, Surface::Face(_)));
        let miter =
            if setup.purpose == Purpose::EndSlot && flat { stands / setup.tilt.tan().max(0.1) } else { 0.0 };
        let sign = if setup.side == Side::Left { 1.0 } else { -1.0 };
        Self {
            setup,
            shown,
            pass,
            scale,
            unit,
            cut_out,
            distance,
            across,
            stands,
            floor,
            up,
            toward,
            sign,
            open_top,
            miter,
        }
    }

    /// A length of table, guide or arrow on paper.
    pub(super) fn mm(&self, length: f64) -> f64 {
        length * self.unit
    }

    /// Depth of the table on paper.
    pub(super) fn table_deep(&self) -> f64 {
        self.mm(TABLE)
    }

    /// A place across on paper: beyond the break everything moves nearer.
    pub(super) fn x(&self, a: f64) -> f64 {
        let x = a * self.scale;
        let moved = if self.cut_out > 0.0 && a > self.distance * 0.5 { x - self.cut_out } else { x };
        moved * self.sign
    }

    pub(super) fn at(&self, a: f64, up: f64) -> Point {
        [self.x(a), up * self.scale]
    }

    /// Whether the cutter comes through the work.
    pub(super) fn through(&self) -> bool {
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

    /// Width of the cutter on the table, millimeters.
    pub(super) fn kerf(&self) -> f64 {
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
    pub(super) fn slant(&self, up: f64) -> f64 {
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
        if self.shaped() {
            self.profile(&mut drawing, far);
        } else if self.through() {
            self.parted(&mut drawing, far);
        } else {
            self.trench(&mut drawing, far);
        }
        self.guide(&mut drawing);
        self.sizes(&mut drawing, far);
        self.tilt(&mut drawing);
        self.words(&mut drawing);
        drawing
    }

    /// Whether a bit shapes an arris, so that nothing is set across.
    pub(super) fn shaped(&self) -> bool {
        matches!(self.setup.cutter, Cutter::ChamferBit | Cutter::RoundBit(_))
    }

    /// Where the work that is held begins, across: at the guide, or a stretch before a knife line.
    pub(super) fn held_from(&self) -> f64 {
        let d = self.distance;
        if self.setup.guide == Guide::Mark { d - (self.mm(40.0) / self.scale).min(d.max(30.0)) } else { 0.0 }
    }

    /// The far end of what is drawn, across.
    pub(super) fn far(&self) -> f64 {
        let beyond = self.distance.max(0.0) + self.kerf() + self.slant(self.stands).max(0.0);
        let rest = (self.across - beyond).max(self.mm(6.0) / self.scale).min(self.mm(26.0) / self.scale);
        beyond + rest
    }

    fn table(&self, drawing: &mut Drawing, far: f64) {
        let (a, b) = (self.x(0.0) - self.sign * self.mm(12.0), self.x(far) + self.sign * self.mm(10.0));
        let (left, right) = (a.min(b), a.max(b));
        let (fill, deep) = (ink::SOFT.tint(0.22), self.table_deep());
        drawing.rectangle([left, -deep], right - left, deep, Some(fill), None);
        drawing.line([left, 0.0], [right, 0.0], Pen::new(Line::Visible));
        if self.floor > 0.0 {
            let floor = self.floor * self.scale;
            let (a, b) = (self.x(0.0) - self.sign * self.mm(5.0), self.x(far) + self.sign * self.mm(6.0));
            let color = wood::color("").tint(0.25);
            let pen = Pen::new(Line::Visible).wide(0.3);
            drawing.rectangle([a.min(b), 0.0], (b - a).abs(), floor, Some(color), Some(pen));
        }
    }

    /// The work sawn through: what is held, what falls.
    fn parted(&self, drawing: &mut Drawing, far: f64) {
        let (d, h) = (self.distance, self.stands);
        let visible = Pen::new(Line::Visible);
        let fill = wood::color("").tint(0.55);
        let start = self.held_from();
        let held = [self.at(start, 0.0), self.at(d, 0.0), self.at(d + self.slant(h), h), self.at(start, h)];
        drawing.polygon(held, Some(fill), Some(visible));
        let k = self.kerf();
        let waste =
            [self.at(d + k, 0.0), self.at(far, 0.0), self.at(far, h), self.at(d + k + self.slant(h), h)];
        drawing.polygon(waste, Some(ink::PAPER), Some(Pen::new(Line::Hidden)));
        self.blade(drawing, self.pass, true);
        self.breaks(drawing);
        self.offcut(drawing, far);
    }

    /// The work over a cutter that does not come through, with a slot for each pass.
    fn trench(&self, drawing: &mut Drawing, far: f64) {
        let (low, h) = (self.floor, self.floor + self.stands);
        let visible = Pen::new(Line::Visible);
        let fill = wood::color("").tint(0.55);
        let end = self.across.min(far);
        let block = [self.at(self.miter, low), self.at(end, low), self.at(end, h), self.at(0.0, h)];
        drawing.polygon(block, Some(fill), Some(visible));
        if end < self.across - 1e-6 {
            let x = self.x(end);
            let over = self.mm(1.5);
            drawing.break_line([x, low * self.scale - over], [x, h * self.scale + over]);
        }
        if self.open_top {
            let over = self.mm(1.5);
            drawing.break_line(
                [self.x(0.0).min(self.x(end)) - over, h * self.scale],
                [self.x(0.0).max(self.x(end)) + over, h * self.scale],
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
            let over = self.mm(1.5);
            drawing.break_line([x, -over], [x, h * self.scale + over]);
        }
    }

    /// The blade, from under the table to its highest tooth.
    fn blade(&self, drawing: &mut Drawing, pass: Pass, over: bool) {
        let (d, up) = (pass.distance.to_mm(), pass.height.to_mm());
        let k = self.kerf().max(0.5 / self.scale);
        let below = -self.table_deep() / self.scale;
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
            let (gap, over) = (self.mm(1.6), self.mm(1.5));
            let band = [[x - gap, -0.2], [x + gap, -0.2], [x + gap, top + 0.4], [x - gap, top + 0.4]];
            drawing.polygon(band, Some(ink::PAPER), None);
            for side in [x - gap, x + gap] {
                drawing.break_line([side, self.floor * self.scale - over], [side, top + over]);
            }
            drawing.line([x - gap, 0.0], [x + gap, 0.0], Pen::new(Line::Visible));
        }
    }
}

/// Milling to thickness.
fn planer(pass: Pass, shown: Shown, unit: f64) -> Drawing {
    let mut drawing = Drawing::new();
    let thick = pass.height.to_mm();
    let scale = (16.0 / thick.max(1.0)).min(1.5) * unit;
    let (h, long, past, deep) = (thick * scale, 70.0 * unit, 8.0 * unit, TABLE * unit);
    drawing.rectangle([-past, -deep], long + 2.0 * past, deep, Some(ink::SOFT.tint(0.22)), None);
    drawing.line([-past, 0.0], [long + past, 0.0], Pen::new(Line::Visible));
    drawing.rectangle([0.0, 0.0], long, h, Some(wood::color("").tint(0.55)), None);
    drawing.polyline([[0.0, 0.0], [0.0, h], [long, h], [long, 0.0]], Pen::new(Line::Visible));
    let knives = 9.0 * unit;
    drawing.circle(
        [long * 0.5, h + knives],
        knives,
        Some(ink::SOFT.tint(0.25)),
        Some(Pen::new(Line::Visible)),
    );
    let inside = Text::new([long * 0.5, h + knives], "knives").sized(3.0);
    let beside = inside.clone().hung(Anchor::Start, Rise::Middle);
    let beside = Text { at: [long * 0.5 + knives + 2.0, h + knives.max(3.0)], ..beside };
    drawing.text(if Taken::of(&drawing).frees(&inside) { inside } else { beside });
    drawing
        .dimension(Dimension::upright([long, 0.0], [long, h], 10.0, shown.dimension(pass.height)).sized(4.2));
    drawing
}
