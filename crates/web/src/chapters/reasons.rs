//! Where the numbers come from: each reason of a plan with its formula, this box's values and its source.

use super::in_address;
use keepwright_model::job::Plan;
use keepwright_model::reason::Reason;
use keepwright_packet::chapters::Chapter;
use keepwright_packet::shown::{Showing, capital};

/// Reasons under one heading.
#[derive(Clone, Debug)]
pub(crate) struct Group {
    /// The heading.
    pub(crate) title: String,
    /// What stands under it.
    pub(crate) lines: Vec<Line>,
}

/// A number that can be asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    /// Its key as a part of an address.
    pub(crate) key: String,
    /// What it is.
    pub(crate) title: String,
    /// The number.
    pub(crate) result: String,
}

/// A reason in full.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Why {
    /// What the number is.
    pub(crate) title: String,
    /// How it is worked out, in trade words.
    pub(crate) formula: String,
    /// Names and values that were put in.
    pub(crate) given: Vec<(String, String)>,
    /// The number.
    pub(crate) result: String,
    /// Where the rule comes from.
    pub(crate) basis: String,
}

/// The first word of a key.
fn first(reason: &Reason) -> &str {
    reason.key.split('.').next().unwrap_or(&reason.key)
}

/// The words of a group, by the first word of its keys.
fn heading(first: &str) -> String {
    let said = match first {
        "setup" => "each set-up",
        "saw" => "all set-ups",
        "run" => "the strip",
        "blank" => "the blanks",
        "season" => "the year",
        "fit" => "the walls' fit",
        "lid_fit" => "the lid frame's fit",
        "key" | "keys" | "lid_key" => "the keys",
        "shop" => "what the shop states",
        other => return capital(&other.replace('_', " ")),
    };
    capital(said)
}

/// The reasons of a chapter, grouped by the first word of their keys.
pub(super) fn groups(plan: &Plan, chapter: Chapter) -> Vec<Group> {
    let show = Showing::of(plan);
    let mut groups: Vec<Group> = Vec::new();
    for reason in plan.reasons.iter().filter(|r| Chapter::of_reason(r) == chapter) {
        let title = heading(first(reason));
        let line = Line {
            key: in_address(&reason.key),
            title: match setup_number(&reason.key) {
                Some(number) => format!("set-up {number}, {}", reason.title),
                None => reason.title.clone(),
            },
            result: show.value(&reason.result),
        };
        match groups.iter_mut().find(|g| g.title == title) {
            Some(group) => group.lines.push(line),
            None => groups.push(Group { title, lines: vec![line] }),
        }
    }
    groups
}

/// The number in `setup.12.saw.rip.height`.
fn setup_number(key: &str) -> Option<&str> {
    key.strip_prefix("setup.")?.split('.').next()
}

/// Every reason of a key, for keys may stand several times where a box has several of a thing.
pub(crate) fn whys(plan: &Plan, key: &str) -> Vec<Why> {
    let show = Showing::of(plan);
    let full = |reason: &Reason| Why {
        title: capital(&reason.title),
        formula: reason.formula.clone(),
        given: reason.given.iter().map(|g| (g.name.clone(), show.value(&g.value))).collect(),
        result: show.value(&reason.result),
        basis: reason.basis.to_string(),
    };
    plan.reasons.iter().filter(|r| r.key == key).map(full).collect()
}
