//! The head of a statement, its size, its plan.

use crate::forms::field::{
    Cond::{Has, Is, Lacks},
    Field, Group, Kind, List, OneOf, Start, choice, count, field, group, length, one_of, way,
};

const THINGS: List = List {
    one: "thing",
    many: "things",
    fresh: "{ length = \"4 in\", depth = \"2 1/2 in\", height = \"1 in\" }",
    fields: &[
        field("size.contents.item.*.name", "What it is", Kind::Text),
        length("size.contents.item.*.length", "Length").start(Start::Value("\"4 in\"")),
        length("size.contents.item.*.depth", "Depth").start(Start::Value("\"2 1/2 in\"")),
        length("size.contents.item.*.height", "Height").start(Start::Value("\"1 in\"")),
        count("size.contents.item.*.count", "How many"),
        count("size.contents.item.*.along", "Side by side").hint("how many along the box"),
        count("size.contents.item.*.across", "Front to back").hint("how many one behind the other"),
        count("size.contents.item.*.up", "On top of each other").hint("how many layers"),
    ],
};

const SIZE: OneOf = one_of(
    "",
    &[
        way(
            "outside",
            "from its outside",
            "size.outside",
            Start::Like("size.inside", "{ length = \"10 in\", depth = \"6 in\", height = \"3 in\" }"),
        ),
        way(
            "inside",
            "from its inside",
            "size.inside",
            Start::Like("size.outside", "{ length = \"10 in\", depth = \"6 in\", height = \"3 in\" }"),
        ),
        way(
            "contents",
            "from what must go in",
            "size.contents",
            Start::Value("{ item = [{ length = \"4 in\", depth = \"2 1/2 in\", height = \"1 in\" }] }"),
        ),
    ],
    0,
);

/// Length, depth and height of one of the two boxes that a size may state.
macro_rules! three {
    ($base:literal) => {
        &[
            length(concat!($base, ".length"), "Length")
                .when(&[Is("shape.sides", &["4"]), Lacks(concat!($base, ".across"))])
                .start(Start::Like(concat!($base, ".across"), "\"10 in\"")),
            length(concat!($base, ".depth"), "Depth")
                .when(&[Is("shape.sides", &["4"]), Lacks(concat!($base, ".across"))])
                .start(Start::Like(concat!($base, ".across"), "\"6 in\"")),
            length(concat!($base, ".across"), "Across the flats")
                .when(&[Is(concat!("@", $base, ".round"), &["yes"])])
                .hint("from one side to the one across it; at a corner for an odd number of sides")
                .start(Start::Like(concat!($base, ".length"), "\"8 in\"")),
            length(concat!($base, ".height"), "Height").start(Start::Value("\"3 in\"")),
        ]
    };
}

pub(super) const GROUPS: &[Group] = &[
    group(
        "shape",
        "The box",
        "",
        &[],
        &[
            field("keepwright", "Format", Kind::Version),
            field("name", "Name", Kind::Text),
            field("note", "Note for the cover", Kind::Lines),
            choice("units", "Unit of bare numbers", &[("mm", "millimeters"), ("in", "inches")]),
        ],
    ),
    group(
        "shape",
        "Size",
        "",
        &[],
        &[field("@size", "Size", Kind::OneOf(&SIZE))
            .hint("which of the three is given; the others follow from it")],
    ),
    group("shape", "Outside", "outside", &[Has("size.outside")], three!("size.outside")),
    group("shape", "Inside", "inside", &[Has("size.inside")], three!("size.inside")),
    group(
        "shape",
        "What must go in",
        "",
        &[Has("size.contents")],
        &[
            length("size.contents.slack", "Slack round each thing"),
            length("size.contents.above", "Room above"),
            field("size.contents.item", "Things", Kind::List(&THINGS))
                .hint("different things stand side by side along the box"),
        ],
    ),
    group(
        "shape",
        "Plan and lean",
        "",
        &[],
        &[
            count("shape.sides", "Sides"),
            field("shape.lean_from_vertical", "Lean of the walls", Kind::Degrees)
                .hint("degrees from vertical; above 0 leans outward going up"),
            choice("shape.size_at", "Stated size is", &[("rim", "at the rim"), ("foot", "at the foot")]),
        ],
    ),
    group("shape", "Walls", "wall", &[], &[length("walls.thickness", "Thickness")]),
    group("money", "The batch", "", &[], &[BATCH]),
];

const BATCH: Field = count("count", "Boxes in the batch");
