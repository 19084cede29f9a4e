//! One set-up's card: what is set, how the work lies, what is cut, and what this very cut asks for.

use keepwright_model::caution::{Caution, Weight};
use keepwright_model::saw::Setup;
use keepwright_model::units::Length;

use super::draft::{Draft, numbers};
use super::setup_passes::passes;
use super::setups::Letters;
use crate::drawing::Drawing;
use crate::flow::{self, Block, Card, Column, Table, Words};
use crate::setup_words::{guide, height_name, held_by, lies, machine, offcut, settings, ticks, with};
use crate::shown::{Showing, capital};

/// The last sentence of the saw's cautions; the sheet says it once for all cards.
const MANUAL: &str = " Your machine's manual";

/// The card of one set-up.
pub(super) fn card(draft: &Draft<'_>, index: usize, setup: &Setup, letters: &Letters<'_>) -> Card {
    let mut blocks = passes(draft, setup);
    blocks.extend(grave(&draft.show, &[setup], letters));
    Card {
        title: capital(setup.purpose.words()),
        under: format!(
            "set-up {} of {} · {}",
            index + 1,
            draft.plan.saw.setups.len(),
            with(&draft.show, setup)
        ),
        settings: settings(&draft.show, setup),
        drawing: sketch(draft, index, setup),
        halves: words(setup, &[setup], letters),
        blocks,
        ticks: ticks(&draft.plan.parts, setup),
    }
}

/// One card for set-ups of rough stock that differ only in their numbers.
pub(super) fn gathered(draft: &Draft<'_>, index: usize, setups: &[Setup], letters: &Letters<'_>) -> Card {
    let Some(first) = setups.first() else { return Card::default() };
    let all: Vec<&Setup> = setups.iter().collect();
    let show = &draft.show;
    let both = |l: Length| Words::bold(show.bare(l)).and(format!("\u{a0}\u{a0}{}", show.bare_other(l)));
    let units = format!("{}  {}", show.unit(), show.other_unit());
    let across = setups.iter().any(|s| s.distance().is_some_and(|d| d.to_mm().abs() > 1e-9));
    let (guide, _) = guide(first);
    let mut columns = vec![numbers("no.")];
    if across {
        columns.push(numbers(format!("{guide}, {units}")));
    }
    columns.push(numbers(format!("{}, {units}", height_name(first))));
    columns.push(Column::words("pieces"));
    let rows = setups
        .iter()
        .enumerate()
        .map(|(i, s)| {
            let mut row = vec![Words::plain((index + i + 1).to_string())];
            if across {
                row.push(s.distance().map_or_else(Words::default, both));
            }
            row.push(s.height().map_or_else(Words::default, both));
            row.push(Words::plain(ticks(&draft.plan.parts, s).join(", ")));
            row
        })
        .collect();
    let mut blocks = vec![Block::Table(Table::new(columns, rows))];
    blocks.extend(grave(show, &all, letters));
    Card {
        title: capital(first.purpose.words()),
        under: format!(
            "set-ups {} to {} of {} · {}",
            index + 1,
            index + setups.len(),
            draft.plan.saw.setups.len(),
            with(show, first)
        ),
        settings: Vec::new(),
        drawing: None,
        halves: words(first, &all, letters),
        blocks,
        ticks: (0..setups.len()).map(|i| format!("{}", index + i + 1)).collect(),
    }
}

fn sketch(draft: &Draft<'_>, index: usize, setup: &Setup) -> Option<(Drawing, String)> {
    let drawing = draft.drawn.setups.get(index)?.as_ref()?;
    let alt = format!("Sketch of the set-up: {}, {}.", setup.purpose.words(), machine(setup.machine));
    Some((drawing.clone(), alt))
}

/// Under the sketch what is worth knowing and how the second of a pair is turned; under the settings how the work lies
/// and is held.
fn words(first: &Setup, all: &[&Setup], letters: &Letters<'_>) -> [Vec<Block>; 2] {
    let said = |words: String| (!words.is_empty()).then(|| Block::paragraph(&words));
    let mut left: Vec<Block> =
        first.flip.and_then(|f| said(format!("**Turning.** {}", f.says))).into_iter().collect();
    let (mut known, mut brief): (Vec<char>, Words) = (Vec::new(), Words::default());
    let minor = all.iter().flat_map(|s| &s.cautions).filter(|c| c.weight == Weight::WorthKnowing);
    for caution in minor {
        let letter = letters.of(caution);
        if !known.contains(&letter) {
            known.push(letter);
            let space = if brief.is_empty() { "" } else { "  " };
            brief = brief.and(Words::bold(format!("{space}{letter}\u{a0} "))).and(in_short(caution));
        }
    }
    if !brief.is_empty() {
        left.push(Block::Paragraph(brief));
    }
    [left, [said(lying(first)), said(holds(first))].into_iter().flatten().collect()]
}

/// What to do about it, or what it says where there is nothing to do.
pub(crate) fn in_short(caution: &Caution) -> String {
    match &caution.change {
        Some(change) => format!("{}.", change.says.trim_end_matches('.')),
        None => without_manual(&caution.says).to_owned(),
    }
}

pub(crate) fn without_manual(says: &str) -> &str {
    says.split(MANUAL).next().unwrap_or(says)
}

/// The numbers of a caution in a row.
fn how_much(show: &Showing, caution: &Caution) -> Words {
    let each: Vec<String> =
        caution.numbers.iter().map(|n| format!("{} {}", n.name, show.value(&n.value))).collect();
    if each.is_empty() { Words::default() } else { Words::bold(format!("{}. ", capital(&each.join(", ")))) }
}

/// Cautions that weigh more: the numbers, what to do, and the letter under which the sheet says the rest.
fn grave(show: &Showing, all: &[&Setup], letters: &Letters<'_>) -> Vec<Block> {
    let mut codes: Vec<&str> = Vec::new();
    let heavy = all.iter().flat_map(|s| &s.cautions).filter(|c| c.weight > Weight::WorthKnowing);
    let mut out = Vec::new();
    for caution in heavy {
        // On a card of several set-ups one of each kind is enough.
        if !codes.contains(&caution.code) {
            codes.push(caution.code);
            out.push(Block::Caution(flow::Caution {
                weight: caution.weight,
                place: caution.place.clone(),
                says: how_much(show, caution)
                    .and(in_short(caution))
                    .and(format!(" ({})", letters.of(caution))),
                cure: String::new(),
                basis: String::new(),
            }));
        }
    }
    out
}

/// How the work lies, as a sentence.
pub(crate) fn lying(setup: &Setup) -> String {
    let lies = lies(setup);
    if lies.is_empty() { lies } else { format!("**Work lies** {lies}.") }
}

/// What holds it and where the offcut goes, as sentences.
pub(crate) fn holds(setup: &Setup) -> String {
    let by = held_by(setup);
    let mut said = Vec::new();
    if !by.is_empty() {
        said.push(format!("**Held by** {by}."));
    }
    said.extend(offcut(setup).map(|(what, goes)| format!("**{what}** {goes}.")));
    said.join(" ")
}
