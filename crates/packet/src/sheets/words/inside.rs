//! What is inside, what it stands on, its edges and its finish in words.

use keepwright_model::design::{Base, Coat, Edges, FinishKind, Profile, TrayJoint};

use super::super::draft::{Draft, wood_name};
use super::body::{build, spoken};
use super::wood;
use crate::flow::literal;
use crate::shown::{and, capital};

pub(super) fn inside(draft: &Draft<'_>) -> String {
    let (inside, show) = (&draft.plan.statement.inside, &draft.show);
    let mut said = Vec::new();
    if let Some(l) = &inside.lining {
        let proud = if l.proud.to_mm() >= 0.0 {
            format!("stands {} above the walls", show.length(l.proud))
        } else {
            format!("ends {} below the rim", show.length(-l.proud))
        };
        said.push(format!("A lining of {}, {} thick, {proud}.", wood(&l.wood), show.length(l.thickness)));
    }
    if let Some(t) = &inside.tray {
        let joint = match t.joint {
            TrayJoint::Miter => "miters".to_owned(),
            TrayJoint::Fingers(f) => format!("finger joints of {}", show.length(f)),
        };
        said.push(format!(
            "A lift-out tray of {}, walls {} thick and {} high in {joint}, bottom of {} {} thick; it covers {} % of the \
             inside length and rests on bearers.",
            wood(&t.wood),
            show.length(t.thickness),
            show.length(t.height),
            wood_name(&t.bottom_sheet),
            show.length(t.bottom),
            t.covers_pct
        ));
    }
    if let Some(d) = &inside.dividers {
        said.push(format!(
            "Dividers of {}, {} thick and {} high, joined by half-laps to {} by {} cells.",
            wood(&d.wood),
            show.length(d.thickness),
            show.length(d.height),
            spoken(d.cells_along),
            spoken(d.cells_across)
        ));
    }
    if let Some(c) = &inside.cloth {
        let on = if c.on_walls { "bottom and walls" } else { "bottom" };
        said.push(format!(
            "{} on card, {} thick, on the {on}.",
            capital(&literal(&c.name)),
            show.length(c.thickness)
        ));
    }
    if said.is_empty() { String::new() } else { format!("**Inside.** {}", said.join(" ")) }
}

/// What it stands on, pull and edges.
pub(super) fn outside(draft: &Draft<'_>) -> String {
    let (s, show) = (&draft.plan.statement, &draft.show);
    let mut said = Vec::new();
    match &s.base {
        Base::None => {}
        Base::Feet { wood: of, side, height, inset } => said.push(format!(
            "It stands on feet of {}, {} square and {} high, set in by {}.",
            wood(of),
            show.length(*side),
            show.length(*height),
            show.length(*inset)
        )),
        Base::Plinth { wood: of, thickness, height, proud } => {
            let (way, by) =
                if proud.to_mm() < 0.0 { ("set back", -*proud) } else { ("standing out", *proud) };
            said.push(format!(
                "It stands on a mitered plinth of {}, {} thick and {} high, {way} by {}.",
                wood(of),
                show.length(*thickness),
                show.length(*height),
                show.length(by)
            ));
        }
    }
    if let Some(p) = &s.pull {
        said.push(format!(
            "The pull is shaped from {}, {}, beveled by {}.",
            build(draft, &p.build),
            show.sizes(&[p.length, p.width, p.height]),
            show.length(p.bevel)
        ));
    }
    let edges = edges(draft, s.edges);
    if !edges.is_empty() {
        said.push(edges);
    }
    if said.is_empty() { String::new() } else { format!("**Outside.** {}", said.join(" ")) }
}

fn edges(draft: &Draft<'_>, edges: Edges) -> String {
    let each = [
        ("the lid's upper edge", edges.lid_top),
        ("the rim", edges.rim),
        ("the foot", edges.foot),
        ("the upright corners", edges.corners),
    ];
    let said: Vec<String> = each
        .into_iter()
        .filter_map(|(place, profile)| match profile {
            Profile::Sharp => None,
            Profile::Chamfer(width) => Some(format!("{place} chamfered by {}", draft.show.length(width))),
            Profile::RoundOver(radius) => {
                Some(format!("{place} rounded to a radius of {}", draft.show.length(radius)))
            }
        })
        .collect();
    let rest = "other edges are broken with a pass of fine paper";
    if said.is_empty() {
        return format!("{}.", capital(rest));
    }
    format!("{}; {rest}.", capital(&and(&said)))
}

pub(super) fn finish(draft: &Draft<'_>) -> String {
    let f = &draft.plan.statement.finish;
    let first =
        if f.inside_first { " Inside faces are finished before the glue-up, joints masked." } else { "" };
    if f.outside == f.inside {
        return format!("**Finish.** {}, inside and out.{first}", capital(&coat(f.outside)));
    }
    format!("**Finish.** Outside {}; inside {}.{first}", coat(f.outside), coat(f.inside))
}

/// A finish with its coats.
pub(super) fn coat(coat: Coat) -> String {
    let what = match coat.kind {
        FinishKind::None => return "bare wood".to_owned(),
        FinishKind::Oil => "drying oil",
        FinishKind::Wax => "wax",
        FinishKind::OilAndWax => "drying oil, then wax",
        FinishKind::Shellac => "shellac",
        FinishKind::WipingVarnish => "wiping varnish",
        FinishKind::WaterBorne => "water-borne clear coat",
    };
    let coats = if coat.coats == 1 { "one coat".to_owned() } else { format!("{} coats", spoken(coat.coats)) };
    format!("{what}, {coats}")
}
