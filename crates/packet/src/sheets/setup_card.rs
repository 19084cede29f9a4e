//! One set-up's card: what is set, how the work lies, what is cut, and what this very cut asks for.

use keepwright_model::caution::{Caution, Weight};
use keepwright_model::parts::Machine;
use keepwright_model::saw::{Cutter, Guide, Lean, Offcut, Placement, Setup, Surface, Teeth};
use keepwright_model::units::{Length, LengthUnit};

use super::draft::{Draft, numbers};
use super::setup_passes::{passes, ticks};
use super::setups::Letters;
use crate::drawing::Drawing;
use crate::flow::{self, Block, Card, Column, Setting, Table, Words};
use crate::shown::{Showing, and, angle, capital};

/// The last sentence of the saw's cautions; the sheet says it once for all cards.
const MANUAL: &str = " Your machine's manual";

/// The card of one set-up.
pub(super) fn card(draft: &Draft<'_>, index: usize, setup: &Setup, letters: &Letters<'_>) -> Card {
    let mut blocks = passes(draft, setup);
    blocks.extend(grave(&draft.show, &[setup], letters));
    Card {
        title: capital(setup.purpose.words()),
        under: format!("set-up {} of {} · {}", index + 1, draft.plan.saw.setups.len(), with(draft, setup)),
        settings: settings(draft, setup),
        drawing: sketch(draft, index, setup),
        halves: words(setup, &[setup], letters),
        blocks,
        ticks: ticks(draft, setup),
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
            row.push(Words::plain(ticks(draft, s).join(", ")));
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
            with(draft, first)
        ),
        settings: Vec::new(),
        drawing: None,
        halves: words(first, &all, letters),
        blocks,
        ticks: (0..setups.len()).map(|i| format!("{}", index + i + 1)).collect(),
    }
}

/// Machine and cutter.
pub(crate) fn with(draft: &Draft<'_>, setup: &Setup) -> String {
    format!("{}{}", machine(setup.machine), cutter(&draft.show, setup.cutter))
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
    [left, [said(lies(first)), said(holds(first))].into_iter().flatten().collect()]
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

/// A length as a setting: the shop's unit big, the other one beside it.
pub(super) fn setting(show: &Showing, name: &str, length: Length, remark: &str) -> Setting {
    let remark = if remark.is_empty() { String::new() } else { format!(", {remark}") };
    let (value, unit) = match show.shown.unit {
        LengthUnit::Inch => (show.length(length), format!("{}{remark}", show.other(length))),
        LengthUnit::Millimeter => (show.bare(length), format!("mm · {}{remark}", show.other(length))),
    };
    Setting::new(name, value, unit)
}

pub(crate) const fn machine(machine: Machine) -> &'static str {
    match machine {
        Machine::TableSaw => "table saw",
        Machine::BandSaw => "bandsaw",
        Machine::RouterTable => "router table",
        Machine::Planer => "jointer and planer",
        Machine::Drill => "drill",
        Machine::HandTools => "by hand",
    }
}

fn cutter(show: &Showing, cutter: Cutter) -> String {
    match cutter {
        Cutter::Blade { kerf, teeth } => {
            let teeth = match teeth {
                Teeth::FlatTop => "flat-top".to_owned(),
                Teeth::AlternateBevel(bevel) => format!("alternate-bevel ({})", angle(bevel)),
            };
            format!(", {teeth} blade, kerf {}", show.both(kerf))
        }
        Cutter::Band(kerf) => format!(", kerf {}", show.both(kerf)),
        Cutter::StraightBit(diameter) => format!(", straight bit {}", show.both(diameter)),
        Cutter::ChamferBit => ", 45° chamfer bit".into(),
        Cutter::RoundBit(radius) => format!(", round-over bit, radius {}", show.both(radius)),
        Cutter::Knives | Cutter::Hand => String::new(),
    }
}

pub(crate) fn settings(draft: &Draft<'_>, setup: &Setup) -> Vec<Setting> {
    let show = &draft.show;
    let mut all = Vec::new();
    if let Some(distance) = setup.distance().filter(|d| d.to_mm().abs() > 1e-9) {
        let (name, remark) = guide(setup);
        if distance.to_mm() < 0.0 {
            all.push(setting(show, "blade inside the auxiliary fence by", -distance, remark));
        } else {
            all.push(setting(show, &name, distance, remark));
        }
    }
    for stop in &setup.more_stops {
        all.push(setting(show, "another stop at", *stop, ""));
    }
    if let Some(height) = setup.height().filter(|h| h.to_mm() > 1e-9) {
        all.push(setting(show, height_name(setup), height, ""));
    }
    if matches!(setup.cutter, Cutter::Blade { .. }) {
        let leans = match setup.lean {
            Lean::Upright => "blade upright",
            Lean::Away => "the blade leans away from the guide",
            Lean::Toward => "the blade leans toward the guide",
        };
        all.push(Setting::new("tilt", angle(setup.tilt), leans));
        if setup.gauge.to_degrees().abs() > 1e-6 || matches!(setup.guide, Guide::Stop | Guide::Mark) {
            let says = if setup.gauge.to_degrees().abs() < 1e-6 {
                "from square: gauge square"
            } else if setup.gauge.to_degrees() > 0.0 {
                "from square, the longer edge on it"
            } else {
                "from square, the shorter edge on it"
            };
            all.push(Setting::new("gauge", angle(setup.gauge.abs()), says));
        }
    }
    all
}

const fn height_name(setup: &Setup) -> &'static str {
    match setup.machine {
        Machine::Planer => "thickness",
        Machine::BandSaw => "height of the stock",
        Machine::RouterTable => "bit height",
        Machine::TableSaw | Machine::Drill | Machine::HandTools => "blade height",
    }
}

/// What the distance is measured from, and on which side that stands.
fn guide(setup: &Setup) -> (String, &'static str) {
    let side = setup.side.words();
    let remark = if side == "left" { "left of the blade" } else { "right of the blade" };
    let remark = if setup.machine == Machine::TableSaw { remark } else { "" };
    let cutter = match setup.machine {
        Machine::RouterTable => "bit",
        _ => "blade",
    };
    let name = match setup.guide {
        Guide::CradleStop => "cradle stop to blade".to_owned(),
        Guide::FingerPin => "pin to blade".to_owned(),
        other => format!("{} to {cutter}", other.words()),
    };
    (name, remark)
}

/// How the work lies, in a sentence for each different way.
pub(crate) fn lies(setup: &Setup) -> String {
    let mut ways: Vec<(Placement, Vec<&str>)> = Vec::new();
    for m in &setup.members {
        let Some(p) = m.placement else { continue };
        match ways.iter_mut().find(|(have, _)| *have == p) {
            Some((_, names)) => {
                if !names.contains(&m.at.as_str()) {
                    names.push(&m.at);
                }
            }
            None => ways.push((p, vec![&m.at])),
        }
    }
    let one = ways.len() == 1;
    let said: Vec<String> = ways
        .iter()
        .map(|(p, at)| {
            let which = if one { String::new() } else { format!("{}: ", and(at)) };
            format!("{which}{}", way(setup.guide, *p))
        })
        .collect();
    if said.is_empty() { String::new() } else { format!("**Work lies** {}.", said.join("; ")) }
}

fn way(guide: Guide, p: Placement) -> String {
    let name = |s: Surface| s.words();
    match guide {
        Guide::Fence => {
            format!("{} down, {} along the fence, {} trailing", name(p.down), name(p.toward), name(p.pushed))
        }
        Guide::Stop | Guide::FingerPin => format!(
            "{} down, {} against the gauge, {} at the {}",
            name(p.down),
            name(p.pushed),
            name(p.toward),
            if guide == Guide::Stop { "stop" } else { "pin" }
        ),
        Guide::CradleStop => format!("corner down in the cradle, {} on the stop", name(p.toward)),
        Guide::Mark | Guide::Free => format!("{} down, {} against the gauge", name(p.down), name(p.pushed)),
    }
}

/// What holds it and where the offcut goes.
pub(crate) fn holds(setup: &Setup) -> String {
    let mut said = Vec::new();
    let by: Vec<&str> = setup.holding.iter().map(|h| h.words()).collect();
    if !by.is_empty() {
        said.push(format!("**Held by** {}.", and(&by)));
    }
    match setup.offcut {
        Offcut::None => {}
        Offcut::FreeSide(side) => said.push(format!("**The offcut** falls free on the {}.", side.words())),
        Offcut::SkinHeld => said.push("**The offcut** stays held by a skin, knifed through by hand.".into()),
        Offcut::Kept => said.push("**Both halves** are kept.".into()),
    }
    said.join(" ")
}
