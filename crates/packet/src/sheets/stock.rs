//! Which boards are used, and what must be bought.

use keepwright_model::boards::Quarters;
use keepwright_model::cutting::{Bound, Layout, ShortWhy};
use keepwright_model::job::Purchase;
use keepwright_model::units::{Fineness, Inches, Length, Money};

use super::draft::{Chapter, Draft, numbers, title, under, wood_name};
use crate::document::Sheet;
use crate::flow::{Block, Column, Table, Words};
use crate::shown::{capital, counted, percent, shares};

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let mut blocks = vec![title("Stock and shopping"), Block::Lead(Words::marked(&lead(draft)))];
    blocks.extend(under("Boards to take from the rack", boards(draft)));
    blocks.extend(under("To buy", purchases(draft)));
    blocks.extend(under("Bought things", hardware(draft)));
    blocks.extend(draft.cautions(Chapter::Stock));
    Sheet::new("Stock and shopping", blocks)
}

fn lead(draft: &Draft<'_>) -> String {
    let stock = &draft.plan.stock;
    let (all, short) = (stock.billets.len(), stock.cutting.short.len());
    let used = stock.cutting.layouts.len();
    let boxes = if stock.laid_out < draft.count() {
        format!(" for **{}** of {} boxes", stock.laid_out, draft.count())
    } else {
        String::new()
    };
    if draft.plan.rack.is_empty() {
        return format!(
            "No rack is given, so **{}**{boxes} stand on the shopping list, with {} of waste to buy for.",
            counted(all, "blank", "blanks"),
            percent(draft.plan.shop.stock.buying_waste)
        );
    }
    let give = format!("**{}** from the rack", counted(used, "board", "boards"));
    if short > 0 {
        return format!(
            "{give} give **{}** of **{all}** blanks{boxes}; the other **{short}** must be bought or made of other wood.",
            all - short.min(all)
        );
    }
    let kept = stock.kept_area.to_mm2() / stock.board_area.to_mm2().max(1.0);
    let [blanks, kept, lost] = shares([1.0 - stock.not_billets(), kept, stock.waste()]);
    format!(
        "{give} give all **{all}** blanks{boxes}; **{blanks}** of their faces become blanks, **{kept}** is kept as offcuts \
         and **{lost}** is lost."
    )
}

/// The board a layout is cut from: its name and the rest.
pub(crate) fn board_of<'a>(
    draft: &Draft<'a>,
    layout: &Layout,
) -> Option<&'a keepwright_model::boards::Board> {
    let stock = draft.plan.stock.demand.stock.get(layout.stock)?;
    draft.plan.rack.get(stock.board)
}

pub(crate) fn boards(draft: &Draft<'_>) -> Vec<Block> {
    let (stock, show) = (&draft.plan.stock, &draft.show);
    if stock.cutting.layouts.is_empty() {
        return Vec::new();
    }
    let mut rows: Vec<Vec<Words>> = stock
        .cutting
        .layouts
        .iter()
        .filter_map(|layout| {
            let board = board_of(draft, layout)?;
            let cost = Money::minor(i64::try_from(layout.cost).unwrap_or(i64::MAX));
            Some(vec![
                Words::bold(board.name.as_str()),
                Words::plain(wood_name(&board.wood)),
                Words::plain(show.sizes(&[board.length, board.width, board.thickness])),
                Words::plain(layout.parts.len().to_string()),
                Words::plain(layout.offcuts.len().to_string()),
                Words::plain(show.money(cost)),
            ])
        })
        .collect();
    let whole = stock.cutting.cost;
    rows.push(vec![
        Words::plain("all boards"),
        Words::default(),
        Words::default(),
        Words::plain(stock.cutting.layouts.iter().map(|l| l.parts.len()).sum::<usize>().to_string()),
        Words::plain(stock.cutting.layouts.iter().map(|l| l.offcuts.len()).sum::<usize>().to_string()),
        Words::plain(show.money(Money::minor(i64::try_from(whole).unwrap_or(i64::MAX)))),
    ]);
    let columns = vec![
        Column::narrow("board"),
        Column::words("wood"),
        Column::narrow("length × width × thickness"),
        numbers("blanks"),
        numbers("offcuts kept"),
        numbers("price"),
    ];
    let mut out = vec![Block::Table(Table { columns, rows, totals: 1 })];
    let kept = format!("Less the share of kept offcuts the wood costs **{}**.", show.money(stock.cost));
    let proof = match stock.bound {
        Some(Bound::Cost(least)) => format!(
            " No complete plan of these blanks on this rack takes boards for less than {} (a proven bound).",
            show.money(Money::minor(i64::try_from(least).unwrap_or(i64::MAX)))
        ),
        Some(Bound::Impossible) => " No plan gives all blanks from this rack (proven).".into(),
        None => String::new(),
    };
    let waste = stock.least_not_billets().map_or_else(String::new, |least| {
        format!(
            " Of the boards used {} does not become a blank; no complete plan leaves less than {}.",
            percent(stock.not_billets()),
            percent(least)
        )
    });
    out.push(Block::note(&format!("{kept}{proof}{waste}")));
    out
}

/// Why the rack does not give a blank, in words.
const fn why(why: ShortWhy) -> &'static str {
    match why {
        ShortWhy::NoSuchWood => "no board of this wood",
        ShortWhy::NoSuchThickness => "no sheet of this thickness",
        ShortWhy::TooThin => "boards too thin",
        ShortWhy::NoClearPlace => "no clear place large enough",
        ShortWhy::NoRoomLeft => "no room left beside the other blanks",
    }
}

/// Four-quarter and its like: `4/4`; what is sold between quarters by its inches.
fn quarters(q: Quarters) -> String {
    let quarters = q.nominal() / Length::inches(0.25);
    if (quarters - quarters.round()).abs() < 1e-6 {
        return format!("{quarters:.0}/4");
    }
    Inches::nearest(q.nominal(), Fineness::Sixteenth).to_string().replace('"', " in")
}

pub(crate) fn purchases(draft: &Draft<'_>) -> Vec<Block> {
    let show = &draft.show;
    let has_rack = !draft.plan.rack.is_empty();
    let rows: Vec<Vec<Words>> = draft
        .plan
        .stock
        .shopping
        .iter()
        .map(|purchase| match purchase {
            Purchase::Lumber { wood, quarters: q, thickness, longest, widest, net_board_feet, board_feet, by_rule, pieces, why: reason } => {
                let sold = q.map_or_else(|| "special thickness".to_owned(), quarters);
                let why = if has_rack { format!("; {}", why(*reason)) } else { String::new() };
                vec![
                    Words::bold(capital(&wood_name(wood))).and(format!(", {sold}")),
                    Words::plain(format!(
                        "{board_feet:.1} board feet ({net_board_feet:.1} net; {by_rule:.0} by the grading rule)"
                    )),
                    Words::plain(format!(
                        "{}, longest clear {}, widest {}, flat to {}{why}",
                        counted(*pieces, "blank", "blanks"),
                        show.length(*longest),
                        show.length(*widest),
                        show.length(*thickness)
                    )),
                ]
            }
            Purchase::Sheet { id, thickness, area, largest, pieces } => vec![
                Words::bold(capital(&wood_name(id))).and(format!(", {}", show.length(*thickness))),
                Words::plain(show.area(*area)),
                Words::plain(format!(
                    "{}, largest {}",
                    counted(*pieces, "piece", "pieces"),
                    show.sizes(&[largest.0, largest.1])
                )),
            ],
            Purchase::Veneer { wood, area, pieces } => vec![
                Words::bold(capital(&wood_name(wood))).and(" veneer"),
                Words::plain(show.area(*area)),
                Words::plain(counted(*pieces, "leaf", "leaves")),
            ],
        })
        .collect();
    if rows.is_empty() {
        return if has_rack { vec![Block::paragraph("No wood: the rack has it all.")] } else { Vec::new() };
    }
    let columns = vec![Column::narrow("what"), Column::words("how much"), Column::words("for")];
    let mut out = vec![Block::Table(Table::new(columns, rows))];
    out.push(Block::note(&format!(
        "Board feet include {} of waste. Thickness as sold is the thinnest whose surfaced thickness still gives the blanks.",
        percent(draft.plan.shop.stock.buying_waste)
    )));
    out
}

pub(crate) fn hardware(draft: &Draft<'_>) -> Vec<Block> {
    let count = draft.count();
    let rows: Vec<Vec<Words>> = draft
        .plan
        .parts
        .hardware
        .iter()
        .map(|h| {
            let price = draft.plan.shop.hardware.iter().find(|p| h.name.contains(p.name.as_str()));
            let pieces = h.count.saturating_mul(count);
            vec![
                Words::plain(capital(&h.name)),
                Words::plain(pieces.to_string()),
                Words::plain(price.map_or_else(|| "not priced".to_owned(), |p| draft.show.money(p.each))),
                Words::plain(
                    price.map_or_else(String::new, |p| draft.show.money(p.each.times(f64::from(pieces)))),
                ),
            ]
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = vec![Column::words("what"), numbers("pieces"), numbers("each"), numbers("together")];
    vec![Block::Table(Table::new(columns, rows))]
}
