//! What each operation takes away from the block, as convex regions in the part frame.

use super::cut::{Arris, Edge, End, Face, Operation, Span};
use crate::space::{Convex, Plane, Vec3};
use crate::units::{Angle, Length};

/// The regions taken away; see [`Operation::regions`].
pub(super) fn regions(operation: &Operation, size: [Length; 3]) -> Vec<Convex> {
    match *operation {
        Operation::EndCut { .. } | Operation::EdgeCut { .. } => {
            operation.plane(size).map(Convex::beyond).into_iter().collect()
        }
        Operation::Bevel { plane } => vec![Convex::beyond(plane)],
        Operation::Rabbet {
            arris,
            width,
            depth,
            span,
            lean,
        } => vec![rabbet(arris, width, depth, span, lean, size)],
        Operation::Groove {
            face,
            along_grain,
            offset,
            width,
            depth,
            span,
            lean,
        } => {
            vec![groove(
                face,
                along_grain,
                [offset, width, depth],
                span,
                lean,
                size,
            )]
        }
        Operation::EndSlot {
            end,
            at,
            tilt,
            from_heel,
            width,
            depth,
            span,
        } => {
            vec![end_slot((end, at, tilt), [from_heel, width, depth], span, size)]
        }
        Operation::Notch { from, to, .. } => vec![Convex::block(
            Vec3::new(from[0].to_mm(), from[1].to_mm(), from[2].to_mm()),
            Vec3::new(to[0].to_mm(), to[1].to_mm(), to[2].to_mm()),
        )],
        Operation::Chamfer { arris, width } => {
            let (point, a, b) = corner_of(arris, size);
            let through = point - a * width.to_mm();
            vec![Convex::beyond(Plane::through(through, a + b))]
        }
        Operation::RoundOver { arris, radius } => {
            let (point, a, b) = corner_of(arris, size);
            let r = radius.to_mm();
            let center = point - a * r - b * r;
            let n = Operation::ROUND_FACETS;
            (0..n)
                .map(|i| {
                    let turn = core::f64::consts::FRAC_PI_2 * (f64::from(i) + 0.5) / f64::from(n);
                    let normal = a * turn.cos() + b * turn.sin();
                    Convex::beyond(Plane {
                        n: normal,
                        d: normal.dot(center) + r,
                    })
                })
                .collect()
        }
    }
}

/// A point on the arris and the outward normals of the two faces that meet there.
fn corner_of(arris: Arris, size: [Length; 3]) -> (Vec3, Vec3, Vec3) {
    let [l, w, t] = size.map(Length::to_mm);
    let face = |f| {
        if f == Face::Show {
            (t, Vec3::Z)
        } else {
            (0.0, -Vec3::Z)
        }
    };
    let edge = |e| {
        if e == Edge::Upper {
            (w, Vec3::Y)
        } else {
            (0.0, -Vec3::Y)
        }
    };
    let end = |e| {
        if e == End::Finish {
            (l, Vec3::X)
        } else {
            (0.0, -Vec3::X)
        }
    };
    match arris {
        Arris::Long(f, e) => {
            let ((z, a), (y, b)) = (face(f), edge(e));
            (Vec3::new(0.0, y, z), a, b)
        }
        Arris::Cross(f, e) => {
            let ((z, a), (x, b)) = (face(f), end(e));
            (Vec3::new(x, 0.0, z), a, b)
        }
        Arris::Short(g, e) => {
            let ((y, a), (x, b)) = (edge(g), end(e));
            (Vec3::new(x, y, 0.0), a, b)
        }
    }
}

/// Half-spaces that bound a region along a direction.
fn along(span: Span, direction: Vec3) -> Vec<Plane> {
    match span {
        Span::Through => Vec::new(),
        Span::Stopped(from, to) => {
            vec![
                Plane {
                    n: -direction,
                    d: -from.to_mm(),
                },
                Plane {
                    n: direction,
                    d: to.to_mm(),
                },
            ]
        }
    }
}

/// The first normal of an arris is the face into which the depth goes; the width runs against the second.
fn rabbet(arris: Arris, width: Length, depth: Length, span: Span, lean: Angle, size: [Length; 3]) -> Convex {
    let (point, into, across) = corner_of(arris, size);
    let run = into.cross(across);
    let direction = Vec3::new(run.x.abs(), run.y.abs(), run.z.abs());
    // Floor: deeper than `depth` stays. Shoulder: further from the arris than `width` stays, leaning.
    let floor = Plane::through(point - into * depth.to_mm(), -into);
    let shoulder = Plane::through(
        point - across * width.to_mm(),
        -(across * lean.cos()) - into * -lean.sin(),
    );
    let mut planes = vec![floor, shoulder];
    planes.extend(along(span, direction));
    Convex::new(planes)
}

fn groove(
    face: Face,
    along_grain: bool,
    [offset, width, depth]: [Length; 3],
    span: Span,
    lean: Angle,
    size: [Length; 3],
) -> Convex {
    let (z, into) = if face == Face::Show {
        (size[2].to_mm(), Vec3::Z)
    } else {
        (0.0, -Vec3::Z)
    };
    let (across, direction) = if along_grain {
        (Vec3::Y, Vec3::X)
    } else {
        (Vec3::X, Vec3::Y)
    };
    let surface = into * (z * into.z);
    let floor = Plane::through(surface - into * depth.to_mm(), -into);
    // Going down into the wood the sides move by tan(lean) toward larger v (or u).
    let side = across * lean.cos() + into * lean.sin();
    let near = Plane::through(surface + across * offset.to_mm(), -side);
    let far = Plane::through(surface + across * (offset + width).to_mm(), side);
    let mut planes = vec![floor, near, far];
    planes.extend(along(span, direction));
    Convex::new(planes)
}

fn end_slot(
    (end, at, tilt): (End, Length, Angle),
    [from_heel, width, depth]: [Length; 3],
    span: Span,
    size: [Length; 3],
) -> Convex {
    let t = size[2].to_mm();
    let sign = if end == End::Finish { 1.0 } else { -1.0 };
    let heel = Vec3::new(at.to_mm() - sign * t * tilt.tan(), 0.0, 0.0);
    let up_face = Vec3::new(sign * tilt.sin(), 0.0, tilt.cos());
    let outward = Vec3::new(sign * tilt.cos(), 0.0, -tilt.sin());
    let middle = heel + up_face * from_heel.to_mm();
    let half = width.to_mm() / 2.0;
    let mut planes = vec![
        Plane::through(middle - outward * depth.to_mm(), -outward),
        Plane::through(middle + up_face * half, up_face),
        Plane::through(middle - up_face * half, -up_face),
    ];
    planes.extend(along(span, Vec3::Y));
    Convex::new(planes)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: [Length; 3] = [Length::mm(200.0), Length::mm(90.0), Length::mm(12.0)];

    fn removed(op: &Operation, p: [f64; 3]) -> bool {
        let p = Vec3::new(p[0], p[1], p[2]);
        regions(op, SIZE).iter().any(|r| r.contains(p, 0.0))
    }

    /// Points worked out by hand on a 200 × 90 × 12 block.
    #[test]
    fn regions_hold_what_goes_and_spare_what_stays() {
        let miter = Operation::EndCut {
            end: End::Finish,
            at: Length::mm(200.0),
            gauge: Angle::ZERO,
            tilt: Angle::degrees(45.0),
        };
        assert!(removed(&miter, [190.1, 10.0, 2.0]) && !removed(&miter, [189.9, 10.0, 2.0]));
        let frame = Operation::EndCut {
            end: End::Start,
            at: Length::ZERO,
            gauge: Angle::degrees(45.0),
            tilt: Angle::ZERO,
        };
        assert!(removed(&frame, [19.9, 20.0, 5.0]) && !removed(&frame, [20.1, 20.0, 5.0]));
        let rabbet = Operation::Rabbet {
            arris: Arris::Long(Face::Back, Edge::Lower),
            width: Length::mm(6.0),
            depth: Length::mm(5.0),
            span: Span::Through,
            lean: Angle::ZERO,
        };
        assert!(removed(&rabbet, [100.0, 5.9, 4.9]));
        assert!(!removed(&rabbet, [100.0, 6.1, 4.9]) && !removed(&rabbet, [100.0, 5.9, 5.1]));
        let groove = Operation::Groove {
            face: Face::Back,
            along_grain: true,
            offset: Length::mm(8.0),
            width: Length::mm(4.0),
            depth: Length::mm(5.0),
            span: Span::Stopped(Length::mm(10.0), Length::mm(190.0)),
            lean: Angle::degrees(10.0),
        };
        // Leaning up into the wood: at depth 4 the groove lies 4·tan 10° = 0.705 higher.
        assert!(removed(&groove, [100.0, 8.8, 4.0]) && !removed(&groove, [100.0, 8.6, 4.0]));
        assert!(!removed(&groove, [9.0, 9.0, 1.0]));
        // The middle of a 12 mm wall's 45° miter face is √2·6 from the heel, at u = 194, w = 6.
        let slot = Operation::EndSlot {
            end: End::Finish,
            at: Length::mm(200.0),
            tilt: Angle::degrees(45.0),
            from_heel: Length::mm(6.0 * 2f64.sqrt()),
            width: Length::mm(3.0),
            depth: Length::mm(5.0),
            span: Span::Through,
        };
        assert!(removed(&slot, [194.0, 40.0, 6.0]) && removed(&slot, [190.6, 40.0, 9.4]));
        assert!(!removed(&slot, [190.0, 40.0, 10.0]) && !removed(&slot, [196.0, 40.0, 8.5]));
        let chamfer = Operation::Chamfer {
            arris: Arris::Long(Face::Show, Edge::Upper),
            width: Length::mm(2.0),
        };
        assert!(removed(&chamfer, [50.0, 89.5, 11.0]) && !removed(&chamfer, [50.0, 88.5, 11.0]));
        // A quarter circle of radius 4: its point at 45° is 4·(1 − 1/√2) = 1.17 from both faces; the
        // four flats lie outside the circle, so a point just outside the corner of two flats goes.
        let round = Operation::RoundOver {
            arris: Arris::Long(Face::Show, Edge::Upper),
            radius: Length::mm(4.0),
        };
        assert!(removed(&round, [50.0, 89.5, 11.5]) && !removed(&round, [50.0, 88.8, 10.8]));
    }
}
