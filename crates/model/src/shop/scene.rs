//! Small boxes built by hand for this room's tests.

use crate::parts::{Assembly, Blank, BoxParts, Joint, JointKind, Origin, Part, PartId, Role, Seam};
use crate::space::{Pose, Vec3};
use crate::units::{Angle, Area, Length};

/// A part with its grain along a direction in plan.
pub(super) fn part(name: &str, role: Role, size: [f64; 3], u: Vec3) -> Part {
    let size = size.map(Length::mm);
    Part {
        name: name.into(),
        role,
        wood: "cherry_black".into(),
        rings: Angle::ZERO,
        size,
        blank: Blank { finished: size, allowances: Vec::new() },
        origin: Origin::Board,
        cuts: Vec::new(),
        pose: Pose::new(Vec3::ZERO, u, Vec3::Z),
        layer_of: None,
        run: None,
        explode: Vec3::ZERO,
    }
}

/// A joint between two parts by their numbers.
pub(super) fn joint(a: usize, b: usize, kind: JointKind, seam: Seam, area: f64) -> Joint {
    Joint { a: PartId(a), b: PartId(b), kind, seam, area: Area::mm2(area), cross_grain: Length::ZERO }
}

/// A regular or rectangular ring of mitered walls: lengths, height and thickness; no bottom.
pub(super) fn ring(lengths: &[f64], height: f64, thickness: f64) -> BoxParts {
    let n = lengths.len();
    let half = core::f64::consts::PI / n as f64;
    let walls = lengths.iter().enumerate().map(|(i, l)| {
        let turn = 2.0 * half * i as f64;
        part(
            &format!("wall {}", i + 1),
            Role::Wall,
            [*l, height, thickness],
            Vec3::new(turn.cos(), turn.sin(), 0.0),
        )
    });
    let area = thickness / half.cos() * height;
    let corners = (0..n).map(|i| joint(i, (i + 1) % n, JointKind::Glued, Seam::Miter, area));
    BoxParts {
        floats: Vec::new(),
        parts: walls.collect(),
        assemblies: vec![Assembly {
            name: "box".into(),
            parts: (0..n).map(PartId).collect(),
            cuts: Vec::new(),
        }],
        joints: corners.collect(),
        runs: Vec::new(),
        hardware: Vec::new(),
        outside: [lengths[0], lengths[1], height].map(Length::mm),
        inside: [lengths[0] - 2.0 * thickness, lengths[1] - 2.0 * thickness, height].map(Length::mm),
    }
}

/// 200 × 120 × 75 mm, walls 12 mm, a bottom floating in a groove and `keys` keys of 8 mm depth in every corner.
pub(super) fn keyed_box(keys: usize) -> BoxParts {
    let mut b = ring(&[200.0, 120.0, 200.0, 120.0], 75.0, 12.0);
    b.parts.push(part("bottom", Role::Bottom, [188.0, 108.0, 6.0], Vec3::X));
    for wall in 0..4 {
        b.joints.push(joint(4, wall, JointKind::Floating, Seam::Groove, 0.0));
    }
    for corner in 0..4 {
        for key in 0..keys {
            let id = b.parts.len();
            let mut part = part(&format!("key {corner} {key}"), Role::Key, [16.0, 8.0, 3.0], Vec3::X);
            part.origin = Origin::KeyStrip;
            part.wood = "maple_sugar".into();
            b.parts.push(part);
            for wall in [corner, (corner + 1) % 4] {
                b.joints.push(joint(id, wall, JointKind::Glued, Seam::Key, 64.0));
            }
        }
    }
    let all = (0..b.parts.len()).map(PartId).collect();
    b.assemblies[0].parts = all;
    b
}
