//! Joints in section at full scale: a corner cut level, the front wall cut upright at its foot and at its rim.

use super::outline::{joined, roomiest};
use super::pieces::{Piece, closed};
use super::place::{self, Named, Sides};
use super::section_size::{corner_sizes, foot_sizes, rim_sizes};
use super::{Shown, Titled, wood};
use crate::drawing::{Bounds, Drawing, Item, Line, Pen, Point};
use keepwright_model::design::CornerName;
use keepwright_model::parts::{AssemblyOperation, BoxParts, Operation, Part, Role};
use keepwright_model::solids::{Solid, block_face, section};
use keepwright_model::space::{Convex, Plane, Vec3};
use keepwright_model::units::Length;

/// A plane with the axes of its drawing and the block that is shown.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cut {
    /// A point of the plane; the drawing's origin.
    pub(super) origin: Vec3,
    /// To the right on paper.
    pub(super) right: Vec3,
    /// Up on paper.
    pub(super) up: Vec3,
    /// What is shown, in drawing millimeters.
    pub(super) crop: Bounds,
}

impl Cut {
    /// Where a point of the box falls on the drawing.
    pub(super) fn place(&self, p: Vec3) -> Point {
        let d = p - self.origin;
        [self.right.dot(d), self.up.dot(d)]
    }

    /// The planes that bound what is shown.
    fn block(&self) -> Convex {
        let far =
            |way: Vec3, at: f64, sign: f64| Plane { n: way * sign, d: (way.dot(self.origin) + at) * sign };
        Convex::new(vec![
            far(self.right, self.crop.left, -1.0),
            far(self.right, self.crop.right, 1.0),
            far(self.up, self.crop.bottom, -1.0),
            far(self.up, self.crop.top, 1.0),
        ])
    }
}

/// The cut wood of one part.
struct Face {
    part: usize,
    loops: Vec<Vec<(f64, f64)>>,
}

/// The cut faces of all pieces inside what is shown.
fn faces(pieces: &[Piece], cut: &Cut) -> Vec<Face> {
    let plane = Plane::through(cut.origin, cut.right.cross(cut.up));
    let block = cut.block();
    let mut faces = Vec::new();
    for piece in pieces {
        let mut solid = piece.solid.clone();
        solid.keep(&block, block_face::SEAM - 1);
        if solid.is_empty() {
            continue;
        }
        let cut_wood = section(&solid, &plane);
        for face in &cut_wood.faces {
            let on_paper = |l: &Vec<(f64, f64)>| {
                l.iter()
                    .map(|(a, b)| {
                        let [x, y] = cut.place(cut_wood.origin + cut_wood.u * *a + cut_wood.v * *b);
                        (x, y)
                    })
                    .collect()
            };
            faces.push(Face { part: piece.part, loops: face.iter().map(on_paper).collect() });
        }
    }
    faces
}

/// Draws the cut faces: tint, hatching by part, outline, break lines where the drawing ends in wood.
fn draw(parts: &BoxParts, faces: &[Face], cut: &Cut, drawing: &mut Drawing) {
    let mut breaks: [Vec<(f64, f64)>; 4] = Default::default();
    let mut outlines = Drawing::new();
    for face in faces {
        let Some(part) = parts.parts.get(face.part) else { continue };
        let ring = joined(&face.loops);
        drawing.polygon(ring.clone(), Some(wood::color(&part.wood).tint(0.4)), None);
        let (angle, spacing) = hatching(face.part, part);
        let pen = Pen::new(Line::Figure);
        drawing.push(Item::Hatch { points: ring, angle, spacing, pen });
        for ring in &face.loops {
            for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                match on_rim(cut, *a, *b) {
                    Some((side, span)) => {
                        if let Some(list) = breaks.get_mut(side) {
                            list.push(span);
                        }
                    }
                    None => outlines.line([a.0, a.1], [b.0, b.1], Pen::new(Line::Visible).wide(0.4)),
                }
            }
        }
    }
    drawing.items.append(&mut outlines.items);
    let Bounds { left, bottom, right, top } = cut.crop;
    for (side, mut spans) in breaks.into_iter().enumerate() {
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut merged: Vec<(f64, f64)> = Vec::new();
        for span in spans {
            match merged.last_mut() {
                Some(last) if span.0 <= last.1 + 1.0 => last.1 = last.1.max(span.1),
                _ => merged.push(span),
            }
        }
        for (from, to) in merged {
            let (from, to) = (from - 1.5, to + 1.5);
            let ends = match side {
                0 => ([left, from], [left, to]),
                1 => ([right, from], [right, to]),
                2 => ([from, bottom], [to, bottom]),
                _ => ([from, top], [to, top]),
            };
            drawing.break_line(ends.0, ends.1);
        }
    }
}

/// Which side of what is shown an edge lies on, and its stretch there.
fn on_rim(cut: &Cut, a: (f64, f64), b: (f64, f64)) -> Option<(usize, (f64, f64))> {
    let near = |x: f64, y: f64| (x - y).abs() < 1e-4;
    let Bounds { left, bottom, right, top } = cut.crop;
    let upright = (a.1.min(b.1), a.1.max(b.1));
    let level = (a.0.min(b.0), a.0.max(b.0));
    for (side, x) in [(0, left), (1, right)] {
        if near(a.0, x) && near(b.0, x) {
            return Some((side, upright));
        }
    }
    for (side, y) in [(2, bottom), (3, top)] {
        if near(a.1, y) && near(b.1, y) {
            return Some((side, level));
        }
    }
    None
}

/// Angle and spacing of a part's hatching: neighbors differ.
fn hatching(index: usize, part: &Part) -> (f64, f64) {
    let spacing = match part.role {
        Role::Key | Role::Tongue | Role::Veneer | Role::Lining | Role::Lip => 1.1,
        Role::Bottom | Role::Top | Role::FramePanel | Role::LidPanel | Role::Strip => 1.6,
        _ => 2.2,
    };
    let angle = match part.role {
        Role::Bottom | Role::Top | Role::FramePanel | Role::LidPanel | Role::Strip | Role::Ledge => 135.0,
        Role::Key | Role::Tongue | Role::Lining => 75.0,
        _ if index % 2 == 1 => 135.0,
        _ => 45.0,
    };
    (angle, spacing)
}

/// Names of the parts that are cut, one for each.
fn named(parts: &BoxParts, faces: &[Face], all: bool, shown: Shown) -> Vec<Named> {
    let mut found: Vec<(String, Named, f64)> = Vec::new();
    for face in faces {
        let Some(part) = parts.parts.get(face.part) else { continue };
        let Some((tip, away)) = roomiest(&joined(&face.loops)) else { continue };
        let name =
            if all && part.role == Role::Wall { format!("{} wall", part.name) } else { wood::kind(part) };
        let mut lines = vec![name.clone(), wood::name(&part.wood)];
        if all && matches!(part.role, Role::Key | Role::Tongue) {
            let [_, across, thick] = part.size;
            lines.push(format!(
                "{} thick, {} {}",
                shown.dimension(thick),
                shown.dimension(across),
                across_word(part)
            ));
        }
        match found.iter_mut().find(|f| f.0 == name) {
            Some(known) if known.2 >= away => {}
            Some(known) => *known = (name, Named { tip, lines }, away),
            None => found.push((name, Named { tip, lines }, away)),
        }
    }
    for float in &parts.floats {
        let cut_here = faces.iter().any(|f| f.part == float.part.0);
        let kind = parts.parts.get(float.part.0).map(wood::kind);
        if let (true, false, Some(one)) =
            (cut_here, all, found.iter_mut().find(|f| Some(&f.0) == kind.as_ref()))
        {
            one.1.lines.push(format!("floats, gap {}", shown.length(float.gap)));
        }
    }
    found.into_iter().map(|f| f.1).collect()
}

/// What the width of a key or tongue is called.
fn across_word(part: &Part) -> &'static str {
    if part.role == Role::Key { "deep" } else { "wide" }
}

/// The walls of the box, in order round it.
pub(super) fn walls(parts: &BoxParts) -> Vec<&Part> {
    parts.parts.iter().filter(|p| p.role == Role::Wall).collect()
}

/// The joints in section, full scale: the front right corner cut level, the front wall's foot, its rim.
///
/// # Units
/// Millimeters of the box; show at scale 1.
pub fn joint_sections(parts: &BoxParts, solids: &[Solid], shown: Shown) -> Vec<Titled> {
    let pieces = closed(parts, solids);
    let mut out = Vec::new();
    if let Some(one) = corner(parts, &pieces, shown) {
        out.push(one);
    }
    out.extend(upright(parts, &pieces, shown));
    out
}

/// What a corner is cut through.
fn corner_level(parts: &BoxParts, front: &Part) -> (f64, &'static str) {
    let cuts = parts.assemblies.iter().flat_map(|a| &a.cuts);
    let key = cuts.into_iter().find_map(|c| match c.operation {
        AssemblyOperation::KeySlot { corner, in_lid: false, height, .. } if corner.0 == 0 => {
            // Height counts along the arris; a leaning wall is lower than it is long.
            Some(height.to_mm() * front.pose.v.z)
        }
        _ => None,
    });
    if let Some(z) = key {
        return (z, "through a key");
    }
    let high = front.pose.v.z * front.size[1].to_mm();
    let tongue = front.cuts.iter().any(|c| matches!(c.operation, Operation::EndSlot { .. }));
    if tongue {
        return (high * 0.42, "through the loose tongue");
    }
    (high * 0.42, "between bottom and lid")
}

fn corner(parts: &BoxParts, pieces: &[Piece], shown: Shown) -> Option<Titled> {
    let walls = walls(parts);
    let (front, side) = (walls.first()?, walls.get(1)?);
    let (z, through) = corner_level(parts, front);
    let t = front.size[2].to_mm();
    // The corner's outside point at that height: where both show faces and the level plane meet.
    let point = corner_point(front, side, z)?;
    let leg = key_leg(parts, front, side);
    let far = (3.2 * t).max(leg + 8.0).max(30.0);
    let crop = Bounds { left: -far, bottom: -2.0, right: 2.0, top: far };
    let mut cut = Cut { origin: point, right: Vec3::X, up: Vec3::Y, crop };
    // A polygon's side runs off to the right: widen what is shown so that its wall keeps its length.
    let along = side.pose.u;
    if along.x > 0.05 {
        cut.crop.right = along.x * far + t;
        cut.crop.top = along.y * far;
    }
    let faces = faces(pieces, &cut);
    let mut drawing = Drawing::new();
    draw(parts, &faces, &cut, &mut drawing);
    corner_sizes(front, &cut, leg, shown, &mut drawing);
    place::beside(&mut drawing, cut.crop, named(parts, &faces, true, shown), Sides::Both);
    let sides = u32::try_from(walls.len()).unwrap_or(4);
    let words = CornerName(0).words(sides);
    let title = format!("{words}, {through}, {} above the lower edge", shown.length(Length::mm(z)));
    Some(Titled { title, drawing })
}

/// Where the outside faces of two walls meet at a height.
fn corner_point(front: &Part, side: &Part, z: f64) -> Option<Vec3> {
    let face = |p: &Part| Plane::through(p.pose.point(Vec3::new(0.0, 0.0, p.size[2].to_mm())), p.pose.w);
    let (a, b) = (face(front), face(side));
    let det = a.n.x * b.n.y - a.n.y * b.n.x;
    if det.abs() < 1e-9 {
        return None;
    }
    let (da, db) = (a.d - a.n.z * z, b.d - b.n.z * z);
    Some(Vec3::new((da * b.n.y - db * a.n.y) / det, (a.n.x * db - b.n.x * da) / det, z))
}

/// How much of a key shows on each face at the front right corner; zero without keys.
fn key_leg(parts: &BoxParts, front: &Part, side: &Part) -> f64 {
    let cuts = parts.assemblies.iter().flat_map(|a| &a.cuts);
    let depth = cuts.into_iter().find_map(|c| match c.operation {
        AssemblyOperation::KeySlot { corner, in_lid: false, depth, .. } if corner.0 == 0 => Some(depth),
        _ => None,
    });
    let interior = keepwright_model::units::Angle::radians(
        core::f64::consts::PI - front.pose.w.dot(side.pose.w).clamp(-1.0, 1.0).acos(),
    );
    depth.map_or(0.0, |d| keepwright_model::saw::jig::key_triangle(d, interior).leg.to_mm())
}

/// Where the front wall is cut upright: clear of dividers, keys, hinges and feet.
fn clear_place(parts: &BoxParts, pieces: &[Piece], front: &Part) -> f64 {
    let low = front.pose.origin.x;
    let length = front.size[0].to_mm();
    let in_the_way = |x: f64| {
        pieces
            .iter()
            .filter(|p| {
                let role = parts.parts.get(p.part).map(|p| p.role);
                matches!(role, Some(Role::Divider | Role::Foot | Role::Key | Role::Tongue))
                    && p.solid.bounds().is_some_and(|b| b.min.x < x + 0.5 && b.max.x > x - 0.5 && b.max.y - b.min.y < 400.0)
                    // A divider that runs along the front is cut square and may stay.
                    && p.solid.bounds().is_some_and(|b| b.max.x - b.min.x < 0.5 * length)
            })
            .count()
    };
    let places = [0.41, 0.37, 0.45, 0.33, 0.29, 0.55, 0.6].map(|share| low + share * length);
    places.into_iter().min_by_key(|x| in_the_way(*x)).unwrap_or(low + length / 2.0)
}

fn upright(parts: &BoxParts, pieces: &[Piece], shown: Shown) -> Vec<Titled> {
    let Some(front) = walls(parts).first().copied() else { return Vec::new() };
    let x = clear_place(parts, pieces, front);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let (mut near, mut inner) = (f64::INFINITY, 0.0_f64);
    for piece in pieces {
        let Some(b) = piece.solid.bounds() else { continue };
        let Some(part) = parts.parts.get(piece.part) else { continue };
        if b.min.x > x || b.max.x < x {
            continue;
        }
        if part.role != Role::Pull {
            (low, high) = (low.min(b.min.z), high.max(b.max.z));
        }
        near = near.min(b.min.y);
        if part.role == Role::FrameMember && b.min.y < 20.0 {
            inner = inner.max(b.max.y);
        }
    }
    let t = front.size[2].to_mm();
    let origin = Vec3::new(x, 0.0, 0.0);
    let cut = |bottom: f64, top: f64, right: f64| Cut {
        origin,
        right: Vec3::Y,
        up: Vec3::Z,
        crop: Bounds { left: near - 1.0, bottom, right, top },
    };
    let wide = (near.max(0.0) + 3.4 * t).max(34.0);
    let floor = foot_top(parts) + 14.0;
    let mut out = Vec::new();
    let mut add = |title: &str, cut: Cut, foot: bool| {
        let faces = faces(pieces, &cut);
        if faces.is_empty() {
            return;
        }
        let mut drawing = Drawing::new();
        draw(parts, &faces, &cut, &mut drawing);
        if foot {
            foot_sizes(parts, front, &cut, shown, &mut drawing);
        } else {
            rim_sizes(parts, front, &cut, shown, &mut drawing);
        }
        place::beside(&mut drawing, cut.crop, named(parts, &faces, false, shown), Sides::Left);
        out.push(Titled { title: title.into(), drawing });
    };
    add("front wall, lower edge", cut(low - 1.0, floor, wide), true);
    let seat = rim_bottom(parts, pieces, front) - 14.0;
    if high - seat > 1.0 {
        add("front wall, upper edge", cut(seat.max(floor), high + 1.0, wide.max(inner + 12.0)), false);
    }
    out
}

/// Upper face of the bottom.
fn foot_top(parts: &BoxParts) -> f64 {
    let bottoms = parts.parts.iter().filter(|p| {
        p.role == Role::Bottom
            || (matches!(p.role, Role::Strip | Role::Veneer) && p.name.starts_with("bottom"))
    });
    bottoms.map(|p| p.pose.origin.z + p.size[2].to_mm()).fold(0.0, f64::max)
}

/// The lowest thing of interest at the rim: the lid's underside, a lip, a saw line, a lining's upper edge.
fn rim_bottom(parts: &BoxParts, pieces: &[Piece], front: &Part) -> f64 {
    let rim = front.size[1].to_mm() * front.pose.v.z;
    let mut least = super::pieces::saw_band(parts).map_or(rim, |band| band.0);
    for piece in pieces {
        let Some(part) = parts.parts.get(piece.part) else { continue };
        let low = piece.solid.bounds().map_or(rim, |b| b.min.z);
        if matches!(part.role, Role::FrameMember | Role::FramePanel | Role::LidPanel | Role::Lip | Role::Top)
        {
            least = least.min(low);
        }
    }
    least
}
