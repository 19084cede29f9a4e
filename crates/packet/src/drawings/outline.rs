//! Outlines in the plane: joined to one ring, asked where there is room inside.

use crate::drawing::Point;
use crate::drawing::hatch;

/// An outline and its holes as one ring: each hole is joined to the outline by a bridge walked both ways, so
/// that it can be filled and hatched as one. The first loop is the outline.
pub(super) fn joined(loops: &[Vec<(f64, f64)>]) -> Vec<Point> {
    let point = |p: &(f64, f64)| [p.0, p.1];
    let mut ring: Vec<Point> = loops.first().map(|l| l.iter().map(point).collect()).unwrap_or_default();
    for hole in loops.iter().skip(1) {
        let hole: Vec<Point> = hole.iter().map(point).collect();
        let mut nearest = (f64::INFINITY, 0, 0);
        for (i, a) in ring.iter().enumerate() {
            for (j, b) in hole.iter().enumerate() {
                let away = (a[0] - b[0]).hypot(a[1] - b[1]);
                if away < nearest.0 {
                    nearest = (away, i, j);
                }
            }
        }
        let (_, i, j) = nearest;
        let mut bridged = Vec::with_capacity(ring.len() + hole.len() + 2);
        bridged.extend(ring.iter().take(i + 1));
        bridged.extend(hole.iter().cycle().skip(j).take(hole.len() + 1));
        bridged.extend(ring.iter().skip(i));
        ring = bridged;
    }
    ring
}

/// Twice the signed area.
fn doubled_area(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum()
}

/// Area of a ring, millimeters squared.
pub(super) fn area(ring: &[Point]) -> f64 {
    (doubled_area(ring) / 2.0).abs()
}

/// A point inside a ring, as far from its edges as a coarse search finds, and that distance.
pub(super) fn roomiest(ring: &[Point]) -> Option<(Point, f64)> {
    let first = ring.first()?;
    let (mut low, mut high) = (*first, *first);
    for [x, y] in ring {
        low = [low[0].min(*x), low[1].min(*y)];
        high = [high[0].max(*x), high[1].max(*y)];
    }
    let mut best: Option<(Point, f64)> = None;
    let mut step = [(high[0] - low[0]) / 14.0, (high[1] - low[1]) / 14.0];
    let mut origin = low;
    for _ in 0..2 {
        for i in 0..=14_u32 {
            for j in 0..=14_u32 {
                let p = [origin[0] + step[0] * f64::from(i), origin[1] + step[1] * f64::from(j)];
                if hatch::inside(p, ring) {
                    let away = from_edges(p, ring);
                    if best.is_none_or(|(_, b)| away > b + 1e-9) {
                        best = Some((p, away));
                    }
                }
            }
        }
        let center = best.map_or([f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])], |b| b.0);
        origin = [center[0] - step[0], center[1] - step[1]];
        step = [step[0] / 7.0, step[1] / 7.0];
    }
    best
}

/// Distance of a point from the nearest edge of a ring.
fn from_edges(p: Point, ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| from_line(p, *a, *b)).fold(f64::INFINITY, f64::min)
}

/// Distance of a point from a stretch of line.
pub(super) fn from_line(p: Point, a: Point, b: Point) -> f64 {
    let d = [b[0] - a[0], b[1] - a[1]];
    let square = d[0] * d[0] + d[1] * d[1];
    let t = if square > 0.0 { ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1]) / square } else { 0.0 };
    let t = t.clamp(0.0, 1.0);
    (p[0] - a[0] - d[0] * t).hypot(p[1] - a[1] - d[1] * t)
}

/// Whether two stretches of line cross.
pub(super) fn cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_with_a_hole_keeps_its_area_and_its_hole() {
        let square = vec![(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
        let hole = vec![(4.0, 4.0), (4.0, 6.0), (6.0, 6.0), (6.0, 4.0)];
        let ring = joined(&[square, hole]);
        assert!((area(&ring) - 96.0).abs() < 1e-9, "100 less 4: {}", area(&ring));
        assert!(!hatch::inside([5.0, 5.0], &ring) && hatch::inside([2.0, 5.1], &ring));
        let (at, away) = roomiest(&ring).unwrap();
        assert!(hatch::inside(at, &ring) && away > 1.5, "{at:?} {away}");
    }
}
