//! What a set-up's card lists on paper: its passes and stopped cuts.

use keepwright_model::saw::{Pass, Setup};
use keepwright_model::units::Length;

use super::draft::{Draft, numbers};
use crate::flow::{Block, Table, Words};
use crate::setup_words::{pass_lists, stopped};
use crate::shown::{and, counted};

/// So many passes stand beside each other in a table.
const ABREAST: usize = 4;

/// Every pass, where there is more than one, and the marks of stopped cuts.
pub(crate) fn passes(draft: &Draft<'_>, setup: &Setup) -> Vec<Block> {
    let mut out = Vec::new();
    for list in pass_lists(setup) {
        match (list.of.as_slice(), list.passes.as_slice()) {
            ([], all) => {
                let lead = format!("**{}**, the guide moved between:", counted(all.len(), "pass", "passes"));
                out.push(Block::paragraph(&lead));
                out.push(pass_table(draft, all));
            }
            (names, [one]) => {
                let at = draft.show.both(one.distance);
                out.push(Block::paragraph(&format!("**{}:** guide to blade {at}.", short(names))));
            }
            (names, all) => {
                out.push(Block::paragraph(&format!("**{}:**", short(names))));
                out.push(pass_table(draft, all));
            }
        }
    }
    let stopped = stopped(&draft.show, setup);
    if !stopped.is_empty() {
        out.push(Block::paragraph(&format!("**Stopped**, between marks: {}.", stopped.join("; "))));
    }
    out
}

/// Names in a row, or how many they are.
fn short(names: &[String]) -> String {
    match names {
        [first, .., last] if names.len() > 5 => {
            format!("{} ({first} … {last})", counted(names.len(), "piece", "pieces"))
        }
        _ => and(names),
    }
}

fn pass_table(draft: &Draft<'_>, passes: &[Pass]) -> Block {
    let show = &draft.show;
    let first = passes.first().map_or(Length::ZERO, |p| p.height);
    let same_height = passes.iter().all(|p| p.height.same(first));
    let both = |l: Length| Words::bold(show.bare(l)).and(format!("\u{a0}\u{a0}{}", show.bare_other(l)));
    let units = format!("{}  {}", show.unit(), show.other_unit());
    let abreast = if same_height { ABREAST.min(passes.len()) } else { 2.min(passes.len()) };
    let long = passes.len().div_ceil(abreast.max(1));
    let cells = |i: usize| -> Vec<Words> {
        let Some(p) = passes.get(i) else {
            return vec![Words::default(); if same_height { 2 } else { 3 }];
        };
        let mut row = vec![Words::plain((i + 1).to_string()), both(p.distance)];
        if !same_height {
            row.push(both(p.height));
        }
        row
    };
    let rows = (0..long).map(|r| (0..abreast).flat_map(|c| cells(c * long + r)).collect()).collect();
    let columns = (0..abreast)
        .flat_map(|_| {
            let mut of = vec![numbers("pass"), numbers(units.clone())];
            if !same_height {
                of.push(numbers(format!("height, {units}")));
            }
            of
        })
        .collect();
    Block::Table(Table::new(columns, rows))
}
