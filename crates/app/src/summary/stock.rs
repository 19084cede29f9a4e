//! Boards with what is cut from them, and what to buy.

use super::{title, wood};
use crate::columns::{Side, Table, paragraph};
use crate::show::{Show, count_of, percent};
use keepwright_model::job::{Plan, Purchase};
use std::fmt::Write as _;

/// The boards used, each with its blanks.
pub(super) fn boards(plan: &Plan, show: &Show, out: &mut String) {
    let stock = &plan.stock;
    if stock.cutting.layouts.is_empty() {
        return;
    }
    title("Boards", out);
    let least = stock.least_not_billets().map_or_else(String::new, |l| {
        format!("; no plan of these blanks on this rack leaves less than {}", percent(l))
    });
    out.push_str(&paragraph(
        &format!(
            "Uses {}; {} of their faces does not become blanks{least}. Kept offcuts taken off, {} is waste.",
            count_of(stock.cutting.layouts.len(), "board"),
            percent(stock.not_billets()),
            percent(stock.waste())
        ),
        0,
    ));
    for layout in &stock.cutting.layouts {
        let Some(board) = stock.demand.stock.get(layout.stock).and_then(|s| plan.rack.get(s.board)) else {
            continue;
        };
        let _ =
            writeln!(out, "  {}, {}", board.name, show.size(&[board.length, board.width, board.thickness]));
        let mut table = Table::new(&[
            ("from the left", Side::Right),
            ("from below", Side::Right),
            ("length", Side::Right),
            ("width", Side::Right),
            ("blank", Side::Left),
        ]);
        for p in &layout.parts {
            let name = stock.demand.items.get(p.item).map_or("", |i| i.id.as_str());
            table.row([
                show.length(p.x),
                show.length(p.y),
                show.length(p.length),
                show.length(p.width),
                name.to_owned(),
            ]);
        }
        out.push_str(&table.text());
        for o in &layout.offcuts {
            let _ = writeln!(out, "    keep the offcut {}", show.size(&[o.length, o.width]));
        }
    }
}

/// What to buy.
pub(super) fn shopping(plan: &Plan, show: &Show, out: &mut String) {
    if plan.stock.shopping.is_empty() {
        return;
    }
    title("To buy", out);
    let name = |id: &str| wood(plan, id);
    for p in &plan.stock.shopping {
        let line = match p {
            Purchase::Lumber {
                wood,
                quarters,
                thickness,
                longest,
                widest,
                net_board_feet,
                board_feet,
                by_rule,
                pieces,
                why,
            } => {
                let sold = quarters
                    .map_or_else(|| format!("at least {} flat", show.length(*thickness)), |q| format!("{q}"));
                format!(
                    "{}, {sold}: {board_feet:.2} board feet with waste ({net_board_feet:.2} net), thickness × width × length ÷ 12; {by_rule:.1} by the NHLA rule of whole feet of surface measure. {}; the longest {}, the widest {}{}.",
                    name(wood),
                    count_of(*pieces, "blank"),
                    show.in_both(*longest),
                    show.in_both(*widest),
                    if plan.rack.is_empty() { String::new() } else { format!("; {}", why.words()) }
                )
            }
            Purchase::Sheet { id, thickness, area, largest, pieces } => format!(
                "{}, {} thick: {:.0} cm² net in {}; the largest {}.",
                name(id),
                show.in_both(*thickness),
                area.to_mm2() / 100.0,
                count_of(*pieces, "piece"),
                show.size(&[largest.0, largest.1])
            ),
            Purchase::Veneer { wood, area, pieces } => format!(
                "{} veneer: {:.0} cm² for {} of each box.",
                name(wood),
                area.to_mm2() / 100.0,
                count_of(*pieces, "face")
            ),
        };
        out.push_str(&paragraph(&line, 2));
    }
}
