//! The finish.

use crate::forms::field::{Cond::Not, Group, Kind, choice, count, field, group};

const FINISHES: &[(&str, &str)] = &[
    ("none", "none: bare wood"),
    ("oil", "oil"),
    ("wax", "wax"),
    ("oil and wax", "oil and wax"),
    ("shellac", "shellac"),
    ("wiping varnish", "wiping varnish"),
    ("water borne", "water-borne"),
];

pub(super) const GROUPS: &[Group] = &[
    group(
        "finish",
        "Outside",
        "outside finish",
        &[],
        &[
            choice("finish.outside.kind", "Finish", FINISHES).row("finish.outside"),
            count("finish.outside.coats", "Coats").when(&[Not("finish.outside.kind", &["none"])]),
        ],
    ),
    group(
        "finish",
        "Inside",
        "inside finish",
        &[],
        &[
            choice("finish.inside.kind", "Finish", FINISHES).row("finish.inside"),
            count("finish.inside.coats", "Coats")
                .when(&[Not("finish.inside.kind", &["none"])])
                .row("finish.outside.coats"),
            field("finish.inside_first", "Inside before glue-up", Kind::Flag),
        ],
    ),
];
