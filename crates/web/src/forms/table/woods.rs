//! The woods of the walls and of what is joined to them.

use crate::forms::field::{Cond::Is, Group, Start, group, rings, wood};

/// What a panel is made of: solid wood, strips, a sheet, a veneered sheet.
macro_rules! made_of {
    (pull) => {
        &[
            $crate::forms::field::field("@pull.made", "Made of", $crate::forms::field::Kind::OneOf(
                &$crate::forms::field::one_of(
                    "",
                    &[
                        $crate::forms::field::way("solid", "solid wood", "pull.wood", $crate::forms::field::Start::Nothing),
                        $crate::forms::field::way("strips", "strips side by side", "pull.strips", $crate::forms::field::Start::Value("[{ width = \"1/4 in\" }]")),
                    ],
                    0,
                ),
            )),
            $crate::forms::field::wood("pull.wood", "Wood").when(&[$crate::forms::field::Cond::Is("@pull.made", &["solid"])]),
            $crate::forms::field::rings("pull.rings", "Rings").when(&[$crate::forms::field::Cond::Is("@pull.made", &["solid"])]),
            made_of!(strips "pull"),
        ]
    };
    (strips $base:literal) => {
        $crate::forms::field::field(concat!($base, ".strips"), "Strips", $crate::forms::field::Kind::List(
            &$crate::forms::field::List {
                one: "strip",
                many: "strips",
                fresh: "{ width = \"1/2 in\" }",
                fields: &[
                    $crate::forms::field::wood(concat!($base, ".strips.*.wood"), "Wood").row("strips.wood"),
                    $crate::forms::field::rings(concat!($base, ".strips.*.rings"), "Rings").row("strips.rings"),
                    $crate::forms::field::length(concat!($base, ".strips.*.width"), "Width")
                        .row("strips.width")
                        .start($crate::forms::field::Start::Value("\"1/2 in\"")),
                ],
            },
        ))
        .when(&[$crate::forms::field::Cond::Has(concat!($base, ".strips"))])
        .hint("side by side, repeated until the width is filled")
    };
    (ways $base:literal, $usual:literal, $wood:expr, $sheet:expr) => {
        &$crate::forms::field::one_of(
            "",
            &[
                $crate::forms::field::way("solid", "solid wood", concat!($base, ".wood"), $wood),
                $crate::forms::field::way("strips", "strips side by side", concat!($base, ".strips"), $crate::forms::field::Start::Value("[{ width = \"1 in\" }]")),
                $crate::forms::field::way("sheet", "a sheet", concat!($base, ".sheet"), $sheet),
                $crate::forms::field::way("veneered", "a veneered sheet", concat!($base, ".veneered"), $crate::forms::field::Start::Value("{}")),
            ],
            $usual,
        )
    };
    (all $base:literal, $ways:expr) => {
        &[
            $crate::forms::field::field(concat!("@", $base, ".made"), "Made of", $crate::forms::field::Kind::OneOf($ways)),
            $crate::forms::field::wood(concat!($base, ".wood"), "Wood").when(&[$crate::forms::field::Cond::Is(concat!("@", $base, ".made"), &["solid"])]),
            $crate::forms::field::rings(concat!($base, ".rings"), "Rings").when(&[$crate::forms::field::Cond::Is(concat!("@", $base, ".made"), &["solid"])]),
            made_of!(strips $base),
            $crate::forms::field::field(concat!($base, ".sheet"), "Sheet", $crate::forms::field::Kind::Sheet)
                .when(&[$crate::forms::field::Cond::Is(concat!("@", $base, ".made"), &["sheet"])])
                .hint("plywood and the like, by its name"),
            $crate::forms::field::field(concat!($base, ".veneered.core"), "Core", $crate::forms::field::Kind::Sheet)
                .when(&[$crate::forms::field::Cond::Has(concat!($base, ".veneered"))])
                .row("veneered.core").hint("the sheet between the veneers"),
            $crate::forms::field::wood(concat!($base, ".veneered.wood"), "Veneer")
                .when(&[$crate::forms::field::Cond::Has(concat!($base, ".veneered"))])
                .row("veneered.wood"),
            $crate::forms::field::rings(concat!($base, ".veneered.rings"), "Rings of the veneer")
                .when(&[$crate::forms::field::Cond::Has(concat!($base, ".veneered"))])
                .row("veneered.rings"),
            $crate::forms::field::length(concat!($base, ".veneered.veneer"), "Thickness of the veneer")
                .when(&[$crate::forms::field::Cond::Has(concat!($base, ".veneered"))])
                .row("veneered.veneer"),
        ]
    };
    ($base:literal, "sheet") => {
        made_of!(all $base, made_of!(
            ways $base, 2,
            $crate::forms::field::Start::Like("walls.wood", "\"cherry\""),
            $crate::forms::field::Start::Nothing
        ))
    };
    ($base:literal, "solid") => {
        made_of!(all $base, made_of!(
            ways $base, 0,
            $crate::forms::field::Start::Nothing,
            $crate::forms::field::Start::Value("\"baltic_birch\"")
        ))
    };
}
pub(super) use made_of;

pub(super) const GROUPS: &[Group] = &[
    group(
        "woods",
        "Walls",
        "wall",
        &[],
        &[wood("walls.wood", "Wood").start(Start::Value("\"cherry\"")), rings("walls.rings", "Rings")],
    ),
    group("woods", "Bottom", "bottom", &[], made_of!("bottom", "sheet")),
    group(
        "woods",
        "Keys or tongue",
        "key",
        &[Is("corners.joint", &["keyed miter", "loose tongue"])],
        &[wood("corners.wood", "Wood"), rings("corners.rings", "Rings")],
    ),
];
