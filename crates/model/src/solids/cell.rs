//! One convex cell: corners, planar faces, and the split of a cell by a plane.

use super::ON;
use crate::space::{Plane, Pose, Vec3};

/// One face of a [`Cell`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CellFace {
    /// The face's plane, normal out of the wood.
    pub plane: Plane,
    /// Which cut or blank face made it; [`super::block_face::SEAM`] between two cells.
    pub tag: u32,
    start: u32,
    len: u32,
}

/// A convex polyhedron with explicit corners and faces.
///
/// # Shape
/// Every face is a loop of corner indices, counterclockwise seen from outside.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    points: Vec<Vec3>,
    corners: Vec<u32>,
    faces: Vec<CellFace>,
    min: Vec3,
    max: Vec3,
}

/// Which side of the splitting plane a corner lies on.
const INSIDE: i8 = -1;
const OUTSIDE: i8 = 1;
const UNUSED: u32 = u32::MAX;

/// Buffers for splitting, kept between splits so that a cut allocates only what it leaves behind.
#[derive(Debug, Default)]
pub(super) struct Scratch {
    distance: Vec<f64>,
    side: Vec<i8>,
    /// Edges crossed by the plane, smaller corner first, and where.
    crossed: Vec<(u32, u32, Vec3)>,
    /// New index of each old corner, then of each crossing.
    renamed: Vec<u32>,
    /// Whether each new corner lies on the plane.
    on: Vec<bool>,
    /// Directed edges of kept faces that lie on the plane, in new indices.
    rim: Vec<(u32, u32)>,
}

impl Cell {
    /// The block with edges along the axes between two opposite corners.
    pub(super) fn block(min: Vec3, max: Vec3, tags: [u32; 6]) -> Self {
        let at = |x: f64, y: f64, z: f64| Vec3::new(x, y, z);
        let points = vec![
            min,
            at(max.x, min.y, min.z),
            at(max.x, max.y, min.z),
            at(min.x, max.y, min.z),
            at(min.x, min.y, max.z),
            at(max.x, min.y, max.z),
            max,
            at(min.x, max.y, max.z),
        ];
        let corners = vec![0, 4, 7, 3, 1, 2, 6, 5, 0, 1, 5, 4, 3, 7, 6, 2, 0, 3, 2, 1, 4, 5, 6, 7];
        let planes = [
            Plane { n: -Vec3::X, d: -min.x },
            Plane { n: Vec3::X, d: max.x },
            Plane { n: -Vec3::Y, d: -min.y },
            Plane { n: Vec3::Y, d: max.y },
            Plane { n: -Vec3::Z, d: -min.z },
            Plane { n: Vec3::Z, d: max.z },
        ];
        let faces = planes
            .into_iter()
            .zip(tags)
            .zip((0..).step_by(4))
            .map(|((plane, tag), start)| CellFace { plane, tag, start, len: 4 })
            .collect();
        Self { points, corners, faces, min, max }
    }

    /// The corners.
    pub fn points(&self) -> &[Vec3] {
        &self.points
    }

    /// The faces.
    pub fn faces(&self) -> &[CellFace] {
        &self.faces
    }

    /// The loop of corner indices of one of its faces, counterclockwise seen from outside.
    pub fn corners(&self, face: &CellFace) -> &[u32] {
        let start = face.start as usize;
        self.corners.get(start..start + face.len as usize).unwrap_or(&[])
    }

    /// The corner points of one of its faces, counterclockwise seen from outside.
    pub fn outline<'a>(&'a self, face: &CellFace) -> impl ExactSizeIterator<Item = Vec3> + Clone + use<'a> {
        self.corners(face).iter().map(|&i| self.points[i as usize])
    }

    pub(super) fn min(&self) -> Vec3 {
        self.min
    }

    pub(super) fn max(&self) -> Vec3 {
        self.max
    }

    /// Volume (mm³) and first moment (mm⁴) about the origin.
    pub(super) fn moments(&self) -> (f64, Vec3) {
        let Some(&apex) = self.points.first() else {
            return (0.0, Vec3::ZERO);
        };
        let (mut volume, mut moment) = (0.0, Vec3::ZERO);
        for face in &self.faces {
            let loop_ = self.corners(face);
            // A face through the apex spans no tetrahedron with it.
            if loop_.contains(&0) {
                continue;
            }
            let [first, second, rest @ ..] = loop_ else {
                continue;
            };
            let a = self.points[*first as usize] - apex;
            let mut b = self.points[*second as usize] - apex;
            for &i in rest {
                let c = self.points[i as usize] - apex;
                let six = a.dot(b.cross(c));
                volume += six;
                moment = moment + (a + b + c) * six;
                b = c;
            }
        }
        let volume = volume / 6.0;
        (volume, moment * (1.0 / 24.0) + apex * volume)
    }

    /// Volume in cubic millimeters.
    pub(super) fn volume(&self) -> f64 {
        self.moments().0
    }

    /// Least and greatest signed distance of the bounding box from a plane.
    pub(super) fn box_extent(&self, plane: &Plane) -> (f64, f64) {
        let n = plane.n;
        let (a, b) = (self.min, self.max);
        let pick = |k: f64, lo: f64, hi: f64| {
            if k >= 0.0 { (k * lo, k * hi) } else { (k * hi, k * lo) }
        };
        let (x, y, z) = (pick(n.x, a.x, b.x), pick(n.y, a.y, b.y), pick(n.z, a.z, b.z));
        (x.0 + y.0 + z.0 - plane.d, x.1 + y.1 + z.1 - plane.d)
    }

    /// Least and greatest signed distance of the corners from a plane.
    pub(super) fn extent(&self, plane: &Plane) -> (f64, f64) {
        self.points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), &p| {
            let d = plane.distance(p);
            (lo.min(d), hi.max(d))
        })
    }

    /// The part inside a half-space and, if `outside_tag` is given, the part beyond it. The new faces get
    /// the given tags. `None` when the plane cannot split the cell into sound polyhedra.
    pub(super) fn split(
        &self,
        plane: &Plane,
        inside_tag: u32,
        outside_tag: Option<u32>,
        scratch: &mut Scratch,
    ) -> Option<(Self, Option<Self>)> {
        // Corners just at the limit of nearness can make a ragged rim: a hair's move settles them.
        [0.0, 3.0 * ON, -3.0 * ON].into_iter().find_map(|hair| {
            let plane = plane.moved(hair);
            scratch.classify(self, &plane);
            let inside = self.half(INSIDE, plane, inside_tag, scratch)?;
            let outside = match outside_tag {
                Some(tag) => Some(self.half(OUTSIDE, plane.flipped(), tag, scratch)?),
                None => None,
            };
            Some((inside, outside))
        })
    }

    /// The closed half of the cell on one side of the classified plane.
    fn half(&self, keep: i8, cap: Plane, tag: u32, scratch: &mut Scratch) -> Option<Self> {
        let crossings = scratch.crossed.len();
        scratch.renamed.clear();
        scratch.renamed.resize(self.points.len() + crossings, UNUSED);
        scratch.on.clear();
        scratch.rim.clear();
        let mut made = Self {
            points: Vec::with_capacity(self.points.len() + crossings),
            corners: Vec::with_capacity(self.corners.len() + 2 * crossings + 4),
            faces: Vec::with_capacity(self.faces.len() + 1),
            min: NOWHERE.0,
            max: NOWHERE.1,
        };
        for face in &self.faces {
            made.take_clipped(self, face, keep, scratch);
        }
        made.close(cap, tag, &mut scratch.rim)?;
        made.settle().then_some(made)
    }

    /// Adds what a face of `from` keeps on one side, and notes its edges on the plane.
    fn take_clipped(&mut self, from: &Self, face: &CellFace, keep: i8, scratch: &mut Scratch) {
        let loop_ = from.corners(face);
        let Some(&last) = loop_.last() else { return };
        if !loop_.iter().any(|&i| scratch.side[i as usize] == keep) {
            return;
        }
        let start = self.corners.len();
        let mut before = last;
        for &here in loop_ {
            let side = scratch.side[here as usize];
            if scratch.side[before as usize] * side < 0 {
                self.corners.push(scratch.crossing(before, here, from.points.len(), &mut self.points));
            }
            if side == keep || side == 0 {
                self.corners.push(scratch.kept_corner(here, from, &mut self.points));
            }
            before = here;
        }
        let kept = self.corners.get(start..).unwrap_or(&[]);
        let Some(&last) = kept.last() else { return };
        let mut before = last;
        for &here in kept {
            if scratch.on[before as usize] && scratch.on[here as usize] {
                scratch.rim.push((before, here));
            }
            before = here;
        }
        let len = kept.len();
        self.faces.push(CellFace { plane: face.plane, tag: face.tag, start: index(start), len: index(len) });
    }

    /// Closes a clipped cell with a face on the plane, made of the rim edges turned about.
    fn close(&mut self, cap: Plane, tag: u32, rim: &mut Vec<(u32, u32)>) -> Option<()> {
        // An edge that two kept faces share along the plane is no edge of the cap.
        let mut i = 0;
        while i < rim.len() {
            let (a, b) = rim[i];
            if let Some(j) = rim.iter().position(|&e| e == (b, a)) {
                rim.swap_remove(i.max(j));
                rim.swap_remove(i.min(j));
                i = 0;
            } else {
                i += 1;
            }
        }
        let start = self.corners.len();
        // Kept faces run a to b along the plane, the cap runs b to a: follow the chain backward.
        let (mut here, end) = rim.pop()?;
        self.corners.push(end);
        while here != end {
            self.corners.push(here);
            let j = rim.iter().position(|e| e.1 == here)?;
            here = rim.swap_remove(j).0;
        }
        let len = self.corners.len() - start;
        self.faces.push(CellFace { plane: cap, tag, start: index(start), len: index(len) });
        (rim.is_empty() && len >= 3).then_some(())
    }

    /// Whether corners, edges and faces satisfy Euler's formula and enclose wood; sets the bounding box.
    fn settle(&mut self) -> bool {
        for &p in &self.points {
            self.min = Vec3::new(self.min.x.min(p.x), self.min.y.min(p.y), self.min.z.min(p.z));
            self.max = Vec3::new(self.max.x.max(p.x), self.max.y.max(p.y), self.max.z.max(p.z));
        }
        // Each edge is in two loops: corners − edges + faces = 2.
        2 * (self.points.len() + self.faces.len()) == self.corners.len() + 4
    }

    /// The same cell in another frame.
    pub(super) fn posed(&self, pose: &Pose) -> Self {
        let mut made = self.clone();
        for p in &mut made.points {
            *p = pose.point(*p);
        }
        for f in &mut made.faces {
            f.plane = pose.plane(&f.plane);
        }
        (made.min, made.max) = NOWHERE;
        made.settle();
        made
    }
}

/// The bounding box of nothing.
const NOWHERE: (Vec3, Vec3) = (
    Vec3::new(f64::INFINITY, f64::INFINITY, f64::INFINITY),
    Vec3::new(f64::NEG_INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY),
);

/// A position in a cell's small tables; a cell of a box part has tens of corners, never four thousand million.
fn index(i: usize) -> u32 {
    u32::try_from(i).unwrap_or(UNUSED)
}

impl Scratch {
    /// Tells on which side of the plane each corner lies and finds the crossed edges.
    fn classify(&mut self, cell: &Cell, plane: &Plane) {
        self.distance.clear();
        self.side.clear();
        for &p in &cell.points {
            let d = plane.distance(p);
            self.distance.push(d);
            self.side.push(if d > ON {
                OUTSIDE
            } else if d < -ON {
                INSIDE
            } else {
                0
            });
        }
        self.crossed.clear();
        for face in &cell.faces {
            let loop_ = cell.corners(face);
            let Some(&last) = loop_.last() else { continue };
            let mut a = last;
            for &b in loop_ {
                // Each edge comes twice, once each way: take it once.
                if a < b && self.side[a as usize] * self.side[b as usize] < 0 {
                    let (p, q) = (cell.points[a as usize], cell.points[b as usize]);
                    let (dp, dq) = (self.distance[a as usize], self.distance[b as usize]);
                    self.crossed.push((a, b, p + (q - p) * (dp / (dp - dq))));
                }
                a = b;
            }
        }
    }

    /// The new index of the crossing of an edge, adding its point when first met.
    fn crossing(&mut self, a: u32, b: u32, corners: usize, points: &mut Vec<Vec3>) -> u32 {
        let key = (a.min(b), a.max(b));
        let Some(k) = self.crossed.iter().position(|c| (c.0, c.1) == key) else {
            return 0;
        };
        let slot = corners + k;
        if self.renamed[slot] == UNUSED {
            self.renamed[slot] = index(points.len());
            points.push(self.crossed[k].2);
            self.on.push(true);
        }
        self.renamed[slot]
    }

    /// The new index of a kept corner, adding its point when first met.
    fn kept_corner(&mut self, corner: u32, from: &Cell, points: &mut Vec<Vec3>) -> u32 {
        let slot = corner as usize;
        if self.renamed[slot] == UNUSED {
            self.renamed[slot] = index(points.len());
            points.push(from.points[slot]);
            self.on.push(self.side[slot] == 0);
        }
        self.renamed[slot]
    }
}
