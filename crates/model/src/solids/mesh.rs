//! A watertight triangle mesh of a solid, for looking at it and for writing it to a file.

use core::ops::ControlFlow;
use std::collections::BTreeMap;

use super::shell::{Shell, ShellFace};
use super::solid::Solid;
use super::triangulate::triangulate;
use crate::space::Vec3;
use crate::units::Volume;

/// Triangles with shared corners, counterclockwise seen from outside.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// The corners, millimeters.
    pub points: Vec<Vec3>,
    /// Corner indices of each triangle.
    pub triangles: Vec<[u32; 3]>,
    /// For each triangle, the cut or blank face that made it.
    pub tags: Vec<u32>,
}

/// What is wrong with a mesh.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MeshProblem {
    /// A triangle names a corner that is not there, or one corner twice.
    #[error("triangle {triangle} has no three corners of its own")]
    NotATriangle {
        /// Which triangle.
        triangle: usize,
    },
    /// A directed edge without its partner: a hole or a turned triangle.
    #[error(
        "the edge from corner {a} to corner {b} has {count} triangles on its left and {back} on its right"
    )]
    OpenEdge {
        /// Where the edge starts.
        a: u32,
        /// Where it ends.
        b: u32,
        /// Triangles that run along it from a to b.
        count: usize,
        /// Triangles that run along it from b to a.
        back: usize,
    },
    /// The triangles enclose no wood, or face inward.
    #[error("the mesh encloses {volume} mm³: its triangles face inward")]
    Inward {
        /// The signed volume, cubic millimeters.
        volume: f64,
    },
    /// Corners, edges and triangles are not those of closed surfaces.
    #[error(
        "corners − edges + triangles is {sum}, and closed surfaces have an even number, two for each at most"
    )]
    Euler {
        /// Corners − edges + triangles.
        sum: i64,
    },
}

impl Solid {
    /// A watertight mesh of the solid's outside: every edge is shared by exactly two triangles.
    pub fn mesh(&self) -> Mesh {
        self.shell().mesh()
    }
}

impl Shell {
    /// Adds the triangles of one face of this shell, counterclockwise seen from outside, by the shell's own corners.
    pub fn face_triangles(&self, face: &ShellFace, out: &mut Vec<[u32; 3]>) {
        triangulate(face, &self.points, out);
    }

    /// The surface in triangles.
    pub fn mesh(&self) -> Mesh {
        let mut mesh = Mesh { points: self.points.clone(), triangles: Vec::new(), tags: Vec::new() };
        for face in &self.faces {
            self.face_triangles(face, &mut mesh.triangles);
            mesh.tags.resize(mesh.triangles.len(), face.tag);
        }
        mesh.part_touching_corners();
        mesh.part_touching_edges();
        mesh
    }
}

impl Mesh {
    /// The enclosed volume, negative when the triangles face inward.
    ///
    /// # Source
    /// Sum of signed tetrahedra over the triangles (divergence theorem).
    pub fn volume(&self) -> Volume {
        let origin = self.points.first().copied().unwrap_or(Vec3::ZERO);
        let six: f64 = self
            .triangles
            .iter()
            .filter_map(|t| self.corners(t))
            .map(|[a, b, c]| (a - origin).dot((b - origin).cross(c - origin)))
            .sum();
        Volume::mm3(six / 6.0)
    }

    /// The three corner points of a triangle.
    pub fn corners(&self, triangle: &[u32; 3]) -> Option<[Vec3; 3]> {
        let at = |i: u32| self.points.get(i as usize).copied();
        Some([at(triangle[0])?, at(triangle[1])?, at(triangle[2])?])
    }

    /// Whether the mesh is closed, edge by edge, faces outward and satisfies Euler's formula.
    ///
    /// # Errors
    /// The first problem met.
    pub fn check(&self) -> Result<(), MeshProblem> {
        let mut first = Ok(());
        let _ = self.visit(&mut |problem| {
            first = Err(problem);
            ControlFlow::Break(())
        });
        first
    }

    /// All problems of the mesh.
    pub fn problems(&self) -> Vec<MeshProblem> {
        let mut all = Vec::new();
        let _ = self.visit(&mut |problem| {
            all.push(problem);
            ControlFlow::Continue(())
        });
        all
    }

    fn visit(&self, tell: &mut dyn FnMut(MeshProblem) -> ControlFlow<()>) -> ControlFlow<()> {
        for (triangle, t) in self.triangles.iter().enumerate() {
            if self.corners(t).is_none() || t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
                tell(MeshProblem::NotATriangle { triangle })?;
            }
        }
        let mut edges: BTreeMap<(u32, u32), (usize, usize)> = BTreeMap::new();
        for (a, b) in self.triangles.iter().flat_map(sides) {
            let entry = edges.entry((a.min(b), a.max(b))).or_default();
            *(if a < b { &mut entry.0 } else { &mut entry.1 }) += 1;
        }
        for (&(a, b), &(count, back)) in &edges {
            if (count, back) != (1, 1) {
                tell(MeshProblem::OpenEdge { a, b, count, back })?;
            }
        }
        let volume = self.volume().to_mm3();
        if !self.triangles.is_empty() && volume <= 0.0 {
            tell(MeshProblem::Inward { volume })?;
        }
        let (pieces, used) = self.pieces();
        let whole = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
        let sum = whole(used) - whole(edges.len()) + whole(self.triangles.len());
        if sum % 2 != 0 || sum > 2 * whole(pieces) {
            tell(MeshProblem::Euler { sum })?;
        }
        ControlFlow::Continue(())
    }

    /// How many separate surfaces there are, and how many corners are used.
    fn pieces(&self) -> (usize, usize) {
        let mut groups = Groups::new(self.points.len());
        let mut used = vec![false; self.points.len()];
        for t in self.triangles.iter().filter(|t| self.corners(t).is_some()) {
            groups.join(t[0] as usize, t[1] as usize);
            groups.join(t[1] as usize, t[2] as usize);
            for &i in t {
                used[i as usize] = true;
            }
        }
        let pieces = (0..used.len()).filter(|&i| used[i] && groups.of(i) == i).count();
        (pieces, used.iter().filter(|u| **u).count())
    }

    /// Gives surfaces that touch only in a corner or along a line corners of their own, so that every edge
    /// has two triangles and every corner one fan.
    fn part_touching_corners(&mut self) {
        // Each triangle has three own corners, numbered 3t, 3t+1, 3t+2; those joined over shared edges stay one.
        let mut groups = Groups::new(3 * self.triangles.len());
        for ((a, b), [forward, backward]) in &self.edges() {
            for (f, g) in self.partners(*a, *b, forward, backward) {
                groups.join(f, next_corner(g));
                groups.join(next_corner(f), g);
            }
        }
        let mut home: BTreeMap<usize, u32> = BTreeMap::new();
        let mut taken = vec![false; self.points.len()];
        for t in 0..self.triangles.len() {
            for k in 0..3 {
                let group = groups.of(3 * t + k);
                let old = self.triangles[t][k];
                let new = *home.entry(group).or_insert_with(|| {
                    if core::mem::replace(&mut taken[old as usize], true) {
                        self.points.push(self.points[old as usize]);
                        u32::try_from(self.points.len() - 1).unwrap_or(old)
                    } else {
                        old
                    }
                });
                self.triangles[t][k] = new;
            }
        }
    }

    /// Where two sheets still share an edge (they join again round its ends), gives each sheet its own
    /// corner in the middle of it.
    fn part_touching_edges(&mut self) {
        // Each round parts one edge; a sound surface has far fewer of them than triangles.
        for _ in 0..self.triangles.len() {
            let shared = self.edges().into_iter().find(|(_, [f, g])| f.len() > 1 && g.len() > 1);
            let Some(((a, b), sheets)) = shared else { return };
            let middle = (self.points[a as usize] + self.points[b as usize]) * 0.5;
            for (f, g) in self.partners(a, b, &sheets[0], &sheets[1]) {
                let new = u32::try_from(self.points.len()).unwrap_or(a);
                self.points.push(middle);
                for side in [f, g] {
                    let (t, k) = (side / 3, side % 3);
                    let mut second = self.triangles[t];
                    second[k] = new;
                    self.triangles[t][(k + 1) % 3] = new;
                    self.triangles.push(second);
                    self.tags.push(self.tags[t]);
                }
            }
        }
    }

    /// For each edge, smaller corner first, the triangle sides (three to a triangle) along it each way.
    fn edges(&self) -> BTreeMap<(u32, u32), [Vec<usize>; 2]> {
        let mut edges: BTreeMap<(u32, u32), [Vec<usize>; 2]> = BTreeMap::new();
        for (t, triangle) in self.triangles.iter().enumerate() {
            for (k, (a, b)) in sides(triangle).into_iter().enumerate() {
                let entry = edges.entry((a.min(b), a.max(b))).or_default();
                entry[usize::from(a > b)].push(3 * t + k);
            }
        }
        edges
    }

    /// Pairs the triangle sides along one edge. Where more than two meet, each goes with the one that
    /// bounds the same wedge of wood.
    fn partners(&self, a: u32, b: u32, forward: &[usize], backward: &[usize]) -> Vec<(usize, usize)> {
        if let ([f], [g]) = (forward, backward) {
            return vec![(*f, *g)];
        }
        let (from, to) = (self.points[a as usize], self.points[b as usize]);
        let axis = (to - from).unit();
        let across = |side: usize| {
            let third = self.triangles[side / 3][(side % 3 + 2) % 3];
            let step = self.points[third as usize] - from;
            step - axis * step.dot(axis)
        };
        let mut open: Vec<usize> = backward.to_vec();
        let mut pairs = Vec::new();
        for &f in forward {
            let start = across(f);
            // The wood of a triangle that runs along the axis lies clockwise of it, seen against the axis.
            let angle = |g: usize| {
                let there = across(g);
                let turned = -start.cross(there).dot(axis).atan2(start.dot(there));
                if turned <= 0.0 { turned + core::f64::consts::TAU } else { turned }
            };
            let nearest = (0..open.len()).min_by(|&x, &y| angle(open[x]).total_cmp(&angle(open[y])));
            if let Some(k) = nearest {
                pairs.push((f, open.swap_remove(k)));
            }
        }
        pairs
    }
}

fn sides(t: &[u32; 3]) -> [(u32, u32); 3] {
    [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])]
}

/// The corner after one, in the numbering of three to a triangle.
fn next_corner(corner: usize) -> usize {
    corner - corner % 3 + (corner % 3 + 1) % 3
}

/// Disjoint groups of numbers.
struct Groups(Vec<usize>);

impl Groups {
    fn new(count: usize) -> Self {
        Self((0..count).collect())
    }

    fn of(&mut self, mut i: usize) -> usize {
        while self.0[i] != i {
            self.0[i] = self.0[self.0[i]];
            i = self.0[i];
        }
        i
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.of(a), self.of(b));
        self.0[a.max(b)] = a.min(b);
    }
}
