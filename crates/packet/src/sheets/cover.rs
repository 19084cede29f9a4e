//! The cover: the box taken apart, its sizes and woods, and what must be read first.

use keepwright_model::caution::Weight;

use super::draft::{Draft, figure, wood_name};
use super::drawn::CLOSED_SHARE;
use crate::document::Sheet;
use crate::flow::{Block, Columns, Words};
use crate::shown::{and, capital, counted, hours, minutes};

/// `names` are the sheets that follow.
pub(super) fn sheet(draft: &Draft<'_>, names: &[&str]) -> Sheet {
    let plan = draft.plan;
    let mut blocks = vec![
        Block::Title { text: plan.statement.name.clone(), under: under(draft) },
        Block::Lead(lead(draft)),
        figure(
            draft.drawn.apart.clone(),
            "",
            format!("{} taken apart, each kind of part named.", plan.statement.name),
        ),
        Block::Columns(Columns { left: closed(draft), right: numbers(draft), share: CLOSED_SHARE }),
    ];
    blocks.extend(first(draft));
    blocks.push(Block::note(&format!("In this packet: {}.", names.join(" · "))));
    Sheet::new("Cover", blocks)
}

fn under(draft: &Draft<'_>) -> String {
    let s = &draft.plan.statement;
    let batch = if s.count > 1 { format!("a batch of {}", s.count) } else { String::new() };
    let said = [batch, s.note.trim().to_owned(), draft.plan.shop.name.clone()];
    said.into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" · ")
}

fn lead(draft: &Draft<'_>) -> Words {
    let plan = draft.plan;
    let boxes =
        if draft.count() > 1 { format!("**{}** boxes alike", draft.count()) } else { "One box".into() };
    let woods: Vec<String> = plan.woods.iter().take(4).map(|(id, _)| wood_name(id)).collect();
    let more = if plan.woods.len() > woods.len() { " and others" } else { "" };
    let of = if more.is_empty() { and(&woods) } else { format!("{}{more}", woods.join(", ")) };
    let pieces = plan.parts.parts.len();
    Words::marked(&format!(
        "{boxes} of {of}, **{}** outside, each of **{}**; **{}** cut them all.",
        draft.show.sizes(&plan.parts.outside),
        counted(pieces, "part", "parts"),
        counted(plan.saw.setups.len(), "set-up", "set-ups"),
    ))
}

fn closed(draft: &Draft<'_>) -> Vec<Block> {
    vec![figure(draft.drawn.closed.clone(), "", "The closed box with its outside sizes.")]
}

fn numbers(draft: &Draft<'_>) -> Vec<Block> {
    let (plan, show) = (draft.plan, &draft.show);
    let woods = plan.woods.iter().map(|(id, _)| wood_name(id)).collect::<Vec<_>>().join(", ");
    let both = |sizes: &[_]| Words::bold(show.sizes(sizes)).and(format!("\n{}", show.sizes_other(sizes)));
    let mut pairs = vec![
        ("outside".to_owned(), both(&plan.parts.outside)),
        ("inside".to_owned(), both(&plan.parts.inside)),
        ("woods".to_owned(), Words::plain(woods)),
    ];
    if let Some(mass) = plan.mass() {
        let each = if draft.count() > 1 { " each" } else { "" };
        pairs
            .push(("weight".into(), Words::plain(format!("{}{each}, at today's moisture", show.mass(mass)))));
    }
    pairs.push(("at the bench".into(), Words::plain(bench(draft))));
    vec![Block::Pairs(pairs)]
}

/// Hours and days.
fn bench(draft: &Draft<'_>) -> String {
    let plan = draft.plan;
    let hands = hours(plan.timing.per_box);
    let each = if draft.count() > 1 { " each" } else { "" };
    let days = plan
        .schedule
        .as_ref()
        .map_or_else(String::new, |s| format!(", {} from first cut to last wait", minutes(s.elapsed)));
    format!("{hands}{each}{days}")
}

/// What must be read before wood is cut, in one line each; the whole caution stands in its chapter.
fn first(draft: &Draft<'_>) -> Vec<Block> {
    let grave = draft.grave();
    let of = |weight: Weight| grave.iter().filter(|g| g.first.weight == weight).count();
    let (cannot, fail) = (of(Weight::Cannot), of(Weight::LikelyToFail));
    let mut said = Vec::new();
    if cannot > 0 {
        let things = counted(cannot, "thing", "things");
        said.push(format!("**{things}** cannot be made as stated, or not safely"));
    }
    if fail > 0 {
        said.push(format!("**{}** likely to fail", counted(fail, "thing is", "things are")));
    }
    if said.is_empty() {
        return vec![Block::note(
            "No caution stands against cutting wood; each chapter says what is worth knowing.",
        )];
    }
    let places: Vec<&str> = grave.iter().fold(Vec::new(), |mut all, g| {
        if !all.contains(&g.chapter.title()) {
            all.push(g.chapter.title());
        }
        all
    });
    let say = format!(
        "{}: read “The box in words” first, then {}.",
        capital_marked(&said.join(", ")),
        places.join(", ")
    );
    vec![Block::Rule, Block::paragraph(&say)]
}

/// A capital behind the marks that switch bold on.
fn capital_marked(words: &str) -> String {
    match words.strip_prefix("**") {
        Some(rest) => format!("**{}", capital(rest)),
        None => capital(words),
    }
}
