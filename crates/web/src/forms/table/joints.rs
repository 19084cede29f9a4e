//! How the parts are joined.

use super::lid::DEPTH;
use crate::forms::field::{
    Cond::{Is, Lacks},
    Field, Group, Kind, List, Start, choice, count, field, group, length, rings, wood,
};

const KEYED: &[&str] = &["keyed miter"];
const HEIGHTS: &str =
    "centers above the lower edge, commas between, such as 1/2 in, 1 in; instead of how many";

/// Where the keys of a row stand; `$own` says when the row is stated by these keys, `$row` where the
/// reference has them.
macro_rules! placing {
    ($base:literal in $row:literal, $($own:expr),*) => {
        [
            count(concat!($base, ".count"), "Keys in a corner").when(&[$($own,)* Lacks(concat!($base, ".heights"))]).row(concat!($row, ".count")),
            length(concat!($base, ".from_foot"), "Lowest above the foot").when(&[$($own,)* Lacks(concat!($base, ".heights"))])
                .row(concat!($row, ".from_foot"))
                .hint("lower edge to the lowest key's center; together with the highest"),
            length(concat!($base, ".from_rim"), "Highest below the rim").when(&[$($own,)* Lacks(concat!($base, ".heights"))])
                .row(concat!($row, ".from_rim"))
                .hint("upper edge to the highest key's center; together with the lowest"),
            field(concat!($base, ".heights"), "At these heights", Kind::Lengths).when(&[$($own,)*]).row(concat!($row, ".heights")).hint(HEIGHTS),
        ]
    };
}

const fn with_rows(first: &[Field; 3], place: &[Field; 4]) -> [Field; 7] {
    let mut all = [BLANK; 7];
    let mut i = 0;
    while i < 7 {
        all[i] = if i < 3 { first[i] } else { place[i - 3] };
        i += 1;
    }
    all
}

const BLANK: Field = field("", "", Kind::Text);

const ROW: [Field; 7] = with_rows(
    &[
        wood("corners.row.*.wood", "Wood"),
        rings("corners.row.*.rings", "Rings"),
        length("corners.row.*.thickness", "Thickness"),
    ],
    &placing!("corners.row.*" in "corners.row",),
);
const ROWS: List = List { one: "row of keys", many: "rows of keys", fresh: "{}", fields: &ROW };

const CORNER_ROW: [Field; 7] = with_rows(
    &[
        wood("corners.pattern.*.row.*.wood", "Wood").row("corners.row.wood"),
        rings("corners.pattern.*.row.*.rings", "Rings").row("corners.row.rings"),
        length("corners.pattern.*.row.*.thickness", "Thickness").row("corners.row.thickness"),
    ],
    &placing!("corners.pattern.*.row.*" in "corners.row",),
);
const CORNER_ROWS: List =
    List { one: "row in this corner", many: "rows in this corner", fresh: "{}", fields: &CORNER_ROW };

const NO_ROWS: crate::forms::field::Cond = Lacks("corners.pattern.*.row");
const PLACE: [Field; 4] = placing!("corners.pattern.*" in "corners.pattern", NO_ROWS);
const PATTERN: &[Field] = &[
    field("corners.pattern.*.corner", "Corner", Kind::Corner).start(Start::Value("1")),
    wood("corners.pattern.*.wood", "Wood"),
    rings("corners.pattern.*.rings", "Rings"),
    length("corners.pattern.*.thickness", "Thickness"),
    PLACE[0],
    PLACE[1],
    PLACE[2],
    PLACE[3],
    field("corners.pattern.*.row", "Several rows in this corner", Kind::List(&CORNER_ROWS)),
];
const PATTERNS: List =
    List { one: "corner of its own", many: "corners of their own", fresh: "{ corner = 1 }", fields: PATTERN };

const KEYS: [Field; 4] = placing!("corners" in "corners", Is("corners.joint", KEYED), Lacks("corners.row"));

pub(super) const GROUPS: &[Group] = &[
    group(
        "joints",
        "Corners",
        "corner",
        &[],
        &[
            choice(
                "corners.joint",
                "Joint",
                &[
                    ("miter", "plain miter"),
                    ("keyed miter", "keyed miter"),
                    ("loose tongue", "miter with a loose tongue"),
                    ("finger joint", "finger joint"),
                ],
            ),
            length("corners.thickness", "Key thickness")
                .when(&[Is("corners.joint", KEYED)])
                .row("corners.thickness (keys)"),
            length("corners.thickness", "Tongue thickness")
                .when(&[Is("corners.joint", &["loose tongue"])])
                .row("corners.thickness (loose tongue)"),
            KEYS[0],
            KEYS[1],
            KEYS[2],
            KEYS[3],
            length("corners.depth", "Slot depth").when(&[Is("corners.joint", KEYED)]).hint(DEPTH),
            length("corners.skin", "Skin behind the slot")
                .when(&[Is("corners.joint", KEYED), Lacks("corners.depth")]),
            length("corners.width", "Tongue width").when(&[Is("corners.joint", &["loose tongue"])]),
            length("corners.stopped", "Tongue stops below the rim")
                .when(&[Is("corners.joint", &["loose tongue"])]),
            length("corners.finger", "Finger width").when(&[Is("corners.joint", &["finger joint"])]),
            length("corners.play", "Play in each socket").when(&[Is("corners.joint", &["finger joint"])]),
        ],
    ),
    group(
        "joints",
        "Keys in several rows",
        "",
        &[Is("corners.joint", KEYED)],
        &[field("corners.row", "Rows", Kind::List(&ROWS))
            .hint("rows of keys of different thickness or wood; instead of the common ones above")],
    ),
    group(
        "joints",
        "Keys of one corner",
        "",
        &[Is("corners.joint", KEYED)],
        &[field("corners.pattern", "Corners", Kind::List(&PATTERNS))
            .hint("keys of one corner instead of the common ones")],
    ),
    group(
        "joints",
        "How the bottom is held",
        "bottom",
        &[],
        &[
            choice(
                "bottom.hold",
                "Held",
                &[
                    ("rabbet", "glued in a rabbet"),
                    ("groove", "floating in a groove"),
                    ("ledge", "resting on a ledge"),
                ],
            ),
            length("bottom.depth", "Depth").when(&[Is("bottom.hold", &["rabbet", "groove"])]),
            length("bottom.clearance", "Clearance").when(&[Is("bottom.hold", &["rabbet"])]),
            length("bottom.above_edge", "Above the lower edge").when(&[Is("bottom.hold", &["groove"])]),
            length("bottom.tongue", "Tongue").when(&[Is("bottom.hold", &["groove"])]),
            length("bottom.ledge_width", "Ledge width").when(&[Is("bottom.hold", &["ledge"])]),
            length("bottom.ledge_height", "Ledge height").when(&[Is("bottom.hold", &["ledge"])]),
        ],
    ),
];
