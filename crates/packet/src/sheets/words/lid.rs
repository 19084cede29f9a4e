//! The lid in words.

use keepwright_model::design::{Frame, KeyDepth, LidKind, PanelHold, Registration};

use super::super::draft::Draft;
use super::body::build;
use super::woods;
use crate::shown::{and, angle};

pub(super) fn lid(draft: &Draft<'_>) -> String {
    let (s, show) = (&draft.plan.statement, &draft.show);
    let lid = &s.lid;
    let what = match &lid.kind {
        LidKind::None => return "**Lid.** The box is open.".to_owned(),
        LidKind::Frame(frame) => framed(draft, frame),
        LidKind::Slab { build: of, thickness } => {
            format!("A slab of {}, {} thick", build(draft, of), show.length(*thickness))
        }
        LidKind::Sawn { height, kerf, clean_up, top } => format!(
            "The box is glued up closed and the lid, {} high, sawn from it with a kerf of {} and {} cleaned up on each sawn edge; \
             the top is {}, {} thick, {}",
            show.length(*height),
            show.length(*kerf),
            show.length(*clean_up),
            build(draft, &top.build),
            show.length(top.thickness),
            held(draft, top.hold)
        ),
        LidKind::Sliding { build: of, thickness, groove_depth, side_play, thickness_play, below_rim } => {
            format!(
                "A panel of {}, {} thick, slides in grooves {} deep, {} below the rim, with {} of play in its width and {} in its \
             thickness",
                build(draft, of),
                show.length(*thickness),
                show.length(*groove_depth),
                show.length(*below_rim),
                show.length(*side_play),
                show.length(*thickness_play)
            )
        }
    };
    let over = if lid.overhang.to_mm().abs() > 1e-6 {
        format!(", standing {} over the walls", show.length(lid.overhang))
    } else {
        String::new()
    };
    format!("**Lid.** {what}{over}. {}", place(draft)).trim_end().to_owned()
}

fn framed(draft: &Draft<'_>, frame: &Frame) -> String {
    let show = &draft.show;
    let keys = frame.keys.as_ref().map_or_else(String::new, |keys| {
        let of = woods(keys.rows.iter().map(|r| &r.wood));
        let deep = match keys.depth {
            KeyDepth::Depth(d) => format!(" {} deep", show.length(d)),
            KeyDepth::LeaveSkin(_) => String::new(),
        };
        format!(", keyed with {}{deep}", and(&of))
    });
    format!(
        "A mitered frame of {}, members {} wide and {} thick{keys}, round a panel of {}, {} thick, {}",
        and(&woods(frame.woods.iter())),
        show.length(frame.member),
        show.length(frame.thickness),
        build(draft, &frame.panel.build),
        show.length(frame.panel.thickness),
        held(draft, frame.panel.hold)
    )
}

fn held(draft: &Draft<'_>, hold: PanelHold) -> String {
    match hold {
        PanelHold::GluedBetween => "glued in flush between them".to_owned(),
        PanelHold::Groove { depth } => format!("floating in a groove {} deep", draft.show.length(depth)),
        PanelHold::Rabbeted { depth } => format!("glued into a rabbet {} deep", draft.show.length(depth)),
    }
}

/// How the lid finds its place, and the pull.
fn place(draft: &Draft<'_>) -> String {
    let (s, show) = (&draft.plan.statement, &draft.show);
    match s.lid.registration {
        Registration::None => String::new(),
        Registration::Lip { height, thickness, play } => format!(
            "It finds its place by a lip under it, {} thick and {} high, with {} of play on each side.",
            show.length(thickness),
            show.length(height),
            show.length(play)
        ),
        Registration::Rabbet { depth, play } => format!(
            "It finds its place by a rabbet round its underside that drops {} into the box, with {} of play on each side.",
            show.length(depth),
            show.length(play)
        ),
        Registration::Lining => "It finds its place on the lining, which stands proud of the walls.".to_owned(),
        Registration::Hinges => s.hinges.map_or_else(
            || "It turns on hinges.".to_owned(),
            |h| {
                format!(
                    "It turns on {} butt hinges with leaves of {}, No. {} screws {} long, {} from the ends, and opens to {}.",
                    super::body::spoken(h.count),
                    show.sizes(&[h.leaf_length, h.leaf_width, h.leaf_thickness]),
                    h.screw_gauge,
                    show.length(h.screw_length),
                    show.length(h.from_end),
                    angle(h.opens_to)
                )
            },
        ),
    }
}
