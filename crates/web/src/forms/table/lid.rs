//! The lid: its kind and sizes, and what it is made of.

use super::woods::made_of;
use crate::forms::field::{
    Cond::{Has, Is, Lacks, Not},
    Field, Group, Kind, List, OneOf, Start, choice, field, group, length, one_of, rings, way, wood,
};

const KINDS: &[(&str, &str)] = &[
    ("none", "no lid"),
    ("frame", "frame and panel"),
    ("slab", "slab, lifts off or hinged"),
    ("sawn", "sawn from the closed box"),
    ("sliding", "slides in grooves"),
];

const EDGE_WAYS: [&str; 3] = ["sharp", "chamfer", "round over"];

/// One arris: sharp, chamfered or rounded over.
macro_rules! edge {
    ($key:literal, $label:literal) => {
        [
            field(
                concat!("@", $key),
                $label,
                Kind::OneOf(&OneOf {
                    base: $key,
                    ways: &[
                        way(EDGE_WAYS[0], "left sharp", "", Start::Nothing),
                        way(
                            EDGE_WAYS[1],
                            "chamfered",
                            concat!($key, ".chamfer"),
                            Start::Value("\"1/16 in\""),
                        ),
                        way(
                            EDGE_WAYS[2],
                            "rounded over",
                            concat!($key, ".round_over"),
                            Start::Value("\"1/8 in\""),
                        ),
                    ],
                    usual: 0,
                    needed: &[],
                }),
            ),
            length(concat!($key, ".chamfer"), concat!($label, ": chamfer"))
                .when(&[Has(concat!($key, ".chamfer"))])
                .row("edges.lid_top.chamfer"),
            length(concat!($key, ".round_over"), concat!($label, ": radius"))
                .when(&[Has(concat!($key, ".round_over"))])
                .row("edges.lid_top.round_over"),
        ]
    };
}

const LID_TOP: [Field; 3] = edge!("edges.lid_top", "Lid's upper arris");
const RIM: [Field; 3] = edge!("edges.rim", "Rim's arris");
const FOOT: [Field; 3] = edge!("edges.foot", "Lower arris");
const UPRIGHT: [Field; 3] = edge!("edges.corners", "Upright arrises");
const EDGES: &[Field] = &[
    LID_TOP[0], LID_TOP[1], LID_TOP[2], RIM[0], RIM[1], RIM[2], FOOT[0], FOOT[1], FOOT[2], UPRIGHT[0],
    UPRIGHT[1], UPRIGHT[2],
];

const PULL: OneOf = one_of(
    "",
    &[way("no", "none", "", Start::Nothing), way("yes", "a pull on the lid", "pull", Start::Value("{}"))],
    0,
);

const HINGES: OneOf = OneOf {
    base: "",
    ways: &[way("no", "none", "", Start::Nothing), way("yes", "butt hinges", "hinges", Start::Value("{}"))],
    usual: 0,
    needed: &[Is("@lid.stated", &["hinges"])],
};

const KEYS: OneOf = one_of(
    "",
    &[
        way("no", "none", "", Start::Nothing),
        way("yes", "a key in each miter", "lid.keys", Start::Value("{}")),
    ],
    0,
);

const MEMBERS: List = List {
    one: "member",
    many: "members",
    fresh: "{}",
    fields: &[
        wood("lid.woods.*.wood", "Wood").row("lid.wood"),
        rings("lid.woods.*.rings", "Rings").row("lid.rings"),
    ],
};

const FRAME: &str = "frame";
const LIES_ON: &[&str] = &["frame", "slab", "sawn"];

pub(super) const SHAPE: &[Group] = &[
    group(
        "shape",
        "Lid",
        "lid",
        &[],
        &[
            choice("lid.kind", "Kind", KINDS).hint("hinges are stated beside it"),
            length("lid.thickness", "Thickness")
                .when(&[Is("lid.kind", &["frame", "slab"])])
                .row("lid.thickness (frame, slab)"),
            length("lid.thickness", "Thickness")
                .when(&[Is("lid.kind", &["sliding"])])
                .row("lid.thickness (sliding)"),
            length("lid.member", "Width of the members").when(&[Is("lid.kind", &[FRAME])]),
            length("lid.overhang", "Overhang").when(&[Is("lid.kind", &["frame", "slab"])]),
            length("lid.height", "Height of the lid").when(&[Is("lid.kind", &["sawn"])]),
            length("lid.kerf", "Kerf that parts it").when(&[Is("lid.kind", &["sawn"])]),
            length("lid.clean_up", "Clean-up of each edge").when(&[Is("lid.kind", &["sawn"])]),
            length("lid.below_rim", "Below the rim").when(&[Is("lid.kind", &["sliding"])]),
            length("lid.panel.thickness", "Panel thickness").when(&[Is("lid.kind", &[FRAME])]),
            length("lid.top.thickness", "Top thickness").when(&[Is("lid.kind", &["sawn"])]),
        ],
    ),
    group(
        "shape",
        "Pull",
        "pull",
        &[Not("lid.kind", &["none"])],
        &[
            field("@pull", "Pull", Kind::OneOf(&PULL)),
            length("pull.length", "Length").when(&[Has("pull")]),
            length("pull.width", "Width").when(&[Has("pull")]),
            length("pull.height", "Height").when(&[Has("pull")]),
            length("pull.bevel", "Bevel").when(&[Has("pull")]),
        ],
    ),
    group("shape", "Edges", "", &[], EDGES),
];

/// How a lid finds its place, how its panel is held, its hinges: shown among the joints.
pub(super) const JOINTS: &[Group] = &[
    group(
        "joints",
        "How the lid finds its place",
        "lid",
        &[Is("lid.kind", LIES_ON)],
        &[
            choice(
                "lid.registration",
                "By",
                &[
                    ("none", "nothing"),
                    ("lip", "a lip under it"),
                    ("rabbet", "a rabbet in it"),
                    ("lining", "the lining that stands proud"),
                    ("hinges", "hinges"),
                ],
            ),
            length("lid.lip_height", "Lip height").when(&[Is("lid.registration", &["lip"])]),
            length("lid.lip_thickness", "Lip thickness").when(&[Is("lid.registration", &["lip"])]),
            length("lid.lip_play", "Lip play").when(&[Is("lid.registration", &["lip"])]),
            length("lid.rabbet_depth", "Rabbet depth").when(&[Is("lid.registration", &["rabbet"])]),
            length("lid.rabbet_play", "Rabbet play").when(&[Is("lid.registration", &["rabbet"])]),
        ],
    ),
    group(
        "joints",
        "Sliding lid",
        "sliding lid",
        &[Is("lid.kind", &["sliding"])],
        &[
            length("lid.groove_depth", "Groove depth"),
            length("lid.side_play", "Play at the sides"),
            length("lid.thickness_play", "Play in thickness"),
        ],
    ),
    group(
        "joints",
        "Panel of the frame",
        "lid panel",
        &[Is("lid.kind", &[FRAME])],
        &[
            choice(
                "lid.panel.hold",
                "Held",
                &[
                    ("rabbet", "glued in a rabbet"),
                    ("groove", "floating in a groove"),
                    ("glued between", "glued between the members"),
                ],
            ),
            length("lid.panel.depth", "Depth").when(&[Not("lid.panel.hold", &["glued between"])]),
        ],
    ),
    group(
        "joints",
        "Keys in the frame",
        "lid keys",
        &[Is("lid.kind", &[FRAME])],
        &[
            field("@lid.keys", "Keys", Kind::OneOf(&KEYS)),
            wood("lid.keys.wood", "Wood").when(&[Has("lid.keys")]),
            rings("lid.keys.rings", "Rings").when(&[Has("lid.keys")]),
            length("lid.keys.thickness", "Thickness").when(&[Has("lid.keys")]),
            length("lid.keys.depth", "Slot depth").when(&[Has("lid.keys")]).hint(DEPTH),
            length("lid.keys.skin", "Skin behind the slot").when(&[Has("lid.keys"), Lacks("lid.keys.depth")]),
        ],
    ),
    group(
        "joints",
        "Top of the sawn lid",
        "lid top",
        &[Is("lid.kind", &["sawn"])],
        &[
            choice(
                "lid.top.hold",
                "Held",
                &[("rabbet", "glued in a rabbet"), ("groove", "floating in a groove")],
            ),
            length("lid.top.depth", "Depth"),
        ],
    ),
    group(
        "joints",
        "Hinges",
        "hinge",
        &[Is("lid.kind", LIES_ON), Is("@lid.stated", &["", "hinges"])],
        &[
            field("@hinges", "Hinges", Kind::OneOf(&HINGES)),
            field("hinges.count", "How many", Kind::Count).when(&[Has("hinges")]),
            length("hinges.leaf_length", "Leaf length").when(&[Has("hinges")]),
            length("hinges.leaf_width", "Leaf width").when(&[Has("hinges")]),
            length("hinges.leaf_thickness", "Leaf thickness").when(&[Has("hinges")]),
            length("hinges.knuckle", "Knuckle").when(&[Has("hinges")]),
            field("hinges.screw_gauge", "Screw gauge", Kind::Count).when(&[Has("hinges")]),
            length("hinges.screw_length", "Screw length").when(&[Has("hinges")]),
            field("hinges.screws_per_leaf", "Screws in a leaf", Kind::Count).when(&[Has("hinges")]),
            length("hinges.from_end", "From the end").when(&[Has("hinges")]),
            field("hinges.opens_to_degrees", "Opens to", Kind::Degrees)
                .when(&[Has("hinges")])
                .hint("degrees; 90 to 105 is usual"),
        ],
    ),
];

/// Help at a slot's depth.
pub(super) const DEPTH: &str = "along the diagonal, from the arris; leave it empty to state the skin instead";

const ONE_WOOD: &[crate::forms::field::Cond] = &[Is("lid.kind", &[FRAME]), Lacks("lid.woods")];

pub(super) const WOODS: &[Group] = &[
    group(
        "woods",
        "Frame of the lid",
        "lid",
        &[Is("lid.kind", &[FRAME])],
        &[
            wood("lid.wood", "Wood").when(ONE_WOOD),
            rings("lid.rings", "Rings").when(ONE_WOOD),
            field("lid.woods", "A wood for each member", Kind::List(&MEMBERS))
                .hint("in the order front, right, back, left; one wood for all if there are none"),
        ],
    ),
    group(
        "woods",
        "Panel of the lid",
        "lid panel",
        &[Is("lid.kind", &[FRAME])],
        made_of!("lid.panel", "sheet"),
    ),
    group("woods", "Lid", "lid", &[Is("lid.kind", &["slab", "sliding"])], made_of!("lid", "solid")),
    group("woods", "Top of the lid", "lid top", &[Is("lid.kind", &["sawn"])], made_of!("lid.top", "sheet")),
    group("woods", "Pull", "pull", &[Not("lid.kind", &["none"]), Has("pull")], made_of!(pull)),
];
