//! The set-ups in their order, each on its card, and the card for sawing a lid off.

use keepwright_model::caution::Caution;
use keepwright_model::saw::{LidCard, LidOrder, Setup, Stage};

use super::draft::{Chapter, Draft, title, under};
use super::setup_card;
use crate::document::Sheet;
use crate::flow::{Block, Card, Words};
use crate::setup_words;
use crate::shown::{and, capital, counted, minutes, percent};

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let mut blocks = vec![title("Set-ups"), Block::Lead(Words::marked(&lead(draft)))];
    blocks.push(Block::note(
        "Machine off and unplugged while blade, fence or jig is set; guard and riving knife on wherever the cut allows. The \
         machine's manual, local rules and trained judgment come before every card. A test piece of the same thickness goes \
         first wherever a box says so.",
    ));
    let letters = Letters::new(draft);
    let setups = &draft.plan.saw.setups;
    let mut at = 0;
    while let Some(setup) = setups.get(at) {
        let alike = setups.iter().skip(at).take_while(|s| gathers(setup, s)).count().max(1);
        let group = setups.get(at..at + alike).unwrap_or_default();
        blocks.push(Block::Card(match group {
            [one] => setup_card::card(draft, at, one, &letters),
            many => setup_card::gathered(draft, at, many, &letters),
        }));
        at += alike;
    }
    blocks.extend(draft.plan.lid_card.as_ref().map(|c| Block::Card(lid(draft, c))));
    blocks.extend(under("What the letters say", letters.blocks()));
    blocks.extend(under("What turning the second of a pair cancels", turning(draft)));
    blocks.extend(draft.cautions(Chapter::Setups));
    Sheet::new("Set-ups", blocks)
}

/// What turning cancels and what it leaves, once for each kind of cut.
pub(crate) fn turning(draft: &Draft<'_>) -> Vec<Block> {
    let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
    for setup in &draft.plan.saw.setups {
        let Some(flip) = setup.flip else { continue };
        let purpose = setup.purpose.words();
        match said.iter_mut().find(|(cancels, _)| *cancels == flip.cancels) {
            Some((_, of)) if !of.contains(&purpose) => of.push(purpose),
            Some(_) => {}
            None => said.push((flip.cancels, vec![purpose])),
        }
    }
    said.iter()
        .map(|(cancels, of)| Block::Note(Words::bold(format!("{}: ", capital(&and(of)))).and(*cancels)))
        .collect()
}

/// Whether set-ups of rough stock stand on one card: the same machine does the same, only the numbers change.
fn gathers(first: &Setup, other: &Setup) -> bool {
    first.stage == Stage::Stock
        && other.stage == Stage::Stock
        && first.purpose == other.purpose
        && first.machine == other.machine
        && first.cutter == other.cutter
        && other.passes.len() == 1
}

/// Cautions of single set-ups by their kind, each with a letter: said in full once, in short on each card.
#[derive(Debug)]
pub(super) struct Letters<'a> {
    kinds: Vec<&'a Caution>,
}

impl<'a> Letters<'a> {
    fn new(draft: &Draft<'a>) -> Self {
        let mut kinds: Vec<&Caution> = Vec::new();
        for caution in draft.plan.saw.setups.iter().flat_map(|s| &s.cautions) {
            if !kinds.iter().any(|k| k.code == caution.code) {
                kinds.push(caution);
            }
        }
        Self { kinds }
    }

    /// The letter of a caution's kind.
    pub(super) fn of(&self, caution: &Caution) -> char {
        let at = self.kinds.iter().position(|k| k.code == caution.code);
        at.and_then(|i| u8::try_from(i).ok()).map_or('A', |i| char::from(b'A'.saturating_add(i.min(25))))
    }

    fn blocks(&self) -> Vec<Block> {
        self.kinds
            .iter()
            .map(|c| {
                let cure = c
                    .change
                    .as_ref()
                    .map_or_else(String::new, |change| format!(" {}.", change.says.trim_end_matches('.')));
                let says = Words::bold(format!("{}  ", self.of(c))).and(format!("{}{cure} ", c.says));
                Block::Paragraph(says.and(format!("({})", c.basis)))
            })
            .collect()
    }
}

fn lead(draft: &Draft<'_>) -> String {
    let saw = &draft.plan.saw;
    let proof = if saw.proven() {
        "no other order takes less".to_owned()
    } else {
        format!("the best order is at most {} shorter", percent(saw.gap()))
    };
    format!(
        "**{}** in this order take **{}** of setting and re-setting; {proof}.",
        counted(saw.setups.len(), "set-up", "set-ups"),
        minutes(saw.minutes)
    )
}

/// How the lid is sawn off: fence, height, order, shims.
pub(crate) fn lid(draft: &Draft<'_>, card: &LidCard) -> Card {
    let show = &draft.show;
    let set = |name: &str, l| setup_words::setting(show, name, l, "");
    let order = match card.order {
        LidOrder::ShortFirst => "short walls first, then the long ones",
        LidOrder::LongFirst => "long walls first, then the short ones with shims in the kerfs",
    };
    Card {
        title: "The lid's saw line".into(),
        under: order.into(),
        settings: vec![
            set("fence to blade, lower edge on the fence", card.fence),
            set("blade height", card.blade),
            set("skin left, knifed through by hand", card.skin),
            set("shims in the cuts made", card.shims),
            set("to clean up on each sawn edge", card.clean_up),
        ],
        blocks: vec![Block::paragraph(card.why)],
        ..Card::default()
    }
}
