//! Sanding by grades and the coats of finish, with amounts, waits and cautions; hinge screws among them.

use keepwright_model::shop::sanding::{Sanding, When};
use keepwright_model::units::{Minutes, Volume};

use super::draft::{Chapter, Draft, numbers, title, under};
use crate::document::Sheet;
use crate::flow::{Block, Bullet, Column, List, Table, Words};
use crate::shown::{Showing, capital, counted, minutes};

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let mut blocks = vec![title("Sanding and finish"), Block::Lead(Words::marked(&lead(draft)))];
    blocks.extend(under("Sanding", sanding(draft)));
    blocks.extend(under("Coats", coats(draft)));
    blocks.extend(under("Hinge screws", screws(draft)));
    blocks.extend(draft.cautions(Chapter::Finish));
    Sheet::new("Sanding and finish", blocks)
}

fn lead(draft: &Draft<'_>) -> String {
    let plan = draft.plan;
    let sanding: Minutes = plan.sanding.iter().map(|s| s.minutes).sum();
    let coats: u32 = plan.finish.coats.iter().map(|c| c.coats).sum();
    let liquid: f64 = plan.finish.coats.iter().map(|c| c.volume().to_ml()).sum();
    let each = if draft.count() > 1 { " for each box" } else { "" };
    if coats == 0 {
        return format!("**{}** of sanding{each}; the wood stays bare.", minutes(sanding));
    }
    format!(
        "**{}** of sanding and **{}** with **{liquid:.0} mL** of finish{each}; packed no sooner than **{}** after the last coat.",
        minutes(sanding),
        counted(coats as usize, "coat", "coats"),
        minutes(plan.finish.cure)
    )
}

pub(crate) fn sanding(draft: &Draft<'_>) -> Vec<Block> {
    let row = |s: &Sanding| {
        let when = match s.faces.when {
            When::BeforeGlueUp => "before the glue-up",
            When::AfterGlueUp => "after the glue-up",
        };
        let grades: Vec<String> = s.passes.iter().map(|p| format!("P{}", p.p)).collect();
        vec![
            Words::bold(capital(&s.faces.name)),
            Words::plain(when),
            Words::plain(draft.show.area(s.faces.area)),
            Words::plain(grades.join(", ")),
            Words::plain(format!("{} of {}", Showing::gap(s.removes), Showing::gap(s.faces.allowance))),
            Words::plain(minutes(s.minutes)),
        ]
    };
    let rows: Vec<Vec<Words>> =
        draft.plan.sanding.iter().filter(|s| s.faces.area.to_mm2() > 0.0).map(row).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = vec![
        Column::words("faces"),
        Column::words("when"),
        numbers("area"),
        Column::words("grades, each in turn"),
        numbers("takes off"),
        numbers("time, one box"),
    ];
    vec![
        Block::Table(Table::new(columns, rows)),
        Block::note(
            "Taken off: what a careful pass of each grade takes, of what the blanks leave for it on each face.",
        ),
    ]
}

fn milliliters(volume: Volume) -> String {
    format!("{:.0}\u{a0}mL", volume.to_ml())
}

pub(crate) fn coats(draft: &Draft<'_>) -> Vec<Block> {
    let finish = &draft.plan.finish;
    let boxes = f64::from(draft.count());
    let rows: Vec<Vec<Words>> = finish
        .coats
        .iter()
        .map(|c| {
            vec![
                Words::bold(capital(c.side.words())),
                Words::plain(c.product.name.as_str()),
                Words::plain(c.coats.to_string()),
                Words::plain(draft.show.area(c.area)),
                Words::plain(milliliters(c.per_coat)),
                Words::plain(milliliters(c.volume() * boxes)),
                Words::plain(minutes(c.product.wait)),
            ]
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let all =
        if draft.count() > 1 { format!("all coats, {} boxes", draft.count()) } else { "all coats".into() };
    let columns = vec![
        Column::words("side"),
        Column::words("finish"),
        numbers("coats"),
        numbers("area"),
        numbers("one coat"),
        numbers(all),
        numbers("between coats"),
    ];
    let mut out = vec![Block::Table(Table::new(columns, rows))];
    if let Some(mix) = finish.shellac {
        out.push(Block::paragraph(&format!(
            "**Shellac to mix**{}: {:.0}\u{a0}g of dry flakes in {} of alcohol.",
            if draft.count() > 1 { ", for all boxes" } else { "" },
            mix.flakes.value() * boxes,
            milliliters(mix.alcohol * boxes)
        )));
    }
    let ticks: Vec<Words> = finish
        .coats
        .iter()
        .flat_map(|c| {
            (1..=c.coats).map(move |n| {
                Words::plain(format!("{}: {}, coat {n}: date ________", c.side.words(), c.product.name))
            })
        })
        .collect();
    out.push(Block::List(List { bullet: Bullet::Box, items: ticks }));
    let thin: Vec<String> =
        finish.coats.iter().filter(|c| !c.product.thin.is_empty()).fold(Vec::new(), |mut all, c| {
            let says = format!("{}: {}", c.product.name, c.product.thin);
            if !all.contains(&says) {
                all.push(says);
            }
            all
        });
    if !thin.is_empty() {
        out.push(Block::note(&format!(
            "Thinning. {}. The label of the product at hand comes before these.",
            thin.join("; ")
        )));
    }
    out
}

pub(crate) fn screws(draft: &Draft<'_>) -> Vec<Block> {
    let show = &draft.show;
    let rows: Vec<Vec<Words>> = draft
        .plan
        .screws
        .iter()
        .map(|s| {
            vec![
                Words::bold(capital(&s.place)),
                Words::plain(s.count.to_string()),
                Words::plain(show.both(s.shank)),
                Words::bold(show.both(s.pilot)),
                Words::plain(show.both(s.depth)),
                Words::plain(format!("{:.0}\u{a0}N", s.allowed.value())),
            ]
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = vec![
        Column::words("into"),
        numbers("screws"),
        Column::words("shank"),
        Column::words("pilot hole"),
        Column::words("pilot depth"),
        numbers("each bears"),
    ];
    vec![Block::Table(Table::new(columns, rows))]
}
