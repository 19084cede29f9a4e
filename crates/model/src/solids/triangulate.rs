//! A flat face with holes made into triangles that use exactly its corners.

use super::WELD;
use super::loops::Flat;
use super::shell::ShellFace;
use crate::space::Vec3;

/// A corner in the face's plane: its index and its place.
#[derive(Clone, Copy, Debug)]
struct Corner {
    id: u32,
    x: f64,
    y: f64,
}

/// Twice the signed area of a triangle: the one predicate for left, straight on and right.
fn turn(a: &Corner, b: &Corner, c: &Corner) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

fn square_distance(a: &Corner, b: &Corner) -> f64 {
    (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y)
}

/// Adds the triangles of a face, counterclockwise seen from outside. Holes are tied to the outline by the
/// shortest clear bridge, then ears are clipped, the best-shaped first.
pub(super) fn triangulate(face: &ShellFace, points: &[Vec3], out: &mut Vec<[u32; 3]>) {
    let flat = Flat::square_to(face.plane.n);
    let ring_of = |ids: &Vec<u32>| -> Vec<Corner> {
        ids.iter()
            .filter_map(|&id| points.get(id as usize).map(|&p| (id, flat.place(p))))
            .map(|(id, (x, y))| Corner { id, x, y })
            .collect()
    };
    let mut rings: Vec<Vec<Corner>> = face.loops.iter().map(ring_of).collect();
    if rings.is_empty() {
        return;
    }
    let mut outline = rings.remove(0);
    while !rings.is_empty() {
        let Some((ring, from, to)) = shortest_bridge(&outline, &rings) else {
            break;
        };
        let hole = rings.swap_remove(ring);
        outline = bridged(&outline, from, &hole, to);
    }
    clip_ears(outline, out);
}

/// The hole, the outline corner and the hole corner of the shortest bridge that crosses nothing.
fn shortest_bridge(outline: &[Corner], holes: &[Vec<Corner>]) -> Option<(usize, usize, usize)> {
    let mut bridges = Vec::new();
    for (h, hole) in holes.iter().enumerate() {
        for (i, a) in outline.iter().enumerate() {
            bridges.extend(hole.iter().enumerate().map(|(j, b)| (square_distance(a, b), h, i, j)));
        }
    }
    bridges.sort_by(|a, b| a.0.total_cmp(&b.0));
    let clear = |&(_, h, i, j): &(f64, usize, usize, usize)| {
        let (Some(a), Some(b)) = (outline.get(i), holes.get(h).and_then(|r| r.get(j))) else {
            return false;
        };
        core::iter::once(outline).chain(holes.iter().map(Vec::as_slice)).all(|ring| !blocks(ring, a, b))
            && opens_to(outline, i, b)
    };
    bridges.iter().find(|b| clear(b)).map(|&(_, h, i, j)| (h, i, j))
}

/// Whether an edge or a corner of a ring stands in the way of a bridge from a to b.
fn blocks(ring: &[Corner], a: &Corner, b: &Corner) -> bool {
    let Some(last) = ring.last() else { return false };
    let mut p = last;
    for q in ring {
        let free = [p.id, q.id].iter().all(|id| *id != a.id && *id != b.id);
        if free {
            let (s, t) = (turn(a, b, p), turn(a, b, q));
            let (u, v) = (turn(p, q, a), turn(p, q, b));
            if s.min(t) <= 0.0 && s.max(t) >= 0.0 && u.min(v) <= 0.0 && u.max(v) >= 0.0 {
                return true;
            }
        } else {
            // A corner next to an end blocks only when it lies on the bridge itself.
            let next = if p.id == a.id || p.id == b.id { q } else { p };
            let on = turn(a, b, next).abs() <= WELD * square_distance(a, b).sqrt();
            let within = square_distance(a, next).max(square_distance(b, next)) < square_distance(a, b);
            if on && within && next.id != a.id && next.id != b.id {
                return true;
            }
        }
        p = q;
    }
    false
}

/// Whether the corner at `i` of a ring sees `b` on the ring's inner side: a corner used by two bridges
/// stands in the ring twice, with different views.
fn opens_to(ring: &[Corner], i: usize, b: &Corner) -> bool {
    let n = ring.len();
    let (before, here, after) = (&ring[(i + n - 1) % n], &ring[i], &ring[(i + 1) % n]);
    let (left_of_in, left_of_out) = (turn(before, here, b) > 0.0, turn(here, after, b) > 0.0);
    if turn(before, here, after) >= 0.0 { left_of_in && left_of_out } else { left_of_in || left_of_out }
}

/// One ring from an outline and a hole, tied by a bridge walked both ways.
fn bridged(outline: &[Corner], from: usize, hole: &[Corner], to: usize) -> Vec<Corner> {
    let mut ring = Vec::with_capacity(outline.len() + hole.len() + 2);
    ring.extend(outline.iter().take(from + 1));
    ring.extend(hole.iter().cycle().skip(to).take(hole.len() + 1));
    ring.extend(outline.iter().skip(from));
    ring
}

/// Clips ears until three corners are left.
fn clip_ears(mut ring: Vec<Corner>, out: &mut Vec<[u32; 3]>) {
    while ring.len() > 3 {
        let n = ring.len();
        // A bridge whose hole is used up is walked there and back: it bounds nothing.
        if let Some(i) = (0..n).find(|&i| ring[(i + n - 1) % n].id == ring[(i + 1) % n].id) {
            ring.remove(i.max((i + 1) % n));
            ring.remove(i.min((i + 1) % n));
            continue;
        }
        let around = |i: usize| (&ring[(i + n - 1) % n], &ring[i], &ring[(i + 1) % n]);
        let best = (0..n)
            .map(|i| {
                let (a, b, c) = around(i);
                let shape = shape(a, b, c);
                // An ear that is flat or has a corner in it is only taken when there is no other.
                let penalty = if shape <= 0.0 || !is_clear(&ring, a, b, c) { 10.0 } else { 0.0 };
                (shape - penalty, i)
            })
            .max_by(|x, y| x.0.total_cmp(&y.0));
        let Some((_, i)) = best else { return };
        let (a, b, c) = around(i);
        out.push([a.id, b.id, c.id]);
        ring.remove(i);
    }
    if let [a, b, c] = ring.as_slice()
        && a.id != b.id
        && b.id != c.id
        && c.id != a.id
    {
        out.push([a.id, b.id, c.id]);
    }
}

/// How good a triangle is: its double area over its longest side squared, zero when flat.
fn shape(a: &Corner, b: &Corner, c: &Corner) -> f64 {
    let longest = square_distance(a, b).max(square_distance(b, c)).max(square_distance(c, a));
    let twice = turn(a, b, c);
    if twice.abs() <= WELD * longest.sqrt() { 0.0 } else { twice / longest }
}

/// Whether no other corner lies in a triangle or on its rim.
fn is_clear(ring: &[Corner], a: &Corner, b: &Corner, c: &Corner) -> bool {
    let slack = |p: &Corner, q: &Corner| -WELD * square_distance(p, q).sqrt();
    let (ab, bc, ca) = (slack(a, b), slack(b, c), slack(c, a));
    ring.iter().all(|p| {
        p.id == a.id
            || p.id == b.id
            || p.id == c.id
            || turn(a, b, p) < ab
            || turn(b, c, p) < bc
            || turn(c, a, p) < ca
    })
}
