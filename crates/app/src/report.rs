//! How cautions and refusals are set out: the one place that prints them.

use crate::columns::paragraph;
use crate::failure::Failure;
use crate::input::Source;
use crate::show::{Show, count_of};
use keepwright_model::caution::{Caution, Weight};
use keepwright_model::design::{Problem, locate};
use keepwright_model::job::Plan;
use std::cmp::Reverse;
use std::fmt::Write as _;

/// The weights, gravest first.
const WEIGHTS: [Weight; 3] = [Weight::Cannot, Weight::LikelyToFail, Weight::WorthKnowing];

/// Cautions, each with weight, place, words, numbers, source and change.
pub(crate) fn cautions(cautions: &[Caution], show: &Show) -> String {
    let mut out = String::new();
    for caution in cautions {
        let head = format!("{}: {} [{}]", caution.weight.words(), caution.place, caution.code);
        out.push_str(&paragraph(&head, 2));
        out.push_str(&paragraph(&caution.says, 6));
        if !caution.numbers.is_empty() {
            let numbers: Vec<String> =
                caution.numbers.iter().map(|g| format!("{} {}", g.name, show.value(&g.value))).collect();
            out.push_str(&paragraph(&format!("numbers: {}", numbers.join("; ")), 6));
        }
        out.push_str(&paragraph(&format!("why: {}", caution.basis), 6));
        if let Some(change) = &caution.change {
            out.push_str(&paragraph(&format!("change: {}", change.says), 6));
            for set in &change.sets {
                // Not folded: this is text to copy.
                let _ = writeln!(out, "        {} = {}", set.key, set.value);
            }
        }
    }
    out
}

/// Everything to know before wood is cut, gravest first: the plan's own cautions, and what its set-ups call likely to
/// fail or graver, each kind once. What is only worth knowing at the saw stands on the set-ups' cards.
pub(crate) fn to_know(plan: &Plan) -> Vec<Caution> {
    let mut all = plan.cautions.clone();
    let at_the_saw =
        plan.saw.setups.iter().flat_map(|s| &s.cautions).filter(|c| c.weight >= Weight::LikelyToFail);
    for caution in at_the_saw {
        if !all.iter().any(|c| c.code == caution.code) {
            all.push(caution.clone());
        }
    }
    all.sort_by_key(|c| Reverse(c.weight));
    all
}

/// How many cautions there are of each weight, in a sentence.
pub(crate) fn tally(cautions: &[Caution]) -> String {
    if cautions.is_empty() {
        return "no cautions".to_owned();
    }
    let counts: Vec<String> = WEIGHTS
        .iter()
        .filter_map(|w| {
            let n = cautions.iter().filter(|c| c.weight == *w).count();
            (n > 0).then(|| format!("{n} {}", w.words()))
        })
        .collect();
    format!("{}: {}", count_of(cautions.len(), "caution"), counts.join(", "))
}

/// A refusal that belongs to a key of a file, pointed at where the key stands.
pub(crate) fn at_key(source: &Source, found: &[(String, String, String)]) -> Failure {
    let problems: Vec<Problem> = found
        .iter()
        .map(|(key, says, remedy)| Problem {
            span: locate(&source.text, key),
            key: key.clone(),
            says: says.clone(),
            remedy: remedy.clone(),
        })
        .collect();
    source.problems(&problems)
}
