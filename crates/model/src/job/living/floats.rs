//! Panels that float: whether they bind in the wettest month or slip out in the driest.

use super::{Living, coefficient_of};
use crate::caution::{Caution, Change, Weight};
use crate::parts::Float;
use crate::reason::{Basis, Given, Reason, Value};
use crate::seasons::{Floating, panel_as_cut};
use crate::units::{Length, MoistureContent};

pub(super) fn floating(
    float: &Float,
    today: MoistureContent,
    [driest, wettest]: [MoistureContent; 2],
    living: &mut Living,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) {
    let Some(coefficient) = coefficient_of(&float.wood, float.rings) else { return };
    let between = float.width + float.gap * 2.0;
    let result = panel_as_cut(
        Floating {
            opening: between - float.groove_depth * 2.0,
            groove: float.groove_depth,
            coefficient,
            today,
            driest,
            wettest,
            clearance: Length::mm(0.1),
            hold: Length::mm(1.0),
        },
        float.width,
    );
    if result.in_groove() {
        reasons.push(result.reason_hold(&format!("{}.hold", float.name)));
    }
    let key = match float.name.as_str() {
        "bottom" => "bottom.depth",
        "lid panel" => "lid.panel.depth",
        "top" => "lid.top.depth",
        _ => "lid.side_play",
    };
    if result.binds() {
        let room = -result.gap_wettest;
        let more = float.gap + room + Length::mm(0.2);
        let change = if float.name == "sliding lid" {
            Change::set(
                format!("Give it {:.1} mm of side play", more.to_mm() * 2.0),
                "lid.side_play",
                format!("\"{:.1} mm\"", more.to_mm() * 2.0),
            )
        } else {
            Change::words(format!("Cut it {:.1} mm narrower", room.to_mm() * 2.0 + 0.4))
        };
        cautions.push(Caution {
            code: "panel-binds",
            weight: Weight::LikelyToFail,
            place: float.name.clone(),
            says: format!(
                "The {} is {:.1} mm wide today and swells by {:.1} mm by the wettest month, {:.1} mm more than there is room for.",
                float.name,
                float.width.to_mm(),
                (result.width_wettest - result.width).to_mm(),
                room.to_mm() * 2.0
            ),
            numbers: vec![
                Given::new("gap on each side today", Value::Length(float.gap)),
                Given::new("width in the wettest month", Value::Length(result.width_wettest)),
            ],
            basis: Basis::Published("Wood Handbook FPL-GTR-190, ch. 13, Eq. 13-2"),
            change: Some(change),
        });
    }
    if result.in_groove() && result.held_pushed < Length::mm(0.5) {
        let need = float.groove_depth + Length::mm(1.0) - result.held_pushed;
        cautions.push(Caution {
            code: "panel-drops-out",
            weight: if result.drops_out() { Weight::LikelyToFail } else { Weight::WorthKnowing },
            place: float.name.clone(),
            says: format!(
                "In the driest month the {} shrinks to {:.1} mm; pushed to one side it holds {:.1} mm in the other groove.",
                float.name,
                result.width_driest.to_mm(),
                result.held_pushed.to_mm()
            ),
            numbers: vec![Given::new("held, pushed to one side", Value::Length(result.held_pushed))],
            basis: Basis::Published("Wood Handbook FPL-GTR-190, ch. 13, Eq. 13-2"),
            change: Some(Change::set(
                format!("Cut the groove {:.1} mm deep, and pin the panel at the middle of its ends", need.to_mm()),
                key,
                format!("\"{:.1} mm\"", need.to_mm()),
            )),
        });
    }
    living.floats.push((float.name.clone(), result));
}
