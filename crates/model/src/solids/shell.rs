//! The outer faces of a solid, coplanar pieces of one cut merged, corners shared; and its visible edges.

use super::WELD;
use super::loops::{self, Rim};
use super::patch::Patches;
use super::solid::Solid;
use super::weld::Weld;
use crate::space::{Plane, Pose, Vec3};
use crate::units::{Angle, Area};

/// One flat outer face of a solid.
#[derive(Clone, Debug, PartialEq)]
pub struct ShellFace {
    /// The face's plane, normal out of the wood.
    pub plane: Plane,
    /// The cut or blank face that made it.
    pub tag: u32,
    /// Closed loops of point indices: first the outline, counterclockwise seen from outside, then the
    /// holes, clockwise.
    pub loops: Vec<Vec<u32>>,
}

/// An edge between two outer faces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Index of the point it starts at.
    pub a: u32,
    /// Index of the point it ends at.
    pub b: u32,
    /// Index of the face on the left, going from a to b seen from outside.
    pub left: u32,
    /// Index of the face on the right.
    pub right: u32,
    /// Angle between the two outward normals: 0 where the faces run on flat, 90° at a square arris.
    pub turn: Angle,
    /// Whether it is an inner corner (as in a rabbet) rather than an arris.
    pub inner: bool,
}

/// The outer surface of a solid as flat faces with shared corners.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shell {
    /// The corners, millimeters.
    pub points: Vec<Vec3>,
    /// The faces.
    pub faces: Vec<ShellFace>,
}

impl Solid {
    /// The outer surface: inner faces canceled, coplanar pieces of one cut merged.
    pub fn shell(&self) -> Shell {
        let patches = Patches::of(self);
        let (weld, index) = Weld::new(&patches.points);
        let (planes, mut rims) = rims(&patches, &weld, &index);
        loops::cancel(&mut rims);
        let idle = loops::idle_corners(&rims, weld.points());
        let mut shell = Shell { points: weld.points().to_vec(), faces: Vec::new() };
        for group in rims.chunk_by(|a, b| a.group == b.group) {
            let Some((plane, tag)) = group.first().and_then(|r| planes.get(r.group as usize)) else {
                continue;
            };
            let loops = loops::chain(group, plane.n, weld.points(), &idle);
            for face in loops::nest(loops, plane.n, weld.points()) {
                shell.faces.push(ShellFace { plane: *plane, tag: *tag, loops: face });
            }
        }
        shell.close_hairs();
        shell.drop_unused_points();
        shell
    }
}

/// The directed edges of all patches, split at every corner on them, grouped by plane and tag.
fn rims(patches: &Patches, weld: &Weld, index: &[u32]) -> (Vec<(Plane, u32)>, Vec<Rim>) {
    let mut planes: Vec<(Plane, u32)> = Vec::new();
    let mut rims = Vec::with_capacity(2 * patches.points.len());
    let mut path = Vec::new();
    for patch in &patches.list {
        let range = Patches::range(patch);
        let (Some(outline), Some(ids)) = (patches.points.get(range.clone()), index.get(range)) else {
            continue;
        };
        let same = |(plane, tag): &(Plane, u32)| {
            *tag == patch.tag
                && plane.n.dot(patch.plane.n) > 1.0 - 1e-9
                && outline.iter().all(|&p| plane.distance(p).abs() < WELD)
        };
        let group = planes.iter().position(same).unwrap_or_else(|| {
            planes.push((patch.plane, patch.tag));
            planes.len() - 1
        });
        let group = u32::try_from(group).unwrap_or(u32::MAX);
        loops::trace(ids, group, weld, &mut path, &mut rims);
    }
    (planes, rims)
}

impl Shell {
    /// The same surface seen from another frame.
    #[must_use]
    pub fn posed(&self, pose: &Pose) -> Self {
        let mut made = self.clone();
        for p in &mut made.points {
            *p = pose.point(*p);
        }
        for f in &mut made.faces {
            f.plane = pose.plane(&f.plane);
        }
        made
    }

    /// A corner; the origin for an index that is none of this shell's.
    pub fn point(&self, index: u32) -> Vec3 {
        self.points.get(index as usize).copied().unwrap_or(Vec3::ZERO)
    }

    /// The area of a face, holes taken off.
    pub fn area(&self, face: &ShellFace) -> Area {
        Area::mm2(face.loops.iter().map(|l| loops::area(l, face.plane.n, &self.points)).sum())
    }

    /// The faces that one cut or blank face made.
    pub fn faces_tagged(&self, tag: u32) -> impl Iterator<Item = &ShellFace> {
        self.faces.iter().filter(move |f| f.tag == tag)
    }

    /// The edges where the surface turns by more than `least`. Faces that run on flat have no edge
    /// between them; a larger `least` also leaves out the seams between the facets of a round-over.
    pub fn edges(&self, least: Angle) -> Vec<Edge> {
        let sides = self.sides();
        let mut edges = Vec::with_capacity(sides.len() / 2);
        for same in sides.chunk_by(|x, y| (x.0, x.1) == (y.0, y.1)) {
            // Forward sides come first; where two solids' corners touch along a line there are two of each.
            let (forward, backward) = same.split_at(same.len() / 2);
            for (f, b) in forward.iter().zip(backward) {
                edges.extend(self.edge(f.0, f.1, f.3, b.3).filter(|e| e.turn > least));
            }
        }
        edges
    }

    fn edge(&self, a: u32, b: u32, left: u32, right: u32) -> Option<Edge> {
        let (n, m) = (self.faces.get(left as usize)?.plane.n, self.faces.get(right as usize)?.plane.n);
        let across = n.cross(m);
        let turn = Angle::radians(across.norm().atan2(n.dot(m)));
        // Going a to b with the wood's face on the left, an arris turns its normals about the edge.
        let inner = across.dot(self.point(b) - self.point(a)) < 0.0;
        (turn.to_radians() > FLAT).then_some(Edge { a, b, left, right, turn, inner })
    }

    /// All face sides: smaller corner, larger corner, whether the side runs from larger to smaller, face.
    fn sides(&self) -> Vec<(u32, u32, bool, u32)> {
        let mut sides: Vec<(u32, u32, bool, u32)> = Vec::with_capacity(8 * self.faces.len());
        for (face, at) in self.faces.iter().zip(0u32..) {
            for ring in &face.loops {
                let Some(&last) = ring.last() else { continue };
                let mut a = last;
                for &b in ring {
                    sides.push((a.min(b), a.max(b), a > b, at));
                    a = b;
                }
            }
        }
        sides.sort_unstable();
        sides
    }

    /// Fills what is open between faces whose corners lie at the very limit of nearness: gaps of a
    /// millionth of a millimeter, but the mesh must be closed. Each filling lies in a neighbor's plane.
    fn close_hairs(&mut self) {
        let mut open: Vec<(u32, u32, u32)> = Vec::new();
        for same in self.sides().chunk_by(|x, y| (x.0, x.1) == (y.0, y.1)) {
            let backward = same.iter().filter(|s| s.2).count();
            let forward = same.len() - backward;
            // Forward sides stand first. The filling runs against the sides that lack a partner.
            let alone =
                if forward > backward { same.get(..forward - backward) } else { same.get(2 * forward..) };
            open.extend(
                alone.unwrap_or(&[]).iter().map(|s| if s.2 { (s.0, s.1, s.3) } else { (s.1, s.0, s.3) }),
            );
        }
        while let Some((first, mut here, face)) = open.pop() {
            let mut ring = vec![first];
            // Every corner has as many open sides in as out, so the way on is there until the loop closes.
            while let Some(at) = open.iter().position(|o| o.0 == here) {
                // Back at a corner already passed: the loop from there on is a filling of its own.
                if let Some(since) = ring.iter().position(|&i| i == here) {
                    let filled = ring.split_off(since);
                    self.fill(filled, face);
                }
                ring.push(here);
                here = open.swap_remove(at).1;
                if here == first {
                    break;
                }
            }
            self.fill(ring, face);
        }
    }

    fn fill(&mut self, ring: Vec<u32>, beside: u32) {
        if let Some(ShellFace { plane, tag, .. }) = self.faces.get(beside as usize)
            && ring.len() >= 3
        {
            self.faces.push(ShellFace { plane: *plane, tag: *tag, loops: vec![ring] });
        }
    }

    fn drop_unused_points(&mut self) {
        let mut renamed = vec![u32::MAX; self.points.len()];
        let mut kept = Vec::with_capacity(self.points.len());
        for index in self.faces.iter_mut().flat_map(|f| &mut f.loops).flatten() {
            let old = *index as usize;
            if renamed[old] == u32::MAX {
                renamed[old] = u32::try_from(kept.len()).unwrap_or(u32::MAX);
                kept.push(self.points[old]);
            }
            *index = renamed[old];
        }
        self.points = kept;
    }
}

/// Normals nearer than this make one flat face, radians: a ten-thousandth of a degree.
const FLAT: f64 = 1.7e-6;
