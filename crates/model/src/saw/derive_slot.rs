//! Slots in a miter face, for loose tongues: the part flat with the blade tilted into the miter, or
//! standing on its end where the blade does not tilt that far.

use super::derive::{Asked, key};
use super::lay::{EPS, Lay};
use super::passes;
use super::setup::{Guide, Holding, Lean, Offcut, Pass, Purpose, Setup, Stage, Surface};
use crate::parts::{End, Face, Machine, Operation, Span};
use crate::reason::{Basis, Given, Reason, Value};
use crate::space::{Plane, Vec3};
use crate::units::{Angle, Length};

/// The set-up for an end slot; `None` when no blade makes it.
pub(super) fn setup(asked: &Asked<'_>, operation: &Operation, machine: Machine) -> Option<Setup> {
    let Operation::EndSlot { end, at, tilt, from_heel, width, depth, span } = *operation else {
        return None;
    };
    let saw = &asked.settings.table_saw;
    if machine != Machine::TableSaw {
        return None;
    }
    let thickness = asked.part.size[2].to_mm();
    let sign = if end == End::Finish { 1.0 } else { -1.0 };
    let heel = Vec3::new(at.to_mm() - sign * thickness * tilt.tan(), 0.0, 0.0);
    let up_face = Vec3::new(sign * tilt.sin(), 0.0, tilt.cos());
    let outward = Vec3::new(sign * tilt.cos(), 0.0, -tilt.sin());
    let middle = heel + up_face * from_heel.to_mm();
    let flat = Angle::SQUARE - tilt.abs();
    let is_flat = flat <= saw.max_tilt + Angle::radians(EPS);
    let short_face = if tilt >= Angle::ZERO { Face::Back } else { Face::Show };
    let (down, toward) = if is_flat {
        (Surface::Face(short_face), Surface::End(end))
    } else {
        (Surface::End(end), Surface::Face(short_face))
    };
    let side = saw.tilts.other();
    let lay = Lay::new(down, toward, side, asked.part.size);
    let normal = if up_face.dot(lay.across) > 0.0 { up_face } else { -up_face };
    let (blade_tilt, _) = lay.angles(normal);
    let near = normal.dot(middle) - width.to_mm() / 2.0;
    let offsets = passes::trench(Length::ZERO, width, saw.kerf, asked.settings.overlap.min(saw.kerf * 0.5))?;
    let done = asked.done();
    let list: Vec<Pass> = offsets
        .iter()
        .map(|o| {
            let d = near + o.to_mm();
            let bottom = middle - outward * depth.to_mm() - normal * normal.dot(middle);
            let top = [d, d + saw.kerf.to_mm()].map(|c| lay.above_table(bottom + normal * c));
            Pass {
                distance: Length::mm(lay.distance(&Plane { n: normal, d }, &done, 0.0, is_flat)),
                height: Length::mm(top[0].max(top[1])),
            }
        })
        .collect();
    let mut member = asked.member(Surface::End(end).words(), Some(lay.placement), 0.0);
    if let Span::Stopped(a, b) = span {
        member.stopped = Some((a, b));
    }
    Some(Setup {
        machine,
        purpose: Purpose::EndSlot,
        stage: Stage::Parts,
        cutter: asked.cutter(machine),
        tilt: Angle::radians(blade_tilt),
        lean: if blade_tilt > EPS { Lean::Away } else { Lean::Upright },
        gauge: Angle::ZERO,
        guide: if is_flat { Guide::Stop } else { Guide::Fence },
        side,
        reasons: reasons(&list, blade_tilt, from_heel, depth),
        passes: list,
        more_stops: Vec::new(),
        members: vec![member],
        test_piece: true,
        holding: if is_flat {
            vec![Holding::GaugeWithFence, Holding::HoldDowns]
        } else {
            vec![Holding::UprightCarriage, Holding::TallFence]
        },
        offcut: Offcut::None,
        flip: None,
        cautions: Vec::new(),
    })
}

fn reasons(list: &[Pass], tilt: f64, from_heel: Length, depth: Length) -> Vec<Reason> {
    let basis = Basis::Derived("the slot's plane, square to the miter face, turned into the saw's frame");
    let given = vec![
        Given::new("heel to the slot's middle", Value::Length(from_heel)),
        Given::new("depth square to the miter", Value::Length(depth)),
        Given::new("blade tilt", Value::Angle(Angle::radians(tilt))),
    ];
    let first = list.first().copied().unwrap_or(Pass { distance: Length::ZERO, height: Length::ZERO });
    vec![
        Reason {
            key: key(Purpose::EndSlot, "distance"),
            title: "tip to the near side of the blade, at the table".into(),
            formula: "the slot's side that faces the stop, met with the table".into(),
            given: given.clone(),
            result: Value::Length(first.distance),
            basis: basis.clone(),
        },
        Reason {
            key: key(Purpose::EndSlot, "height"),
            title: "blade height, plumb".into(),
            formula: "the higher corner of the slot's bottom above the table".into(),
            given,
            result: Value::Length(first.height),
            basis,
        },
    ]
}
