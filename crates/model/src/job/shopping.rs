//! What must be bought: lumber by both tally rules, sheets, veneer.

use super::billets::{Becomes, Question, is_sheet};
use super::stock::StockRules;
use crate::boards::{Quarters, tally, thickness_table};
use crate::cutting::{Demand, Plan, ShortWhy};
use crate::parts::Origin;
use crate::units::{Area, Length};

/// What kind of stock to ask for.
#[derive(Clone, Debug, PartialEq)]
pub enum Purchase {
    /// Rough lumber.
    Lumber {
        /// Species id.
        wood: String,
        /// Thickness as sold: the thinnest whose surfaced thickness still gives the blanks.
        quarters: Option<Quarters>,
        /// Thickness that the blanks need, flat.
        thickness: Length,
        /// Longest piece that must come clear from one board.
        longest: Length,
        /// Widest piece.
        widest: Length,
        /// Board feet of the blanks, thickness × width × length ÷ 12 with the thickness as sold.
        net_board_feet: f64,
        /// The same with the share of waste to buy for.
        board_feet: f64,
        /// The latter by the NHLA rule on one notional board of the widest piece's width:
        /// surface measure to whole feet, then × thickness.
        by_rule: f64,
        /// How many billets, and why the rack does not give them (`None` without a rack).
        pieces: usize,
        /// The gravest reason.
        why: ShortWhy,
    },
    /// A sheet good.
    Sheet {
        /// Sheet id.
        id: String,
        /// Thickness.
        thickness: Length,
        /// Net area.
        area: Area,
        /// Largest piece, length × width.
        largest: (Length, Length),
        /// How many pieces.
        pieces: usize,
    },
    /// Veneer.
    Veneer {
        /// Species id.
        wood: String,
        /// Net area with the usual trim.
        area: Area,
        /// How many leaves.
        pieces: usize,
    },
}

/// The list of what is short, by wood and thickness.
pub(super) fn purchases(question: &Question<'_>, plan: &Plan) -> Vec<Purchase> {
    let demand = &question.demand;
    let mut out: Vec<Purchase> = Vec::new();
    for short in &plan.short {
        let (Some(item), Some(billet)) = (demand.items.get(short.item), question.billets.get(short.item))
        else {
            continue;
        };
        let Some(order) = question.order_of.get(short.item).and_then(|&o| question.orders.get(o)) else {
            continue;
        };
        let scale = f64::from(order.count.max(1)) / f64::from(order.laid_out());
        match billet.origin {
            Origin::Board | Origin::KeyStrip => {
                let quarters = quarters_for(item.min_thickness);
                let sold = quarters.map_or(item.min_thickness, Quarters::nominal);
                let feet = tally::plain(sold, item.width, item.length) * scale;
                lumber(&mut out, item, quarters, feet, short.why, demand, short.item);
            }
            Origin::Sheet | Origin::VeneerLeaf => {
                if let Becomes::Blank(id) = billet.becomes
                    && let Some(part) = order.parts.parts.get(id.0)
                {
                    sheet(&mut out, &part.wood, part.size[2], (item.length, item.width), scale);
                }
            }
        }
    }
    for order in question.orders {
        for part in order.parts.parts.iter().filter(|p| p.origin == Origin::VeneerLeaf) {
            let area = part.blank.length() * part.blank.width() * f64::from(order.count);
            veneer(&mut out, &part.wood, area);
        }
    }
    finish(&mut out, question.rules);
    out
}

/// The thinnest thickness as sold whose minimum surfaced thickness still gives the blank.
fn quarters_for(thickness: Length) -> Option<Quarters> {
    thickness_table()
        .iter()
        .filter(|r| r.surfaced >= thickness)
        .min_by(|a, b| a.surfaced.to_mm().total_cmp(&b.surfaced.to_mm()))
        .map(|r| r.quarters)
}

fn lumber(
    out: &mut Vec<Purchase>,
    item: &crate::cutting::Item,
    quarters: Option<Quarters>,
    feet: f64,
    reason: ShortWhy,
    demand: &Demand,
    index: usize,
) {
    // A run must come from one board: its whole strip counts as the piece's length.
    let strip =
        demand.runs.iter().find(|r| r.items.contains(&index)).map_or(item.length, |r| demand.run_length(r));
    for p in out.iter_mut() {
        if let Purchase::Lumber {
            wood,
            quarters: q,
            thickness,
            longest,
            widest,
            net_board_feet,
            pieces,
            why,
            ..
        } = p
            && *wood == item.wood
            && *q == quarters
        {
            *thickness = thickness.max(item.min_thickness);
            *longest = longest.max(strip);
            *widest = widest.max(item.width);
            *net_board_feet += feet;
            *pieces += 1;
            *why = (*why).max(reason);
            return;
        }
    }
    out.push(Purchase::Lumber {
        wood: item.wood.clone(),
        quarters,
        thickness: item.min_thickness,
        longest: strip,
        widest: item.width,
        net_board_feet: feet,
        board_feet: 0.0,
        by_rule: 0.0,
        pieces: 1,
        why: reason,
    });
}

fn sheet(out: &mut Vec<Purchase>, id: &str, thickness: Length, size: (Length, Length), scale: f64) {
    let area = size.0 * size.1 * scale;
    for p in out.iter_mut() {
        if let Purchase::Sheet { id: have, thickness: t, area: a, largest, pieces } = p
            && have == id
            && t.same(thickness)
        {
            *a += area;
            *largest = (largest.0.max(size.0), largest.1.max(size.1));
            *pieces += 1;
            return;
        }
    }
    debug_assert!(is_sheet(id), "{id} is listed as a sheet");
    out.push(Purchase::Sheet { id: id.to_string(), thickness, area, largest: size, pieces: 1 });
}

fn veneer(out: &mut Vec<Purchase>, wood: &str, area: Area) {
    for p in out.iter_mut() {
        if let Purchase::Veneer { wood: have, area: a, pieces } = p
            && have == wood
        {
            *a += area;
            *pieces += 1;
            return;
        }
    }
    out.push(Purchase::Veneer { wood: wood.to_string(), area, pieces: 1 });
}

fn finish(out: &mut [Purchase], rules: &StockRules) {
    for p in out {
        if let Purchase::Lumber { quarters, thickness, widest, net_board_feet, board_feet, by_rule, .. } = p {
            *board_feet = *net_board_feet * (1.0 + rules.buying_waste);
            let sold = quarters.map_or(*thickness, Quarters::nominal);
            // One notional board as wide as the widest piece, long enough for the board feet.
            let width = widest.max(Length::inches(4.0));
            let feet_long = *board_feet * 12.0 / (sold.to_inches().max(1.0) * width.to_inches());
            let length = Length::inches((feet_long.ceil() * 12.0).max(12.0));
            *by_rule = tally::by_rule(sold, &[(width, length)]).board_feet;
        }
    }
}
