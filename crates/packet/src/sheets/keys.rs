//! Keys: where they stand, how they are cut and let in, and the cradle that carries the box over the blade.

use keepwright_model::shop::keys::WAY;

use super::draft::{Chapter, Draft, numbers, title, under, wood_name};
use crate::document::Sheet;
use crate::flow::{Block, Bullet, Card, Column, List, Table, Words};
use crate::shown::{and, angle, capital, counted};

/// Nothing without keys.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    if draft.plan.keys.is_empty() && draft.plan.cradle.is_empty() {
        return None;
    }
    let mut blocks = vec![title("Keys and cradle"), Block::Lead(Words::marked(&lead(draft)))];
    blocks.extend(under("Key stock", stock(draft)));
    let cradles = draft.plan.cradle.iter().enumerate().map(|(i, _)| Block::Card(cradle(draft, i))).collect();
    blocks.push(Block::List(List {
        bullet: Bullet::Number,
        items: WAY.iter().map(|w| Words::plain(*w)).collect(),
    }));
    blocks.extend(under("The cradle", cradles));
    blocks.extend(draft.cautions(Chapter::Keys));
    Some(Sheet::new("Keys and cradle", blocks))
}

fn lead(draft: &Draft<'_>) -> String {
    let keys = &draft.plan.keys;
    let needed: u32 = keys.iter().map(|k| k.needed).sum();
    let spare: u32 = keys.iter().map(|k| k.spare).sum();
    let woods: Vec<String> = keys.iter().fold(Vec::new(), |mut all, k| {
        let name = wood_name(&k.wood);
        if !all.contains(&name) {
            all.push(name);
        }
        all
    });
    let rows: usize = draft.plan.cradle.iter().map(|c| c.rows.len()).sum();
    format!(
        "**{}** of {}, cut with **{}** to spare; **{}** of the cradle cut all their slots.",
        counted(needed as usize, "key", "keys"),
        and(&woods),
        spare,
        counted(rows, "stop position", "stop positions")
    )
}

pub(crate) fn stock(draft: &Draft<'_>) -> Vec<Block> {
    let show = &draft.show;
    let rows: Vec<Vec<Words>> = draft
        .plan
        .keys
        .iter()
        .map(|k| {
            let both = |l| Words::bold(show.bare(l)).and(format!("\n{}", show.bare_other(l)));
            vec![
                Words::plain(capital(&wood_name(&k.wood))),
                Words::plain(format!("{} + {}", k.needed, k.spare)),
                both(k.thickness),
                both(k.width),
                both(k.long_edge),
                both(k.strip_length),
            ]
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = vec![
        Column::words("wood"),
        numbers("keys + spare"),
        numbers(format!("strip thick {}, {}", show.unit(), show.other_unit())),
        numbers("strip wide"),
        numbers("long edge of a key"),
        numbers("strip for all"),
    ];
    vec![Block::Table(Table::new(columns, rows))]
}

pub(crate) fn cradle(draft: &Draft<'_>, index: usize) -> Card {
    let show = &draft.show;
    let Some(card) = draft.plan.cradle.get(index) else { return Card::default() };
    let pair = |name: &str, says: String| (name.to_owned(), Words::bold(says));
    let mut blocks = vec![Block::Pairs(vec![
        pair(
            "the V opens to",
            format!("{}, each side {} from the table", angle(card.opens), angle(card.side_from_table)),
        ),
        pair("sides above the trough's bottom", show.both(card.trough)),
        pair("wood between table and trough", show.both(card.floor)),
        pair("a slot comes through inside at", show.both(card.break_through)),
    ])];
    let rows: Vec<Vec<Words>> = card
        .rows
        .iter()
        .enumerate()
        .map(|(i, row)| {
            let all = |of: &[keepwright_model::units::Length]| {
                of.iter().map(|l| show.bare(*l)).collect::<Vec<_>>().join(", ")
            };
            let at: Vec<String> = row.distances.iter().map(|d| show.both(*d)).collect();
            vec![
                Words::plain((i + 1).to_string()),
                Words::bold(at.join(", ")),
                Words::bold(show.both(row.blade)),
                Words::plain(all(&row.lower_on_stop)),
                Words::plain(all(&row.upper_on_stop)),
            ]
        })
        .collect();
    let columns = vec![
        numbers("stop"),
        Column::words("stop to blade"),
        Column::words("blade height"),
        Column::words("keys centered at, lower edge on the stop"),
        Column::words("upper edge on the stop"),
    ];
    blocks.push(Block::Table(Table::new(columns, rows)));
    if card.v_at_bottom.to_mm() > 1e-9 {
        blocks.push(Block::note(&format!(
            "The teeth leave a V {} deep at the slot's bottom.",
            show.both(card.v_at_bottom)
        )));
    }
    Card {
        title: if draft.plan.cradle.len() > 1 {
            format!("Cradle {}", index + 1)
        } else {
            "How the cradle is built".into()
        },
        under: String::new(),
        blocks,
        ..Card::default()
    }
}
