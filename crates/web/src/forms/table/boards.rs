//! How the walls come out of the stock.

use crate::forms::field::{Cond::Is, Group, Kind, choice, field, group, length};

pub(super) const GROUPS: &[Group] = &[group(
    "boards",
    "How the walls come out of the stock",
    "walls",
    &[],
    &[
        choice(
            "walls.from",
            "From",
            &[
                ("one strip", "one strip, end to end"),
                ("bookmatched pair", "a resawn, bookmatched pair"),
                ("loose boards", "loose boards"),
            ],
        ),
        choice(
            "walls.ends",
            "Ends",
            &[
                ("mitered from strip", "mitered straight from the strip"),
                ("square first", "crosscut square, then mitered"),
            ],
        ),
        length("walls.square_trim", "Trim at each end").when(&[Is("walls.ends", &["square first"])]),
        field("walls.closing_corner", "Closing corner", Kind::Corner)
            .hint("where the figure does not run on; on any box also its number from 1"),
    ],
)];
