//! What is inside the box, and what it stands on.

use crate::forms::field::{
    Cond::{Has, Is},
    Group, Kind, OneOf, Start, choice, count, field, group, length, one_of, rings, way, wood,
};

const LINING: OneOf = OneOf {
    base: "",
    ways: &[
        way("no", "none", "", Start::Nothing),
        way("yes", "thin walls inside the walls", "inside.lining", Start::Value("{}")),
    ],
    usual: 0,
    needed: &[Is("@lid.stated", &["lining"])],
};
const TRAY: OneOf = one_of(
    "",
    &[
        way("no", "none", "", Start::Nothing),
        way("yes", "a tray that lifts out", "inside.tray", Start::Value("{}")),
    ],
    0,
);
const DIVIDERS: OneOf = one_of(
    "",
    &[
        way("no", "none", "", Start::Nothing),
        way("yes", "a grid joined by half-laps", "inside.dividers", Start::Value("{ cells_along = 2 }")),
    ],
    0,
);
const CLOTH: OneOf = one_of(
    "",
    &[
        way("no", "none", "", Start::Nothing),
        way("yes", "cloth, leather or felt", "inside.cloth", Start::Value("{}")),
    ],
    0,
);

const BASES: &[(&str, &str)] = &[
    ("none", "nothing: it stands on its walls"),
    ("feet", "blocks under the corners"),
    ("plinth", "a mitered plinth"),
];

pub(super) const GROUPS: &[Group] = &[
    group("shape", "Bottom", "bottom", &[], &[length("bottom.thickness", "Thickness")]),
    group(
        "shape",
        "Lining",
        "lining",
        &[],
        &[
            field("@inside.lining", "Lining", Kind::OneOf(&LINING)),
            wood("inside.lining.wood", "Wood").when(&[Has("inside.lining")]),
            rings("inside.lining.rings", "Rings").when(&[Has("inside.lining")]),
            length("inside.lining.thickness", "Thickness").when(&[Has("inside.lining")]),
            length("inside.lining.proud", "Stands proud by").when(&[Has("inside.lining")]),
        ],
    ),
    group(
        "shape",
        "Tray",
        "tray",
        &[],
        &[
            field("@inside.tray", "Tray", Kind::OneOf(&TRAY)),
            wood("inside.tray.wood", "Wood").when(&[Has("inside.tray")]),
            rings("inside.tray.rings", "Rings").when(&[Has("inside.tray")]),
            length("inside.tray.thickness", "Thickness").when(&[Has("inside.tray")]),
            length("inside.tray.height", "Height").when(&[Has("inside.tray")]),
            length("inside.tray.bottom", "Bottom thickness").when(&[Has("inside.tray")]),
            field("inside.tray.bottom_sheet", "Bottom sheet", Kind::Sheet).when(&[Has("inside.tray")]),
            choice("inside.tray.joint", "Corners", &[("miter", "miter"), ("finger joint", "finger joint")])
                .when(&[Has("inside.tray")]),
            length("inside.tray.finger", "Finger width")
                .when(&[Has("inside.tray"), Is("inside.tray.joint", &["finger joint"])]),
            length("inside.tray.play", "Play").when(&[Has("inside.tray")]),
            count("inside.tray.covers_pct", "Covers, percent").when(&[Has("inside.tray")]),
            length("inside.tray.bearer_width", "Bearer width").when(&[Has("inside.tray")]),
            length("inside.tray.bearer_height", "Bearer height").when(&[Has("inside.tray")]),
        ],
    ),
    group(
        "shape",
        "Dividers",
        "divider",
        &[],
        &[
            field("@inside.dividers", "Dividers", Kind::OneOf(&DIVIDERS)),
            wood("inside.dividers.wood", "Wood").when(&[Has("inside.dividers")]),
            rings("inside.dividers.rings", "Rings").when(&[Has("inside.dividers")]),
            length("inside.dividers.thickness", "Thickness").when(&[Has("inside.dividers")]),
            length("inside.dividers.height", "Height").when(&[Has("inside.dividers")]),
            count("inside.dividers.cells_along", "Cells along").when(&[Has("inside.dividers")]),
            count("inside.dividers.cells_across", "Cells front to back").when(&[Has("inside.dividers")]),
            length("inside.dividers.play", "Play at each end").when(&[Has("inside.dividers")]),
        ],
    ),
    group(
        "shape",
        "Cloth",
        "cloth",
        &[],
        &[
            field("@inside.cloth", "Cloth", Kind::OneOf(&CLOTH)),
            field("inside.cloth.name", "What it is", Kind::Text).when(&[Has("inside.cloth")]),
            length("inside.cloth.thickness", "Thickness with card").when(&[Has("inside.cloth")]),
            field("inside.cloth.on_walls", "On the walls too", Kind::Flag).when(&[Has("inside.cloth")]),
        ],
    ),
    group(
        "shape",
        "What it stands on",
        "base",
        &[],
        &[
            choice("base.kind", "Base", BASES),
            wood("base.wood", "Wood").when(&[Is("base.kind", &["feet", "plinth"])]),
            rings("base.rings", "Rings").when(&[Is("base.kind", &["feet", "plinth"])]),
            length("base.height", "Height").when(&[Is("base.kind", &["feet"])]).row("base.height (feet)"),
            length("base.height", "Height").when(&[Is("base.kind", &["plinth"])]).row("base.height (plinth)"),
            length("base.side", "Side of a foot").when(&[Is("base.kind", &["feet"])]),
            length("base.inset", "Inset").when(&[Is("base.kind", &["feet"])]),
            length("base.thickness", "Thickness").when(&[Is("base.kind", &["plinth"])]),
            length("base.proud", "Stands proud by").when(&[Is("base.kind", &["plinth"])]),
        ],
    ),
];
