//! What is seen of each face: filled areas that do not overlap, for tinting wood in a drawing.

use super::THIN;
use super::loops;
use super::patch::take_off;
use super::shell::Shell;
use super::triangulate::triangulate;
use super::view::{Paper, View};
use super::weld::Weld;
use crate::space::{Plane, Vec3};

/// The visible part of one face, at full scale, millimeters on the paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Tint {
    /// The part it belongs to.
    pub item: u32,
    /// The cut or blank face that made the face.
    pub tag: u32,
    /// The face's normal in space: for shading, and to tell end grain from long grain.
    pub normal: Vec3,
    /// Outline first, counterclockwise, then its holes, clockwise.
    pub loops: Vec<Vec<(f64, f64)>>,
}

/// Wood nearer to the eye than this covers a face, millimeters.
const DEPTH: f64 = 1e-4;
/// A face seen at a flatter angle than this shows nothing, radians.
const EDGE_ON: f64 = 1e-6;

/// The visible parts of all faces, each surface with the number of the part it is; none overlap.
pub fn visible_faces(shells: &[(&Shell, u32)], view: &View) -> Vec<Tint> {
    let fronts = fronts(shells, &view.paper());
    let mut tints = Vec::with_capacity(fronts.len());
    let (mut pieces, mut spare) = (Vec::new(), Vec::new());
    for front in &fronts {
        pieces.clear();
        pieces.extend(front.triangles.iter().map(|t| t.map(on_paper).to_vec()));
        for other in fronts.iter().filter(|o| front.meets(o) && o.max.z > front.min.z + DEPTH) {
            for triangle in &other.triangles {
                let nearer = clip_nearer(triangle, &front.plane);
                if nearer.len() < 3 || pieces.is_empty() {
                    continue;
                }
                spare.clear();
                for piece in pieces.drain(..) {
                    if apart(&piece, &nearer) {
                        spare.push(piece);
                    } else {
                        take_off(piece, &nearer, Vec3::Z, &mut spare);
                    }
                }
                core::mem::swap(&mut pieces, &mut spare);
            }
        }
        for loops in merged(&pieces) {
            tints.push(Tint { item: front.item, tag: front.tag, normal: front.normal, loops });
        }
    }
    tints
}

/// A face turned to the eye, in paper axes: x to the right, y up, z to the eye.
struct Front {
    item: u32,
    tag: u32,
    normal: Vec3,
    plane: Plane,
    triangles: Vec<[Vec3; 3]>,
    min: Vec3,
    max: Vec3,
}

impl Front {
    /// Whether the blocks around two faces overlap on the paper.
    fn meets(&self, o: &Self) -> bool {
        self.min.x + THIN < o.max.x
            && o.min.x + THIN < self.max.x
            && self.min.y + THIN < o.max.y
            && o.min.y + THIN < self.max.y
    }
}

fn fronts(shells: &[(&Shell, u32)], paper: &Paper) -> Vec<Front> {
    let turned = |v: Vec3| Vec3::new(paper.right.dot(v), paper.up.dot(v), paper.toward.dot(v));
    let mut made = Vec::new();
    let mut corners = Vec::new();
    for (shell, item) in shells {
        for face in shell.faces.iter().filter(|f| f.plane.n.dot(paper.toward) > EDGE_ON) {
            corners.clear();
            triangulate(face, &shell.points, &mut corners);
            let triangles: Vec<[Vec3; 3]> =
                corners.iter().map(|t| t.map(|i| turned(shell.point(i)))).collect();
            let Some(&first) = triangles.first().and_then(|t| t.first()) else {
                continue;
            };
            let (mut min, mut max) = (first, first);
            for p in triangles.iter().flatten() {
                min = Vec3::new(min.x.min(p.x), min.y.min(p.y), min.z.min(p.z));
                max = Vec3::new(max.x.max(p.x), max.y.max(p.y), max.z.max(p.z));
            }
            let plane = Plane { n: turned(face.plane.n), d: face.plane.d };
            made.push(Front { item: *item, tag: face.tag, normal: face.plane.n, plane, triangles, min, max });
        }
    }
    made
}

fn on_paper(p: Vec3) -> Vec3 {
    Vec3::new(p.x, p.y, 0.0)
}

/// The part of a triangle in front of a plane, laid on the paper.
fn clip_nearer(triangle: &[Vec3; 3], plane: &Plane) -> Vec<Vec3> {
    let limit = plane.moved(DEPTH);
    let mut made = Vec::with_capacity(4);
    let mut before = triangle[2];
    for &here in triangle {
        let (d, e) = (limit.distance(before), limit.distance(here));
        if (d > 0.0) != (e > 0.0) {
            made.push(on_paper(before + (here - before) * (d / (d - e))));
        }
        if e > 0.0 {
            made.push(on_paper(here));
        }
        before = here;
    }
    made
}

/// Whether the blocks around two outlines are clear of each other.
fn apart(a: &[Vec3], b: &[Vec3]) -> bool {
    let span = |o: &[Vec3], of: fn(&Vec3) -> f64| {
        o.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), x| (lo.min(x), hi.max(x)))
    };
    [|p: &Vec3| p.x, |p: &Vec3| p.y].into_iter().any(|of| {
        let (s, t) = (span(a, of), span(b, of));
        s.1 < t.0 + THIN || t.1 < s.0 + THIN
    })
}

/// Convex pieces of one face grown together again.
fn merged(pieces: &[Vec<Vec3>]) -> Vec<Vec<Vec<(f64, f64)>>> {
    let points: Vec<Vec3> = pieces.iter().flatten().copied().collect();
    let (weld, index) = Weld::new(&points);
    let mut rims = Vec::with_capacity(2 * points.len());
    let (mut start, mut path) = (0, Vec::new());
    for piece in pieces {
        let ids = index.get(start..start + piece.len()).unwrap_or(&[]);
        start += piece.len();
        loops::trace(ids, 0, &weld, &mut path, &mut rims);
    }
    loops::cancel(&mut rims);
    let idle = loops::idle_corners(&rims, weld.points());
    let rings = loops::chain(&rims, Vec3::Z, weld.points(), &idle);
    let drawn =
        |ring: Vec<u32>| ring.into_iter().filter_map(|i| weld.points().get(i as usize)).map(|p| (p.x, p.y));
    loops::nest(rings, Vec3::Z, weld.points())
        .into_iter()
        .map(|face| face.into_iter().map(|ring| drawn(ring).collect()).collect())
        .collect()
}
