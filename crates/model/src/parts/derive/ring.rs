//! Rings of mitered members: walls, linings, trays, plinths, lips and ledges stand up; a lid's frame
//! lies flat. One geometry serves them all.
//!
//! # Frame
//! Box frame with the ring's axis vertical through `center`. Side i faces outward along `normals[i]`;
//! side 0 is the front, and the sides follow counter-clockwise seen from above.

use crate::parts::cut::{Edge, End, Operation};
use crate::space::{Plane, Pose, Vec3};
use crate::units::{Angle, Length};

/// The plan of a ring: directions of its sides and the distance of each from the axis at height zero.
#[derive(Clone, Debug)]
pub(super) struct Ring {
    /// The axis, box frame, z ignored.
    pub(super) center: Vec3,
    /// Outward horizontal unit normals.
    pub(super) normals: Vec<Vec3>,
    /// Distance of each outside face from the axis at z = 0, millimeters.
    pub(super) apothems: Vec<f64>,
    /// Lean from vertical, outward going up positive, radians.
    pub(super) lean: f64,
}

/// One member of a ring: block, pose and the end and edge cuts that make it.
#[derive(Clone, Debug)]
pub(super) struct Member {
    pub(super) size: [Length; 3],
    pub(super) pose: Pose,
    pub(super) cuts: Vec<Operation>,
}

/// The outward normals of a rectangle or a regular polygon.
pub(super) fn normals(sides: u32) -> Vec<Vec3> {
    if sides == 4 {
        return vec![-Vec3::Y, Vec3::X, Vec3::Y, -Vec3::X];
    }
    (0..sides)
        .map(|i| {
            let turn =
                core::f64::consts::TAU * f64::from(i) / f64::from(sides) - core::f64::consts::FRAC_PI_2;
            Vec3::new(turn.cos(), turn.sin(), 0.0)
        })
        .collect()
}

impl Ring {
    pub(super) fn sides(&self) -> usize {
        self.normals.len()
    }

    /// The same plan, every face moved outward (negative: inward), measured square to the face.
    pub(super) fn offset(&self, by: f64) -> Self {
        let horizontal = by / self.lean.cos();
        Self { apothems: self.apothems.iter().map(|a| a + horizontal).collect(), ..self.clone() }
    }

    /// The same plan at height `z` with upright faces there.
    pub(super) fn upright_at(&self, z: f64) -> Self {
        let rise = z * self.lean.tan();
        Self { apothems: self.apothems.iter().map(|a| a + rise).collect(), lean: 0.0, ..self.clone() }
    }

    fn apothem(&self, i: usize, z: f64) -> f64 {
        self.apothems[i % self.sides()] + z * self.lean.tan()
    }

    /// Where outside faces i and i + 1 meet at height z.
    pub(super) fn corner(&self, i: usize, z: f64) -> Vec3 {
        let n = self.sides();
        let (a, b) = (self.normals[i % n], self.normals[(i + 1) % n]);
        let (da, db) = (self.apothem(i, z), self.apothem(i + 1, z));
        let det = a.x * b.y - a.y * b.x;
        let x = (da * b.y - db * a.y) / det;
        let y = (a.x * db - b.x * da) / det;
        Vec3::new(self.center.x + x, self.center.y + y, z)
    }

    /// The upright miter plane at corner i; its normal points from side i to side i + 1.
    pub(super) fn miter(&self, i: usize) -> Plane {
        let n = self.sides();
        Plane::through(self.corner(i, 0.0), self.normals[(i + 1) % n] - self.normals[i % n])
    }

    /// The outside plane of side i, normal outward.
    pub(super) fn face(&self, i: usize) -> Plane {
        let n = self.normals[i % self.sides()];
        let normal = Vec3::new(n.x * self.lean.cos(), n.y * self.lean.cos(), -self.lean.sin());
        Plane::through(self.center + n * self.apothems[i % self.sides()], normal)
    }

    /// Interior angle between neighboring outside faces, square to the corner's arris.
    pub(super) fn interior_angle(&self, i: usize) -> f64 {
        core::f64::consts::PI - self.face(i).n.dot(self.face(i + 1).n).clamp(-1.0, 1.0).acos()
    }

    /// Bounds in plan at height z: least and greatest x and y of the corners.
    pub(super) fn bounds(&self, z: f64) -> (Vec3, Vec3) {
        let mut low = Vec3::new(f64::INFINITY, f64::INFINITY, z);
        let mut high = Vec3::new(f64::NEG_INFINITY, f64::NEG_INFINITY, z);
        for i in 0..self.sides() {
            let c = self.corner(i, z);
            low = Vec3::new(low.x.min(c.x), low.y.min(c.y), z);
            high = Vec3::new(high.x.max(c.x), high.y.max(c.y), z);
        }
        (low, high)
    }

    /// Direction of u for side i: to the right, seen from outside.
    pub(super) fn along(&self, i: usize) -> Vec3 {
        Vec3::Z.cross(self.normals[i % self.sides()])
    }

    /// An upright (or leaning) member on side i, outside face on this ring's face, between heights.
    ///
    /// Show face outward, u to the right seen from outside, v up.
    pub(super) fn upright_member(&self, i: usize, thickness: f64, z: (f64, f64)) -> Member {
        let n = self.sides();
        let (left, right) = ((i + n - 1) % n, i);
        let inner = self.offset(-thickness);
        let outward = self.face(i).n;
        let u = self.along(i);
        let v = outward.cross(u);
        let corners: Vec<Vec3> = [self, &inner]
            .iter()
            .flat_map(|ring| {
                [left, right].into_iter().flat_map(|c| [ring.corner(c, z.0), ring.corner(c, z.1)])
            })
            .collect();
        let span = |d: Vec3| {
            corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| {
                let k = d.dot(*p);
                (lo.min(k), hi.max(k))
            })
        };
        let (u0, u1) = span(u);
        let (v0, v1) = span(v);
        let w0 = outward.dot(inner.corner(i, z.0));
        let pose = Pose { origin: u * u0 + v * v0 + outward * w0, u, v, w: outward };
        let size = [u1 - u0, v1 - v0, thickness].map(Length::mm);
        let mut cuts = Vec::new();
        if self.lean.abs() > 1e-12 {
            cuts.push(edge_cut(&pose.plane_back(&Plane { n: -Vec3::Z, d: -z.0 }), Edge::Lower, size));
            cuts.push(edge_cut(&pose.plane_back(&Plane { n: Vec3::Z, d: z.1 }), Edge::Upper, size));
        }
        cuts.push(end_cut(&pose.plane_back(&self.miter(left).flipped()), End::Start, size));
        cuts.push(end_cut(&pose.plane_back(&self.miter(right)), End::Finish, size));
        Member { size, pose, cuts }
    }

    /// A flat member on side i of a frame: width toward the middle, show face up.
    ///
    /// u to the right seen from outside, v toward the middle (the lower edge is the outside edge).
    pub(super) fn flat_member(&self, i: usize, width: f64, z: (f64, f64)) -> Member {
        let n = self.sides();
        let (left, right) = ((i + n - 1) % n, i);
        let u = self.along(i);
        let inward = -self.normals[i % n];
        let (a, b) = (self.corner(left, z.0), self.corner(right, z.0));
        let pose = Pose { origin: a, u, v: inward, w: Vec3::Z };
        let size = [u.dot(b - a), width, z.1 - z.0].map(Length::mm);
        let cuts = vec![
            end_cut(&pose.plane_back(&self.miter(left).flipped()), End::Start, size),
            end_cut(&pose.plane_back(&self.miter(right)), End::Finish, size),
        ];
        Member { size, pose, cuts }
    }
}

/// The end cut that leaves what lies inside a plane; the plane is in the part frame, normal to the wood that goes.
pub(super) fn end_cut(plane: &Plane, end: End, size: [Length; 3]) -> Operation {
    let sign = if end == End::Finish { 1.0 } else { -1.0 };
    let t = size[2].to_mm();
    Operation::EndCut {
        end,
        at: Length::mm((plane.d - plane.n.z * t) / plane.n.x),
        gauge: clean(plane.n.y.atan2(sign * plane.n.x)),
        tilt: clean((-plane.n.z).clamp(-1.0, 1.0).asin()),
    }
}

/// The edge cut that leaves what lies inside a plane.
pub(super) fn edge_cut(plane: &Plane, edge: Edge, size: [Length; 3]) -> Operation {
    let t = size[2].to_mm();
    Operation::EdgeCut {
        edge,
        at: Length::mm((plane.d - plane.n.z * t) / plane.n.y),
        tilt: clean((-plane.n.z).clamp(-1.0, 1.0).asin()),
    }
}

/// An angle with the last bits of rounding taken off around zero, so that a square cut reads as square.
fn clean(radians: f64) -> Angle {
    Angle::radians(if radians.abs() < 1e-12 { 0.0 } else { radians })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hexagon(lean_degrees: f64) -> Ring {
        Ring {
            center: Vec3::ZERO,
            normals: normals(6),
            apothems: vec![75.0; 6],
            lean: lean_degrees.to_radians(),
        }
    }

    /// Tilt and gauge of the member's own end cuts against the closed form of the compound miter
    /// (blade tilt = asin(sin(180°/n)·cos α), crosscut from square = atan(tan(180°/n)·sin α)), and
    /// against the chart printed in the manuals of bench table saws: N = 6, 75° from horizontal is
    /// 15° from vertical: M = 8.50° (rounded here from the formula), B = 28.88°; PG-12 across corners.
    #[test]
    fn compound_miters_follow_from_planes() {
        for lean in [0.0, 10.0, 15.0, -12.0, 60.0] {
            let ring = hexagon(lean);
            let member = ring.upright_member(2, 10.0, (0.0, 60.0));
            let ends: Vec<(f64, f64)> = member
                .cuts
                .iter()
                .filter_map(|c| match c {
                    Operation::EndCut { gauge, tilt, .. } => Some((gauge.to_radians(), tilt.to_radians())),
                    _ => None,
                })
                .collect();
            let (half, a) = (30f64.to_radians(), lean.to_radians());
            for (gauge, tilt) in ends {
                assert!((tilt - (half.sin() * a.cos()).asin()).abs() < 1e-12, "{lean}");
                assert!((gauge.abs() - (half.tan() * a.sin()).atan().abs()).abs() < 1e-12, "{lean}");
            }
        }
        let across = (hexagon(0.0).corner(0, 0.0) - hexagon(0.0).corner(3, 0.0)).norm();
        assert!((across - 173.2051).abs() < 1e-4, "PG-12");
    }

    #[test]
    fn a_rectangle_keeps_its_outside_size() {
        let ring = Ring {
            center: Vec3::new(130.0, 90.0, 0.0),
            normals: normals(4),
            apothems: vec![90.0, 130.0, 90.0, 130.0],
            lean: 0.0,
        };
        let front = ring.upright_member(0, 12.0, (0.0, 80.0));
        assert!(front.size[0].same(Length::mm(260.0)) && front.size[1].same(Length::mm(80.0)));
        assert!((front.pose.point(Vec3::new(0.0, 0.0, 12.0)) - Vec3::ZERO).norm() < 1e-9);
        let right = ring.upright_member(1, 12.0, (0.0, 80.0));
        assert!(right.size[0].same(Length::mm(180.0)));
        let flat = ring.flat_member(0, 30.0, (80.0, 98.0));
        assert!(flat.size[0].same(Length::mm(260.0)) && flat.pose.w == Vec3::Z);
    }
}
