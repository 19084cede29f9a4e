//! `[bottom]`, and how panels are held.

use super::build::{Otherwise, build, moves};
use super::section::Section;
use crate::design::lid::PanelHold;
use crate::design::statement::{Bottom, BottomHold, Build, WoodUse};
use crate::design::usual;
use crate::units::Length;

/// The holds by name.
#[derive(Clone, Copy, PartialEq)]
enum Hold {
    Rabbet,
    Groove,
    Ledge,
    GluedBetween,
}

/// The bottom.
pub(super) fn bottom(root: &Section<'_>, walls: &WoodUse) -> Bottom {
    let keys = [
        "wood",
        "rings",
        "strips",
        "sheet",
        "veneered",
        "thickness",
        "hold",
        "depth",
        "clearance",
        "above_edge",
        "tongue",
        "ledge_width",
        "ledge_height",
    ];
    let Some(section) = root.section("bottom", &keys) else {
        return Bottom {
            build: Build::Sheet(usual::SHEET.to_owned()),
            thickness: usual::BOTTOM_THICKNESS,
            hold: BottomHold::Rabbet { depth: None, clearance: usual::BOTTOM_CLEARANCE },
        };
    };
    let build = build(&section, walls, Otherwise::Sheet);
    let hold = section.choice_or(
        "hold",
        &[("rabbet", Hold::Rabbet), ("groove", Hold::Groove), ("ledge", Hold::Ledge)],
        if moves(&build) { Hold::Groove } else { Hold::Rabbet },
    );
    let but = match hold {
        Hold::Groove => "this one lies in a groove",
        Hold::Ledge => "this one lies on a ledge",
        Hold::Rabbet | Hold::GluedBetween => "this one lies in a rabbet",
    };
    let only = |keys: &[&str], mine: Hold, name: &str, word: &str| {
        if hold != mine {
            section.no_use_for(keys, name, but, &format!("set hold = \"{word}\""));
        }
    };
    only(&["clearance"], Hold::Rabbet, "a bottom in a rabbet", "rabbet");
    only(&["above_edge", "tongue"], Hold::Groove, "a bottom in a groove", "groove");
    only(&["ledge_width", "ledge_height"], Hold::Ledge, "a bottom on a ledge", "ledge");
    if hold == Hold::Ledge {
        section.no_use_for(&["depth"], "a bottom in a rabbet or groove", but, "set hold = \"rabbet\"");
    }
    Bottom {
        build,
        thickness: section.positive_or("thickness", usual::BOTTOM_THICKNESS),
        hold: match hold {
            Hold::Groove => BottomHold::Groove {
                depth: section.positive("depth"),
                above_edge: section.positive("above_edge"),
                tongue: section.positive("tongue"),
            },
            Hold::Ledge => BottomHold::Ledge {
                width: section.positive_or("ledge_width", usual::LEDGE_WIDTH),
                height: section.positive_or("ledge_height", usual::LEDGE_HEIGHT),
            },
            Hold::Rabbet | Hold::GluedBetween => BottomHold::Rabbet {
                depth: section.positive("depth"),
                clearance: section.length_or("clearance", usual::BOTTOM_CLEARANCE),
            },
        },
    }
}

/// How the panel of a frame is held.
pub(super) fn frame_panel_hold(section: &Section<'_>, build: &Build) -> PanelHold {
    let choices = [("rabbet", Hold::Rabbet), ("groove", Hold::Groove), ("glued between", Hold::GluedBetween)];
    panel_hold(section, build, &choices, usual::PANEL_DEPTH)
}

/// How the top of a box whose lid is sawn off is held.
pub(super) fn top_hold(section: &Section<'_>, build: &Build) -> PanelHold {
    let choices = [("rabbet", Hold::Rabbet), ("groove", Hold::Groove)];
    panel_hold(section, build, &choices, usual::TOP_DEPTH)
}

fn panel_hold(
    section: &Section<'_>,
    build: &Build,
    choices: &[(&str, Hold)],
    usual_depth: Length,
) -> PanelHold {
    let usual_hold = if moves(build) { Hold::Groove } else { Hold::Rabbet };
    match section.choice_or("hold", choices, usual_hold) {
        Hold::GluedBetween => {
            section.no_use_for(
                &["depth"],
                "a panel in a rabbet or groove",
                "this one is glued between the members",
                "set hold = \"groove\"",
            );
            PanelHold::GluedBetween
        }
        Hold::Groove => PanelHold::Groove { depth: section.positive_or("depth", usual_depth) },
        Hold::Rabbet | Hold::Ledge => {
            PanelHold::Rabbeted { depth: section.positive_or("depth", usual_depth) }
        }
    }
}
