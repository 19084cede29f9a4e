//! The set-ups in their order, each on its card, and the card for sawing a lid off.

use keepwright_model::saw::{LidCard, LidOrder, Stage};

use super::draft::{Chapter, Draft, title};
use super::setup_card;
use crate::document::Sheet;
use crate::flow::{Block, Card, Words};
use crate::shown::{counted, minutes, percent};

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let mut blocks = vec![title("Set-ups"), Block::Lead(Words::marked(&lead(draft)))];
    blocks.push(Block::note(
        "Machine off and unplugged while blade, fence or jig is set; guard and riving knife on wherever the cut allows; the \
         machine's manual comes before this card. A test piece of the same thickness goes first wherever a box says so.",
    ));
    let setups = &draft.plan.saw.setups;
    for (stage, heading) in [
        (Stage::Stock, "From boards to blanks"),
        (Stage::Parts, "From blanks to parts"),
        (Stage::Assembly, "On the glued box"),
    ] {
        let mut first = true;
        for (i, setup) in setups.iter().enumerate().filter(|(_, s)| s.stage == stage) {
            if first {
                blocks.push(Block::Heading(heading.into()));
                first = false;
            }
            blocks.push(Block::Card(setup_card::card(draft, i, setup)));
        }
        if stage == Stage::Assembly {
            blocks.extend(draft.plan.lid_card.as_ref().map(|c| Block::Card(lid(draft, c))));
        }
    }
    blocks.extend(draft.cautions(Chapter::Setups));
    Sheet::new("Set-ups", blocks)
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
fn lid(draft: &Draft<'_>, card: &LidCard) -> Card {
    let show = &draft.show;
    let set = |name: &str, l| setup_card::setting(show, name, l, "");
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

