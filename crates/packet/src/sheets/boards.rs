//! Each board used, to scale, with its cuts in the order of the shop.

use keepwright_model::cutting::{CutKind, Layout};

use super::draft::{Draft, figure, numbers, title, wood_name};
use super::stock::board_of;
use crate::document::Sheet;
use crate::flow::{Block, Column, Table, Words};
use crate::shown::counted;

/// Cuts side by side in one row of the table.
const ABREAST: usize = 3;

/// Nothing without boards.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    let layouts = &draft.plan.stock.cutting.layouts;
    if layouts.is_empty() {
        return None;
    }
    let mut blocks = vec![
        title("Board layouts"),
        Block::Lead(Words::marked(&lead(draft))),
        Block::note(
            "Every board lies with its lower left corner at zero; a number in the table is where the blade's near side runs.",
        ),
    ];
    for (i, layout) in layouts.iter().enumerate() {
        blocks.extend(board(draft, i, layout));
    }
    Some(Sheet::new("Board layouts", blocks))
}

fn lead(draft: &Draft<'_>) -> String {
    let layouts = &draft.plan.stock.cutting.layouts;
    let cuts: usize = layouts.iter().map(|l| l.cuts().len()).sum();
    let kept = draft.plan.stock.cutting.largest_offcut().map_or_else(String::new, |o| {
        format!("; the largest offcut kept is **{}**", draft.show.sizes(&[o.length, o.width]))
    });
    format!(
        "**{}** cut up **{}**, each cut running right through the piece in hand{kept}.",
        counted(cuts, "cut", "cuts"),
        counted(layouts.len(), "board", "boards")
    )
}

fn board(draft: &Draft<'_>, index: usize, layout: &Layout) -> Vec<Block> {
    let show = &draft.show;
    let Some(board) = board_of(draft, layout) else { return Vec::new() };
    let sizes = [board.length, board.width, board.thickness];
    let head = format!("Board {}: {}, {}", board.name, wood_name(&board.wood), show.sizes(&sizes));
    let mut out = vec![Block::Heading(head)];
    if let Some(drawn) = draft.drawn.boards.get(index) {
        let legend: Vec<String> =
            drawn.legend.iter().map(|(number, name)| format!("**{number}** {name}")).collect();
        out.push(figure(
            drawn.drawing.clone(),
            &legend.join(" · "),
            format!("Board {} with its blanks and cuts.", board.name),
        ));
    }
    out.extend(cuts(draft, layout));
    out
}

/// The cuts in order, column by column.
fn cuts(draft: &Draft<'_>, layout: &Layout) -> Option<Block> {
    let show = &draft.show;
    let cuts = layout.cuts();
    let abreast = cuts.len().clamp(1, ABREAST);
    let long = cuts.len().div_ceil(abreast);
    let said: Vec<[Words; 3]> = cuts
        .iter()
        .enumerate()
        .map(|(i, (_, cut))| {
            let kind = match cut.kind {
                CutKind::Crosscut => "crosscut",
                CutKind::Rip => "rip",
            };
            [
                Words::plain((i + 1).to_string()),
                Words::plain(kind),
                Words::bold(show.bare(cut.at)).and(format!("  {}", show.bare_other(cut.at))),
            ]
        })
        .collect();
    let rows = (0..long)
        .map(|row| {
            (0..abreast)
                .flat_map(|column| said.get(column * long + row).cloned().unwrap_or_default())
                .collect()
        })
        .collect();
    let columns = (0..abreast)
        .flat_map(|_| {
            [
                numbers("no."),
                Column::narrow("cut"),
                Column { weight: 1.0, ..Column::words(format!("at {} {}", show.unit(), show.other_unit())) },
            ]
        })
        .collect();
    (!cuts.is_empty()).then(|| Block::Table(Table::new(columns, rows)))
}
