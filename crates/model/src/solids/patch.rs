//! The outer parts of cell faces: what is left of a face once the faces that touch it are taken off.

use super::solid::{Solid, block_face};
use super::{ON, THIN, WELD};
use crate::space::{Plane, Vec3};

/// One convex piece of an outer face.
#[derive(Clone, Copy, Debug)]
pub(super) struct Patch {
    /// Normal out of the wood.
    pub(super) plane: Plane,
    /// The cut or blank face that made it.
    pub(super) tag: u32,
    start: usize,
    len: usize,
}

/// The outer pieces of a solid, outlines in one list.
#[derive(Debug, Default)]
pub(super) struct Patches {
    pub(super) list: Vec<Patch>,
    pub(super) points: Vec<Vec3>,
}

/// A cell's face with its outline and the block around it.
struct Side {
    cell: usize,
    plane: Plane,
    tag: u32,
    start: usize,
    len: usize,
    min: Vec3,
    max: Vec3,
}

impl Patches {
    /// The indices into `points` of a patch's outline.
    pub(super) fn range(patch: &Patch) -> core::ops::Range<usize> {
        patch.start..patch.start + patch.len
    }

    /// The outer pieces of a solid: each cell face less every cell face it touches back to back.
    pub(super) fn of(solid: &Solid) -> Self {
        let (sides, points) = sides(solid);
        let outline = |s: &Side| points.get(s.start..s.start + s.len).unwrap_or(&[]);
        let mut made = Self::default();
        let (mut pieces, mut spare) = (Vec::new(), Vec::new());
        for side in &sides {
            pieces.clear();
            pieces.push(outline(side).to_vec());
            for other in sides.iter().filter(|o| back_to_back(side, o, &points)) {
                spare.clear();
                for piece in pieces.drain(..) {
                    take_off(piece, outline(other), other.plane.n, &mut spare);
                }
                core::mem::swap(&mut pieces, &mut spare);
                if pieces.is_empty() {
                    break;
                }
            }
            for piece in &pieces {
                let tag = if side.tag == block_face::SEAM { bared_by(solid, side, piece) } else { side.tag };
                made.list.push(Patch { plane: side.plane, tag, start: made.points.len(), len: piece.len() });
                made.points.extend_from_slice(piece);
            }
        }
        made
    }
}

/// All cell faces of a solid.
fn sides(solid: &Solid) -> (Vec<Side>, Vec<Vec3>) {
    let count = solid.cells().iter().map(|c| c.faces().len()).sum();
    let (mut sides, mut points) = (Vec::with_capacity(count), Vec::with_capacity(5 * count));
    for (cell_at, cell) in solid.cells().iter().enumerate() {
        for face in cell.faces() {
            let start = points.len();
            points.extend(cell.outline(face));
            let (mut min, mut max) = (cell.max(), cell.min());
            for p in cell.outline(face) {
                min = Vec3::new(min.x.min(p.x), min.y.min(p.y), min.z.min(p.z));
                max = Vec3::new(max.x.max(p.x), max.y.max(p.y), max.z.max(p.z));
            }
            let len = points.len() - start;
            sides.push(Side { cell: cell_at, plane: face.plane, tag: face.tag, start, len, min, max });
        }
    }
    (sides, points)
}

/// Whether two faces of different cells lie in one plane, normals opposed, blocks touching.
fn back_to_back(a: &Side, b: &Side, points: &[Vec3]) -> bool {
    a.plane.n.dot(b.plane.n) < -1.0 + 1e-9
        && a.cell != b.cell
        && a.min.x < b.max.x + WELD
        && b.min.x < a.max.x + WELD
        && a.min.y < b.max.y + WELD
        && b.min.y < a.max.y + WELD
        && a.min.z < b.max.z + WELD
        && b.min.z < a.max.z + WELD
        && points
            .get(b.start..b.start + b.len)
            .is_some_and(|o| o.iter().all(|&p| a.plane.distance(p).abs() < WELD))
}

/// The tag of the cut that laid a seam bare, judged just outside the middle of the piece.
fn bared_by(solid: &Solid, side: &Side, piece: &[Vec3]) -> u32 {
    let sum = piece.iter().fold(Vec3::ZERO, |a, &p| a + p);
    let middle = sum * (1.0 / piece.len().max(1) as f64);
    solid.taken_by(middle + side.plane.n * (10.0 * THIN)).unwrap_or(side.tag)
}

/// Adds to `left` the convex pieces of `piece` outside the convex outline `off`, which runs
/// counterclockwise about `normal`. A piece that the outline misses stays whole.
pub(super) fn take_off(piece: Vec<Vec3>, off: &[Vec3], normal: Vec3, left: &mut Vec<Vec<Vec3>>) {
    let before = left.len();
    let Some(&last) = off.last() else {
        left.push(piece);
        return;
    };
    let mut rest: Option<Vec<Vec3>> = None;
    let mut a = last;
    for &b in off {
        let edge = Plane::through(a, (b - a).cross(normal));
        a = b;
        let now = rest.as_ref().unwrap_or(&piece);
        let (lo, hi) = now.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), &p| {
            let d = edge.distance(p);
            (lo.min(d), hi.max(d))
        });
        if lo > -THIN {
            left.truncate(before);
            left.push(piece);
            return;
        }
        if hi >= THIN {
            let outside = clipped(now, &edge.flipped());
            let inside = clipped(now, &edge);
            left.push(outside);
            rest = Some(inside);
        }
    }
}

/// The part of a convex outline inside a half-space.
fn clipped(outline: &[Vec3], plane: &Plane) -> Vec<Vec3> {
    let mut made = Vec::with_capacity(outline.len() + 1);
    let Some(&last) = outline.last() else { return made };
    let (mut before, mut d_before) = (last, plane.distance(last));
    for &here in outline {
        let d = plane.distance(here);
        if (d_before < -ON && d > ON) || (d_before > ON && d < -ON) {
            made.push(before + (here - before) * (d_before / (d_before - d)));
        }
        if d <= ON {
            made.push(here);
        }
        (before, d_before) = (here, d);
    }
    made
}
