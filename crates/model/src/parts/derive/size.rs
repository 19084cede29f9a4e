//! From the stated size to the ring of the walls: contents make the inside, the inside makes the outside.

use super::error::DeriveError;
use super::ring::{Ring, normals};
use crate::design::{BottomHold, LidKind, PanelHold, Registration, Size, SizeAt, Statement};
use crate::reason::{Basis, Given, Reason, Value};
use crate::space::Vec3;
use crate::units::Length;

/// The shell of the box: the ring of its walls, their height, and where the floor is.
#[derive(Clone, Debug)]
pub(super) struct Shell {
    /// Outside faces of the walls, z = 0 at their lower edge.
    pub(super) ring: Ring,
    /// Wall thickness, millimeters.
    pub(super) thickness: f64,
    /// Height of the walls as glued up, millimeters; includes kerf and clean-up of a sawn-off lid.
    pub(super) height: f64,
    /// Upper face of the bottom above the lower edge.
    pub(super) floor: f64,
}

/// Lower edge to the lower side of a bottom groove: half the wall thickness unless stated (common practice).
pub(super) fn groove_above_edge(s: &Statement, above: Option<Length>) -> f64 {
    above.unwrap_or(s.walls.thickness / 2.0).to_mm()
}

/// Depth of a rabbet or groove in the wall: half the wall thickness unless stated (common practice).
pub(super) fn wall_depth(s: &Statement, depth: Option<Length>) -> f64 {
    depth.unwrap_or(s.walls.thickness / 2.0).to_mm()
}

fn floor(s: &Statement) -> f64 {
    let b = s.bottom.thickness.to_mm();
    match s.bottom.hold {
        BottomHold::Rabbet { .. } => b,
        BottomHold::Groove { above_edge, .. } => groove_above_edge(s, above_edge) + b,
        BottomHold::Ledge { height, .. } => height.to_mm() + b,
    }
}

/// Height taken by the lid between the clear inside and the rim of the walls.
fn taken_above(s: &Statement) -> f64 {
    match (&s.lid.kind, s.lid.registration) {
        (LidKind::Sliding { thickness, thickness_play, below_rim, .. }, _) => {
            (*thickness + *thickness_play + *below_rim).to_mm()
        }
        (LidKind::Sawn { top, .. }, _) => match top.hold {
            PanelHold::Groove { .. } => top.thickness.to_mm() + s.walls.thickness.to_mm() / 2.0,
            PanelHold::Rabbeted { .. } | PanelHold::GluedBetween => top.thickness.to_mm(),
        },
        (LidKind::Frame(_) | LidKind::Slab { .. }, Registration::Rabbet { depth, .. }) => depth.to_mm(),
        _ => 0.0,
    }
}

/// What the saw takes when a lid is sawn off: kerf and the clean-up of both edges.
fn sawn_loss(s: &Statement) -> f64 {
    match &s.lid.kind {
        LidKind::Sawn { kerf, clean_up, .. } => (*kerf + *clean_up * 2.0).to_mm(),
        _ => 0.0,
    }
}

/// Inside length, depth and height that the contents ask for, before the walls, with the reasons.
pub(super) fn inside_from_contents(s: &Statement, reasons: &mut Vec<Reason>) -> Option<[f64; 3]> {
    let Size::Contents(c) = &s.size else { return None };
    let slack = c.slack.to_mm();
    let (mut length, mut depth, mut height) = (0.0_f64, 0.0_f64, 0.0_f64);
    for item in &c.items {
        length += f64::from(item.along) * (item.length.to_mm() + 2.0 * slack);
        depth = depth.max(f64::from(item.across) * (item.depth.to_mm() + 2.0 * slack));
        height = height.max(f64::from(item.up) * item.height.to_mm());
    }
    let mut given = vec![
        Given::new("things side by side, slack each side", Value::Length(Length::mm(length))),
        Given::new("slack on each side of a thing", Value::Length(c.slack)),
    ];
    height += c.above.to_mm();
    let mut around = 0.0;
    if let Some(lining) = &s.inside.lining {
        around += 2.0 * lining.thickness.to_mm();
        given.push(Given::new("lining, both sides", Value::Length(lining.thickness * 2.0)));
    }
    if let Some(cloth) = &s.inside.cloth {
        height += cloth.thickness.to_mm();
        if cloth.on_walls {
            around += 2.0 * cloth.thickness.to_mm();
            given.push(Given::new("cloth on the walls, both sides", Value::Length(cloth.thickness * 2.0)));
        }
    }
    if let Some(d) = &s.inside.dividers {
        length += f64::from(d.cells_along.saturating_sub(1)) * d.thickness.to_mm();
        depth += f64::from(d.cells_across.saturating_sub(1)) * d.thickness.to_mm();
        given.push(Given::new("each divider", Value::Length(d.thickness)));
    }
    if let Some(tray) = &s.inside.tray {
        // The tray lies above the contents; a millimeter under the lid keeps it from rattling against it.
        height += tray.height.to_mm() + 1.0;
    }
    reasons.push(Reason {
        key: "inside.length".into(),
        title: "inside length, clear of the walls".into(),
        formula: "things side by side with their slack + linings + dividers".into(),
        given,
        result: Value::Length(Length::mm(length + around)),
        basis: Basis::Derived("sum of what must fit, from the inside out"),
    });
    Some([length + around, depth + around, height])
}

/// The shell, or why there is none.
pub(super) fn shell(s: &Statement, reasons: &mut Vec<Reason>) -> Result<Shell, DeriveError> {
    let t = s.walls.thickness.to_mm();
    let lean = s.shape.splay.to_radians();
    let floor = floor(s);
    let (plan, height, from_inside) = match &s.size {
        Size::Outside { length, depth, height } => {
            ([length.to_mm(), depth.to_mm()], height.to_mm() + sawn_loss(s), false)
        }
        Size::Inside { length, depth, height } => {
            ([length.to_mm(), depth.to_mm()], height.to_mm() + floor + taken_above(s) + sawn_loss(s), true)
        }
        Size::Contents(_) => {
            let [l, d, h] = inside_from_contents(s, reasons).unwrap_or_default();
            ([l, d], h + floor + taken_above(s) + sawn_loss(s), true)
        }
    };
    let walls = if from_inside { t / lean.cos() } else { 0.0 };
    let level = match s.shape.size_at {
        SizeAt::Rim => height,
        SizeAt::Foot if from_inside => floor,
        SizeAt::Foot => 0.0,
    };
    let down = level * lean.tan();
    let sides = s.shape.sides;
    let plan = if sides == 4 { plan } else { [plan[0].max(plan[1]); 2] };
    let half = [plan[0] / 2.0 + walls - down, plan[1] / 2.0 + walls - down];
    let normals = normals(sides);
    let apothems: Vec<f64> =
        (0..normals.len()).map(|i| if sides == 4 && i % 2 == 0 { half[1] } else { half[0] }).collect();
    let mut ring = Ring { center: Vec3::ZERO, normals, apothems, lean };
    check_room(&ring, s, height)?;
    // The origin is the outside lower front-left corner of the box's bounding block.
    let (low0, low1) = (ring.bounds(0.0).0, ring.bounds(height).0);
    ring.center = Vec3::new(-low0.x.min(low1.x), -low0.y.min(low1.y), 0.0);
    if from_inside {
        reasons.push(Reason {
            key: "outside.length".into(),
            title: "outside length".into(),
            formula: "inside length + 2 × wall thickness ÷ cos(lean from vertical)".into(),
            given: vec![
                Given::new("inside length", Value::Length(Length::mm(plan[0]))),
                Given::new("wall thickness", Value::Length(s.walls.thickness)),
                Given::new("lean from vertical", Value::Angle(s.shape.splay)),
            ],
            result: Value::Length(Length::mm(plan[0] + 2.0 * walls)),
            basis: Basis::Derived("plane geometry of the walls"),
        });
    }
    Ok(Shell { ring, thickness: t, height, floor })
}

fn check_room(ring: &Ring, s: &Statement, height: f64) -> Result<(), DeriveError> {
    let t = s.walls.thickness.to_mm();
    let narrow = |z: f64| ring.apothems.iter().fold(f64::INFINITY, |m, a| m.min(a + z * ring.lean.tan()));
    let least = narrow(0.0).min(narrow(height));
    if least <= 0.0 {
        return Err(DeriveError::LeanTooGreat {
            degrees: s.shape.splay.to_degrees(),
            height: Length::mm(height),
        });
    }
    if least - t / ring.lean.cos() < 1.0 {
        return Err(DeriveError::WallTooThick {
            thickness: s.walls.thickness,
            across: Length::mm(2.0 * least),
            most: Length::mm((least - 1.0) * ring.lean.cos()),
        });
    }
    let needs = floor(s) + taken_above(s) + sawn_loss(s);
    if needs + 1.0 > height {
        return Err(DeriveError::NoHeight {
            what: "the bottom and the lid",
            key: "bottom.thickness",
            needs: Length::mm(needs + 1.0),
            has: Length::mm(height),
        });
    }
    Ok(())
}
