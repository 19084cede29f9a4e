//! The cards of a box in the order of the work.

use super::card::Card;
use super::setup;
use super::steps::Steps;
use keepwright_model::job::Plan;
use keepwright_model::parts::{PartId, Role};
use keepwright_model::saw::{Purpose, Setup, Stage as Of};
use keepwright_model::shop::finish::Side;
use keepwright_model::shop::glue::{GlueUp, Stage, StageKind};
use keepwright_model::shop::sanding::When;

/// Every card, numbered. Cards alike in all are told apart by their number in the key.
pub(crate) fn deck(plan: &Plan) -> Vec<Card> {
    let mut cards = in_order(plan);
    for at in 0..cards.len() {
        let (before, rest) = cards.split_at_mut(at);
        let Some(card) = rest.first_mut() else { continue };
        card.number = at + 1;
        let stem = format!("{}.", card.key);
        let alike = before.iter().filter(|c| c.key == card.key || c.key.starts_with(&stem)).count();
        if alike > 0 {
            card.key = format!("{stem}{}", alike + 1);
        }
    }
    cards
}

/// What stands before which set-up: the set-up's index and a card.
type Places = Vec<(usize, Card)>;

fn in_order(plan: &Plan) -> Vec<Card> {
    let steps = Steps::of(plan);
    let setups = &plan.saw.setups;
    let glued = first_of(setups, |s| s.stage == Of::Assembly);
    let mut before: Places = Vec::new();
    before.extend(steps.settle().map(|card| (first_of(setups, |s| s.stage == Of::Parts), card)));
    let inside = steps.sanding(When::BeforeGlueUp);
    let coats = steps.coats(Side::Inside);
    let mut last = Vec::new();
    // A panel cures for a day: it is glued as soon as its strips are there.
    before.extend(glue_ups(plan, |k| k == StageKind::Panel, |parts, _| after(setups, parts)));
    before.extend(inside.into_iter().map(|card| (glued, card)));
    if plan.statement.finish.inside_first {
        before.extend(coats.into_iter().map(|card| (glued, card)));
    } else {
        last.extend(coats);
    }
    let standing = |kind| matches!(kind, StageKind::Ring | StageKind::Added);
    before.extend(glue_ups(plan, standing, |parts, _| after(setups, parts).max(glued)));
    let slots = first_of(setups, |s| s.purpose == Purpose::KeySlot);
    before.extend(plan.cradle.iter().map(|c| (slots, steps.cradle(c))));
    before.extend(plan.keys.iter().map(|k| (slots, steps.keys(k))));
    before.extend(glue_ups(plan, |k| k == StageKind::Keys, |_, name| slotted(setups, name)));
    before.extend(
        plan.lid_card.iter().map(|c| (first_of(setups, |s| s.purpose == Purpose::SawOff), steps.lid(c))),
    );
    // The sort keeps the order of cards that stand before the same set-up.
    before.sort_by_key(|(at, _)| *at);
    let mut cards = Vec::with_capacity(setups.len() + before.len() + 8);
    let mut waiting = before.into_iter().peekable();
    for (index, setup) in setups.iter().enumerate() {
        while let Some((_, card)) = waiting.next_if(|(at, _)| *at <= index) {
            cards.push(card);
        }
        cards.push(setup::card(plan, index, setup));
    }
    cards.extend(waiting.map(|(_, card)| card));
    cards.extend(steps.sanding(When::AfterGlueUp));
    cards.extend(last);
    cards.extend(steps.coats(Side::Outside));
    cards
}

/// The index of the first set-up like this; past the last where there is none.
fn first_of(setups: &[Setup], like: impl Fn(&Setup) -> bool) -> usize {
    setups.iter().position(like).unwrap_or(setups.len())
}

/// Cards of glue-ups of a kind, each placed by the parts that it glues and the assembly's name. Of one glue-up no stage
/// stands before an earlier one.
fn glue_ups(
    plan: &Plan,
    kind: impl Fn(StageKind) -> bool,
    place: impl Fn(&[PartId], &str) -> usize,
) -> Places {
    let steps = Steps::of(plan);
    let of = |up: &GlueUp| {
        let mut least = 0;
        let mut placed = Vec::new();
        for stage in up.stages.iter().filter(|s| kind(s.kind)) {
            least = place(&glued_parts(plan, stage), &up.name).max(least);
            placed.push((least, steps.glue(stage)));
        }
        placed
    };
    plan.glue.iter().flat_map(of).collect()
}

/// The parts that a stage glues or lets in, keys aside: these are cut beside the rest.
fn glued_parts(plan: &Plan, stage: &Stage) -> Vec<PartId> {
    let joints = stage.joints.iter().filter_map(|j| plan.parts.joints.get(*j));
    let all = joints.flat_map(|j| [j.a, j.b]).chain(stage.dry.iter().copied());
    all.filter(|id| plan.parts.parts.get(id.0).is_some_and(|p| p.role != Role::Key)).collect()
}

/// Past the last set-up, before anything is glued up, that cuts one of the parts.
fn after(setups: &[Setup], parts: &[PartId]) -> usize {
    let cuts = |s: &Setup| {
        s.stage != Of::Assembly && s.members.iter().any(|m| m.part.is_some_and(|id| parts.contains(&id)))
    };
    setups.iter().rposition(cuts).map_or(0, |at| at + 1)
}

/// Past the last key slots of an assembly.
fn slotted(setups: &[Setup], assembly: &str) -> usize {
    let cuts = |s: &Setup| s.purpose == Purpose::KeySlot && s.members.iter().any(|m| m.name == assembly);
    setups.iter().rposition(cuts).map_or(setups.len(), |at| at + 1)
}
