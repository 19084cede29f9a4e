//! Choosing what is to be cut from what, and beginning.

use super::super::frame::{Frame, page, page_as};
use super::super::rack::{read, showing};
use super::live::{self, MOST_AT_ONCE, Question};
use super::outcome::{Inputs, Source};
use crate::clock;
use crate::error::PageError;
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::{Extension, Form};
use keepwright_model::design::show_problems;
use keepwright_model::parts::{BoxParts, Origin};
use keepwright_packet::drawings::wood as woods;
use keepwright_packet::shown::{and, counted};
use keepwright_store::{BoxLine, JobState, Run, RunState, Shelf, StockState, Time};
use std::collections::BTreeSet;

/// How long a search may take, in seconds.
const TIMES: [u64; 3] = [5, 20, 60];
/// The time unless another is chosen.
const USUAL_TIME: u64 = 20;
/// Runs in the list.
const MOST_LISTED: usize = 20;
/// The longest title, in characters: names of many boxes are cut short.
const LONGEST_TITLE: usize = 100;

#[derive(Template)]
#[template(path = "pages/cutting.html")]
struct CuttingPage {
    frame: Frame,
    says: String,
    wrong: Option<String>,
    boxes: Vec<BoxChoice>,
    boards: Vec<BoardChoice>,
    times: Vec<(u64, bool)>,
    runs: Vec<RunLine>,
}

/// A box to choose.
struct BoxChoice {
    slug: String,
    name: String,
    state: &'static str,
    /// Ids of its woods, a blank between.
    woods: String,
    wood_names: String,
    chosen: bool,
    /// Why it cannot be chosen.
    problem: Option<String>,
}

/// A board to choose.
struct BoardChoice {
    slug: String,
    name: String,
    wood: String,
    wood_name: String,
    sizes: String,
    price: String,
    chosen: bool,
}

/// A run in the list.
struct RunLine {
    run: i64,
    title: String,
    state: &'static str,
    at: String,
}

/// What is ticked.
#[derive(Debug, Default)]
struct Ticked {
    boxes: BTreeSet<String>,
    boards: BTreeSet<String>,
    seconds: Option<u64>,
}

impl Ticked {
    fn of(sent: &[(String, String)]) -> Self {
        let all = |name: &str| sent.iter().filter(|(n, _)| n == name).map(|(_, v)| v.clone()).collect();
        Self {
            boxes: all("box"),
            boards: all("board"),
            seconds: sent.iter().find(|(n, _)| n == "seconds").and_then(|(_, v)| v.parse().ok()),
        }
    }
}

/// Which boards are ticked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Tick {
    /// Those of the chosen boxes' woods.
    ByWood,
    /// Those that were sent.
    AsSent,
}

pub(super) async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            // What is to be made next is what is planned.
            let boxes = candidates(bench)?;
            let planned = boxes.iter().filter(|b| b.job.state == JobState::Planned);
            let ticked =
                Ticked { boxes: planned.map(|b| b.document.slug.clone()).collect(), ..Ticked::default() };
            cutting_page(bench, &who, &boxes, &ticked, Tick::ByWood, None)
        })
        .await?;
    page(&shown)
}

pub(super) async fn choose(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Form(sent): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let boxes = candidates(bench)?;
            cutting_page(bench, &who, &boxes, &Ticked::of(&sent), Tick::ByWood, None)
        })
        .await?;
    page(&shown)
}

pub(super) async fn start(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Form(sent): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let ticked = Ticked::of(&sent);
            match question(bench, &ticked)? {
                Ok(question) => {
                    let names: Vec<&str> = question.inputs.boxes.iter().map(|b| b.name.as_str()).collect();
                    let title: String = and(&names).chars().take(LONGEST_TITLE).collect();
                    let inputs = serde_json::to_string(&question.inputs)
                        .map_err(|e| PageError::Broken(e.to_string()))?;
                    let run = bench.store().add_run(&title, &inputs, Time::seconds(clock::now()))?;
                    live::begin(bench, run.id, question);
                    Ok(Redirect::to(&format!("/cutting/{}", run.id)).into_response())
                }
                Err(wrong) => {
                    let boxes = candidates(bench)?;
                    let shown = cutting_page(bench, &who, &boxes, &ticked, Tick::AsSent, Some(wrong))?;
                    page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown)
                }
            }
        })
        .await
}

/// The boxes that are still to be cut, by name.
fn candidates(bench: &Bench) -> Result<Vec<BoxLine>, PageError> {
    let mut boxes = bench.store().boxes(Shelf::Kept)?;
    boxes.retain(|b| matches!(b.job.state, JobState::Idea | JobState::Planned | JobState::Cutting));
    boxes.sort_by(|a, b| a.document.name.cmp(&b.document.name));
    Ok(boxes)
}

/// Everything that the run needs, or why it cannot begin.
fn question(bench: &Bench, ticked: &Ticked) -> Result<Result<Question, String>, PageError> {
    let shop = bench.shop()?;
    if !bench.runs().has_room() {
        return Ok(Err(format!(
            "{MOST_AT_ONCE} runs are under way, which is the most: wait for one, or stop it on its page."
        )));
    }
    let (mut boxes, mut parts) = (Vec::new(), Vec::new());
    for line in candidates(bench)?.into_iter().filter(|b| ticked.boxes.contains(&b.document.slug)) {
        match planner::parts(&line.head.text, &shop) {
            Ok(found) => parts.push(found),
            Err(problems) => {
                let says = show_problems(&problems, &line.document.name, &line.head.text);
                return Ok(Err(format!("{} cannot be planned: {says}", line.document.name)));
            }
        }
        boxes.push(Source {
            id: line.document.id.get(),
            slug: line.document.slug,
            name: line.document.name,
            version: line.head.id.get(),
        });
    }
    let (mut boards, mut rack) = (Vec::new(), Vec::new());
    let mut free = bench.store().boards(Shelf::Kept)?;
    free.retain(|b| b.stock.state == StockState::Free && ticked.boards.contains(&b.document.slug));
    free.sort_by(|a, b| a.document.name.cmp(&b.document.name));
    for board in free {
        let Some((_, read)) = read(&board.head.text, &shop) else { continue };
        rack.push(read);
        boards.push(Source {
            id: board.document.id.get(),
            slug: board.document.slug,
            name: board.document.name,
            version: board.head.id.get(),
        });
    }
    if boxes.is_empty() {
        return Ok(Err("No box is chosen: tick at least one.".to_owned()));
    }
    if boards.is_empty() {
        return Ok(Err(
            "No free board is chosen: tick at least one, or let those of the woods be ticked.".to_owned()
        ));
    }
    let seconds = ticked.seconds.filter(|s| TIMES.contains(s)).unwrap_or(USUAL_TIME);
    Ok(Ok(Question { inputs: Inputs { boxes, boards, seconds }, parts, rack, shop }))
}

/// The woods that a box takes from boards and sheets.
fn woods_of(parts: &BoxParts) -> BTreeSet<String> {
    let from_stock = |origin| matches!(origin, Origin::Board | Origin::Sheet | Origin::KeyStrip);
    parts.parts.iter().filter(|p| from_stock(p.origin)).map(|p| p.wood.clone()).collect()
}

fn cutting_page(
    bench: &Bench,
    who: &Who,
    lines: &[BoxLine],
    ticked: &Ticked,
    tick: Tick,
    wrong: Option<String>,
) -> Result<CuttingPage, PageError> {
    let shop = bench.shop()?;
    let show = showing(&shop);
    let mut wanted = BTreeSet::new();
    let mut boxes = Vec::new();
    for line in lines {
        let chosen = ticked.boxes.contains(&line.document.slug);
        let (of, problem) = match planner::parts(&line.head.text, &shop) {
            Ok((parts, _)) => (woods_of(&parts), None),
            Err(problems) => (BTreeSet::new(), problems.into_iter().next().map(|p| p.says)),
        };
        if chosen {
            wanted.extend(of.iter().cloned());
        }
        let names: Vec<String> = of.iter().map(|w| woods::name(w)).collect();
        boxes.push(BoxChoice {
            slug: line.document.slug.clone(),
            name: line.document.name.clone(),
            state: line.job.state.word(),
            woods: of.into_iter().collect::<Vec<_>>().join(" "),
            wood_names: and(&names),
            chosen,
            problem,
        });
    }
    let mut boards = Vec::new();
    for board in bench.store().boards(Shelf::Kept)? {
        if board.stock.state != StockState::Free {
            continue;
        }
        let Some((_, read)) = read(&board.head.text, &shop) else { continue };
        let alike = if read.count > 1 { format!(", {} alike", read.count) } else { String::new() };
        boards.push(BoardChoice {
            chosen: match tick {
                Tick::ByWood => wanted.contains(&read.wood),
                Tick::AsSent => ticked.boards.contains(&board.document.slug),
            },
            slug: board.document.slug,
            name: board.document.name,
            wood_name: woods::name(&read.wood),
            sizes: format!("{}{alike}", show.sizes(&[read.length, read.width, read.thickness])),
            price: show.money(read.cost()),
            wood: read.wood,
        });
    }
    boards.sort_by(|a, b| (&a.wood_name, &a.name).cmp(&(&b.wood_name, &b.name)));
    let seconds = ticked.seconds.unwrap_or(USUAL_TIME);
    Ok(CuttingPage {
        frame: Frame::of(bench, who, "cutting")?,
        says: sentence(boxes.len(), boards.len()),
        wrong,
        boxes,
        boards,
        times: TIMES.iter().map(|t| (*t, *t == seconds)).collect(),
        runs: bench.store().runs(MOST_LISTED)?.into_iter().map(line).collect(),
    })
}

fn sentence(boxes: usize, boards: usize) -> String {
    if boxes == 0 {
        return "Every box is past cutting.".to_owned();
    }
    format!(
        "{} {} still to be cut, and {} {} free: boxes planned together share their boards.",
        counted(boxes, "box", "boxes"),
        if boxes == 1 { "is" } else { "are" },
        counted(boards, "board", "boards"),
        if boards == 1 { "is" } else { "are" }
    )
}

fn line(run: Run) -> RunLine {
    RunLine {
        run: run.id.get(),
        title: run.title,
        state: state_words(run.state),
        at: clock::said(run.made_at),
    }
}

/// A run's state as it is said.
pub(super) const fn state_words(state: RunState) -> &'static str {
    match state {
        RunState::Running => "running",
        RunState::Done => "done, not decided",
        RunState::Accepted => "accepted, boards reserved",
        RunState::Cut => "cut",
        RunState::Dropped => "given up",
    }
}
