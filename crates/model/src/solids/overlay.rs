//! Lines that fall on one another on the paper: drawn once, the stronger kind on top.

use super::intervals::{self, Stretch};
use super::outline::{Line2, SHORT};
use core::f64::consts::FRAC_PI_2;

/// Directions nearer than this are one direction, radians.
const SAME_WAY: f64 = 1e-7;
/// Lines nearer than this are one line, millimeters.
const SAME_LINE: f64 = 1e-4;

/// A line with the straight that it lies on.
struct Placed {
    /// Direction of the straight, above −90° and up to 90°.
    angle: f64,
    /// Distance of the straight from the paper's origin, to the left of its direction.
    offset: f64,
    line: Line2,
}

impl Placed {
    /// The line run in its straight's direction, with the straight.
    fn of(mut line: Line2) -> Self {
        let angle = |l: &Line2| (l.b.1 - l.a.1).atan2(l.b.0 - l.a.0);
        let mut way = angle(&line);
        // A hair of noise must not send one upright line up and its twin down.
        if !(SAME_WAY - FRAC_PI_2..=FRAC_PI_2 + SAME_WAY).contains(&way) {
            core::mem::swap(&mut line.a, &mut line.b);
            way = angle(&line);
        }
        Self { angle: way, offset: line.a.1 * way.cos() - line.a.0 * way.sin(), line }
    }
}

/// Where lines lie on one another keeps only the strongest (outline, then visible, then hidden; then the
/// lower item), and joins what runs on straight. Sorted by item and kind.
pub(super) fn tidy(lines: Vec<Line2>) -> Vec<Line2> {
    let mut placed: Vec<Placed> = lines.into_iter().map(Placed::of).collect();
    placed.sort_by(|a, b| a.angle.total_cmp(&b.angle));
    let mut done = Vec::with_capacity(placed.len());
    for parallel in placed.chunk_by_mut(|a, b| b.angle - a.angle < SAME_WAY) {
        parallel.sort_by(|a, b| a.offset.total_cmp(&b.offset));
        for straight in parallel.chunk_by_mut(|a, b| b.offset - a.offset < SAME_LINE) {
            lay(straight, &mut done);
        }
    }
    done.sort_by(|a, b| {
        let place = |l: &Line2| [l.a.1, l.a.0, l.b.1, l.b.0];
        let (p, q) = (place(a), place(b));
        (a.item, a.kind).cmp(&(b.item, b.kind)).then(p.partial_cmp(&q).unwrap_or(core::cmp::Ordering::Equal))
    });
    done
}

/// Lays the lines of one straight, strongest first.
fn lay(straight: &mut [Placed], done: &mut Vec<Line2>) {
    if let [only] = straight {
        done.push(only.line);
        return;
    }
    straight.sort_by_key(|p| (p.line.kind, p.line.item));
    let angle = straight.first().map_or(0.0, |p| p.angle);
    let way = (angle.cos(), angle.sin());
    let along = |p: (f64, f64)| p.0 * way.0 + p.1 * way.1;
    let mut taken: Vec<Stretch> = Vec::new();
    let mut free: Vec<Stretch> = Vec::new();
    let mut laid: Vec<(Stretch, Line2)> = Vec::new();
    for Placed { line, .. } in &*straight {
        let whole = (along(line.a), along(line.b));
        intervals::outside(whole, &taken, SHORT, &mut free);
        for &(from, to) in &free {
            let at = |t: f64| {
                let f = (t - whole.0) / (whole.1 - whole.0);
                (line.a.0 + (line.b.0 - line.a.0) * f, line.a.1 + (line.b.1 - line.a.1) * f)
            };
            laid.push(((from, to), Line2 { a: at(from), b: at(to), ..*line }));
        }
        taken.push(whole);
        intervals::unite(&mut taken, 0.0);
    }
    laid.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
    laid.dedup_by(|next, kept| {
        let joined = next.0.0 <= kept.0.1 + SHORT && (next.1.item, next.1.kind) == (kept.1.item, kept.1.kind);
        if joined && next.0.1 > kept.0.1 {
            kept.0.1 = next.0.1;
            kept.1.b = next.1.b;
        }
        joined
    });
    done.extend(laid.into_iter().map(|l| l.1));
}
