//! The box apart and the box closed, seen from the front right and above; and its three plain views.

use super::outline::{area, joined, roomiest};
use super::pieces::{Piece, apart, closed};
use super::place::{self, Named, Sides};
use super::{Room, Shown, fitted, wood};
use crate::drawing::{Affine, Bounds, Dimension, Drawing, Line, Pen, Point};
use crate::ink::Color;
use core::cell::Cell;
use keepwright_model::parts::{BoxParts, Part, Role};
use keepwright_model::solids::{
    LineKind, Shell, Solid, Tint, View, block_face, project_shells, visible_faces,
};
use keepwright_model::space::Vec3;
use keepwright_model::units::Angle;

/// Walked this far to the right and risen this far: three faces of the box show, the front most (common practice).
const AROUND: Angle = Angle::degrees(35.0);
const ABOVE: Angle = Angle::degrees(25.0);
/// Edges between facets of a round-over turn by less than this and are not drawn.
const FACET: Angle = Angle::degrees(20.0);
/// The largest scale of a drawing that is not full scale: one to one.
const MOST: f64 = 1.0;

/// What is seen of a set of pieces, in millimeters of the box on the paper of the view.
pub(super) struct Scene {
    tints: Vec<Tint>,
    lines: Vec<([Point; 2], LineKind)>,
    bounds: Bounds,
}

impl Scene {
    pub(super) fn of(pieces: &[Piece], view: &View) -> Option<Self> {
        let shells: Vec<(&Shell, u32)> = pieces.iter().zip(0_u32..).map(|(p, i)| (&p.shell, i)).collect();
        let tints = visible_faces(&shells, view);
        let lines: Vec<([Point; 2], LineKind)> = project_shells(&shells, view, FACET)
            .into_iter()
            .filter(|l| l.kind != LineKind::Hidden)
            .map(|l| ([[l.a.0, l.a.1], [l.b.0, l.b.1]], l.kind))
            .collect();
        let mut points = lines.iter().flat_map(|(ends, _)| ends.iter().copied());
        let first = points.next()?;
        let bounds = points.fold(Bounds::at(first), |b, p| b.with(p, 0.0));
        Some(Self { tints, lines, bounds })
    }

    pub(super) fn size(&self) -> [f64; 2] {
        [self.bounds.width(), self.bounds.height()]
    }

    fn bounds_at(&self, scale: f64) -> Bounds {
        let Bounds { left, bottom, right, top } = self.bounds;
        Bounds { left: left * scale, bottom: bottom * scale, right: right * scale, top: top * scale }
    }

    /// Tinted faces with their figure, then edges.
    pub(super) fn draw(
        &self,
        parts: &BoxParts,
        pieces: &[Piece],
        view: &View,
        scale: f64,
        drawing: &mut Drawing,
    ) {
        let at = |p: Point| [p[0] * scale, p[1] * scale];
        for tint in &self.tints {
            let Some((piece, part)) = owner(parts, pieces, tint) else { continue };
            let ring: Vec<Point> = joined(&tint.loops).into_iter().map(at).collect();
            if ring.len() < 3 {
                continue;
            }
            // A hairline of the same color closes the seams that a screen shows between tints.
            let color = wood::shade(&part.wood, tint.normal);
            drawing.polygon(ring.clone(), Some(color), Some(Pen::new(Line::Figure).colored(color).wide(0.1)));
            if tint.tag == block_face::SHOW && shows_figure(part) && area(&ring) > 25.0 {
                let [length, width, thickness] = part.size.map(keepwright_model::units::Length::to_mm);
                let lines = wood::figure([length, width], from_run(parts, piece.part), |u, v| {
                    let (x, y) = view.place(piece.moved.point(part.pose.point(Vec3::new(u, v, thickness))));
                    at([x, y])
                });
                let soft = softened(lines, wood::color(&part.wood));
                drawing.place_clipped(soft, Affine::SAME, ring);
            }
        }
        for (ends, kind) in &self.lines {
            let pen = Pen::new(Line::Visible);
            let pen = if *kind == LineKind::Silhouette { pen } else { pen.wide(0.3) };
            drawing.line(at(ends[0]), at(ends[1]), pen);
        }
    }
}

/// The piece and the part that a tint belongs to.
fn owner<'a>(parts: &'a BoxParts, pieces: &'a [Piece], tint: &Tint) -> Option<(&'a Piece, &'a Part)> {
    let piece = pieces.get(tint.item as usize)?;
    Some((piece, parts.parts.get(piece.part)?))
}

/// Figure lines in the wood's own color, a little stronger than its tint.
fn softened(mut lines: Drawing, color: Color) -> Drawing {
    for item in &mut lines.items {
        if let crate::drawing::Item::Polyline { pen, .. } = item {
            pen.color = color.tint(0.9);
        }
    }
    lines
}

fn shows_figure(part: &Part) -> bool {
    let role = matches!(
        part.role,
        Role::Wall
            | Role::FrameMember
            | Role::FramePanel
            | Role::LidPanel
            | Role::Top
            | Role::Strip
            | Role::Veneer
    );
    role && keepwright_model::wood::species(&part.wood).is_some()
}

/// How far along its strip a part begins, millimeters; zero for one that is in no run.
pub(super) fn from_run(parts: &BoxParts, part: usize) -> f64 {
    let mut from = 0.0;
    let Some(run) = parts.parts.get(part).and_then(|p| p.run).and_then(|r| parts.runs.get(r)) else {
        return 0.0;
    };
    for (id, corner) in run.parts.iter().zip(&run.corners) {
        if id.0 == part {
            break;
        }
        from += parts.parts.get(id.0).map_or(0.0, |p| p.size[0].to_mm()) + corner.loss.to_mm();
    }
    from
}

/// The box apart: every part moved out of its place, hidden lines left out, one of each kind named.
///
/// # Units
/// `solids` as [`keepwright_model::solids::finished`] gives them, in the order of the parts. The drawing is in
/// millimeters of the paper, no larger than `room`.
pub fn exploded(parts: &BoxParts, solids: &[Solid], room: Room) -> Drawing {
    let pieces = apart(parts, solids);
    let view = View::turned(AROUND, ABOVE);
    let Some(scene) = Scene::of(&pieces, &view) else { return Drawing::new() };
    let named = kinds(parts, &pieces, &scene.tints);
    fitted(room, scene.size(), MOST, |scale| {
        let mut drawing = Drawing::new();
        scene.draw(parts, &pieces, &view, scale, &mut drawing);
        let tips =
            named.iter().map(|n| Named { tip: [n.tip[0] * scale, n.tip[1] * scale], lines: n.lines.clone() });
        place::beside(&mut drawing, scene.bounds_at(scale), tips.collect(), Sides::Both);
        drawing
    })
}

/// One label for each kind of part, pointing at the largest face that is seen of it.
fn kinds(parts: &BoxParts, pieces: &[Piece], tints: &[Tint]) -> Vec<Named> {
    struct Kind {
        name: String,
        woods: Vec<String>,
        tip: Point,
        away: f64,
    }
    let mut kinds: Vec<Kind> = Vec::new();
    for tint in tints {
        let Some((_, part)) = owner(parts, pieces, tint) else { continue };
        let Some((tip, away)) = roomiest(&joined(&tint.loops)) else { continue };
        let (name, of) = (wood::kind(part), wood::name(&part.wood));
        match kinds.iter_mut().find(|k| k.name == name) {
            Some(kind) => {
                if !kind.woods.contains(&of) {
                    kind.woods.push(of);
                }
                if away > kind.away {
                    (kind.tip, kind.away) = (tip, away);
                }
            }
            None => kinds.push(Kind { name, woods: vec![of], tip, away }),
        }
    }
    let lines = |k: &Kind| core::iter::once(k.name.clone()).chain(in_lines(&k.woods)).collect();
    kinds.iter().map(|k| Named { tip: k.tip, lines: lines(k) }).collect()
}

/// Names in one or two lines, separated by commas.
fn in_lines(names: &[String]) -> Vec<String> {
    let whole = names.join(", ");
    if place::width(&whole, place::WORDS) < 34.0 || names.len() < 2 {
        return vec![whole];
    }
    let half = names.len().div_ceil(2);
    let (first, rest) = names.split_at(half);
    vec![format!("{},", first.join(", ")), rest.join(", ")]
}

/// The closed box with its length, depth and height along its edges.
///
/// # Units
/// As [`exploded`]; a lid that is sawn off is shown closed, lowered by what the saw took.
pub fn assembled(parts: &BoxParts, solids: &[Solid], shown: Shown, room: Room) -> Drawing {
    closed_at((parts, solids), shown, room, MOST).0
}

/// The closed box alone, without dimensions: for a list of boxes.
///
/// # Units
/// As [`assembled`].
pub fn plain(parts: &BoxParts, solids: &[Solid], room: Room) -> Drawing {
    let pieces = closed(parts, solids);
    let view = View::turned(AROUND, ABOVE);
    let Some(scene) = Scene::of(&pieces, &view) else { return Drawing::new() };
    fitted(room, scene.size(), MOST, |scale| {
        let mut drawing = Drawing::new();
        scene.draw(parts, &pieces, &view, scale, &mut drawing);
        drawing
    })
}

/// Several boxes drawn as [`assembled`], all at one scale, so that they can be compared by eye.
///
/// # Units
/// As [`assembled`]; the scale is the largest at which each of them fits the room.
pub fn assembled_alike(boxes: &[(&BoxParts, &[Solid])], shown: Shown, room: Room) -> Vec<Drawing> {
    let scales = boxes.iter().map(|one| closed_at(*one, shown, room, MOST).1);
    let least = scales.fold(MOST, f64::min);
    boxes.iter().map(|one| closed_at(*one, shown, room, least).0).collect()
}

/// The closed box, and the scale that it came out at.
fn closed_at((parts, solids): (&BoxParts, &[Solid]), shown: Shown, room: Room, most: f64) -> (Drawing, f64) {
    let pieces = closed(parts, solids);
    let view = View::turned(AROUND, ABOVE);
    let (Some(scene), Some((low, high))) = (Scene::of(&pieces, &view), reach(&pieces)) else {
        return (Drawing::new(), most);
    };
    let words = overall(parts, high - low);
    let came_out = Cell::new(most);
    let drawing = fitted(room, scene.size(), most, |scale| {
        came_out.set(scale);
        let mut drawing = Drawing::new();
        scene.draw(parts, &pieces, &view, scale, &mut drawing);
        let at = |x: f64, y: f64, z: f64| {
            let (a, b) = view.place(Vec3::new(x, y, z));
            [a * scale, b * scale]
        };
        let way = |v: Vec3| {
            let (a, b) = view.place(v);
            [a, b]
        };
        let front = (at(low.x, low.y, low.z), at(high.x, low.y, low.z));
        let side = (front.1, at(high.x, high.y, low.z));
        let height = (front.0, at(low.x, low.y, high.z));
        let dims = [(front, -Vec3::Y, words.x), (side, Vec3::X, words.y), (height, -Vec3::X, words.z)];
        for ((from, to), out, mm) in dims {
            drawing.dimension(Dimension::aligned(from, to, 11.0, shown.mm(mm)).along(way(out)));
        }
        drawing
    });
    (drawing, came_out.get())
}

/// The overall size to state, millimeters: length and depth before arrises were broken, the height over all
/// (a pull included).
fn overall(parts: &BoxParts, drawn: Vec3) -> Vec3 {
    // A chamfer at the rim of leaning walls takes a hair off the block around them: the stated size stands.
    let stated = |stated: keepwright_model::units::Length, drawn: f64| {
        let stated = stated.to_mm();
        if (stated - drawn).abs() < 2.0 { stated } else { drawn }
    };
    Vec3::new(stated(parts.outside[0], drawn.x), stated(parts.outside[1], drawn.y), drawn.z)
}

/// The block around all pieces.
fn reach(pieces: &[Piece]) -> Option<(Vec3, Vec3)> {
    let points = || pieces.iter().flat_map(|p| &p.shell.points);
    let first = *points().next()?;
    Some(points().fold((first, first), |(l, h), p| {
        (
            Vec3::new(l.x.min(p.x), l.y.min(p.y), l.z.min(p.z)),
            Vec3::new(h.x.max(p.x), h.y.max(p.y), h.z.max(p.z)),
        )
    }))
}

/// Front, top and right side of the closed box in one drawing: the top above the front, the side to its right
/// (third-angle projection), with overall dimensions.
pub fn views(parts: &BoxParts, solids: &[Solid], shown: Shown, room: Room) -> Drawing {
    let pieces = closed(parts, solids);
    let Some((low, high)) = reach(&pieces) else { return Drawing::new() };
    let size = high - low;
    let said = overall(parts, size);
    let all = [View::FRONT, View::TOP, View::RIGHT];
    let scenes: Vec<(View, Scene)> =
        all.iter().filter_map(|view| Some((*view, Scene::of(&pieces, view)?))).collect();
    let around = [size.x + size.y, size.z + size.y];
    fitted(room, around, MOST, |scale| {
        let mut drawing = Drawing::new();
        let gap = 16.0;
        let [w, d, h] = [size.x, size.y, size.z].map(|v| v * scale);
        let corners = [[0.0, 0.0], [0.0, h + gap], [w + gap, 0.0]];
        for ((view, scene), corner) in scenes.iter().zip(corners) {
            let mut one = Drawing::new();
            scene.draw(parts, &pieces, view, scale, &mut one);
            let b = scene.bounds_at(scale);
            drawing.place(one, Affine::shift(corner[0] - b.left, corner[1] - b.bottom));
        }
        let right = w + gap;
        drawing.dimension(Dimension::level([0.0, 0.0], [w, 0.0], -9.0, shown.mm(said.x)));
        drawing.dimension(Dimension::level([right, 0.0], [right + d, 0.0], -9.0, shown.mm(said.y)));
        drawing.dimension(Dimension::upright([0.0, 0.0], [0.0, h], -9.0, shown.mm(said.z)));
        drawing.dimension(Dimension::upright([0.0, h + gap], [0.0, h + gap + d], -9.0, shown.mm(said.y)));
        drawing
    })
}
