//! The strips that walls are cut from, end to end: order, corners, what the figure does and what is lost.

use keepwright_model::parts::{CornerLoss, Figure, Run};

use super::draft::{Draft, figure, numbers, title};
use crate::document::Sheet;
use crate::drawings;
use crate::flow::{Block, Column, Table, Words};
use crate::shown::{and, capital, counted};

/// Nothing without a run of walls.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    let runs = &draft.plan.parts.runs;
    if runs.is_empty() {
        return None;
    }
    let mut blocks = vec![title("Strip plan"), Block::Lead(Words::marked(&lead(draft)))];
    for (i, run) in runs.iter().enumerate() {
        blocks.push(Block::Heading(capital(&run.name)));
        if let Some((_, drawing)) = draft.drawn.strips.iter().find(|(run, _)| *run == i) {
            let mut note = drawings::strip_note(&draft.plan.parts, i, draft.show.shown);
            if run.slices > 1 {
                let slices = format!(
                    " {} slices are resawn from one billet; mark their faces before they part.",
                    run.slices
                );
                note.push_str(&slices);
            }
            blocks.push(figure(
                drawing.clone(),
                &note,
                format!("The strip of {} with its walls in order.", run.name),
            ));
        }
        blocks.push(table(draft, run));
    }
    Some(Sheet::new("Strip plan", blocks))
}

fn lead(draft: &Draft<'_>) -> String {
    let (runs, show) = (&draft.plan.parts.runs, &draft.show);
    let Some(first) = runs.first() else { return String::new() };
    let walls = first.parts.len();
    let all = || runs.iter().flat_map(|r| &r.corners);
    let of = |figure| all().filter(|c| c.figure == figure).count();
    let mut does = vec![format!("runs on at **{}**", counted(of(Figure::RunsOn), "corner", "corners"))];
    if of(Figure::Mirrors) > 0 {
        does.push(format!("mirrors at **{}**", of(Figure::Mirrors)));
    }
    let sides = draft.plan.statement.shape.sides;
    if let Some(closing) = all().find(|c| c.figure == Figure::Closes) {
        does.push(format!("ends at the **{}** corner", closing.corner.words(sides)));
    }
    let from = if runs.len() == 1 { "one strip".to_owned() } else { format!("{} strips", runs.len()) };
    let each = if runs.len() > 1 || draft.count() > 1 { " each" } else { "" };
    let boxes = if draft.count() > 1 { " of a box" } else { "" };
    let count =
        if runs.len() == 1 { counted(walls, "wall comes", "walls come") } else { "walls come".to_owned() };
    format!(
        "The {count}{boxes} from {from} **{}** long and **{}** wide{each}; the figure {}.",
        show.length(first.strip_length),
        show.length(first.strip_width),
        and(&does)
    )
}

const fn does(figure: Figure) -> &'static str {
    match figure {
        Figure::RunsOn => "runs on",
        Figure::Mirrors => "mirrors",
        Figure::Closes => "ends: does not match",
        Figure::Unmatched => "not matched",
    }
}

pub(crate) fn table(draft: &Draft<'_>, run: &Run) -> Block {
    let show = &draft.show;
    let sides = draft.plan.statement.shape.sides;
    let mut from = run.end_trim;
    let rows =
        run.parts
            .iter()
            .enumerate()
            .filter_map(|(i, id)| {
                let part = draft.part(*id)?;
                let corner: Option<&CornerLoss> = run.corners.get(i);
                let row = vec![
                    Words::plain((i + 1).to_string()),
                    Words::bold(part.name.as_str()),
                    Words::plain(show.bare(from)),
                    Words::bold(show.bare(part.size[0])),
                    Words::plain(show.bare_other(part.size[0])),
                    Words::plain(corner.map_or_else(String::new, |c| {
                        format!("{}  {}", c.corner.0 + 1, c.corner.words(sides))
                    })),
                    Words::plain(corner.map_or("", |c| does(c.figure))),
                    Words::plain(
                        corner
                            .filter(|c| c.figure != Figure::Closes)
                            .map_or_else(String::new, |c| show.bare(c.loss)),
                    ),
                ];
                from += part.size[0] + corner.map_or(keepwright_model::units::Length::ZERO, |c| c.loss);
                Some(row)
            })
            .collect();
    let columns = vec![
        numbers("no."),
        Column::words("wall"),
        numbers(format!("begins at, {}", show.unit())),
        numbers(format!("tip to tip, {}", show.unit())),
        numbers(show.other_unit()),
        Column::words("then corner"),
        Column::words("the figure"),
        numbers(format!("lost, {}", show.unit())),
    ];
    Block::Table(Table::new(columns, rows))
}
