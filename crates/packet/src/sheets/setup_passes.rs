//! What a set-up's card lists: its passes, stopped cuts, and the pieces to tick off.

use keepwright_model::parts::Role;
use keepwright_model::saw::{Member, Pass, Setup};
use keepwright_model::units::Length;

use super::draft::{Draft, numbers};
use crate::flow::{Block, Table, Words};
use crate::shown::{and, counted};

/// More members than this are ticked off by kind, not one by one.
const MOST_TICKS: usize = 14;
/// So many passes stand beside each other in a table.
const ABREAST: usize = 4;

/// Every pass, where there is more than one.
pub(crate) fn passes(draft: &Draft<'_>, setup: &Setup) -> Vec<Block> {
    let mut out = Vec::new();
    if setup.passes.len() > 1 {
        let lead = format!("**{}**, the guide moved between:", counted(setup.passes.len(), "pass", "passes"));
        out.push(Block::paragraph(&lead));
        out.push(pass_table(draft, &setup.passes));
    }
    let mut own: Vec<(&[Pass], Vec<String>)> = Vec::new();
    for m in setup.members.iter().filter(|m| !m.own_passes.is_empty() && !alike(&m.own_passes, &setup.passes))
    {
        match own.iter_mut().find(|(passes, _)| alike(passes, &m.own_passes)) {
            Some((_, names)) => names.push(label(m)),
            None => own.push((&m.own_passes, vec![label(m)])),
        }
    }
    for (passes, names) in own {
        if let [one] = passes {
            let at = draft.show.both(one.distance);
            out.push(Block::paragraph(&format!("**{}:** guide to blade {at}.", short(&names))));
            continue;
        }
        out.push(Block::paragraph(&format!("**{}:**", short(&names))));
        out.push(pass_table(draft, passes));
    }
    let stopped: Vec<String> = setup
        .members
        .iter()
        .filter_map(|m| m.stopped.map(|(a, b)| (label(m), a, b)))
        .map(|(name, a, b)| format!("{name} from {} to {}", draft.show.both(a), draft.show.both(b)))
        .collect();
    if !stopped.is_empty() {
        out.push(Block::paragraph(&format!("**Stopped**, between marks: {}.", stopped.join("; "))));
    }
    out
}

/// Whether two lists of passes set the same.
fn alike(a: &[Pass], b: &[Pass]) -> bool {
    let same = |(x, y): (&Pass, &Pass)| x.distance.same(y.distance) && x.height.same(y.height);
    a.len() == b.len() && a.iter().zip(b).all(same)
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

fn label(m: &Member) -> String {
    let turned = if m.turned && !m.at.contains("turned") { ", turned end for end" } else { "" };
    if m.at.is_empty() || m.at == "blank" {
        format!("{}{turned}", m.name)
    } else {
        format!("{}, {}{turned}", m.name, m.at)
    }
}

/// Boxes to tick: the test piece first, then every member, or every kind where there are many.
pub(crate) fn ticks(draft: &Draft<'_>, setup: &Setup) -> Vec<String> {
    let mut ticks = Vec::new();
    if setup.test_piece {
        ticks.push("test piece, measured".to_owned());
    }
    let times = |n: u32| if n > 1 { format!(" × {n}") } else { String::new() };
    if setup.members.len() <= MOST_TICKS {
        ticks.extend(setup.members.iter().map(|m| format!("{}{}", label(m), times(m.count))));
        return ticks;
    }
    let mut kinds: Vec<(String, u32)> = Vec::new();
    for m in &setup.members {
        let role = m.part.and_then(|id| draft.part(id)).map(|p| p.role);
        let name = match role {
            // Walls and frame members have names that a maker knows them by.
            Some(Role::Wall | Role::FrameMember) | None => m.name.clone(),
            Some(role) => role.words().to_owned(),
        };
        match kinds.iter_mut().find(|(have, _)| *have == name) {
            Some((_, count)) => *count += m.count,
            None => kinds.push((name, m.count)),
        }
    }
    ticks.extend(kinds.into_iter().map(|(name, count)| format!("{name}{}", times(count))));
    ticks
}
