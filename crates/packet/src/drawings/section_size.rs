//! Dimensions of the joints in section, taken from the cuts themselves.

use super::Shown;
use super::section::Cut;
use crate::drawing::{Dimension, Drawing, Point};
use keepwright_model::parts::{Arris, BoxParts, Edge, Face, Operation, Part, Role};
use keepwright_model::space::Vec3;

/// Size of the words of these dimensions, millimeters.
const WORDS: f64 = 3.0;
/// From one dimension line to the next.
const ROW: f64 = 6.5;

/// Dimension lines beside a section: each in a row of its own, so that short ones never share their words' place.
struct Rows<'d> {
    drawing: &'d mut Drawing,
    cut: Cut,
    shown: Shown,
    right: f64,
    below: f64,
    above: f64,
    seen: Vec<(bool, [i64; 2])>,
}

impl<'d> Rows<'d> {
    fn new(drawing: &'d mut Drawing, cut: &Cut, shown: Shown) -> Self {
        Self { drawing, cut: *cut, shown, right: 7.0, below: 7.0, above: 7.0, seen: Vec::new() }
    }

    /// Whether the same stretch has its dimension already.
    fn known(&mut self, upright: bool, a: f64, b: f64) -> bool {
        #[expect(clippy::cast_possible_truncation, reason = "hundredths of a millimeter of a box")]
        let key = (upright, [a.min(b), a.max(b)].map(|v| (v * 100.0).round() as i64));
        if self.seen.contains(&key) {
            return true;
        }
        self.seen.push(key);
        false
    }

    /// Whether both ends are shown.
    fn shows(&self, points: [Point; 2]) -> bool {
        let b = self.cut.crop.grown(0.01);
        points.iter().all(|p| p[0] >= b.left && p[0] <= b.right && p[1] >= b.bottom && p[1] <= b.top)
    }

    /// A height, stated at the right.
    fn height(&mut self, from: Vec3, to: Vec3) {
        let ends = [self.cut.place(from), self.cut.place(to)];
        let mm = (ends[1][1] - ends[0][1]).abs();
        if mm < 0.05 || !self.shows(ends) || self.known(true, ends[0][1], ends[1][1]) {
            return;
        }
        let [a, b] = if ends[0][1] <= ends[1][1] { ends } else { [ends[1], ends[0]] };
        let off = self.cut.crop.right + self.right - a[0].max(b[0]);
        self.drawing.dimension(Dimension::upright(a, b, off, self.shown.mm(mm)).sized(WORDS));
        self.right += ROW;
    }

    /// A distance across, stated below.
    fn across_below(&mut self, from: Vec3, to: Vec3) {
        if self.across(from, to, self.cut.crop.bottom - self.below, false) {
            self.below += ROW;
        }
    }

    /// A distance across, stated above.
    fn across_above(&mut self, from: Vec3, to: Vec3) {
        if self.across(from, to, self.cut.crop.top + self.above, false) {
            self.above += ROW;
        }
    }

    /// A measure of the wall's thickness, square to its face.
    fn square(&mut self, edge: Edge, from: Vec3, to: Vec3) {
        if edge == Edge::Lower {
            if self.across(from, to, self.cut.crop.bottom - self.below, true) {
                self.below += ROW;
            }
        } else if self.across(from, to, self.cut.crop.top + self.above, true) {
            self.above += ROW;
        }
    }

    /// A distance across with its line at a height; parallel to the points if `square`, else level.
    fn across(&mut self, from: Vec3, to: Vec3, line: f64, square: bool) -> bool {
        let ends = [self.cut.place(from), self.cut.place(to)];
        let mm = (ends[1][0] - ends[0][0]).hypot(if square { ends[1][1] - ends[0][1] } else { 0.0 });
        if mm < 0.05 || !self.shows(ends) || self.known(false, ends[0][0], ends[1][0]) {
            return false;
        }
        let [a, b] = if ends[0][0] <= ends[1][0] { ends } else { [ends[1], ends[0]] };
        let leans = square && (a[1] - b[1]).abs() > 1e-6;
        let dimension = if leans {
            Dimension::aligned(a, b, line - f64::midpoint(a[1], b[1]), self.shown.mm(mm))
        } else {
            let level = if line < a[1].min(b[1]) { a[1].min(b[1]) } else { a[1].max(b[1]) };
            Dimension::level(a, b, line - level, self.shown.mm(b[0] - a[0]))
        };
        self.drawing.dimension(dimension.sized(WORDS));
        true
    }
}

/// A point of a part's cross-section, in the middle of its length.
fn at(part: &Part, v: f64, w: f64) -> Vec3 {
    part.pose.point(Vec3::new(part.size[0].to_mm() / 2.0, v, w))
}

/// Trench dimensions of a wall, near one of its edges.
fn trenches(rows: &mut Rows<'_>, wall: &Part, edge: Edge) {
    let height = wall.size[1].to_mm();
    let thick = wall.size[2].to_mm();
    for cut in &wall.cuts {
        match cut.operation {
            Operation::Rabbet { arris: Arris::Long(Face::Back, at_edge), width, depth, .. }
                if at_edge == edge =>
            {
                let (width, depth) = (width.to_mm(), depth.to_mm());
                let v = if edge == Edge::Lower { 0.0 } else { height };
                let toward = if edge == Edge::Lower { width } else { height - width };
                rows.square(edge, at(wall, v, depth), at(wall, v, 0.0));
                rows.square(edge, at(wall, v, thick), at(wall, v, depth));
                rows.height(at(wall, v, 0.0), at(wall, toward, 0.0));
            }
            Operation::Groove { face: Face::Back, along_grain: true, offset, width, depth, .. } => {
                let (offset, width, depth) = (offset.to_mm(), width.to_mm(), depth.to_mm());
                let lower = offset + width / 2.0 < height / 2.0;
                if lower != (edge == Edge::Lower) {
                    continue;
                }
                let middle = offset + width / 2.0;
                rows.square(edge, at(wall, middle, depth), at(wall, middle, 0.0));
                rows.height(at(wall, offset, 0.0), at(wall, offset + width, 0.0));
                if lower {
                    rows.height(at(wall, 0.0, 0.0), at(wall, offset, 0.0));
                } else {
                    rows.height(at(wall, offset + width, 0.0), at(wall, height, 0.0));
                }
            }
            _ => {}
        }
    }
}

/// The first part of a role that stands at the front.
fn front_of(parts: &BoxParts, role: Role) -> Option<&Part> {
    parts
        .parts
        .iter()
        .filter(|p| p.role == role && p.pose.u.x > 0.9)
        .min_by(|a, b| a.pose.origin.y.total_cmp(&b.pose.origin.y))
}

/// What is dimensioned at the foot of the front wall.
pub(super) fn foot_sizes(parts: &BoxParts, wall: &Part, cut: &Cut, shown: Shown, drawing: &mut Drawing) {
    let mut rows = Rows::new(drawing, cut, shown);
    trenches(&mut rows, wall, Edge::Lower);
    let thick = wall.size[2].to_mm();
    let v = if wall.pose.v.z > 0.999 { 0.0 } else { wall.size[1].to_mm() * 0.02 };
    if let Some(ledge) = front_of(parts, Role::Ledge) {
        let [_, height, width] = ledge.size.map(keepwright_model::units::Length::to_mm);
        rows.across_below(at(ledge, 0.0, 0.0), at(ledge, 0.0, width));
        rows.height(at(ledge, 0.0, 0.0), at(ledge, height, 0.0));
    }
    for part in parts.parts.iter().filter(|p| p.role == Role::Bottom) {
        let low = part.pose.origin;
        rows.height(low, low + Vec3::Z * part.size[2].to_mm());
    }
    if let Some(plinth) = front_of(parts, Role::Plinth) {
        let [_, height, width] = plinth.size.map(keepwright_model::units::Length::to_mm);
        rows.across_below(at(plinth, 0.0, 0.0), at(plinth, 0.0, width));
        rows.height(at(plinth, 0.0, 0.0), at(plinth, height, 0.0));
        rows.across_below(at(plinth, 0.0, width), at(wall, 0.0, thick));
    }
    // The wall's thickness, square to it; level for an upright wall.
    rows.square(Edge::Lower, at(wall, v, thick), at(wall, v, 0.0));
}

/// What is dimensioned at the rim of the front wall.
pub(super) fn rim_sizes(parts: &BoxParts, wall: &Part, cut: &Cut, shown: Shown, drawing: &mut Drawing) {
    let mut rows = Rows::new(drawing, cut, shown);
    let (height, thick) = (wall.size[1].to_mm(), wall.size[2].to_mm());
    if super::pieces::saw_band(parts).is_none() {
        trenches(&mut rows, wall, Edge::Upper);
    }
    if let Some(lining) = front_of(parts, Role::Lining) {
        let [_, up, width] = lining.size.map(keepwright_model::units::Length::to_mm);
        rows.across_below(at(lining, up / 2.0, 0.0), at(lining, up / 2.0, width));
        let rim = super::pieces::saw_band(parts).map_or(at(wall, height, 0.0).z, |b| b.0);
        let top = at(lining, up, 0.0);
        rows.height(Vec3::new(top.x, top.y, rim), top);
    }
    if let Some(member) = front_of(parts, Role::FrameMember) {
        frame(&mut rows, member);
        // Overhang: from the wall's outside face to the lid's.
        rows.across_below(at(member, 0.0, 0.0), at(wall, height, thick));
    }
    if let Some(lip) = front_of(parts, Role::Lip) {
        let [_, up, width] = lip.size.map(keepwright_model::units::Length::to_mm);
        rows.across_below(at(lip, 0.0, 0.0), at(lip, 0.0, width));
        rows.height(at(lip, 0.0, 0.0), at(lip, up, 0.0));
        rows.across_below(at(wall, height / 2.0, 0.0), at(lip, 0.0, width));
    }
    rows.square(Edge::Lower, at(wall, height * 0.98, thick), at(wall, height * 0.98, 0.0));
}

/// A lid frame's member: v runs from its outside edge inward, w up.
fn frame(rows: &mut Rows<'_>, member: &Part) {
    let [_, width, thick] = member.size.map(keepwright_model::units::Length::to_mm);
    for cut in &member.cuts {
        match cut.operation {
            Operation::Rabbet { arris: Arris::Long(Face::Back, edge), width: across, depth, .. } => {
                let (across, depth) = (across.to_mm(), depth.to_mm());
                let (from, to) = if edge == Edge::Lower { (0.0, across) } else { (width - across, width) };
                if edge == Edge::Upper {
                    rows.across_above(at(member, from, 0.0), at(member, to, 0.0));
                }
                rows.height(at(member, from, 0.0), at(member, from, depth));
            }
            Operation::EdgeGroove { offset, width: high, depth, .. } => {
                let (offset, high, depth) = (offset.to_mm(), high.to_mm(), depth.to_mm());
                rows.across_above(at(member, width - depth, offset), at(member, width, offset));
                rows.height(at(member, width, offset), at(member, width, offset + high));
                rows.height(at(member, width, 0.0), at(member, width, offset));
            }
            _ => {}
        }
    }
    rows.across_above(at(member, 0.0, thick), at(member, width, thick));
    rows.height(at(member, width, 0.0), at(member, width, thick));
}

/// What is dimensioned at a corner: wall thickness, what a key shows, a tongue's slot.
pub(super) fn corner_sizes(front: &Part, cut: &Cut, leg: f64, shown: Shown, drawing: &mut Drawing) {
    let thick = front.size[2].to_mm();
    if front.pose.w.z.abs() < 1e-9 && cut.crop.right < 3.0 {
        // The right wall's outside face lies on x = 0 of the drawing.
        let top = cut.crop.top;
        let dim = Dimension::level([-thick, top], [0.0, top], 8.0, shown.mm(thick));
        drawing.dimension(dim.sized(WORDS));
    }
    if leg > 0.0 {
        drawing.dimension(Dimension::level([-leg, -1.0], [0.0, -1.0], -8.0, shown.mm(leg)).sized(WORDS));
    }
}
