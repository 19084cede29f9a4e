//! Dimensions and leaders in the manner of ISO 129: gap, extension line, arrowheads, text above the line.

use super::flat::{self, Mark};
use super::{Anchor, Line, Pen, Point, Rise, Text};
use crate::faces::Face;
use crate::ink;

/// Gap between the part and its extension line, millimeters on paper (ISO 129-1: about eight line widths).
const GAP: f64 = 1.0;
/// How far an extension line runs past the dimension line, millimeters on paper (as the gap; common practice).
const PAST: f64 = 2.0;
/// Length of an arrowhead, millimeters on paper (common practice).
const ARROW: f64 = 3.0;
/// Half the opening of an arrowhead: 15 degrees in all (ISO 129-1 shows 15 and 30).
const ARROW_HALF_DEGREES: f64 = 7.5;
/// Clear space between the dimension line and its text, millimeters on paper.
const CLEAR: f64 = 0.8;

/// What distance is dimensioned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// The distance between the points; the dimension line is parallel to them.
    Aligned,
    /// The distance along x; the dimension line is level.
    Level,
    /// The distance along y; the dimension line is upright.
    Upright,
}

/// A linear dimension. It shows the words it is given: it never measures the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// First point, drawing units.
    pub from: Point,
    /// Second point, drawing units.
    pub to: Point,
    /// Which distance.
    pub measure: Measure,
    /// How far the dimension line stands off, millimeters on paper. Aligned: positive to the left of
    /// the way from `from` to `to`. Level: positive above. Upright: positive to the right.
    pub offset: f64,
    /// The way the extension lines run, for axonometric drawings; square to the dimension if `None`.
    pub extension: Option<Point>,
    /// The words, such as `260` or `7 1/2`.
    pub words: String,
    /// Size of the words on paper, millimeters.
    pub size: f64,
}

impl Dimension {
    /// A dimension parallel to its points.
    pub fn aligned(from: Point, to: Point, offset: f64, words: impl Into<String>) -> Self {
        Self { from, to, measure: Measure::Aligned, offset, extension: None, words: words.into(), size: 3.5 }
    }

    /// A dimension along x, its line level.
    pub fn level(from: Point, to: Point, offset: f64, words: impl Into<String>) -> Self {
        Self { measure: Measure::Level, ..Self::aligned(from, to, offset, words) }
    }

    /// A dimension along y, its line upright.
    pub fn upright(from: Point, to: Point, offset: f64, words: impl Into<String>) -> Self {
        Self { measure: Measure::Upright, ..Self::aligned(from, to, offset, words) }
    }

    /// The same with extension lines along a direction of the drawing (an axis of an axonometric view).
    /// The sign of `offset` then counts along that direction.
    #[must_use]
    pub fn along(mut self, direction: Point) -> Self {
        self.extension = Some(direction);
        self
    }

    /// The same with words of another size.
    #[must_use]
    pub fn sized(mut self, size: f64) -> Self {
        self.size = size;
        self
    }

    /// The marks on paper between two points on paper.
    pub(crate) fn draw(&self, from: Point, to: Point, along: Option<Point>, out: &mut Vec<Mark>) {
        let Some([a, b]) = self.line_ends(from, to, along) else {
            return;
        };
        let pen = Pen::new(Line::Dimension);
        for (foot, end) in [(from, a), (to, b)] {
            if let Some(way) = unit(sub(end, foot))
                && distance(foot, end) > GAP
            {
                out.push(flat::stroke(vec![add(foot, way, GAP), add(end, way, PAST)], pen));
            }
        }
        let Some(way) = unit(sub(b, a)) else { return };
        let length = distance(a, b);
        let text_width = Face::Plain.advance(&self.words) * self.size;
        let arrows_inside = length >= 2.0 * ARROW + 1.5;
        let text_inside = length >= text_width + 1.0;
        let back = [-way[0], -way[1]];
        if arrows_inside {
            out.push(flat::stroke(vec![add(a, way, ARROW * 0.9), add(b, back, ARROW * 0.9)], pen));
            out.push(arrow(a, back, pen));
            out.push(arrow(b, way, pen));
        } else {
            out.push(flat::stroke(vec![a, b], pen));
            let tail = if text_inside { 2.0 * ARROW } else { ARROW + CLEAR + text_width + 1.0 };
            out.push(flat::stroke(vec![add(a, back, ARROW * 0.9), add(a, back, 2.0 * ARROW)], pen));
            out.push(flat::stroke(vec![add(b, way, ARROW * 0.9), add(b, way, tail)], pen));
            out.push(arrow(a, way, pen));
            out.push(arrow(b, back, pen));
        }
        let middle = if text_inside {
            add(a, way, length / 2.0)
        } else {
            let lead = if arrows_inside { PAST } else { ARROW + CLEAR };
            if arrows_inside {
                out.push(flat::stroke(vec![b, add(b, way, lead + text_width + 1.0)], pen));
            }
            add(b, way, lead + text_width / 2.0 + 0.5)
        };
        out.push(self.text_above(middle, way));
    }

    /// The ends of the dimension line on paper.
    fn line_ends(&self, from: Point, to: Point, along: Option<Point>) -> Option<[Point; 2]> {
        let offset = if self.offset.is_finite() {
            self.offset
        } else {
            return None;
        };
        match (self.measure, along.and_then(unit)) {
            (_, Some(way)) => Some([add(from, way, offset), add(to, way, offset)]),
            (Measure::Aligned, None) => {
                let [x, y] = unit(sub(to, from))?;
                let left = [-y, x];
                Some([add(from, left, offset), add(to, left, offset)])
            }
            (Measure::Level, None) => {
                let y = if offset >= 0.0 { from[1].max(to[1]) } else { from[1].min(to[1]) } + offset;
                Some([[from[0], y], [to[0], y]])
            }
            (Measure::Upright, None) => {
                let x = if offset >= 0.0 { from[0].max(to[0]) } else { from[0].min(to[0]) } + offset;
                Some([[x, from[1]], [x, to[1]]])
            }
        }
    }

    /// The words above the line at `middle`, turned to be read from below or from the right.
    fn text_above(&self, middle: Point, way: Point) -> Mark {
        let mut degrees = way[1].atan2(way[0]).to_degrees();
        // Upright text reads from the right: bottom to top, so 90 stays and -90 turns over.
        if degrees > 90.0 + 1e-6 {
            degrees -= 180.0;
        } else if degrees <= -90.0 + 1e-6 {
            degrees += 180.0;
        }
        let (sin, cos) = degrees.to_radians().sin_cos();
        let at = add(middle, [-sin, cos], CLEAR);
        let text = Text::new(at, self.words.clone()).sized(self.size);
        flat::words(&text.hung(Anchor::Middle, Rise::Baseline).turned(degrees))
    }
}

/// How a leader ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tip {
    /// An arrowhead on an edge.
    Arrow,
    /// A dot on a face.
    Dot,
}

/// A pointer with one or more lines of words.
#[derive(Clone, Debug, PartialEq)]
pub struct Leader {
    /// What it points at, drawing units.
    pub tip: Point,
    /// From the tip to the knee, millimeters on paper.
    pub knee: Point,
    /// The words, one line each; they stand on the far side of the knee.
    pub lines: Vec<String>,
    /// How it ends.
    pub end: Tip,
    /// Size of the words on paper, millimeters.
    pub size: f64,
}

impl Leader {
    /// A leader with an arrowhead and one line of words.
    pub fn new(tip: Point, knee: Point, words: impl Into<String>) -> Self {
        Self { tip, knee, lines: vec![words.into()], end: Tip::Arrow, size: 3.5 }
    }

    /// The same with a dot at its tip.
    #[must_use]
    pub fn dotted(mut self) -> Self {
        self.end = Tip::Dot;
        self
    }

    /// The marks on paper from a tip on paper.
    pub(crate) fn draw(&self, tip: Point, out: &mut Vec<Mark>) {
        let knee = [tip[0] + self.knee[0], tip[1] + self.knee[1]];
        if !knee.iter().all(|v| v.is_finite()) {
            return;
        }
        let pen = Pen::new(Line::Dimension);
        let side = if self.knee[0] < 0.0 { -1.0 } else { 1.0 };
        let shelf = [knee[0] + side * 3.0, knee[1]];
        let begin = if let (Tip::Arrow, Some(way)) = (self.end, unit(self.knee)) {
            out.push(arrow(tip, [-way[0], -way[1]], pen));
            add(tip, way, ARROW * 0.9)
        } else {
            out.push(Mark::Circle { center: tip, radius: 0.6, fill: Some(pen.color), stroke: None });
            tip
        };
        out.push(flat::stroke(vec![begin, knee, shelf], pen));
        let anchor = if side < 0.0 { Anchor::End } else { Anchor::Start };
        let step = self.size * 1.3;
        let first = step * (self.lines.len().saturating_sub(1)) as f64 / 2.0;
        for (index, line) in self.lines.iter().enumerate() {
            let at = [shelf[0] + side * CLEAR, shelf[1] + first - step * index as f64];
            let text = Text::new(at, line.clone()).sized(self.size).colored(ink::INK);
            out.push(flat::words(&text.hung(anchor, Rise::Middle)));
        }
    }
}

/// A filled arrowhead whose point is at `tip`, pointing along `way`.
fn arrow(tip: Point, way: Point, pen: Pen) -> Mark {
    let half = ARROW * ARROW_HALF_DEGREES.to_radians().tan();
    let base = add(tip, way, -ARROW);
    let across = [-way[1], way[0]];
    let points = vec![tip, add(base, across, half), add(base, across, -half)];
    Mark::Path { points, closed: true, fill: Some(pen.color), stroke: None }
}

fn add(point: Point, way: Point, by: f64) -> Point {
    [point[0] + way[0] * by, point[1] + way[1] * by]
}

fn sub(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

fn distance(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// The direction of a vector; `None` when it has no length.
fn unit(vector: Point) -> Option<Point> {
    let length = vector[0].hypot(vector[1]);
    (length > 1e-9 && length.is_finite()).then(|| [vector[0] / length, vector[1] / length])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text_of(dimension: &Dimension) -> (Point, f64) {
        let mut out = Vec::new();
        dimension.draw(dimension.from, dimension.to, dimension.extension, &mut out);
        for mark in out {
            if let Mark::Text { at, rotation, .. } = mark {
                return (at, rotation);
            }
        }
        panic!("no text");
    }

    #[test]
    fn text_stands_above_the_line_and_reads_from_below_or_right() {
        // ISO 129-1: values are read from the bottom or from the right-hand side of the drawing.
        struct Case {
            name: &'static str,
            given: Dimension,
            want: f64,
        }
        let cases = [
            Case { name: "level", given: Dimension::level([0.0, 0.0], [50.0, 0.0], 10.0, "50"), want: 0.0 },
            Case { name: "back", given: Dimension::level([50.0, 0.0], [0.0, 0.0], 10.0, "50"), want: 0.0 },
            Case { name: "up", given: Dimension::upright([0.0, 0.0], [0.0, 40.0], 10.0, "40"), want: 90.0 },
            Case { name: "down", given: Dimension::upright([0.0, 40.0], [0.0, 0.0], 10.0, "40"), want: 90.0 },
            Case {
                name: "slope",
                given: Dimension::aligned([30.0, 30.0], [0.0, 0.0], 8.0, "42"),
                want: 45.0,
            },
        ];
        for case in cases {
            let (_, rotation) = text_of(&case.given);
            assert!((rotation - case.want).abs() < 1e-6, "{}: {rotation}", case.name);
        }
        let (at, _) = text_of(&Dimension::upright([0.0, 0.0], [0.0, 40.0], 10.0, "40"));
        assert!((at[0] - (10.0 - CLEAR)).abs() < 1e-9, "left of its line, which reads as above: {at:?}");
        let (at, _) = text_of(&Dimension::level([0.0, 0.0], [50.0, 0.0], -10.0, "50"));
        assert!((at[1] - (CLEAR - 10.0)).abs() < 1e-9, "above its line: {at:?}");
    }

    #[test]
    fn a_short_dimension_has_its_arrows_outside_and_its_text_beyond() {
        let dimension = Dimension::level([0.0, 0.0], [3.0, 0.0], 6.0, "3.175");
        let (at, _) = text_of(&dimension);
        assert!(at[0] > 3.0 + ARROW, "{at:?}");
    }

    #[test]
    fn extension_lines_leave_a_gap() {
        let mut out = Vec::new();
        let dimension = Dimension::level([0.0, 0.0], [50.0, 5.0], 10.0, "50");
        dimension.draw(dimension.from, dimension.to, None, &mut out);
        let Mark::Path { points, .. } = &out[0] else { panic!("a line") };
        assert!((points[0][1] - GAP).abs() < 1e-9 && (points[1][1] - (15.0 + PAST)).abs() < 1e-9);
    }
}
