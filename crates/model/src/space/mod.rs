//! Points, directions, planes and poses in millimeters: the geometry that parts and solids share.
//!
//! # Frames
//! Box frame: x along the length, y along the depth (front to back), z up; origin at the outside lower
//! front-left corner. Part frame: u along the grain, v across it, w through the thickness, show face
//! at w = thickness. Both are right-handed. Components inside this room are plain millimeters.

use core::ops::{Add, Mul, Neg, Sub};

/// A point or a direction; components in millimeters (a direction has no unit).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vec3 {
    /// Along x (box frame) or u (part frame).
    pub x: f64,
    /// Along y or v.
    pub y: f64,
    /// Along z or w.
    pub z: f64,
}

impl Vec3 {
    /// The origin.
    pub const ZERO: Self = Self::new(0.0, 0.0, 0.0);
    /// Along x or u.
    pub const X: Self = Self::new(1.0, 0.0, 0.0);
    /// Along y or v.
    pub const Y: Self = Self::new(0.0, 1.0, 0.0);
    /// Along z or w.
    pub const Z: Self = Self::new(0.0, 0.0, 1.0);

    /// From components.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// Scalar product.
    pub fn dot(self, o: Self) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    /// Vector product.
    #[must_use]
    pub fn cross(self, o: Self) -> Self {
        Self::new(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }

    /// Euclidean length.
    pub fn norm(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// Same direction, length one; the zero vector stays zero.
    #[must_use]
    pub fn unit(self) -> Self {
        let n = self.norm();
        if n > 0.0 { self * (1.0 / n) } else { self }
    }
}

impl Add for Vec3 {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self::new(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}
impl Sub for Vec3 {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self::new(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}
impl Neg for Vec3 {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y, -self.z)
    }
}
impl Mul<f64> for Vec3 {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        Self::new(self.x * k, self.y * k, self.z * k)
    }
}

/// A plane with unit normal `n`: the points p with n·p = d. As a half-space it is n·p ≤ d.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Unit normal, pointing out of the half-space.
    pub n: Vec3,
    /// Distance of the plane from the origin along `n`, millimeters.
    pub d: f64,
}

impl Plane {
    /// The plane through `point` square to `normal` (made unit).
    pub fn through(point: Vec3, normal: Vec3) -> Self {
        let n = normal.unit();
        Self { n, d: n.dot(point) }
    }

    /// Signed distance of a point; positive outside the half-space.
    pub fn distance(&self, p: Vec3) -> f64 {
        self.n.dot(p) - self.d
    }

    /// The same plane, other half-space.
    #[must_use]
    pub fn flipped(&self) -> Self {
        Self { n: -self.n, d: -self.d }
    }

    /// The plane moved outward along its normal.
    #[must_use]
    pub fn moved(&self, by: f64) -> Self {
        Self { n: self.n, d: self.d + by }
    }
}

/// A convex region: the points inside all its half-spaces. May be unbounded; no half-space means everywhere.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Convex {
    /// The half-spaces, each n·p ≤ d.
    pub planes: Vec<Plane>,
}

impl Convex {
    /// From half-spaces.
    pub fn new(planes: Vec<Plane>) -> Self {
        Self { planes }
    }

    /// The half-space n·p ≥ d as a region: what lies beyond a plane and is cut away by it.
    pub fn beyond(plane: Plane) -> Self {
        Self { planes: vec![plane.flipped()] }
    }

    /// The block with the given opposite corners, edges along the axes.
    pub fn block(min: Vec3, max: Vec3) -> Self {
        Self {
            planes: vec![
                Plane { n: -Vec3::X, d: -min.x },
                Plane { n: Vec3::X, d: max.x },
                Plane { n: -Vec3::Y, d: -min.y },
                Plane { n: Vec3::Y, d: max.y },
                Plane { n: -Vec3::Z, d: -min.z },
                Plane { n: Vec3::Z, d: max.z },
            ],
        }
    }

    /// Whether a point is inside or within `tolerance` millimeters of it.
    pub fn contains(&self, p: Vec3, tolerance: f64) -> bool {
        self.planes.iter().all(|h| h.distance(p) <= tolerance)
    }

    /// The same region seen from another frame.
    #[must_use]
    pub fn posed(&self, pose: &Pose) -> Self {
        Self { planes: self.planes.iter().map(|h| pose.plane(h)).collect() }
    }
}

/// Where a part frame lies in the box frame: a rotation and a move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Where the part frame's origin lies.
    pub origin: Vec3,
    /// Direction of u (the grain) in the box frame, unit.
    pub u: Vec3,
    /// Direction of v, unit, square to u.
    pub v: Vec3,
    /// Direction of w, unit, u × v.
    pub w: Vec3,
}

impl Pose {
    /// The part frame is the box frame.
    pub const IDENTITY: Self = Self { origin: Vec3::ZERO, u: Vec3::X, v: Vec3::Y, w: Vec3::Z };

    /// From an origin, the direction of u and a direction in the u-v plane on the side of v.
    pub fn new(origin: Vec3, u: Vec3, toward_v: Vec3) -> Self {
        let u = u.unit();
        let v = (toward_v - u * u.dot(toward_v)).unit();
        Self { origin, u, v, w: u.cross(v) }
    }

    /// A point of the part frame in the box frame.
    pub fn point(&self, p: Vec3) -> Vec3 {
        self.origin + self.direction(p)
    }

    /// A direction of the part frame in the box frame.
    pub fn direction(&self, p: Vec3) -> Vec3 {
        self.u * p.x + self.v * p.y + self.w * p.z
    }

    /// A point of the box frame in the part frame.
    pub fn point_back(&self, p: Vec3) -> Vec3 {
        self.direction_back(p - self.origin)
    }

    /// A direction of the box frame in the part frame.
    pub fn direction_back(&self, p: Vec3) -> Vec3 {
        Vec3::new(self.u.dot(p), self.v.dot(p), self.w.dot(p))
    }

    /// A plane of the part frame in the box frame.
    pub fn plane(&self, h: &Plane) -> Plane {
        let n = self.direction(h.n);
        Plane { n, d: h.d + n.dot(self.origin) }
    }

    /// A plane of the box frame in the part frame.
    pub fn plane_back(&self, h: &Plane) -> Plane {
        Plane { n: self.direction_back(h.n), d: h.d - h.n.dot(self.origin) }
    }

    /// The pose that undoes this one.
    #[must_use]
    pub fn inverse(&self) -> Self {
        Self {
            origin: self.point_back(Vec3::ZERO),
            u: self.direction_back(Vec3::X),
            v: self.direction_back(Vec3::Y),
            w: self.direction_back(Vec3::Z),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pose_and_its_inverse_cancel() {
        let pose = Pose::new(Vec3::new(3.0, -2.0, 7.0), Vec3::new(1.0, 2.0, 0.5), Vec3::new(0.0, 1.0, 3.0));
        let p = Vec3::new(11.0, -5.0, 2.5);
        assert!((pose.point_back(pose.point(p)) - p).norm() < 1e-12);
        assert!((pose.inverse().point(pose.point(p)) - p).norm() < 1e-12);
        let h = Plane::through(p, Vec3::new(0.3, 0.4, 0.1));
        let moved = pose.plane(&h);
        assert!(moved.distance(pose.point(p)).abs() < 1e-12);
        assert!((pose.plane_back(&moved).n - h.n).norm() < 1e-12);
    }
}
