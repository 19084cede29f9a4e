//! What the home's year does to the box: its air, every part's movement, floats, miters, bows.

use keepwright_model::seasons::{MiterOpening, Season};
use keepwright_model::units::MoistureContent;

use super::draft::{Chapter, Draft, numbers, title, under};
use crate::document::Sheet;
use crate::drawing::{Anchor, Drawing, Line, Pen, Rise, Text};
use crate::flow::{Block, Column, Table, Words};
use crate::ink;
use crate::shown::{Showing, capital, moisture};

/// The months by their first letter, January first.
const LETTERS: [&str; 12] = ["J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"];

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let living = &draft.plan.living;
    let mut blocks = vec![title("Seasons"), Block::Lead(Words::plain(living.verdict.as_str()))];
    blocks.push(super::draft::figure(
        year(draft),
        "Moisture content that wood settles at in the home, month by month, and the wood's moisture today.",
        "A line of the wood's moisture content through the twelve months.",
    ));
    blocks.push(Block::note(&ends(draft)));
    blocks.extend(under("Floating panels", floats(draft)));
    blocks.extend(under("Miters", miters(draft)));
    blocks.extend(under("Bows", bows(draft)));
    blocks.extend(under("Every part across and along its grain", movements(draft)));
    blocks.extend(draft.cautions(Chapter::Seasons));
    Sheet::new("Seasons", blocks)
}

pub(crate) fn ends(draft: &Draft<'_>) -> String {
    let year = &draft.plan.living.year;
    let end = |season| {
        let (month, air) = year.end(season);
        format!(
            "{month}: {:.0}\u{a0}% relative humidity at {:.0}\u{a0}°C, wood at {}",
            air.humidity.to_percent(),
            air.temperature.value(),
            moisture(air.moisture)
        )
    };
    format!(
        "Driest {}. Wettest {}. Wood today {}.",
        end(Season::Driest),
        end(Season::Wettest),
        moisture(draft.plan.living.today)
    )
}

/// The year as a line over twelve months, in millimeters of the paper.
pub(crate) fn year(draft: &Draft<'_>) -> Drawing {
    let living = &draft.plan.living;
    let values: Vec<f64> = living.year.months.iter().map(|m| m.moisture.to_percent()).collect();
    let today = living.today.to_percent();
    let low = values.iter().copied().fold(today, f64::min).floor() - 1.0;
    let high = values.iter().copied().fold(today, f64::max).ceil() + 1.0;
    let (wide, tall, left) = (draft.frame().width.min(150.0) - 24.0, 34.0, 12.0);
    let x = |month: f64| left + wide * month / 11.0;
    let y = |percent: f64| tall * (percent - low) / (high - low).max(1e-6);
    let mut drawing = Drawing::new();
    let thin = Pen::new(Line::Figure).colored(ink::RULE);
    let small = |at, words: String| Text::new(at, words).sized(2.9).colored(ink::SOFT);
    let mut at = low;
    while at <= high + 1e-9 {
        drawing.line([x(0.0), y(at)], [x(11.0), y(at)], thin);
        drawing.text(small([x(0.0) - 2.5, y(at)], format!("{at:.0}\u{a0}%")).hung(Anchor::End, Rise::Middle));
        at += if high - low > 8.0 { 2.0 } else { 1.0 };
    }
    for (i, letter) in LETTERS.iter().enumerate() {
        drawing.text(small([x(i as f64), -3.0], (*letter).to_owned()).hung(Anchor::Middle, Rise::Top));
    }
    drawing.line([x(0.0), y(today)], [x(11.0), y(today)], Pen::new(Line::Center));
    drawing.text(small([x(11.0) + 2.0, y(today)], "today".into()).hung(Anchor::Start, Rise::Middle));
    let points: Vec<[f64; 2]> = values.iter().enumerate().map(|(i, v)| [x(i as f64), y(*v)]).collect();
    for point in &points {
        drawing.circle(*point, 0.8, Some(ink::INK), None);
    }
    drawing.polyline(points, Pen::new(Line::Visible));
    drawing
}

pub(crate) fn floats(draft: &Draft<'_>) -> Vec<Block> {
    let show = &draft.show;
    let rows: Vec<Vec<Words>> = draft
        .plan
        .living
        .floats
        .iter()
        .map(|(name, f)| {
            vec![
                Words::bold(capital(name)),
                Words::plain(show.bare(f.width)),
                Words::plain(show.bare(f.width_driest)),
                Words::plain(show.bare(f.width_wettest)),
                Words::plain(show.bare(f.gap_today)),
                Words::plain(show.bare(f.gap_wettest)),
                Words::plain(if f.in_groove() {
                    show.bare(f.held_pushed)
                } else {
                    "lies on a ledge".to_owned()
                }),
            ]
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = vec![
        Column::words("panel"),
        numbers(format!("wide today, {}", show.unit())),
        numbers("driest month"),
        numbers("wettest month"),
        numbers("gap each side today"),
        numbers("gap, wettest"),
        numbers("held when pushed aside, driest"),
    ];
    vec![Block::Table(Table::new(columns, rows))]
}

pub(crate) fn miters(draft: &Draft<'_>) -> Vec<Block> {
    let living = &draft.plan.living;
    let mut rows = Vec::new();
    for (name, pair) in
        [("walls, through their thickness", &living.wall_miter), ("lid frame", &living.frame_miter)]
    {
        let Some((dry, wet)) = pair else { continue };
        let says = |m: &MiterOpening| {
            let end = if m.shrinks.value() > 0.0 { "heel (inside)" } else { "toe (outside)" };
            format!("{} at the {end}", Showing::gap(m.gap))
        };
        rows.push(vec![
            Words::bold(capital(name)),
            Words::plain(draft.show.length(dry.width)),
            Words::plain(says(dry)),
            Words::plain(says(wet)),
        ]);
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = vec![
        Column::words("miters"),
        numbers("over a width of"),
        Column::words("open by the driest month"),
        Column::words("open by the wettest month"),
    ];
    vec![Block::Table(Table::new(columns, rows))]
}

pub(crate) fn bows(draft: &Draft<'_>) -> Vec<Block> {
    let rows: Vec<Vec<Words>> = draft
        .plan
        .living
        .bows
        .iter()
        .map(|b| {
            vec![
                Words::bold(capital(&b.name)),
                Words::plain(Showing::gap(b.bow)),
                Words::plain(draft.show.length(b.span)),
                Words::plain(b.cause),
            ]
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = vec![Column::narrow("part"), numbers("bows by"), numbers("over"), Column::words("because")];
    vec![Block::Table(Table::new(columns, rows))]
}

/// Parts that move alike share a line.
pub(crate) fn movements(draft: &Draft<'_>) -> Vec<Block> {
    let show = &draft.show;
    let mut rows: Vec<(Vec<String>, [String; 6])> = Vec::new();
    for m in &draft.plan.living.movements {
        let line = [
            show.bare(m.across),
            Showing::change(m.driest),
            Showing::change(m.wettest),
            show.bare(m.along),
            Showing::change(m.along_driest),
            Showing::change(m.along_wettest),
        ];
        match rows.iter_mut().find(|(_, have)| *have == line) {
            Some((names, _)) => names.push(m.name.clone()),
            None => rows.push((vec![m.name.clone()], line)),
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let rows = rows
        .into_iter()
        .map(|(names, line)| {
            let name = match names.as_slice() {
                [first, .., last] if names.len() > 6 => format!("{first} … {last} ({})", names.len()),
                _ => names.join(", "),
            };
            core::iter::once(Words::bold(name)).chain(line.into_iter().map(Words::plain)).collect()
        })
        .collect();
    let unit = show.unit();
    let columns = vec![
        Column::words("part"),
        numbers(format!("across, {unit}")),
        numbers("driest, mm"),
        numbers("wettest, mm"),
        numbers(format!("along, {unit}")),
        numbers("driest, mm"),
        numbers("wettest, mm"),
    ];
    let swing = |m: MoistureContent| moisture(m);
    let living = &draft.plan.living;
    vec![
        Block::Table(Table::new(columns, rows)),
        Block::note(&format!(
            "Change from today's {} to {} and to {}. Across: dimensional change coefficients of the Wood Handbook \
             (FPL-GTR-190), ch. 13, Eq. 13-2; along: the middle of its 0.1 to 0.2\u{a0}% green to oven-dry.",
            swing(living.today),
            swing(living.year.driest().moisture),
            swing(living.year.wettest().moisture)
        )),
    ]
}
