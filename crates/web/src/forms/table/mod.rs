//! Every field of a statement, by the chapter of a box in which it is changed.

mod boards;
mod finish;
mod inside;
mod joints;
mod lid;
mod shape;
mod woods;

use super::field::{Field, Group, Kind};
use std::sync::OnceLock;

/// Every group, in the order in which its chapter shows it.
pub(crate) static GROUPS: &[&[Group]] = &[
    shape::GROUPS,
    lid::SHAPE,
    inside::GROUPS,
    woods::GROUPS,
    lid::WOODS,
    boards::GROUPS,
    joints::GROUPS,
    lid::JOINTS,
    finish::GROUPS,
];

/// Every group.
pub(crate) fn groups() -> impl Iterator<Item = &'static Group> {
    GROUPS.iter().flat_map(|groups| groups.iter())
}

/// Every field with its group, those of list items after their list.
pub(crate) fn all() -> impl Iterator<Item = (&'static Group, &'static Field)> + Clone {
    static ALL: OnceLock<Vec<(&'static Group, &'static Field)>> = OnceLock::new();
    let all = ALL.get_or_init(|| {
        let mut all = Vec::new();
        for group in groups() {
            let mut fields = Vec::new();
            gather(group.fields, &mut fields);
            all.extend(fields.into_iter().map(|field| (group, field)));
        }
        all
    });
    all.iter().copied()
}

fn gather(fields: &'static [Field], found: &mut Vec<&'static Field>) {
    for field in fields {
        found.push(field);
        if let Kind::List(list) = field.kind {
            gather(list.fields, found);
        }
    }
}

/// The fields that a key pattern has: more than one where the same key means something else with another choice.
pub(crate) fn of(pattern: &str) -> impl Iterator<Item = (&'static Group, &'static Field)> + Clone + use<'_> {
    all().filter(move |(_, field)| field.key == pattern)
}
