//! The dimensions that the drawing can show: what each says, and the edges that it may stand at.

use super::number::{Short, vector};
use keepwright_model::design::LidKind;
use keepwright_model::job::Plan;
use keepwright_model::parts::{Part, Role};
use keepwright_model::space::{Plane, Vec3};
use keepwright_packet::drawings::{Shown, saw_band};
use serde::Serialize;

/// One dimension.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Size {
    /// What it is, in words: `outside length`.
    pub name: &'static str,
    /// The length in the shop's unit.
    pub text: String,
    /// Whether it lies inside the box, where it is seen only when the box is opened, cut or apart.
    pub inside: bool,
    /// Whether it is true of the closed box only.
    pub closed: bool,
    /// The edges that it may stand at, all of them equally true: which one is clear depends on the view.
    pub places: Vec<Place>,
}

/// An edge that a dimension may stand at: box frame, millimeters.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Place {
    /// Where it is measured from.
    pub from: [Short; 3],
    /// And to.
    pub to: [Short; 3],
    /// The way that its line stands off from the edge; of no length when it lies on the edge itself.
    pub out: [Short; 3],
}

/// A block along the axes of the box frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Block {
    pub(super) low: Vec3,
    pub(super) high: Vec3,
}

impl Block {
    /// The least block around points; `None` without points.
    pub(super) fn around(points: impl IntoIterator<Item = Vec3>) -> Option<Self> {
        points.into_iter().fold(None, |block, p| {
            let Self { low: l, high: h } = block.unwrap_or(Self { low: p, high: p });
            let low = Vec3::new(l.x.min(p.x), l.y.min(p.y), l.z.min(p.z));
            Some(Self { low, high: Vec3::new(h.x.max(p.x), h.y.max(p.y), h.z.max(p.z)) })
        })
    }
}

/// Outside and inside sizes; `block` is what the closed box fills.
pub(super) fn sizes(plan: &Plan, block: Block) -> Vec<Size> {
    let shown = Shown { unit: plan.shop.unit, fineness: plan.shop.fineness };
    let square = plan.statement.shape.sides == 4;
    let kind = &plan.statement.lid.kind;
    let (sawn, lidded) = (matches!(kind, LidKind::Sawn { .. }), !matches!(kind, LidKind::None));
    let band = saw_band(&plan.parts);
    let mut all = Vec::with_capacity(6);
    let mut add = |names: [&'static str; 3], lengths: [_; 3], block: Block, inside: bool| {
        for (axis, (name, length)) in names.into_iter().zip(lengths).enumerate() {
            // Above the saw's cut there is no wall to measure at while the lid is off.
            let rim = band.filter(|_| inside && axis < 2).map_or(block.high.z, |cut| cut.0);
            let block = Block { high: Vec3 { z: rim, ..block.high }, ..block };
            let places = match (square, inside) {
                (true, true) => lines(block, axis).map(|line| line.standing([0.0; 3])).collect(),
                (true, false) => beside(block, axis),
                (false, _) => across(block, axis, inside),
            };
            let closed = axis == 2 && (sawn || lidded && !inside);
            all.push(Size { name, text: shown.dimension(length), inside, closed, places });
        }
    };
    add(["outside length", "outside depth", "outside height"], plan.parts.outside, block, false);
    if let Some(clear) = clear(plan) {
        add(["inside length", "inside depth", "inside height"], plan.parts.inside, clear, true);
    }
    all
}

/// An edge of a block, and on which side of the block it lies along each axis: −1 low, 1 high, 0 runs along it.
struct Line {
    from: [f64; 3],
    to: [f64; 3],
    side: [f64; 3],
}

impl Line {
    fn standing(&self, out: [f64; 3]) -> Place {
        Place { from: self.from.map(Short::of), to: self.to.map(Short::of), out: out.map(Short::of) }
    }
}

const fn ends(block: Block) -> ([f64; 3], [f64; 3]) {
    ([block.low.x, block.low.y, block.low.z], [block.high.x, block.high.y, block.high.z])
}

/// The four edges of a block along an axis (0 x, 1 y, 2 z).
fn lines(block: Block, axis: usize) -> impl Iterator<Item = Line> {
    let (low, high) = ends(block);
    let (one, two) = ((axis + 1) % 3, (axis + 2) % 3);
    [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)].into_iter().map(move |sides| {
        let mut line = Line { from: low, to: low, side: [0.0; 3] };
        for (other, side) in [(one, sides.0), (two, sides.1)] {
            let at = if side > 0.0 { high[other] } else { low[other] };
            (line.from[other], line.to[other], line.side[other]) = (at, at, side);
        }
        line.to[axis] = high[axis];
        line
    })
}

/// The edges of a rectangle's block, each twice: its line standing off to either of the two sides it lies on.
fn beside(block: Block, axis: usize) -> Vec<Place> {
    let toward = |line: &Line, other: usize| {
        let mut out = [0.0; 3];
        out[other] = line.side[other];
        line.standing(out)
    };
    lines(block, axis)
        .flat_map(|line| [toward(&line, (axis + 1) % 3), toward(&line, (axis + 2) % 3)])
        .collect()
}

/// Lines across the middle of a polygon, whose block has no edges of wood: along the rim or the floor; its height at
/// the four sides of the block.
fn across(block: Block, axis: usize, inside: bool) -> Vec<Place> {
    let (low, high) = ends(block);
    let mut middle: [f64; 3] = core::array::from_fn(|i| f64::midpoint(low[i], high[i]));
    if axis < 2 {
        middle[2] = if inside { low[2] } else { high[2] };
        let (mut from, mut to) = (middle, middle);
        (from[axis], to[axis]) = (low[axis], high[axis]);
        return vec![Line { from, to, side: [0.0; 3] }.standing([0.0; 3])];
    }
    let sides = [(0, low[0], -1.0), (0, high[0], 1.0), (1, low[1], -1.0), (1, high[1], 1.0)];
    let at = |(axis, at, side): (usize, f64, f64)| {
        let (mut from, mut to, mut out) = (middle, middle, [0.0; 3]);
        (from[axis], to[axis], from[2], to[2]) = (at, at, low[2], high[2]);
        if !inside {
            out[axis] = side;
        }
        Line { from, to, side: out }.standing(out)
    };
    sides.map(at).to_vec()
}

/// The clear inside as a block: between the walls' inner faces where they are nearest, from the bottom's upper face
/// up by the inside height. `None` when there are no walls or no bottom.
fn clear(plan: &Plan) -> Option<Block> {
    let walls: Vec<&Part> = plan.parts.parts.iter().filter(|p| p.role == Role::Wall).collect();
    let of_bottom =
        plan.parts.parts.iter().zip(&plan.solids).filter(|(p, _)| {
            p.role == Role::Bottom || (p.name.starts_with("bottom") && p.role != Role::Ledge)
        });
    let floor = of_bottom.filter_map(|(_, s)| s.bounds()).map(|b| b.max.z).reduce(f64::max)?;
    let ceiling = floor + plan.parts.inside[2].to_mm();
    let at = |z: f64| {
        let inner: Vec<Plane> = walls.iter().map(|w| w.pose.plane(&Plane { n: -Vec3::Z, d: 0.0 })).collect();
        let next = inner.iter().cycle().skip(1);
        Block::around(inner.iter().zip(next).filter_map(|(a, b)| meet(a, b, z)))
    };
    let (foot, rim) = (at(floor)?, at(ceiling)?);
    let wide = |b: &Block| b.high.x - b.low.x;
    let plan = if wide(&foot) <= wide(&rim) { foot } else { rim };
    Some(Block {
        low: Vec3::new(plan.low.x, plan.low.y, floor),
        high: Vec3::new(plan.high.x, plan.high.y, ceiling),
    })
}

/// Where two upright or leaning planes meet at a height; `None` if they are parallel.
fn meet(a: &Plane, b: &Plane, z: f64) -> Option<Vec3> {
    let (da, db) = (a.d - a.n.z * z, b.d - b.n.z * z);
    let det = a.n.x * b.n.y - a.n.y * b.n.x;
    (det.abs() > 1e-9).then(|| Vec3::new((da * b.n.y - db * a.n.y) / det, (a.n.x * db - b.n.x * da) / det, z))
}

/// The corners of a block as the page gets them.
pub(super) fn corners(block: Block) -> ([Short; 3], [Short; 3]) {
    (vector(block.low), vector(block.high))
}
