//! A drawing at a stated scale, turned into the few marks that every writer draws.
//!
//! Marks are in millimeters on paper, x right, y up. Groups are placed, dimensions and hatching are
//! lines and arrowheads, text is on its baseline.

use super::{Affine, Anchor, Drawing, Item, Pen, Point, Rise, Text, conventions, hatch};
use crate::faces::{self, Face};
use crate::ink::Color;

/// One mark on paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line through points, open or closed.
    Path {
        /// The points.
        points: Vec<Point>,
        /// Whether the last point joins the first.
        closed: bool,
        /// Color inside.
        fill: Option<Color>,
        /// Outline.
        stroke: Option<Pen>,
    },
    /// Part of a circle, counter-clockwise, degrees.
    Arc {
        /// Center.
        center: Point,
        /// Radius.
        radius: f64,
        /// Degrees.
        start: f64,
        /// Degrees.
        end: f64,
        /// Line.
        pen: Pen,
    },
    /// A circle.
    Circle {
        /// Center.
        center: Point,
        /// Radius.
        radius: f64,
        /// Color inside.
        fill: Option<Color>,
        /// Outline.
        stroke: Option<Pen>,
    },
    /// A line of text on its baseline.
    Text {
        /// Point on the baseline.
        at: Point,
        /// The words.
        words: String,
        /// Size of the em.
        size: f64,
        /// Along the line.
        anchor: Anchor,
        /// Degrees counter-clockwise.
        rotation: f64,
        /// The face.
        face: Face,
        /// The color.
        color: Color,
    },
    /// Marks of which only what lies inside the outline shows.
    Clip {
        /// The outline.
        outline: Vec<Point>,
        /// The marks.
        marks: Vec<Mark>,
    },
}

/// The marks of a drawing when one drawing unit is shown as `scale` millimeters.
///
/// Shapes with a coordinate that is not finite are left out.
pub fn flatten(drawing: &Drawing, scale: f64) -> Vec<Mark> {
    let mut marks = Vec::with_capacity(drawing.items.len());
    if scale.is_finite() && scale > 0.0 {
        let frame = Frame { scale, place: Affine::SAME };
        frame.all(&drawing.items, &mut marks);
    }
    marks
}

/// Points along an arc, close enough that the chord strays less than 0.01 mm.
pub(crate) fn arc_points(center: Point, radius: f64, start: f64, end: f64) -> Vec<Point> {
    let sweep = (end - start).to_radians();
    let step = if radius > 0.01 { 2.0 * (1.0 - 0.01 / radius).clamp(-1.0, 1.0).acos() } else { 1.0 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1..=720")]
    let count = (sweep.abs() / step.max(1e-3)).ceil().clamp(1.0, 720.0) as u32;
    let [x, y] = center;
    (0..=count)
        .map(|i| {
            let angle = start.to_radians() + sweep * f64::from(i) / f64::from(count);
            [x + radius * angle.cos(), y + radius * angle.sin()]
        })
        .collect()
}

/// Where the items being drawn stand on paper.
#[derive(Clone, Copy)]
struct Frame {
    scale: f64,
    place: Affine,
}

impl Frame {
    fn all(self, items: &[Item], out: &mut Vec<Mark>) {
        for item in items {
            self.one(item, out);
        }
    }

    /// A drawing point on paper.
    fn point(self, point: Point) -> Point {
        let [x, y] = point;
        self.place.apply([x * self.scale, y * self.scale])
    }

    fn points(self, points: &[Point]) -> Option<Vec<Point>> {
        let points: Vec<Point> = points.iter().map(|p| self.point(*p)).collect();
        points.iter().flatten().all(|v| v.is_finite()).then_some(points)
    }

    fn one(self, item: &Item, out: &mut Vec<Mark>) {
        match item {
            Item::Polyline { points, pen } => self.path(points, false, None, Some(*pen), out),
            Item::Polygon { points, fill, stroke } => self.path(points, true, *fill, *stroke, out),
            Item::Arc { center, radius, start, end, pen } => {
                self.arc(*center, *radius, [*start, *end], *pen, out);
            }
            Item::Circle { center, radius, fill, stroke } => {
                self.circle(*center, *radius, *fill, *stroke, out);
            }
            Item::Text(text) => self.text(text, out),
            Item::Hatch { points, angle, spacing, pen } => {
                if let Some(points) = self.points(points) {
                    for [from, to] in hatch::lines(&points, *angle, *spacing) {
                        out.push(stroke(vec![from, to], *pen));
                    }
                }
            }
            Item::Dimension(dimension) => {
                if let Some(ends) = self.points(&[dimension.from, dimension.to])
                    && let [from, to] = ends[..]
                {
                    let along = dimension.extension.map(|e| self.place.direct(e));
                    dimension.draw(from, to, along, out);
                }
            }
            Item::Leader(leader) => {
                if let Some([tip]) = self.points(&[leader.tip]).as_deref() {
                    leader.draw(*tip, out);
                }
            }
            Item::CuttingPlane { from, to, letter } => {
                if let Some([from, to]) = self.points(&[*from, *to]).as_deref() {
                    conventions::cutting_plane(*from, *to, letter, out);
                }
            }
            Item::BreakLine { from, to } => {
                if let Some([from, to]) = self.points(&[*from, *to]).as_deref() {
                    conventions::break_line(*from, *to, out);
                }
            }
            Item::Group { place, clip, items } => self.group(*place, clip.as_deref(), items, out),
        }
    }

    fn group(self, place: Affine, clip: Option<&[Point]>, items: &[Item], out: &mut Vec<Mark>) {
        let inner = Self { scale: self.scale, place: place.moved_by(self.scale).then(self.place) };
        match clip {
            None => inner.all(items, out),
            Some(outline) => {
                if let Some(outline) = inner.points(outline).filter(|o| o.len() >= 3) {
                    let mut marks = Vec::new();
                    inner.all(items, &mut marks);
                    out.push(Mark::Clip { outline, marks });
                }
            }
        }
    }

    fn path(
        self,
        points: &[Point],
        closed: bool,
        fill: Option<Color>,
        stroke: Option<Pen>,
        out: &mut Vec<Mark>,
    ) {
        if let Some(points) = self.points(points).filter(|p| p.len() >= 2) {
            out.push(Mark::Path { points, closed, fill, stroke });
        }
    }

    fn arc(self, center: Point, radius: f64, [start, end]: [f64; 2], pen: Pen, out: &mut Vec<Mark>) {
        if ![radius, start, end].iter().all(|v| v.is_finite()) || radius <= 0.0 {
            return;
        }
        let center_on_paper = self.point(center);
        match self.place.even_scale() {
            Some(factor) if center_on_paper.iter().all(|v| v.is_finite()) => {
                let [x, y] = self.place.direct([1.0, 0.0]);
                let turn = y.atan2(x).to_degrees();
                let (start, end) = if self.place.mirrors() {
                    (turn - end, turn - start)
                } else {
                    (turn + start, turn + end)
                };
                let radius = radius * self.scale * factor;
                out.push(Mark::Arc { center: center_on_paper, radius, start, end, pen });
            }
            _ => self.path(&arc_points(center, radius, start, end), false, None, Some(pen), out),
        }
    }

    fn circle(
        self,
        center: Point,
        radius: f64,
        fill: Option<Color>,
        stroke: Option<Pen>,
        out: &mut Vec<Mark>,
    ) {
        if !radius.is_finite() || radius <= 0.0 {
            return;
        }
        let middle = self.point(center);
        match self.place.even_scale() {
            Some(factor) if middle.iter().all(|v| v.is_finite()) => {
                out.push(Mark::Circle { center: middle, radius: radius * self.scale * factor, fill, stroke });
            }
            _ => {
                let mut points = arc_points(center, radius, 0.0, 360.0);
                points.pop();
                self.path(&points, true, fill, stroke, out);
            }
        }
    }

    fn text(self, text: &Text, out: &mut Vec<Mark>) {
        let (sin, cos) = text.rotation.to_radians().sin_cos();
        let [x, y] = self.place.direct([cos, sin]);
        let rotation = y.atan2(x).to_degrees();
        if let Some([at]) = self.points(&[text.at]).as_deref()
            && rotation.is_finite()
            && text.size.is_finite()
            && text.size > 0.0
            && !text.words.is_empty()
        {
            out.push(on_baseline(*at, text, rotation));
        }
    }
}

/// Text hung from a point on paper, brought to its baseline.
fn on_baseline(at: Point, text: &Text, rotation: f64) -> Mark {
    let drop = match text.rise {
        Rise::Baseline => 0.0,
        Rise::Middle => faces::CAPITAL * text.size / 2.0,
        Rise::Top => faces::CAPITAL * text.size,
    };
    let (sin, cos) = rotation.to_radians().sin_cos();
    let [x, y] = at;
    Mark::Text {
        at: [x + drop * sin, y - drop * cos],
        words: text.words.clone(),
        size: text.size,
        anchor: text.anchor,
        rotation,
        face: text.face,
        color: text.color,
    }
}

/// An open line.
pub(crate) fn stroke(points: Vec<Point>, pen: Pen) -> Mark {
    Mark::Path { points, closed: false, fill: None, stroke: Some(pen) }
}

/// Text on paper, hung as it says.
pub(crate) fn words(text: &Text) -> Mark {
    on_baseline(text.at, text, text.rotation)
}

/// Marks with everything smaller, words and line widths too.
pub(crate) fn smaller(marks: Vec<Mark>, factor: f64) -> Vec<Mark> {
    let at = |[x, y]: Point| [x * factor, y * factor];
    let thin = |pen: Pen| pen.wide(pen.width * factor);
    let one = |mark| match mark {
        Mark::Path { points, closed, fill, stroke } => Mark::Path {
            points: points.into_iter().map(at).collect(),
            closed,
            fill,
            stroke: stroke.map(thin),
        },
        Mark::Arc { center, radius, start, end, pen } => {
            Mark::Arc { center: at(center), radius: radius * factor, start, end, pen: thin(pen) }
        }
        Mark::Circle { center, radius, fill, stroke } => {
            Mark::Circle { center: at(center), radius: radius * factor, fill, stroke: stroke.map(thin) }
        }
        Mark::Text { at: point, words, size, anchor, rotation, face, color } => {
            Mark::Text { at: at(point), words, size: size * factor, anchor, rotation, face, color }
        }
        Mark::Clip { outline, marks } => {
            Mark::Clip { outline: outline.into_iter().map(at).collect(), marks: smaller(marks, factor) }
        }
    };
    marks.into_iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::super::{Line, Pen};
    use super::*;

    #[test]
    fn a_group_moves_with_the_scale_and_text_keeps_its_size() {
        let mut inner = Drawing::new();
        inner.line([0.0, 0.0], [10.0, 0.0], Pen::new(Line::Visible));
        inner.text(Text::new([5.0, 0.0], "rail").hung(Anchor::Start, Rise::Baseline));
        let mut outer = Drawing::new();
        outer.place(inner, Affine::turn(90.0).then(Affine::shift(100.0, 50.0)));
        let marks = flatten(&outer, 0.5);
        let Mark::Path { points, .. } = &marks[0] else { panic!("a line") };
        // By hand: half of (100, 50), then 5 up.
        for (got, want) in points.iter().flatten().zip([50.0, 25.0, 50.0, 30.0]) {
            assert!((got - want).abs() < 1e-9, "{points:?}");
        }
        let Mark::Text { size, rotation, .. } = &marks[1] else { panic!("a text") };
        assert!((size - 3.5).abs() < 1e-12 && (rotation - 90.0).abs() < 1e-9);
    }

    #[test]
    fn a_mirrored_arc_stays_counter_clockwise() {
        let mut inner = Drawing::new();
        inner.arc([0.0, 0.0], 10.0, 0.0, 90.0, Pen::new(Line::Visible));
        let mut outer = Drawing::new();
        outer.place(inner, Affine::mirror_left_right());
        let marks = flatten(&outer, 1.0);
        let Mark::Arc { start, end, .. } = &marks[0] else { panic!("an arc") };
        // The quarter in the first quadrant becomes the quarter in the second: 90 to 180 degrees.
        assert!((start - 90.0).abs() < 1e-9 && (end - 180.0).abs() < 1e-9, "{start} {end}");
    }

    #[test]
    fn what_is_not_finite_is_left_out() {
        let mut drawing = Drawing::new();
        drawing.line([f64::NAN, 0.0], [1.0, 1.0], Pen::new(Line::Visible));
        drawing.circle([0.0, 0.0], f64::INFINITY, None, Some(Pen::new(Line::Visible)));
        drawing.arc([0.0, f64::NAN], 1.0, 0.0, 9.0, Pen::new(Line::Visible));
        assert!(flatten(&drawing, 1.0).is_empty());
        assert!(flatten(&drawing, f64::NAN).is_empty());
    }
}
