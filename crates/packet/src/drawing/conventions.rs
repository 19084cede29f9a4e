//! Drafting conventions made of several marks: where a section is cut, where a long part is broken off.
//! Everything here is in millimeters on paper.

use super::flat::{self, Mark};
use super::{Line, Pen, Point, Text};
use crate::faces::Face;

/// Length of a thick end and of an arrow of a cutting plane (common practice).
const END: f64 = 6.0;
/// From the end of a cutting plane to the middle of its letter.
const LETTER: f64 = 4.0;

/// The way from one point to another and how far it is; `None` when they coincide.
fn way(from: Point, to: Point) -> Option<(Point, f64)> {
    let [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    let length = dx.hypot(dy);
    (length.is_finite() && length > 1e-9).then(|| ([dx / length, dy / length], length))
}

/// A dash-dot line, thick at both ends, with a letter at each end and arrows to the left of its way.
pub(crate) fn cutting_plane(from: Point, to: Point, letter: &str, out: &mut Vec<Mark>) {
    let Some((way, length)) = way(from, to) else { return };
    let sight = [-way[1], way[0]];
    let end = END.min(length / 3.0);
    out.push(flat::stroke(vec![from, to], Pen::new(Line::CuttingPlane)));
    for (at, side) in [(from, -1.0), (to, 1.0)] {
        let by = |along: f64, aside: f64| {
            [at[0] + way[0] * along + sight[0] * aside, at[1] + way[1] * along + sight[1] * aside]
        };
        out.push(flat::stroke(vec![at, by(-side * end, 0.0)], Pen::new(Line::Visible).wide(0.7)));
        out.push(flat::stroke(vec![at, by(0.0, END * 0.6)], Pen::new(Line::CuttingPlane)));
        let head = vec![by(0.0, END), by(1.0, END * 0.5), by(-1.0, END * 0.5)];
        let fill = Some(Pen::new(Line::Visible).color);
        out.push(Mark::Path { points: head, closed: true, fill, stroke: None });
        let text = Text::new(by(side * LETTER, 0.0), letter).sized(4.2).faced(Face::Bold);
        out.push(flat::words(&text));
    }
}

/// A thin line with a zigzag in its middle.
pub(crate) fn break_line(from: Point, to: Point, out: &mut Vec<Mark>) {
    let Some((way, length)) = way(from, to) else { return };
    let step = 2.0_f64.min(length / 8.0);
    let at = |along: f64, aside: f64| {
        let along = length / 2.0 + along * step;
        let aside = aside * step;
        [from[0] + way[0] * along - way[1] * aside, from[1] + way[1] * along + way[0] * aside]
    };
    let zigzag = vec![from, at(-1.0, 0.0), at(-0.5, 2.0), at(0.5, -2.0), at(1.0, 0.0), to];
    out.push(flat::stroke(zigzag, Pen::new(Line::Break)));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_section_looks_to_the_left_of_its_way() {
        let mut out = Vec::new();
        cutting_plane([0.0, 0.0], [60.0, 0.0], "A", &mut out);
        assert_eq!(out.iter().filter(|m| matches!(m, Mark::Text { words, .. } if words == "A")).count(), 2);
        // Going right, left is up: both arrowheads point up.
        let heads: Vec<&Vec<Point>> = out
            .iter()
            .filter_map(|mark| match mark {
                Mark::Path { points, closed: true, .. } => Some(points),
                _ => None,
            })
            .collect();
        assert!(heads.len() == 2 && heads.iter().all(|p| p[0][1] > p[1][1] && p[1][1] > 0.0), "{heads:?}");
        out.clear();
        cutting_plane([1.0, 1.0], [1.0, 1.0], "A", &mut out);
        break_line([1.0, 1.0], [f64::NAN, 1.0], &mut out);
        assert!(out.is_empty());
    }

    #[test]
    fn a_break_ends_where_it_is_told() {
        let mut out = Vec::new();
        break_line([0.0, 0.0], [0.0, 40.0], &mut out);
        let Mark::Path { points, .. } = &out[0] else { panic!("a line") };
        assert_eq!((points[0], points[5]), ([0.0, 0.0], [0.0, 40.0]));
    }
}
