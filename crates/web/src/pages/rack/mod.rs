//! The rack: the boards with their pictures to scale, what each measures and costs, and who has it.

mod acts;
mod board;
pub(crate) mod drawn;
mod file;
mod form;
mod keys;
mod offcut;
mod photo;
mod yields;

use super::frame::{Frame, page};
use crate::error::PageError;
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::State;
use axum::response::Response;
use axum::routing::{get, post};
use axum::{Extension, Router};
use drawn::Drawn;
use keepwright_model::boards::{Board, tally};
use keepwright_model::design::{RackBoard, RingCut};
use keepwright_model::job::{Shop, rack_from};
use keepwright_model::units::{Length, Money};
use keepwright_model::wood;
use keepwright_packet::drawings::{Shown, wood as woods};
use keepwright_packet::shown::{self, Showing, counted};
use keepwright_store::{self as store, DocumentId, Shelf, StockState};
use std::collections::BTreeMap;

pub(crate) use acts::taken as board_taken;
pub(crate) use offcut::{offcut_text, with_count};

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/rack", get(list))
        .route("/rack/bin", get(bin))
        .route("/rack/new", get(board::blank).post(board::make))
        .route("/rack/export", get(file::out))
        .route("/rack/import", get(file::ask).post(file::take))
        .route("/rack/{slug}", get(board::show).post(board::save))
        .route("/rack/{slug}/copy", post(acts::copy))
        .route("/rack/{slug}/bin", post(acts::bin))
        .route("/rack/{slug}/unbin", post(acts::unbin))
        .route("/rack/{slug}/mark", post(acts::mark))
        .route("/rack/{slug}/restore", post(acts::restore))
        .route("/rack/{slug}/photo/hide", post(photo::hide))
        .route("/lengths", get(acts::lengths))
        .route("/pictures/{name}", get(photo::picture))
        .merge(photo::upload())
}

/// The shop's way of reading numbers.
pub(crate) fn showing(shop: &Shop) -> Showing {
    let shown = Shown { unit: shop.unit, fineness: shop.fineness };
    Showing { shown, currency: shop.bench.currency }
}

/// A board's text, read: as stated and as the model has it.
pub(crate) fn read(text: &str, shop: &Shop) -> Option<(RackBoard, Board)> {
    let file = planner::rack_file(text, shop).ok()?;
    let board = rack_from(&file).into_iter().next()?;
    Some((file.boards.into_iter().next()?, board))
}

/// Whether it is a sheet good, which is sold by the sheet and not by board feet.
pub(crate) fn is_sheet(wood: &str) -> bool {
    wood::sheet(wood).is_some()
}

/// Who has a board, in words.
pub(crate) fn state_words(bench: &Bench, stock: &store::Stock) -> Result<String, PageError> {
    let verb = match stock.state {
        StockState::Free => return Ok("free".to_owned()),
        StockState::Reserved => "reserved",
        StockState::Used => "used",
    };
    let Some(run) = stock.run else { return Ok(verb.to_owned()) };
    let names: Vec<String> = bench
        .store()
        .run_boxes(run)?
        .into_iter()
        .map(|id| bench.store().document_by_id(id).map(|d| d.name))
        .collect::<Result<_, _>>()?;
    Ok(if names.is_empty() { verb.to_owned() } else { format!("{verb} for {}", shown::and(&names)) })
}

#[derive(Template)]
#[template(path = "pages/rack.html")]
struct RackPage {
    frame: Frame,
    /// The rack, or its bin.
    is_bin: bool,
    says: String,
    lines: Vec<Line>,
    used: Vec<Line>,
    binned: usize,
}

/// One board in the list.
struct Line {
    slug: String,
    name: String,
    state: String,
    is_free: bool,
    offcut_of: Option<(String, String)>,
    /// What is known of it; `None` where its text has a problem.
    known: Option<Known>,
}

/// What is known of a board.
struct Known {
    drawn: Drawn,
    wood: String,
    sizes: String,
    other_sizes: String,
    thickness: String,
    moisture: String,
    rings: String,
    price: String,
    count: u32,
}

async fn list(State(bench): State<Bench>, Extension(who): Extension<Who>) -> Result<Response, PageError> {
    let shown = bench.work(move |bench| rack_page(bench, &who, Shelf::Kept)).await?;
    page(&shown)
}

async fn bin(State(bench): State<Bench>, Extension(who): Extension<Who>) -> Result<Response, PageError> {
    let shown = bench.work(move |bench| rack_page(bench, &who, Shelf::Bin)).await?;
    page(&shown)
}

fn rack_page(bench: &Bench, who: &Who, shelf: Shelf) -> Result<RackPage, PageError> {
    let shop = bench.shop()?;
    let show = showing(&shop);
    let boards = bench.store().boards(shelf)?;
    let read: Vec<Option<(RackBoard, Board)>> = boards.iter().map(|b| read(&b.head.text, &shop)).collect();
    let longest = read.iter().flatten().map(|(_, b)| b.length).fold(Length::mm(1.0), Length::max);
    let says = sentence(&boards, &read, &show);
    let names: BTreeMap<DocumentId, (String, String)> =
        boards.iter().map(|b| (b.document.id, (b.document.slug.clone(), b.document.name.clone()))).collect();
    let mut lines = Vec::new();
    let mut used = Vec::new();
    for (board, read) in boards.into_iter().zip(read) {
        let known = match read {
            Some((stated, read)) => {
                let photo = photo::front(bench, board.document.id)?;
                Some(known(&stated, &read, longest, photo, &show))
            }
            None => None,
        };
        let line = Line {
            state: state_words(bench, &board.stock)?,
            is_free: board.stock.state == StockState::Free,
            offcut_of: board.stock.offcut_of.and_then(|id| names.get(&id).cloned()),
            slug: board.document.slug,
            name: board.document.name,
            known,
        };
        if board.stock.state == StockState::Used { used.push(line) } else { lines.push(line) }
    }
    let key = |line: &Line| (line.known.as_ref().map(|k| k.wood.clone()), line.name.clone());
    lines.sort_by_key(key);
    used.sort_by_key(key);
    let binned = if shelf == Shelf::Bin { 0 } else { bench.store().boards(Shelf::Bin)?.len() };
    Ok(RackPage {
        frame: Frame::of(bench, who, "rack")?,
        is_bin: shelf == Shelf::Bin,
        says,
        lines,
        used,
        binned,
    })
}

/// What the rack holds, in one sentence.
fn sentence(boards: &[store::Board], read: &[Option<(RackBoard, Board)>], show: &Showing) -> String {
    let (mut count, mut feet, mut worth, mut reserved) = (0_usize, 0.0, Money::ZERO, 0_usize);
    for (board, read) in boards.iter().zip(read) {
        let Some((_, read)) = read else { continue };
        if board.stock.state == StockState::Used {
            continue;
        }
        let alike = f64::from(read.count);
        count += read.count as usize;
        worth = worth + read.cost().times(alike);
        if !is_sheet(&read.wood) {
            feet += alike * tally::plain(read.billed_thickness(), read.width, read.length);
        }
        reserved += if board.stock.state == StockState::Reserved { read.count as usize } else { 0 };
    }
    if count == 0 {
        return "No board stands here.".to_owned();
    }
    let kept = match reserved {
        0 => "all of them free".to_owned(),
        n => format!("{n} of them reserved"),
    };
    format!(
        "{} stand here, {feet:.1} board feet as shops bill them, worth {}; {kept}.",
        counted(count, "board", "boards"),
        show.money(worth)
    )
}

fn known(stated: &RackBoard, board: &Board, longest: Length, photo: Option<String>, show: &Showing) -> Known {
    Known {
        drawn: drawn::drawn(stated, board.thickness, longest, photo),
        wood: woods::name(&board.wood),
        sizes: show.sizes(&[board.length, board.width]),
        other_sizes: show.sizes_other(&[board.length, board.width]),
        thickness: thickness_words(stated, board, show),
        moisture: board.moisture.map_or_else(|| "not measured".to_owned(), shown::moisture),
        rings: rings_words(stated.rings),
        price: price_words(stated, board, show),
        count: board.count,
    }
}

/// Thickness as measured, with the quarters it was sold by.
fn thickness_words(stated: &RackBoard, board: &Board, show: &Showing) -> String {
    match (stated.quarters, stated.thickness) {
        (Some(q), Some(_)) => format!("{q}/4, measures {}", show.both(board.thickness)),
        (Some(q), None) => format!("{q}/4, taken as {}", show.both(board.thickness)),
        (None, _) => show.both(board.thickness),
    }
}

fn rings_words(rings: RingCut) -> String {
    match rings {
        RingCut::FlatSawn => "flat-sawn".to_owned(),
        RingCut::Rift => "rift".to_owned(),
        RingCut::QuarterSawn => "quartersawn".to_owned(),
        RingCut::At(angle) => format!("rings at {}", shown::angle(angle)),
    }
}

fn price_words(stated: &RackBoard, board: &Board, show: &Showing) -> String {
    if stated.price.is_none() { "no price stated".to_owned() } else { show.money(board.cost()) }
}
