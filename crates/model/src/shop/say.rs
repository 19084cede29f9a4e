//! How this room writes reasons and cautions down.

use crate::caution::{Caution, Change, Weight};
use crate::reason::{Basis, Given, Reason, Value};

/// Closes every caution about harm: the program warns and points, it never permits.
pub(super) const FIRST: &str =
    "The product's data sheet, your machine's manual, local rules and trained judgment come first.";

/// A reason; the values are pairs of name and value.
pub(super) fn reason<const N: usize>(
    key: impl Into<String>,
    title: impl Into<String>,
    formula: impl Into<String>,
    given: [(&str, Value); N],
    result: (Value, Basis),
) -> Reason {
    Reason {
        key: key.into(),
        title: title.into(),
        formula: formula.into(),
        given: given.into_iter().map(|(n, v)| Given::new(n, v)).collect(),
        result: result.0,
        basis: result.1,
    }
}

/// A caution; the numbers are pairs of name and value.
pub(super) fn caution<const N: usize>(
    (code, weight): (&'static str, Weight),
    place: impl Into<String>,
    says: impl Into<String>,
    numbers: [(&str, Value); N],
    (basis, change): (Basis, Option<Change>),
) -> Caution {
    Caution {
        code,
        weight,
        place: place.into(),
        says: says.into(),
        numbers: numbers.into_iter().map(|(n, v)| Given::new(n, v)).collect(),
        basis,
        change,
    }
}

/// A plain number with a unit.
pub(super) const fn number(value: f64, decimals: usize, unit: &'static str) -> Value {
    Value::Number { value, decimals, unit }
}

/// What a table's `source` column stands for.
pub(super) fn basis(source: &str) -> Basis {
    match source {
        "fepa" => Basis::Published("FEPA 43 / ISO 6344 grit sizes, as reprinted in trade tables"),
        "handbook" => Basis::FromMemory("Wood Handbook (FPL-GTR-190), ch. 10"),
        "label range" => Basis::Published(
            "range of 300 to 600 sq ft per US gallon and coat printed on labels of varnish and polyurethane",
        ),
        _ => Basis::CommonPractice,
    }
}
