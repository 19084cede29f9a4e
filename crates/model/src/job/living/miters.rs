//! Miters through the year: how far the frame's and the walls' open.

use super::{Living, coefficient_of};
use crate::caution::{Caution, Change, Weight};
use crate::design::{LidKind, Statement};
use crate::parts::{BoxParts, Part, Role};
use crate::reason::{Basis, Given, Reason, Value};
use crate::seasons::{MiterOpening, across, along, miter_opening};
use crate::units::{Angle, Length, MoistureContent, Strain};

/// A gap in a miter that a hand and an eye find at once (common practice; see `fit` for the shop's own limit).
const GAP_SEEN: Length = Length::mm(0.2);
/// A gap that a customer sends the box back for (common practice).
const GAP_BAD: Length = Length::mm(0.5);

/// Openings by the driest and the wettest month of a miter whose members are `width` across the grain.
fn openings(
    part: &Part,
    rings: Angle,
    width: Length,
    miter: Angle,
    today: MoistureContent,
    ends: [MoistureContent; 2],
) -> Option<(MiterOpening, MiterOpening)> {
    let c = coefficient_of(&part.wood, rings)?;
    let at = |to| {
        let shrinks = -across(Length::mm(1.0), c, today, to).strain().value();
        let l = -along(Length::mm(1.0), today, to).middle.to_mm();
        miter_opening(width, miter, Strain::fraction(shrinks), Strain::fraction(l))
    };
    Some((at(ends[0]), at(ends[1])))
}

pub(super) fn miters(
    s: &Statement,
    parts: &BoxParts,
    today: MoistureContent,
    ends: [MoistureContent; 2],
    living: &mut Living,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) {
    let miter = Angle::radians(core::f64::consts::PI / f64::from(s.shape.sides.max(3)));
    let members: Vec<&Part> = parts.parts.iter().filter(|p| p.role == Role::FrameMember).collect();
    // Members may be of several woods: the one that opens most speaks for the frame.
    living.frame_miter = members
        .iter()
        .filter_map(|p| openings(p, p.rings, p.size[1], miter, today, ends))
        .max_by(|a, b| worst(a).gap.to_mm().total_cmp(&worst(b).gap.to_mm()));
    if let Some(pair) = &living.frame_miter {
        let bad = worst(pair);
        reasons.push(bad.reason("lid.miter"));
        if bad.gap > GAP_SEEN {
            cautions.push(Caution {
                code: "frame-miter-opens",
                weight: if bad.gap > GAP_BAD { Weight::LikelyToFail } else { Weight::WorthKnowing },
                place: "lid frame, miters".into(),
                says: format!(
                    "The lid frame's miters open {:.2} mm at the {} by the {} month.",
                    bad.gap.to_mm(),
                    end_word(bad),
                    if bad.shrinks.value() > 0.0 { "driest" } else { "wettest" }
                ),
                numbers: vec![
                    Given::new("member width", Value::Length(bad.width)),
                    Given::new("opening", Value::Length(bad.gap)),
                ],
                basis: Basis::Derived(
                    "√2 × width × difference of strain across and along, for a square corner",
                ),
                change: Some(narrower(s, bad)),
            });
        }
    }
    if let Some(wall) = parts.parts.iter().find(|p| p.role == Role::Wall) {
        // Through a wall's thickness the rings stand at the complement of their angle to its face.
        let through = Angle::SQUARE - wall.rings;
        living.wall_miter = openings(wall, through, wall.size[2], miter, today, ends);
        if let Some(pair) = &living.wall_miter {
            reasons.push(worst(pair).reason("corner.miter"));
        }
    }
}

fn worst(pair: &(MiterOpening, MiterOpening)) -> &MiterOpening {
    if pair.0.gap >= pair.1.gap { &pair.0 } else { &pair.1 }
}

fn end_word(m: &MiterOpening) -> &'static str {
    if m.shrinks.value() > 0.0 { "heel (inside)" } else { "toe (outside)" }
}

/// A narrower member closes the miter in proportion.
fn narrower(s: &Statement, bad: &MiterOpening) -> Change {
    let width = (bad.width * (GAP_SEEN / bad.gap)).to_mm().floor();
    let quarter = matches!(&s.lid.kind, LidKind::Frame(f) if f.woods.iter().all(|w| w.rings.angle().to_degrees() > 60.0));
    if width >= 15.0 || quarter {
        let width = width.max(12.0);
        Change::set(
            format!("Make the members {width:.0} mm wide"),
            "lid.member",
            format!("\"{width:.0} mm\""),
        )
    } else {
        Change::set("Take quartersawn stock for the frame", "lid.rings", "\"quartersawn\"")
    }
}
