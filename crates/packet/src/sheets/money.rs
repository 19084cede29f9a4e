//! What the box costs and what it must bring; hours by phase, one box and the batch beside each other.

use keepwright_model::shop::price::Price;
use keepwright_model::shop::time::{Phase, Timing};

use super::draft::{Chapter, Draft, numbers, title};
use crate::document::Sheet;
use crate::flow::{Block, Column, Table, Words};
use crate::shown::{capital, hours, percent};

/// The phases in their order, with their names.
const PHASES: [(Phase, &str); 11] = [
    (Phase::Stock, "boards to blanks"),
    (Phase::Panels, "panels glued up"),
    (Phase::Parts, "blanks to parts"),
    (Phase::SandBefore, "sanding before the glue-up"),
    (Phase::Glue, "glue-up and keys"),
    (Phase::Slots, "key slots"),
    (Phase::Trim, "keys flushed, lid sawn off"),
    (Phase::Fit, "lid, hinges, tray"),
    (Phase::SandAfter, "sanding after the glue-up"),
    (Phase::Finish, "coats"),
    (Phase::Last, "lining, looking over, packing"),
];

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let mut blocks = vec![
        title("Money"),
        Block::Lead(Words::marked(&lead(draft))),
        Block::Heading("Price of one box".into()),
        Block::Table(price(draft)),
        Block::note(&format!(
            "An hour costs {}; price = (wood + hours + hardware + consumables + overhead) ÷ (1 − what the channel keeps, {}).",
            draft.show.money(draft.plan.shop.bench.rate),
            percent(draft.plan.shop.bench.channel.value())
        )),
        Block::Heading("Hours".into()),
        Block::Table(work_hours(draft)),
    ];
    blocks.extend(draft.cautions(Chapter::Money));
    Sheet::new("Money", blocks)
}

fn lead(draft: &Draft<'_>) -> String {
    let (plan, show) = (draft.plan, &draft.show);
    let count = draft.count();
    let each = hours(plan.timing.per_box);
    if count < 2 {
        return format!(
            "The box takes **{each}** of work and must bring **{}**; without the channel's part it costs {}.",
            show.money(plan.price.price),
            show.money(plan.price.cost)
        );
    }
    format!(
        "In a batch of **{count}** a box takes **{each}** and must bring **{}**; made alone it would take {} and bring {}.",
        show.money(plan.price.price),
        hours(plan.timing_single.per_box),
        show.money(plan.price_single.price)
    )
}

pub(crate) fn price(draft: &Draft<'_>) -> Table {
    let (plan, show) = (draft.plan, &draft.show);
    let batch = draft.count() > 1;
    let of = |p: &Price, i: usize| p.lines.get(i).map_or_else(String::new, |l| show.money(l.amount));
    let row = |name: String, each: String, alone: String, all: String| {
        let mut row = vec![Words::plain(name), Words::plain(each)];
        if batch {
            row.extend([Words::plain(all), Words::plain(alone)]);
        }
        row
    };
    let times = |m: keepwright_model::units::Money| show.money(m.times(f64::from(draft.count())));
    let mut rows: Vec<Vec<Words>> = plan
        .price
        .lines
        .iter()
        .enumerate()
        .map(|(i, line)| {
            row(capital(&line.title), show.money(line.amount), of(&plan.price_single, i), times(line.amount))
        })
        .collect();
    rows.push(row(
        "Price".into(),
        show.money(plan.price.price),
        show.money(plan.price_single.price),
        times(plan.price.price),
    ));
    let mut columns =
        vec![Column::words("for"), numbers(if batch { "each, in the batch" } else { "amount" })];
    if batch {
        columns.extend([numbers("the whole batch"), numbers("one made alone")]);
    }
    Table { columns, rows, totals: 1 }
}

pub(crate) fn work_hours(draft: &Draft<'_>) -> Table {
    let plan = draft.plan;
    let batch = draft.count() > 1;
    let row = |name: String, of: &dyn Fn(&Timing) -> keepwright_model::units::Minutes| {
        let mut row = vec![Words::plain(name), Words::plain(hours(of(&plan.timing)))];
        if batch {
            let each = of(&plan.timing) * (1.0 / f64::from(draft.count()));
            row.extend([Words::plain(hours(each)), Words::plain(hours(of(&plan.timing_single)))]);
        }
        row
    };
    let mut rows: Vec<Vec<Words>> = PHASES
        .iter()
        .filter(|(phase, _)| plan.timing.phase(*phase).value() > 0.0)
        .map(|(phase, name)| row(capital(name), &|t| t.phase(*phase)))
        .collect();
    rows.push(row("All work".into(), &|t| t.total));
    let mut columns =
        vec![Column::words("work"), numbers(if batch { "the whole batch" } else { "hands-on" })];
    if batch {
        columns.extend([numbers("each, in the batch"), numbers("one made alone")]);
    }
    Table { columns, rows, totals: 1 }
}
