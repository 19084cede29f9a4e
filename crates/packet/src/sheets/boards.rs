//! Each board used, to scale, with its cuts in the order of the shop.

use keepwright_model::cutting::{CutKind, Layout};

use super::draft::{Draft, figure, title, wood_name};
use super::stock::board_of;
use crate::document::Sheet;
use crate::flow::{Block, Column, Table, Words};
use crate::shown::counted;

/// Cuts side by side in one row of the table.
const ABREAST: usize = 3;
/// More names than this stand in a table of their own, not under the drawing.
pub(crate) const FEW: usize = 14;

/// Nothing without boards.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    let layouts = &draft.plan.stock.cutting.layouts;
    if layouts.is_empty() {
        return None;
    }
    let mut blocks = vec![title("Board layouts"), Block::Lead(Words::marked(&lead(draft)))];
    for (i, layout) in layouts.iter().enumerate() {
        blocks.extend(board(draft, i, layout));
    }
    blocks.push(Block::note(
            "Every board lies with its lower left corner at zero; a number in the table is where the blade's near side runs.",
        ));
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
        let few = drawn.legend.len() <= FEW;
        let caption: Vec<String> = drawn.legend.iter().map(|(n, name)| format!("**{n}** {name}")).collect();
        let alt = format!("Board {} with its blanks and cuts.", board.name);
        out.push(figure(drawn.drawing.clone(), &if few { caption.join(" · ") } else { String::new() }, alt));
        if !few {
            out.push(legend(&drawn.legend));
        }
    }
    out.extend(cuts(draft, layout));
    out
}

/// What the numbers in the drawing stand for, where they are many.
pub(crate) fn legend(names: &[(u32, String)]) -> Block {
    let cells: Vec<Words> =
        names.iter().map(|(n, name)| Words::bold(n.to_string()).and(format!("\u{a0} {name}"))).collect();
    let (rows, abreast) = abreast(&cells, 4);
    Block::Table(Table::new((0..abreast).map(|_| Column::words("blank")).collect(), rows))
}

/// Cells in columns that are read downward, at most so many beside each other; the rows and how many columns.
fn abreast(cells: &[Words], most: usize) -> (Vec<Vec<Words>>, usize) {
    let long = cells.len().div_ceil(most.clamp(1, cells.len().max(1))).max(1);
    let columns = cells.len().div_ceil(long);
    let row = |r: usize| (0..columns).map(|c| cells.get(c * long + r).cloned().unwrap_or_default()).collect();
    ((0..long).map(row).collect(), columns)
}

/// The cuts in order, column by column.
pub(crate) fn cuts(draft: &Draft<'_>, layout: &Layout) -> Option<Block> {
    let show = &draft.show;
    let said: Vec<Words> = layout
        .cuts()
        .iter()
        .enumerate()
        .map(|(i, (_, cut))| {
            let kind = match cut.kind {
                CutKind::Crosscut => "crosscut",
                CutKind::Rip => "rip",
            };
            Words::bold((i + 1).to_string())
                .and(format!("\u{a0} {kind} "))
                .and(Words::bold(show.bare(cut.at)))
                .and(format!("\u{a0} {}", show.bare_other(cut.at)))
        })
        .collect();
    if said.is_empty() {
        return None;
    }
    let (rows, columns) = abreast(&said, ABREAST);
    let head = format!("cut at, {}  {}", show.unit(), show.other_unit());
    Some(Block::Table(Table::new((0..columns).map(|_| Column::words(head.clone())).collect(), rows)))
}
