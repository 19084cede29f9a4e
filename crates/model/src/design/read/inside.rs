//! `[inside.lining]`, `[inside.tray]`, `[inside.dividers]`, `[inside.cloth]`.

use super::build::wood_or;
use super::section::Section;
use crate::design::inside::{Cloth, Dividers, Inside, Lining, Tray, TrayJoint};
use crate::design::lid::Registration;
use crate::design::statement::WoodUse;
use crate::design::usual;
use crate::units::Length;

/// Cells of a grid in one direction.
const MOST_CELLS: u32 = 100;

/// What is inside.
pub(super) fn inside(root: &Section<'_>, walls: &WoodUse, registration: &Registration) -> Inside {
    let Some(section) = root.section("inside", &["lining", "tray", "dividers", "cloth"]) else {
        return Inside::default();
    };
    Inside {
        lining: section
            .section("lining", &["wood", "rings", "thickness", "proud"])
            .map(|s| lining(&s, walls, registration)),
        tray: tray(&section, walls),
        dividers: dividers(&section, walls),
        cloth: section.section("cloth", &["name", "thickness", "on_walls"]).map(|s| Cloth {
            name: s.text_or("name", 100, usual::CLOTH_NAME),
            thickness: s.positive_or("thickness", usual::CLOTH_THICKNESS),
            on_walls: s.flag_or("on_walls", false),
        }),
    }
}

fn lining(section: &Section<'_>, walls: &WoodUse, registration: &Registration) -> Lining {
    let fits_over = matches!(registration, Registration::Lining);
    let proud = section.signed_or("proud", usual_proud(registration));
    if fits_over && proud <= Length::ZERO {
        section.note(
            "proud",
            "the lid fits over the lining, but the lining does not stand above the walls",
            "write proud = \"4 mm\", or choose another registration for the lid",
        );
    }
    Lining {
        wood: wood_or(section, walls),
        thickness: section.positive_or("thickness", usual::LINING_THICKNESS),
        proud,
    }
}

/// How far a lining stands above the walls where nothing is said: only a lid that fits over it needs that.
pub(in crate::design) fn usual_proud(registration: &Registration) -> Length {
    if matches!(registration, Registration::Lining) { usual::LINING_PROUD } else { Length::ZERO }
}

fn tray(inside: &Section<'_>, walls: &WoodUse) -> Option<Tray> {
    let keys = [
        "wood",
        "rings",
        "thickness",
        "height",
        "bottom",
        "bottom_sheet",
        "joint",
        "finger",
        "play",
        "covers_pct",
        "bearer_width",
        "bearer_height",
    ];
    let section = inside.section("tray", &keys)?;
    let fingers = section.choice_or("joint", &[("miter", false), ("finger joint", true)], false);
    if !fingers {
        section.no_use_for(
            &["finger"],
            "a finger joint",
            "the joint here is a miter",
            "set joint = \"finger joint\"",
        );
    }
    Some(Tray {
        wood: wood_or(&section, walls),
        thickness: section.positive_or("thickness", usual::TRAY_THICKNESS),
        height: section.positive_or("height", usual::TRAY_HEIGHT),
        bottom: section.positive_or("bottom", usual::TRAY_BOTTOM),
        bottom_sheet: section
            .value("bottom_sheet")
            .map_or_else(|| Some(usual::SHEET.to_owned()), |v| v.wood())
            .unwrap_or_default(),
        joint: if fingers {
            TrayJoint::Fingers(section.positive_or("finger", usual::TRAY_FINGER))
        } else {
            TrayJoint::Miter
        },
        play: section.length_or("play", usual::TRAY_PLAY),
        covers_pct: section.count_or("covers_pct", (1, 100), 100),
        bearer: (
            section.positive_or("bearer_width", usual::BEARER_WIDTH),
            section.positive_or("bearer_height", usual::BEARER_HEIGHT),
        ),
    })
}

fn dividers(inside: &Section<'_>, walls: &WoodUse) -> Option<Dividers> {
    let keys = ["wood", "rings", "thickness", "height", "cells_along", "cells_across", "play"];
    let section = inside.section("dividers", &keys)?;
    let cells_along = section.count_or("cells_along", (1, MOST_CELLS), 1);
    let cells_across = section.count_or("cells_across", (1, MOST_CELLS), 1);
    let unread = ["cells_along", "cells_across"].iter().any(|key| section.page.is_noted(&section.join(key)));
    if cells_along == 1 && cells_across == 1 && !unread {
        section.note(
            "cells_along",
            "one cell needs no dividers",
            "write cells_along = 3 or cells_across = 2, or remove the section",
        );
    }
    Some(Dividers {
        wood: wood_or(&section, walls),
        thickness: section.positive_or("thickness", usual::DIVIDER_THICKNESS),
        height: section.positive_or("height", usual::DIVIDER_HEIGHT),
        cells_along,
        cells_across,
        play: section.length_or("play", usual::DIVIDER_PLAY),
    })
}
