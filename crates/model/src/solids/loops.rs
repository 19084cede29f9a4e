//! Directed edges made into closed loops, loops into faces with holes.

use super::WELD;
use super::weld::Weld;
use crate::space::Vec3;

/// A directed edge of a flat group of pieces; the face lies on its left seen from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Rim {
    pub(super) group: u32,
    pub(super) a: u32,
    pub(super) b: u32,
}

/// Adds the edges of a closed outline, split at every welded corner on them.
pub(super) fn trace(outline: &[u32], group: u32, weld: &Weld, path: &mut Vec<u32>, rims: &mut Vec<Rim>) {
    let Some(&last) = outline.last() else { return };
    let mut a = last;
    for &b in outline {
        if a != b {
            path.clear();
            path.push(a);
            weld.between(a, b, path);
            path.push(b);
            rims.extend(path.windows(2).map(|w| Rim { group, a: w[0], b: w[1] }));
        }
        a = b;
    }
}

/// Removes edges that two pieces of one group share, once each way. Leaves the edges sorted by group.
pub(super) fn cancel(rims: &mut Vec<Rim>) {
    rims.sort_unstable_by_key(|r| (r.group, r.a.min(r.b), r.a.max(r.b), r.a > r.b));
    let mut kept = 0;
    let mut i = 0;
    while i < rims.len() {
        let first = rims[i];
        let same = |r: &Rim| {
            (r.group, r.a.min(r.b), r.a.max(r.b)) == (first.group, first.a.min(first.b), first.a.max(first.b))
        };
        let run = rims.iter().skip(i).take_while(|r| same(r)).count();
        let forward = rims.iter().skip(i).take(run).filter(|r| r.a < r.b).count();
        let backward = run - forward;
        let left = forward.abs_diff(backward);
        let from = if forward > backward { i } else { i + run - left };
        for k in 0..left {
            rims[kept] = rims[from + k];
            kept += 1;
        }
        i += run;
    }
    rims.truncate(kept);
}

/// Which corners lie in the middle of a straight edge of every face that has them: they can go.
pub(super) fn idle_corners(rims: &[Rim], points: &[Vec3]) -> Vec<bool> {
    // Two neighbors are remembered per corner; a third one makes the corner needed.
    let mut near: Vec<[u32; 2]> = vec![[u32::MAX; 2]; points.len()];
    let mut busy = vec![false; points.len()];
    for r in rims {
        for (from, to) in [(r.a, r.b), (r.b, r.a)] {
            let slot = &mut near[from as usize];
            if slot[0] == u32::MAX || slot[0] == to {
                slot[0] = to;
            } else if slot[1] == u32::MAX || slot[1] == to {
                slot[1] = to;
            } else {
                busy[from as usize] = true;
            }
        }
    }
    let straight = |(i, &[a, b]): (usize, &[u32; 2])| {
        if busy[i] || b == u32::MAX {
            return false;
        }
        let (p, q, r) = (points[a as usize], points[i], points[b as usize]);
        let along = (r - p).unit();
        let step = q - p;
        let off = step - along * step.dot(along);
        off.norm() < WELD
    };
    near.iter().enumerate().map(straight).collect()
}

/// Closed loops of one group's edges, idle corners left out. Where several loops meet in a corner, each
/// turns left.
pub(super) fn chain(rims: &[Rim], normal: Vec3, points: &[Vec3], idle: &[bool]) -> Vec<Vec<u32>> {
    let mut edges: Vec<(u32, u32)> = rims.iter().map(|r| (r.a, r.b)).collect();
    edges.sort_unstable();
    let mut used = vec![false; edges.len()];
    let mut loops = Vec::new();
    for first in 0..edges.len() {
        if used[first] {
            continue;
        }
        let mut ring = Vec::new();
        let mut at = first;
        loop {
            used[at] = true;
            let (a, b) = edges[at];
            if !idle[a as usize] {
                ring.push(a);
            }
            let from = edges.partition_point(|e| e.0 < b);
            let open =
                (from..edges.len()).take_while(|&k| edges[k].0 == b).filter(|&k| k == first || !used[k]);
            let back = points[b as usize] - points[a as usize];
            let turn = |k: usize| {
                let out = points[edges[k].1 as usize] - points[b as usize];
                back.cross(out).dot(normal).atan2(back.dot(out))
            };
            match open.max_by(|&x, &y| turn(x).total_cmp(&turn(y))) {
                Some(next) if next != first => at = next,
                _ => break,
            }
        }
        if ring.len() >= 3 {
            loops.push(ring);
        }
    }
    loops
}

/// Signed area of a loop, square millimeters; positive counterclockwise about the normal.
pub(super) fn area(ring: &[u32], normal: Vec3, points: &[Vec3]) -> f64 {
    let Some((&first, rest)) = ring.split_first() else {
        return 0.0;
    };
    let origin = points[first as usize];
    let twice: f64 = rest
        .windows(2)
        .map(|w| (points[w[0] as usize] - origin).cross(points[w[1] as usize] - origin).dot(normal))
        .sum();
    twice / 2.0
}

fn perimeter(ring: &[u32], points: &[Vec3]) -> f64 {
    let Some(&last) = ring.last() else { return 0.0 };
    let mut p = points[last as usize];
    let mut sum = 0.0;
    for &i in ring {
        let q = points[i as usize];
        sum += (q - p).norm();
        p = q;
    }
    sum
}

/// Signed area of a loop drawn in a plane; positive counterclockwise.
pub(super) fn flat_area(ring: &[(f64, f64)]) -> f64 {
    let Some(&last) = ring.last() else { return 0.0 };
    let mut p = last;
    let mut twice = 0.0;
    for &q in ring {
        twice += p.0 * q.1 - p.1 * q.0;
        p = q;
    }
    twice / 2.0
}

/// Loops sorted into faces: each outline first, then the holes inside it.
pub(super) fn nest(loops: Vec<Vec<u32>>, normal: Vec3, points: &[Vec3]) -> Vec<Vec<Vec<u32>>> {
    let (mut faces, mut holes) = (Vec::new(), Vec::new());
    for ring in loops {
        let size = area(&ring, normal, points);
        // A hair-thin loop may come out turned by noise; it is never a hole, and dropping it would leave one.
        if size > -WELD * perimeter(&ring, points) {
            faces.push((size, vec![ring]));
        } else {
            holes.push(ring);
        }
    }
    // Smallest outline first, so that a hole goes to the tightest outline around it.
    faces.sort_by(|a, b| a.0.total_cmp(&b.0));
    for hole in holes {
        let home = faces.iter().position(|(_, f)| f.first().is_some_and(|o| holds(o, &hole, normal, points)));
        let home = home.or(faces.len().checked_sub(1));
        if let Some((_, face)) = home.and_then(|i| faces.get_mut(i)) {
            face.push(hole);
        }
    }
    faces.into_iter().map(|(_, face)| face).collect()
}

/// Whether an outline surrounds a hole's first corner (or one further on, where that lies on the outline).
fn holds(outline: &[u32], hole: &[u32], normal: Vec3, points: &[Vec3]) -> bool {
    let Some(&probe) = hole.iter().find(|i| !outline.contains(i)) else {
        return true;
    };
    let flat = Flat::square_to(normal);
    let (x, y) = flat.place(points[probe as usize]);
    let Some(&last) = outline.last() else { return false };
    let mut inside = false;
    let mut p = flat.place(points[last as usize]);
    for &i in outline {
        let q = flat.place(points[i as usize]);
        if (p.1 > y) != (q.1 > y) && x < p.0 + (q.0 - p.0) * (y - p.1) / (q.1 - p.1) {
            inside = !inside;
        }
        p = q;
    }
    inside
}

/// Two axes in a plane, right-handed with its normal.
#[derive(Clone, Copy, Debug)]
pub(super) struct Flat {
    pub(super) u: Vec3,
    pub(super) v: Vec3,
}

impl Flat {
    /// Axes square to a unit normal; along the coordinate axes where the normal is.
    pub(super) fn square_to(n: Vec3) -> Self {
        let least = if n.x.abs() <= n.y.abs() && n.x.abs() <= n.z.abs() {
            Vec3::X
        } else if n.y.abs() <= n.z.abs() {
            Vec3::Y
        } else {
            Vec3::Z
        };
        let u = (least - n * n.dot(least)).unit();
        Self { u, v: n.cross(u) }
    }

    /// Coordinates of a point along the two axes.
    pub(super) fn place(&self, p: Vec3) -> (f64, f64) {
        (self.u.dot(p), self.v.dot(p))
    }
}
