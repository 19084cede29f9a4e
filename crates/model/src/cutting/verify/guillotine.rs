//! Whether cuts from edge to edge can free rectangles, decided by recursive splitting.

use super::super::layout::Placed;
use super::NOISE;

/// A rectangle in millimeters.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rect {
    low: [f64; 2],
    high: [f64; 2],
}

impl Rect {
    pub(super) fn of(part: &Placed) -> Self {
        let (x, y) = (part.x.to_mm(), part.y.to_mm());
        Self { low: [x, y], high: [x + part.length.to_mm(), y + part.width.to_mm()] }
    }
}

/// Whether they can be freed. Any cut that parts them without touching one may be taken: what a cut
/// leaves on either side is a part of what could be freed before, so it can be freed still.
pub(super) fn can_be_cut(rects: Vec<Rect>, kerf: f64) -> bool {
    let mut work = vec![rects];
    while let Some(mut group) = work.pop() {
        if group.len() < 2 {
            continue;
        }
        let parted = [0, 1].into_iter().any(|axis| {
            group.sort_by(|a, b| a.low[axis].total_cmp(&b.low[axis]));
            let mut reach = f64::NEG_INFINITY;
            for (n, r) in group.iter().enumerate() {
                if n > 0 && r.low[axis] >= reach + kerf - NOISE {
                    work.push(group[n..].to_vec());
                    work.push(group[..n].to_vec());
                    return true;
                }
                reach = reach.max(r.high[axis]);
            }
            false
        });
        if !parted {
            return false;
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Rect {
        Rect { low: [x0, y0], high: [x1, y1] }
    }

    /// Source: the pinwheel of five rectangles is the standard layout that no edge-to-edge cut can open.
    #[test]
    fn knows_the_pinwheel() {
        let pinwheel = vec![
            rect(0.0, 0.0, 20.0, 10.0),
            rect(20.0, 0.0, 30.0, 20.0),
            rect(10.0, 20.0, 30.0, 30.0),
            rect(0.0, 10.0, 10.0, 30.0),
            rect(10.0, 10.0, 20.0, 20.0),
        ];
        assert!(!can_be_cut(pinwheel.clone(), 0.0));
        for leave_out in 0..4 {
            let mut four = pinwheel.clone();
            four.remove(leave_out);
            assert!(can_be_cut(four, 0.0), "without {leave_out}");
        }
    }

    #[test]
    fn asks_for_the_whole_kerf() {
        let pair = vec![rect(0.0, 0.0, 10.0, 10.0), rect(12.0, 0.0, 20.0, 10.0)];
        assert!(can_be_cut(pair.clone(), 2.0));
        assert!(!can_be_cut(pair, 2.1));
    }
}
