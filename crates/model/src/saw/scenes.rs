//! Scenes for the tests of this room: boxes put together by hand.

use crate::design::CornerName;
use crate::parts::{
    Allowance, AllowanceKind, Arris, Assembly, AssemblyCut, AssemblyOperation, Blank, BoxParts, Cut, Edge,
    End, Face, Machine, NotchPurpose, Operation, Origin, Part, PartId, Role, Run, Span,
};
use crate::space::{Pose, Vec3};
use crate::units::{Angle, Length};

pub(super) fn mm(x: f64) -> Length {
    Length::mm(x)
}

/// A part of that size with cuts at the table saw, 6 mm of trim on its length and 2 mm on its width.
pub(super) fn part(name: &str, role: Role, size: [f64; 3], cuts: Vec<Operation>) -> Part {
    let size = size.map(mm);
    Part {
        name: name.into(),
        role,
        wood: "cherry_black".into(),
        rings: Angle::ZERO,
        size,
        blank: Blank {
            finished: size,
            allowances: vec![
                Allowance {
                    kind: AllowanceKind::Trim,
                    length: mm(6.0),
                    width: mm(2.0),
                    thickness: Length::ZERO,
                },
                Allowance {
                    kind: AllowanceKind::Milling,
                    length: Length::ZERO,
                    width: Length::ZERO,
                    thickness: mm(3.0),
                },
            ],
        },
        origin: Origin::Board,
        cuts: cuts
            .into_iter()
            .map(|operation| {
                let router = matches!(operation, Operation::Chamfer { .. } | Operation::RoundOver { .. });
                Cut { operation, machine: if router { Machine::RouterTable } else { Machine::TableSaw } }
            })
            .collect(),
        pose: Pose::IDENTITY,
        layer_of: None,
        run: None,
        explode: Vec3::ZERO,
    }
}

/// An end cut; angles in degrees.
pub(super) fn end(end: End, at: f64, gauge: f64, tilt: f64) -> Operation {
    Operation::EndCut { end, at: mm(at), gauge: Angle::degrees(gauge), tilt: Angle::degrees(tilt) }
}

/// Rabbet for the bottom: in the back face along the lower edge.
pub(super) fn rabbet(width: f64, depth: f64) -> Operation {
    Operation::Rabbet {
        arris: Arris::Long(Face::Back, Edge::Lower),
        width: mm(width),
        depth: mm(depth),
        span: Span::Through,
        lean: Angle::ZERO,
    }
}

/// A wall with its rabbet, then both miters.
pub(super) fn wall(name: &str, length: f64) -> Part {
    let cuts = vec![rabbet(6.0, 5.0), end(End::Start, 0.0, 0.0, 45.0), end(End::Finish, length, 0.0, 45.0)];
    part(name, Role::Wall, [length, 90.0, 12.0], cuts)
}

/// A box of 260 × 180 with a bottom rabbet, three keys a corner, the lid sawn off, and a flat frame of four.
pub(super) fn keyed_box() -> BoxParts {
    let mut parts =
        vec![wall("front", 260.0), wall("right", 180.0), wall("back", 260.0), wall("left", 180.0)];
    for (name, l) in
        [("frame front", 260.0), ("frame right", 180.0), ("frame back", 260.0), ("frame left", 180.0)]
    {
        let cuts = vec![
            Operation::Groove {
                face: Face::Back,
                along_grain: true,
                offset: mm(30.0),
                width: mm(4.0),
                depth: mm(4.0),
                span: Span::Through,
                lean: Angle::ZERO,
            },
            end(End::Start, 0.0, 45.0, 0.0),
            end(End::Finish, l, 45.0, 0.0),
        ];
        parts.push(part(name, Role::FrameMember, [l, 40.0, 12.0], cuts));
    }
    for (name, l) in [("divider long", 230.0), ("divider short", 150.0)] {
        let cuts = vec![Operation::Notch {
            from: [mm(l / 2.0 - 3.0), Length::ZERO, Length::ZERO],
            to: [mm(l / 2.0 + 3.0), mm(20.0), mm(6.0)],
            purpose: NotchPurpose::HalfLap,
        }];
        parts.push(part(name, Role::Divider, [l, 40.0, 6.0], cuts));
    }
    let mut cuts = Vec::new();
    for corner in 0..4 {
        for (number, height) in [(1, 15.0), (2, 45.0), (3, 75.0)] {
            cuts.push(assembly_cut(AssemblyOperation::KeySlot {
                corner: CornerName(corner),
                in_lid: false,
                number,
                height: mm(height),
                thickness: mm(3.2),
                depth: mm(12.0),
            }));
        }
    }
    cuts.push(AssemblyCut {
        machine: Machine::HandTools,
        ..assembly_cut(AssemblyOperation::FlushTrim { count: 12 })
    });
    cuts.push(assembly_cut(AssemblyOperation::SawOff { height: mm(62.0), kerf: mm(3.2), clean_up: mm(0.4) }));
    BoxParts {
        parts,
        assemblies: vec![Assembly { name: "box".into(), parts: (0..4).map(PartId).collect(), cuts }],
        joints: Vec::new(),
        floats: Vec::new(),
        runs: Vec::new(),
        hardware: Vec::new(),
        outside: [mm(260.0), mm(180.0), mm(90.0)],
        inside: [mm(236.0), mm(156.0), mm(84.0)],
    }
}

fn assembly_cut(operation: AssemblyOperation) -> AssemblyCut {
    AssemblyCut {
        operation,
        machine: Machine::TableSaw,
        removes: Vec::new(),
        parts: (0..4).map(PartId).collect(),
    }
}

/// The same box with its walls mitered straight from one strip.
pub(super) fn strip_box() -> BoxParts {
    let mut parts = keyed_box();
    for p in parts.parts.iter_mut().take(4) {
        p.run = Some(0);
        p.blank.allowances.retain(|a| a.kind != AllowanceKind::Trim);
    }
    parts.runs = vec![Run {
        name: "walls".into(),
        parts: (0..4).map(PartId).collect(),
        corners: Vec::new(),
        strip_length: mm(900.0),
        strip_width: mm(90.0),
        end_trim: mm(10.0),
        slices: 1,
        mirrors: None,
    }];
    parts
}
