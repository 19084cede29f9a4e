//! What is kept from moving: parts glued across their grain, and panels that bow.

use super::{Bow, Living, coefficient_of, name_of};
use crate::caution::{Caution, Change, Weight};
use crate::design::{Build, Finish, LidKind, Statement};
use crate::parts::{BoxParts, JointKind, Origin, Part, Role};
use crate::reason::{Basis, Given, Reason, Value};
use crate::seasons::{Bend, GluedAcross, Layer, Load, across, glued_across, layered, one_face_wetter};
use crate::units::{Angle, Length, MoistureContent, Stress};
use crate::wood;

/// A bow over a lid's width that shows as a lid that rocks or gapes (common practice: under 1 mm passes).
const BOW_SEEN: Length = Length::mm(1.0);

pub(super) fn glued(
    parts: &BoxParts,
    today: MoistureContent,
    ends: [MoistureContent; 2],
    living: &mut Living,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) {
    let mut done: Vec<usize> = Vec::new();
    for joint in parts.joints.iter().filter(|j| j.kind == JointKind::Glued && j.cross_grain > Length::ZERO) {
        let Some(part) = parts.parts.get(joint.a.0) else { continue };
        let lead = part.layer_of.map_or(joint.a.0, |p| p.0);
        let Some(species) = wood::species(&part.wood).filter(|_| !done.contains(&lead)) else { continue };
        done.push(lead);
        let results: Vec<GluedAcross> = ends
            .iter()
            .filter_map(|&to| glued_across(species, part.rings, today, to).ok())
            .filter(|g| g.free.value().abs() > 1e-6)
            .collect();
        let Some(bad) = results.into_iter().max_by(|a, b| a.share().total_cmp(&b.share())) else { continue };
        let (place, key) = match part.role {
            Role::FramePanel => ("lid panel", "lid.panel.hold"),
            Role::Top => ("top", "lid.top.hold"),
            Role::Strip if part.name.starts_with("lid") => ("lid panel", "lid.panel.hold"),
            Role::Strip if part.name.starts_with("top") => ("top", "lid.top.hold"),
            _ => ("bottom", "bottom.hold"),
        };
        reasons.push(bad.reason(&format!("{}.stress", place.replace(' ', "_"))));
        let what = if bad.load == Load::Tension { "pulled" } else { "pressed" };
        let share = bad.share() * 100.0;
        if bad.share() > 0.4 {
            cautions.push(Caution {
                code: "glued-across-grain",
                weight: if bad.likely_to_fail() { Weight::LikelyToFail } else { Weight::WorthKnowing },
                place: place.into(),
                says: format!(
                    "The solid {place} is glued across its grain over {:.0} mm; kept from moving it is {what} at {:.1} MPa, {share:.0} % of what {} bears across the grain on average.",
                    joint.cross_grain.to_mm(),
                    bad.stress.value(),
                    name_of(&part.wood)
                ),
                numbers: vec![
                    Given::new("stress if nothing yields", Value::Stress(bad.stress)),
                    Given::new("mean strength", Value::Stress(bad.strength)),
                    Given::new("nineteen pieces in twenty bear", Value::Stress(bad.strength_low)),
                ],
                basis: Basis::Published("Wood Handbook FPL-GTR-190, Tables 5-1, 5-3, 13-5; elastic, an upper bound: wood creeps"),
                change: Some(Change::set(format!("Float the {place} in a groove"), key, "\"groove\"")),
            });
        }
        living.glued.push((place.to_string(), bad));
    }
}

/// Whether inside and outside carry finishes that let moisture through differently.
fn faces_differ(f: &Finish) -> bool {
    f.outside != f.inside
}

pub(super) fn bows(
    s: &Statement,
    parts: &BoxParts,
    living: &mut Living,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) {
    for part in parts.parts.iter().filter(|p| matches!(p.role, Role::LidPanel | Role::FramePanel | Role::Top))
    {
        let span = part.size[1];
        let veneered = panel_build(s, part.role).is_some_and(|b| matches!(b, Build::Veneered { .. }));
        if veneered {
            if let Some(bend) = veneered_bend(parts, part) {
                reasons.push(bend.reason(&format!("{}.bow", part.name.replace(' ', "_")), span));
                living.bows.push(Bow {
                    name: part.name.clone(),
                    cause: "veneers on a core, alike on both faces",
                    span,
                    bow: bend.bow(span),
                });
            }
        } else if part.origin == Origin::Board && faces_differ(&s.finish) {
            let Some(c) = coefficient_of(&part.wood, part.rings) else { continue };
            // For every point of moisture between the faces: how long it lasts is the diffusion of a later room.
            let one_point =
                across(Length::mm(1.0), c, living.today, living.today + MoistureContent::percent(1.0));
            let bend = one_face_wetter(part.size[2], one_point.strain());
            let bow = bend.bow(span);
            reasons.push(bend.reason(&format!("{}.bow", part.name.replace(' ', "_")), span));
            living.bows.push(Bow {
                name: part.name.clone(),
                cause: "inside and outside finished differently, for each point of moisture between the faces",
                span,
                bow,
            });
            if bow > BOW_SEEN {
                cautions.push(Caution {
                    code: "faces-finished-unequally",
                    weight: Weight::LikelyToFail,
                    place: part.name.clone(),
                    says: format!(
                        "The {} has different finishes inside and out; each point of moisture between its faces bows it {:.1} mm over {:.0} mm.",
                        part.name,
                        bow.to_mm(),
                        span.to_mm()
                    ),
                    numbers: vec![Given::new("bow for one point", Value::Length(bow))],
                    basis: Basis::Derived("linear strain through one board: curvature = strain ÷ thickness"),
                    change: Some(Change::words("Give both faces of the lid the same finish and the same number of coats")),
                });
            }
        }
    }
}

fn panel_build(s: &Statement, role: Role) -> Option<&Build> {
    match (&s.lid.kind, role) {
        (LidKind::Frame(f), Role::FramePanel) => Some(&f.panel.build),
        (LidKind::Slab { build, .. } | LidKind::Sliding { build, .. }, Role::LidPanel) => Some(build),
        (LidKind::Sawn { top, .. }, Role::Top) => Some(&top.build),
        _ => None,
    }
}

/// Bend of a core with its veneers across their grain, to the drier end of the year; none when both faces match.
fn veneered_bend(parts: &BoxParts, core: &Part) -> Option<Bend> {
    let lead = parts.parts.iter().position(|p| core::ptr::eq(p, core))?;
    let leaves: Vec<&Part> = parts
        .parts
        .iter()
        .filter(|p| p.role == Role::Veneer && p.layer_of.map(|l| l.0) == Some(lead))
        .collect();
    let modulus = |id: &str| -> Option<Stress> {
        wood::sheet(id).and_then(|s| s.modulus_across).or_else(|| {
            let species = wood::species(id)?;
            wood::elastic(species).ok().map(|e| e.value.modulus_across(Angle::ZERO))
        })
    };
    // One point of drying: the bend is in proportion.
    let layer = |p: &Part| -> Option<Layer> {
        let c = coefficient_of(&p.wood, p.rings)?;
        let dry = MoistureContent::percent(8.0);
        let strain = across(Length::mm(1.0), c, dry, MoistureContent::percent(7.0)).strain();
        Some(Layer { thickness: p.size[2], modulus: modulus(&p.wood)?, free: strain })
    };
    let (below, above) = (leaves.first()?, leaves.get(1)?);
    Some(layered(&[layer(below)?, layer(core)?, layer(above)?]))
}
