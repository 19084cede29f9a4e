//! Placing one frame in another: turn, mirror, stretch, move.

use super::Point;

/// A map of the plane: `x' = a·x + c·y + e`, `y' = b·x + d·y + f`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Affine {
    /// x to x.
    pub a: f64,
    /// x to y.
    pub b: f64,
    /// y to x.
    pub c: f64,
    /// y to y.
    pub d: f64,
    /// Move in x, drawing units.
    pub e: f64,
    /// Move in y, drawing units.
    pub f: f64,
}

impl Affine {
    /// Leaves everything in place.
    pub const SAME: Self = Self { a: 1.0, b: 0.0, c: 0.0, d: 1.0, e: 0.0, f: 0.0 };

    /// A move.
    pub const fn shift(x: f64, y: f64) -> Self {
        Self { e: x, f: y, ..Self::SAME }
    }

    /// A turn about the origin, degrees counter-clockwise.
    pub fn turn(degrees: f64) -> Self {
        let (sin, cos) = degrees.to_radians().sin_cos();
        Self { a: cos, b: sin, c: -sin, d: cos, e: 0.0, f: 0.0 }
    }

    /// A mirror in the y axis: left and right change places.
    pub const fn mirror_left_right() -> Self {
        Self { a: -1.0, ..Self::SAME }
    }

    /// A stretch of both axes by the same factor.
    pub const fn scale(factor: f64) -> Self {
        Self { a: factor, d: factor, ..Self::SAME }
    }

    /// This map first, then `next`.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        let [e, f] = next.apply([self.e, self.f]);
        let [a, b] = next.direct([self.a, self.b]);
        let [c, d] = next.direct([self.c, self.d]);
        Self { a, b, c, d, e, f }
    }

    /// A point mapped.
    pub fn apply(self, point: Point) -> Point {
        let [x, y] = self.direct(point);
        [x + self.e, y + self.f]
    }

    /// A direction mapped: no move.
    pub fn direct(self, direction: Point) -> Point {
        let [x, y] = direction;
        [self.a * x + self.c * y, self.b * x + self.d * y]
    }

    /// The one factor of a map that keeps circles round; `None` for other maps.
    pub fn even_scale(self) -> Option<f64> {
        let first = self.a.hypot(self.b);
        let second = self.c.hypot(self.d);
        let lean = self.a * self.c + self.b * self.d;
        let near = 1e-9 * first.max(second).max(1e-12);
        ((first - second).abs() <= near && lean.abs() <= near * first.max(second)).then_some(first)
    }

    /// Whether left and right change places.
    pub fn mirrors(self) -> bool {
        self.a * self.d - self.b * self.c < 0.0
    }

    /// The map with its move multiplied, for a drawing shown at another scale.
    #[must_use]
    pub fn moved_by(self, factor: f64) -> Self {
        Self { e: self.e * factor, f: self.f * factor, ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn maps_follow_one_another() {
        // A quarter turn takes (1, 0) to (0, 1); the move follows it.
        let [x, y] = Affine::turn(90.0).then(Affine::shift(10.0, 0.0)).apply([1.0, 0.0]);
        assert!((x - 10.0).abs() < 1e-12 && (y - 1.0).abs() < 1e-12);
        assert!(Affine::mirror_left_right().mirrors());
        assert_eq!(Affine::scale(2.0).even_scale(), Some(2.0));
        assert_eq!(Affine { a: 2.0, ..Affine::SAME }.even_scale(), None);
    }
}
