//! The glue-up in stages that each fit into the open time.

use keepwright_model::shop::glue::{GlueUp, Stage};

use super::draft::{Chapter, Draft, title};
use crate::document::Sheet;
use crate::flow::{Block, Bullet, Card, List, Words, literal};
use crate::shown::{capital, counted, minutes};

/// Nothing where nothing is glued.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    let glue = &draft.plan.glue;
    if glue.iter().all(|g| g.stages.is_empty()) {
        return None;
    }
    let mut blocks = vec![title("Glue-up"), Block::Lead(Words::marked(&lead(draft)))];
    let with = &draft.plan.shop.bench.gluing.glue;
    blocks.push(Block::note(&format!(
        "{}: open {}, in clamps {}, full strength {} after that ({}). The label of the glue at hand comes before these.",
        capital(&literal(&with.name)),
        minutes(with.open),
        minutes(with.clamp),
        minutes(with.cure),
        with.basis
    )));
    for up in glue {
        blocks.extend(of(draft, up));
    }
    blocks.extend(draft.cautions(Chapter::Glue));
    Some(Sheet::new("Glue-up", blocks))
}

fn lead(draft: &Draft<'_>) -> String {
    let glue = &draft.plan.glue;
    let stages: Vec<&Stage> = glue.iter().flat_map(|g| &g.stages).collect();
    let volume: f64 = glue.iter().map(|g| g.volume().to_ml()).sum();
    let longest = stages
        .iter()
        .map(|s| s.needs)
        .fold(keepwright_model::units::Minutes::ZERO, keepwright_model::units::Minutes::max);
    let each = if draft.count() > 1 { " for each box" } else { "" };
    format!(
        "**{}**{each} with **{volume:.0} mL** of glue; the longest stage needs **{}** of the **{}** that the glue stays open.",
        counted(stages.len(), "stage", "stages"),
        minutes(longest),
        minutes(draft.plan.shop.bench.gluing.glue.open)
    )
}

/// A card for each stage, kept whole.
pub(crate) fn of(draft: &Draft<'_>, up: &GlueUp) -> Vec<Block> {
    let card = |stage: &Stage| {
        let items = stage.steps.iter().map(|s| Words::plain(s.says.as_str())).collect();
        Block::Card(Card {
            title: capital(&stage.title),
            under: format!("{} of {} open", minutes(stage.needs), minutes(stage.open)),
            blocks: vec![Block::Pairs(pairs(draft, stage)), Block::List(List { bullet: Bullet::Box, items })],
            ..Card::default()
        })
    };
    up.stages.iter().map(card).collect()
}

fn pairs(draft: &Draft<'_>, stage: &Stage) -> Vec<(String, Words)> {
    let show = &draft.show;
    let mut pairs = vec![
        (
            "time".to_owned(),
            Words::bold(minutes(stage.needs)).and(format!(
                " for {}; then {} in clamps and {} to full strength",
                counted(stage.surfaces as usize, "surface", "surfaces"),
                minutes(stage.clamp),
                minutes(stage.cure)
            )),
        ),
        (
            "glue".to_owned(),
            Words::bold(format!("{:.1}\u{a0}mL", stage.volume.to_ml()))
                .and(format!(" on {} of joint faces", show.area(stage.area)))
                .and(if stage.sized.to_mm2() > 0.0 {
                    format!(", of them {} of end grain that gets a first thin coat", show.area(stage.sized))
                } else {
                    String::new()
                }),
        ),
    ];
    if let Some(c) = &stage.clamping {
        let wanted = if c.wanted.value() > 0.0 {
            format!(
                "; the joint wants {:.2}\u{a0}MPa, which would take {:.0}\u{a0}N",
                c.wanted.value(),
                c.tension_wanted.value()
            )
        } else {
            String::new()
        };
        pairs.push((
            "band".to_owned(),
            Words::bold(format!("{:.0}\u{a0}N", c.tension.value()))
                .and(format!(" gives {:.2}\u{a0}MPa on the smallest miter", c.pressure.value()))
                .and(wanted),
        ));
    }
    if let Some(d) = &stage.diagonals {
        let degrees =
            d.degrees_at_limit.map_or_else(String::new, |a| format!(", {a:.2}° out of square at that"));
        pairs.push((
            "diagonals".to_owned(),
            Words::bold(show.both(d.target)).and(format!(
                " each, all {} within {}{degrees}",
                d.count,
                show.both(d.limit)
            )),
        ));
    }
    pairs
}
