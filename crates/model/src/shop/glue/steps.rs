//! The steps of a stage as sentences with their numbers.

use super::super::settings::{Bearing, GlueSettings};
use super::adhesive::Pressing;
use super::plan::{Clamping, Diagonals, Stage, StageKind, Step, StepKind};
use super::stages::whole_name;
use crate::design::{Finish, FinishKind};
use crate::parts::BoxParts;

/// Which of how many stages of a group this is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub(super) number: usize,
    pub(super) of: usize,
    /// The joints are miters.
    pub(super) mitered: bool,
}

/// The steps in order.
pub(super) fn steps(
    parts: &BoxParts,
    stage: &Stage,
    finish: &Finish,
    settings: &GlueSettings,
    place: Place,
) -> Vec<Step> {
    let mut out = Vec::with_capacity(10);
    let mut push = |kind, says: String| out.push(Step { kind, says });
    push(StepKind::DryFit, dry_fit(stage, place));
    if stage.kind == StageKind::Ring
        && place.number == 0
        && let Some(says) = pre_finish(finish)
    {
        push(StepKind::PreFinish, says);
    }
    if stage.kind == StageKind::Ring && place.mitered && place.of == 1 {
        push(
            StepKind::Tape,
            "Lay the members in order, show face up, lower edges against a straightedge, tips touching. Tape each seam \
             with 25 mm tape, then turn the row over: the open miters look up."
                .into(),
        );
    }
    if stage.sized.to_mm2() > 0.0 {
        push(
            StepKind::Size,
            format!(
                "Size the {:.0} cm² of miters with a thin first coat; end grain drinks it. Let it go dull, then spread.",
                stage.sized.to_mm2() / 100.0
            ),
        );
    }
    // Each key has the open time to itself: nothing is spread together.
    if stage.kind != StageKind::Keys {
        push(StepKind::Spread, spread(stage, settings));
    }
    for id in &stage.dry {
        let name = parts.parts.get(id.0).map_or("panel", |p| whole_name(&p.name));
        push(
            StepKind::Insert,
            format!(
                "Put the {name} into its grooves dry: no glue, its edges waxed or finished first, so that it can move."
            ),
        );
    }
    if let Some(says) = close(stage, settings, place) {
        push(StepKind::Close, says);
    }
    push(StepKind::Clamp, clamp(stage, settings));
    if let Some(d) = stage.diagonals {
        push(StepKind::Diagonals, diagonals(d));
    }
    push(
        StepKind::SqueezeOut,
        "Leave squeeze-out until it is a soft skin and lift it off with a chisel or a cut straw; over wax or finish it \
         peels. Wiped wet, it goes into the pores and shows under the finish."
            .into(),
    );
    push(
        StepKind::Wait,
        format!(
            "In clamps {:.0} minutes; work it after {:.0} hours. The glue's label comes first.",
            stage.clamp.value(),
            stage.cure.to_hours()
        ),
    );
    out
}

fn spread(stage: &Stage, settings: &GlueSettings) -> String {
    let surfaces = match stage.surfaces {
        1 => "one surface".to_owned(),
        many => format!("{many} surfaces"),
    };
    format!(
        "Spread {surfaces} thin and even; have {:.1} mL of {} ready. Spreading and closing take about {:.1} of {:.0} \
         minutes of open time.",
        stage.volume.to_ml(),
        settings.glue.name,
        stage.needs.value(),
        stage.open.value()
    )
}

fn dry_fit(stage: &Stage, place: Place) -> String {
    let joints = stage.joints.len();
    match stage.kind {
        StageKind::Ring if place.of > 1 => {
            let glued =
                if joints == 1 { "one joint gets".to_owned() } else { format!("{joints} joints get") };
            format!(
                "Assemble the whole ring dry, band on. Stage {} of {}: only {glued} glue now; the other corners stay \
                 dry in the band to hold the shape, with waxed paper in them.",
                place.number + 1,
                place.of
            )
        }
        StageKind::Ring => {
            "Assemble everything dry with the band on, panels in; every joint closed by hand pressure, \
             diagonals equal. Lay out glue, brush, band, rag and clock in reach."
                .into()
        }
        StageKind::Keys => {
            "Try each key in its slot: it goes in by finger push and touches the bottom. Glue swells it; \
             a key that needs a hammer dry splits the corner wet."
                .into()
        }
        StageKind::Panel | StageKind::Added => {
            let tried = if joints == 1 { "joint".to_owned() } else { format!("{joints} joints") };
            format!("Try the {tried} dry, with clamps; mark the pieces so that they come back the same way.")
        }
    }
}

fn pre_finish(finish: &Finish) -> Option<String> {
    if finish.inside_first && finish.inside.kind != FinishKind::None {
        Some(
            "Finish the inside faces now and let them dry, masked 1 mm from every joint: finish on a joint keeps glue \
             out of the wood."
                .into(),
        )
    } else if finish.inside.kind == FinishKind::None {
        Some(
            "Wax the inside faces, kept off the joints by a pencil line's width, so that squeeze-out peels."
                .into(),
        )
    } else {
        None
    }
}

fn close(stage: &Stage, settings: &GlueSettings, place: Place) -> Option<String> {
    match stage.kind {
        StageKind::Ring if place.mitered && place.of == 1 => {
            Some("Fold the row up into the ring and tape the last corner.".into())
        }
        StageKind::Ring => Some("Close the glued corners square to the dry ones.".into()),
        StageKind::Keys => Some(format!(
            "One key at a time: glue in the slot and on the key, push it home, go on. Have {:.1} mL of {} ready.",
            stage.volume.to_ml(),
            settings.glue.name
        )),
        StageKind::Panel | StageKind::Added => None,
    }
}

fn clamp(stage: &Stage, settings: &GlueSettings) -> String {
    match stage.clamping {
        Some(Clamping { tension, pressure, wanted, .. }) if settings.glue.pressing == Pressing::Clamped => {
            let on = match settings.bearing {
                Bearing::Bare => "round the waxed corners",
                Bearing::Shoes => "on corner shoes",
            };
            format!(
                "Band {on} at about {:.0} N: {:.2} MPa on the miters (dense clamping would be {:.1}). Fit, not force, closes a miter.",
                tension.value(),
                pressure.value(),
                wanted.value()
            )
        }
        Some(_) => "Band just snug: this glue needs contact, and a joint squeezed dry is starved.".into(),
        None if stage.kind == StageKind::Keys => "No clamp: the key's own fit holds it.".into(),
        None => "Clamp with cauls, evenly, until a fine bead of glue shows along the line.".into(),
    }
}

fn diagonals(d: Diagonals) -> String {
    let across = if d.degrees_at_limit.is_some() {
        "both diagonals, outside corner to corner"
    } else {
        "across opposite corners"
    };
    format!(
        "Measure {across}: {:.1} mm each, within {:.1} mm of one another. A skewed band pulls it out; shift the band, \
         not the wood.",
        d.target.to_mm(),
        d.limit.to_mm()
    )
}
