//! The upright rectangle around marks.

use super::flat::Mark;
use super::{Anchor, Point};
use crate::faces;

/// An upright rectangle, millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Left.
    pub left: f64,
    /// Lower edge.
    pub bottom: f64,
    /// Right.
    pub right: f64,
    /// Upper edge.
    pub top: f64,
}

impl Bounds {
    /// The rectangle around one point.
    pub const fn at(point: Point) -> Self {
        let [x, y] = point;
        Self { left: x, bottom: y, right: x, top: y }
    }

    /// Grows to hold the point with `margin` around it.
    #[must_use]
    pub fn with(self, point: Point, margin: f64) -> Self {
        let [x, y] = point;
        Self {
            left: self.left.min(x - margin),
            bottom: self.bottom.min(y - margin),
            right: self.right.max(x + margin),
            top: self.top.max(y + margin),
        }
    }

    /// Grows by `margin` on all sides.
    #[must_use]
    pub fn grown(self, margin: f64) -> Self {
        Self {
            left: self.left - margin,
            bottom: self.bottom - margin,
            right: self.right + margin,
            top: self.top + margin,
        }
    }

    /// What lies in both, or an empty rectangle.
    #[must_use]
    pub fn within(self, other: Self) -> Self {
        let left = self.left.max(other.left);
        let bottom = self.bottom.max(other.bottom);
        Self {
            left,
            bottom,
            right: self.right.min(other.right).max(left),
            top: self.top.min(other.top).max(bottom),
        }
    }

    /// Width.
    pub fn width(self) -> f64 {
        self.right - self.left
    }

    /// Height.
    pub fn height(self) -> f64 {
        self.top - self.bottom
    }
}

/// The rectangle around both, either of which may be missing.
fn joined(a: Option<Bounds>, b: Option<Bounds>) -> Option<Bounds> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.with([b.left, b.bottom], 0.0).with([b.right, b.top], 0.0)),
        (a, b) => a.or(b),
    }
}

/// The rectangle around points with a margin.
pub(crate) fn around(points: &[Point], margin: f64) -> Option<Bounds> {
    let first = points.first()?;
    Some(points.iter().fold(Bounds::at(*first), |all, point| all.with(*point, margin)))
}

/// The rectangle around marks, line widths and letters included.
pub(crate) fn of(marks: &[Mark]) -> Option<Bounds> {
    marks.iter().map(one).fold(None, joined)
}

/// The corners of the rectangle that a line of text fills, turned as it is; nothing for other marks.
pub(crate) fn corners(mark: &Mark) -> Option<[Point; 4]> {
    let Mark::Text { at, words, size, anchor, rotation, face, .. } = mark else { return None };
    let width = face.advance(words) * size;
    let start = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    let (sin, cos) = rotation.to_radians().sin_cos();
    let [x, y] = *at;
    let corner = |along: f64, up: f64| [x + along * cos - up * sin, y + along * sin + up * cos];
    let (low, high) = (-faces::DESCENT * size, 0.75 * size);
    Some([corner(start, low), corner(start + width, low), corner(start + width, high), corner(start, high)])
}

fn one(mark: &Mark) -> Option<Bounds> {
    match mark {
        Mark::Path { points, stroke, .. } => around(points, stroke.map_or(0.0, |pen| pen.width / 2.0)),
        Mark::Arc { center, radius, start, end, pen } => {
            around(&super::flat::arc_points(*center, *radius, *start, *end), pen.width / 2.0)
        }
        Mark::Circle { center, radius, stroke, .. } => {
            Some(Bounds::at(*center).grown(radius + stroke.map_or(0.0, |pen| pen.width / 2.0)))
        }
        Mark::Text { .. } => around(&corners(mark)?, 0.0),
        Mark::Clip { outline, marks } => match (around(outline, 0.0), of(marks)) {
            (Some(frame), Some(inner)) => Some(inner.within(frame)),
            _ => None,
        },
    }
}
