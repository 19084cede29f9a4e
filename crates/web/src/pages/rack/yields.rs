//! What a board would yield: clear lengths, board feet by both rules, what it is worth, and how much of each box
//! that is not cut yet comes out of it.

use super::{is_sheet, price_words, showing, thickness_words};
use crate::error::PageError;
use crate::planner;
use crate::state::Bench;
use keepwright_model::boards::{Board, tally};
use keepwright_model::cutting::{NeverStop, Settings, Silent};
use keepwright_model::design::RackBoard;
use keepwright_model::job::{Becomes, BoxOrder, Shop, ask, lay_out};
use keepwright_model::parts::{BoxParts, PartId, Role};
use keepwright_model::units::Length;
use keepwright_packet::drawings::wood as woods;
use keepwright_packet::shown::Showing;
use keepwright_store::{JobState, Shelf};

/// Fillings tried per box: a single board is soon seen through.
const STEPS: u64 = 200;

/// What a board would yield.
pub(super) struct Yields {
    /// Clear lengths with where they begin, from left to right.
    pub(super) clear: Vec<Clear>,
    /// Board feet as shops bill them; `None` of sheet goods.
    pub(super) billed: Option<String>,
    /// Board feet by the grading rule.
    pub(super) by_rule: Option<String>,
    /// What it is worth.
    pub(super) worth: String,
    /// The flat thickness that is left of it.
    pub(super) usable: String,
    /// What each box would have of it.
    pub(super) boxes: Vec<OfBox>,
    /// Boxes that want none of this wood.
    pub(super) others: usize,
}

/// A clear length.
pub(super) struct Clear {
    /// Where it begins.
    pub(super) from: String,
    /// Its length in the shop's unit and the other.
    pub(super) length: String,
}

/// What one box would have of a board.
pub(super) struct OfBox {
    /// The box.
    pub(super) slug: String,
    /// Its name.
    pub(super) name: String,
    /// Its walls that fit, of those of this wood.
    pub(super) walls: (usize, usize),
    /// All its blanks that fit, of those of this wood.
    pub(super) blanks: (usize, usize),
}

/// One sentence on a board.
pub(super) fn sentence(stated: &RackBoard, board: &Board, state: &str, show: &Showing) -> String {
    let longest = board.clear_lengths().into_iter().map(|c| c.length).fold(Length::ZERO, Length::max);
    let clear = if longest > Length::ZERO {
        format!("; {} is its longest clear length", show.length(longest))
    } else {
        "; nothing of it is clear over the whole width".to_owned()
    };
    let alike = if board.count > 1 { format!("{} alike, each ", board.count) } else { String::new() };
    format!(
        "{} of {}, {alike}{}, {}, {}{clear}.",
        board.name,
        woods::name(&board.wood),
        show.sizes(&[board.length, board.width]),
        thickness_words(stated, board, show),
        state
    )
}

/// What a board would yield.
///
/// # Errors
/// When the store cannot be read.
pub(super) fn yields(
    bench: &Bench,
    shop: &Shop,
    stated: &RackBoard,
    board: &Board,
) -> Result<Yields, PageError> {
    let show = showing(shop);
    let lumber = !is_sheet(&board.wood);
    let thick = board.billed_thickness();
    let feet = |feet: f64| format!("{feet:.2}");
    let mut one = board.clone();
    one.count = 1;
    let mut boxes = Vec::new();
    let mut others = 0;
    for line in bench.store().boxes(Shelf::Kept)? {
        if !matches!(line.job.state, JobState::Idea | JobState::Planned | JobState::Cutting) {
            continue;
        }
        // A box that cannot be planned yet says so on its own page.
        let Ok((parts, _)) = planner::parts(&line.head.text, shop) else { continue };
        match of_box(&parts, &one, shop) {
            Some((walls, blanks)) => {
                boxes.push(OfBox { slug: line.document.slug, name: line.document.name, walls, blanks });
            }
            None => others += 1,
        }
    }
    Ok(Yields {
        clear: board
            .clear_lengths()
            .into_iter()
            .map(|c| Clear { from: show.length(c.from), length: show.both(c.length) })
            .collect(),
        billed: lumber.then(|| feet(tally::plain(thick, board.width, board.length))),
        by_rule: lumber.then(|| feet(tally::by_rule(thick, &[(board.width, board.length)]).board_feet)),
        worth: price_words(stated, board, &show),
        usable: show.both(shop.stock.milling.usable(board).0),
        boxes,
        others,
    })
}

/// Walls and blanks of one box that come out of a board, each of how many; `None` if it wants none of the wood.
fn of_box(parts: &BoxParts, board: &Board, shop: &Shop) -> Option<((usize, usize), (usize, usize))> {
    let order = [BoxOrder { name: None, parts, count: 1 }];
    let rack = std::slice::from_ref(board);
    let question = ask(&order, rack, &shop.stock);
    let wood = question.demand.stock.first()?.wood.clone();
    let plan = lay_out(question, Settings { seed: 1, steps: STEPS }, &mut NeverStop, &mut Silent);
    let ours: Vec<usize> =
        (0..plan.demand.items.len()).filter(|i| plan.demand.items[*i].wood == wood).collect();
    if ours.is_empty() {
        return None;
    }
    let walls_in = |item: usize| -> usize {
        let is_wall = |id: &PartId| parts.parts.get(id.0).is_some_and(|p| p.role == Role::Wall);
        match plan.billets.get(item).map(|b| &b.becomes) {
            Some(Becomes::Blank(id)) => usize::from(is_wall(id)),
            Some(Becomes::Slices(ids)) => ids.iter().filter(|id| is_wall(id)).count(),
            _ => 0,
        }
    };
    let placed: Vec<usize> = plan.cutting.layouts.iter().flat_map(|l| &l.parts).map(|p| p.item).collect();
    let count = |items: &[usize]| items.iter().map(|i| walls_in(*i)).sum::<usize>();
    Some(((count(&placed), count(&ours)), (placed.len(), ours.len())))
}

impl OfBox {
    /// In words: `all 4 walls, 6 of its 8 blanks`.
    pub(super) fn words(&self) -> String {
        let blanks = share(self.blanks, "blank", "blanks");
        if self.walls.1 == 0 { blanks } else { format!("{}, {blanks}", share(self.walls, "wall", "walls")) }
    }
}

/// How many of how many, in words.
fn share((fit, all): (usize, usize), one: &str, many: &str) -> String {
    match (fit, all) {
        (1, 1) => format!("its one {one}"),
        (0, 1) => format!("not its one {one}"),
        (0, all) => format!("none of its {all} {many}"),
        (fit, all) if fit == all => format!("all {all} {many}"),
        (fit, all) => format!("{fit} of its {all} {many}"),
    }
}
