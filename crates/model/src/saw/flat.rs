//! How deep a flat pared by hand goes into the wood that stands before it.

use crate::space::{Plane, Vec3};
use crate::units::Length;

/// A corner may lie this far outside a face and still count, millimeters.
const TOUCHES: f64 = 1e-6;
/// Three faces whose normals span less than this meet in no corner.
const PARALLEL: f64 = 1e-9;

/// Depth of a flat, square to it, from the corner of the part that stands farthest out; `None` where the flat
/// takes nothing. `done` are the end and edge cuts already made, `size` is the part's block.
pub(super) fn depth(size: [Length; 3], done: &[Plane], flat: &Plane) -> Option<Length> {
    let [length, width, thickness] = size.map(Length::to_mm);
    let face = |n: Vec3, d: f64| Plane { n, d };
    let mut faces = vec![
        face(-Vec3::X, 0.0),
        face(Vec3::X, length),
        face(-Vec3::Y, 0.0),
        face(Vec3::Y, width),
        face(-Vec3::Z, 0.0),
        face(Vec3::Z, thickness),
    ];
    faces.extend_from_slice(done);
    let mut farthest: Option<f64> = None;
    for (i, a) in faces.iter().enumerate() {
        for (j, b) in faces.iter().enumerate().skip(i + 1) {
            for c in faces.iter().skip(j + 1) {
                let Some(corner) = meet(a, b, c) else { continue };
                if faces.iter().all(|f| f.distance(corner) <= TOUCHES) {
                    let out = flat.distance(corner);
                    farthest = Some(farthest.map_or(out, |most| most.max(out)));
                }
            }
        }
    }
    farthest.filter(|out| *out > TOUCHES).map(Length::mm)
}

/// The point where three planes meet.
fn meet(a: &Plane, b: &Plane, c: &Plane) -> Option<Vec3> {
    let across = b.n.cross(c.n);
    let spanned = a.n.dot(across);
    let sum = across * a.d + c.n.cross(a.n) * b.d + a.n.cross(b.n) * c.d;
    (spanned.abs() > PARALLEL).then(|| sum * (1.0 / spanned))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A block of 100 × 40 × 10 mm, its end mitered at 45°: a flat of 2 mm on either face of the tip lies √2 mm deep.
    /// Once pared, the same flat takes nothing more, and one a millimeter behind it takes a millimeter.
    #[test]
    fn a_flat_at_the_tip_of_a_miter() {
        let size = [100.0, 40.0, 10.0].map(Length::mm);
        let tip = Vec3::new(100.0, 0.0, 10.0);
        let miter = Plane::through(tip, Vec3::new(1.0, 0.0, -1.0));
        let flat = Plane::through(tip - Vec3::X * 2.0, Vec3::new(1.0, 0.0, 1.0));
        let got = depth(size, &[miter], &flat).unwrap().to_mm();
        assert!((got - 2.0_f64.sqrt()).abs() < 1e-9, "{got}");
        assert_eq!(depth(size, &[miter, flat], &flat), None);
        let behind = flat.moved(-1.0);
        let more = depth(size, &[miter, flat], &behind).unwrap().to_mm();
        assert!((more - 1.0).abs() < 1e-9, "{more}");
    }
}
