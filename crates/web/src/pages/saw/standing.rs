//! How the ticks of a box stand on its cards: those made for the present settings are set; those made for others are
//! told, never set.

use super::card::Card;
use keepwright_packet::shown::and;
use keepwright_store::{Mark, PlanTick};

/// Sets the ticks on their cards, and says on a card what was ticked for other settings; gives back the words for ticks
/// of cards that are no longer in the plan.
pub(crate) fn put(cards: &mut [Card], ticks: &[PlanTick]) -> String {
    for card in cards.iter_mut() {
        for tick in &mut card.ticks {
            let last = ticks.iter().find(|t| {
                t.plan == card.plan
                    && t.tick.setup == card.key
                    && t.tick.part == tick.key
                    && t.tick.mark == Mark::On
            });
            if let Some(last) = last {
                tick.on = true;
                tick.by = last.tick.by.clone();
            }
        }
        let others = ticks.iter().filter(|t| t.tick.setup == card.key && t.plan != card.plan);
        let parts = on(others);
        if !parts.is_empty() {
            card.earlier = format!(
                "{} ticked for an earlier plan of this card; what is set has changed since, so nothing is ticked now. Measure \
                 what was cut before you go on.",
                was(&parts)
            );
        }
    }
    let gone = on(ticks.iter().filter(|t| !cards.iter().any(|c| c.key == t.tick.setup)));
    if gone.is_empty() {
        return String::new();
    }
    format!("{} ticked on cards of an earlier plan that are no longer in this one.", was(&gone))
}

/// Parts that are ticked, each once.
fn on<'t>(ticks: impl Iterator<Item = &'t PlanTick>) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for tick in ticks.filter(|t| t.tick.mark == Mark::On) {
        if !parts.contains(&tick.tick.part) {
            parts.push(tick.tick.part.clone());
        }
    }
    parts
}

/// So many names are said; more are counted.
const MOST_NAMES: usize = 6;

fn was(parts: &[String]) -> String {
    match parts {
        [one] => format!("“{one}” was"),
        few if few.len() <= MOST_NAMES => {
            format!("{} were", and(&few.iter().map(|p| format!("“{p}”")).collect::<Vec<_>>()))
        }
        many => format!("{} parts or steps were", many.len()),
    }
}
