//! One run: how far it is, its best plan, and what may be done with it.

use super::super::frame::{Frame, page};
use super::super::rack::showing;
use super::choose::state_words;
use super::live::Progress;
use super::outcome::{BoardCut, Figures, Missing};
use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{Html, IntoResponse, Response};
use axum::{Extension, Json};
use keepwright_packet::shown::{Showing, counted};
use keepwright_store::{Error, Run, RunId, RunState};
use serde::Serialize;

/// Seconds until a page without script looks again.
const LOOK_AGAIN: u32 = 2;

#[derive(Template)]
#[template(path = "pages/cutting_run.html")]
struct RunPage {
    frame: Frame,
    run: i64,
    title: String,
    state: RunState,
    state_words: &'static str,
    says: String,
    /// While it runs.
    progress: Option<Told>,
    facts: Option<Facts>,
    boards: Vec<BoardCut>,
    missing: Vec<Missing>,
    judged: Vec<String>,
    sources: Vec<(String, String)>,
    look_again: u32,
}

impl RunPage {
    fn is(&self, word: &str) -> bool {
        self.state.word() == word
    }
}

/// The numbers of a plan, as the shop reads them.
#[derive(Clone, Debug, Serialize)]
struct Facts {
    cost: String,
    bound: String,
    gap: String,
    waste: String,
    boards: usize,
    missing: usize,
}

impl Facts {
    fn of(figures: &Figures, show: &Showing) -> Self {
        Self {
            cost: figures.cost_words(show),
            bound: figures.bound_words(show),
            gap: figures.gap_words(show),
            waste: figures.waste_words(),
            boards: figures.boards,
            missing: figures.missing,
        }
    }
}

/// How far a run is, for the page and for its script.
#[derive(Clone, Debug, Serialize)]
struct Told {
    state: &'static str,
    elapsed: f64,
    seconds: u64,
    drawing: u64,
    says: String,
    facts: Option<Facts>,
}

impl Told {
    fn of(progress: Progress, show: &Showing) -> Self {
        let gone = progress.elapsed.min(progress.seconds as f64);
        Self {
            state: RunState::Running.word(),
            elapsed: (gone * 10.0).round() / 10.0,
            seconds: progress.seconds,
            drawing: progress.drawing,
            says: said(progress.best.as_ref(), show),
            facts: progress.best.as_ref().map(|best| Facts::of(best, show)),
        }
    }
}

/// The best plan so far in a sentence.
fn said(best: Option<&Figures>, show: &Showing) -> String {
    let Some(best) = best else { return "Looking for a first plan.".to_owned() };
    let boards = counted(best.boards, "board", "boards");
    if best.missing > 0 {
        let blanks = counted(best.missing, "blank has", "blanks have");
        return format!("The best plan so far cuts {boards}; {blanks} no place yet.");
    }
    format!("The best plan so far cuts {boards} worth {}.", best.cost_words(show))
}

/// The run of an address.
///
/// # Errors
/// When there is none, or the store cannot be read.
pub(super) fn find(bench: &Bench, run: &str) -> Result<Run, PageError> {
    let none = || PageError::NoSuch { what: "cutting run", name: run.chars().take(40).collect() };
    let number = run.parse().map_err(|_| none())?;
    bench.store().run(RunId::new(number)).map_err(|error| match error {
        Error::NoRun { .. } => none(),
        other => other.into(),
    })
}

pub(super) async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(run): Path<String>,
) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let run = find(bench, &run)?;
            run_page(bench, &who, &run)
        })
        .await?;
    page(&shown)
}

fn run_page(bench: &Bench, who: &Who, run: &Run) -> Result<RunPage, PageError> {
    let show = showing(&bench.shop()?);
    let live = bench.runs().live(run.id).filter(|_| run.state == RunState::Running);
    // It may have ended between the two questions.
    let run = &(if live.is_none() { bench.store().run(run.id)? } else { run.clone() });
    let read = super::read(run);
    let sources = read
        .as_ref()
        .map(|(inputs, _)| inputs.boxes.iter().map(|b| (b.slug.clone(), b.name.clone())).collect())
        .unwrap_or_default();
    let mut shown = RunPage {
        frame: Frame::of(bench, who, "cutting")?,
        run: run.id.get(),
        title: run.title.clone(),
        state: run.state,
        state_words: state_words(run.state),
        says: String::new(),
        progress: None,
        facts: None,
        boards: Vec::new(),
        missing: Vec::new(),
        judged: Vec::new(),
        sources,
        look_again: LOOK_AGAIN,
    };
    match (live, read) {
        (Some(live), _) => {
            let told = Told::of(live.progress(), &show);
            shown.says.clone_from(&told.says);
            shown.facts.clone_from(&told.facts);
            shown.progress = Some(told);
            shown.boards = live.best();
        }
        (None, Some((_, outcome))) => {
            shown.says = decided(run.state, &outcome.figures, &show);
            shown.facts = Some(Facts::of(&outcome.figures, &show));
            shown.boards = outcome.boards;
            shown.missing = outcome.missing;
            shown.judged = outcome.judged;
        }
        (None, None) => {
            "This run was given up, or ended with the program, before it found a plan. Nothing is reserved."
                .clone_into(&mut shown.says);
        }
    }
    Ok(shown)
}

/// What a finished run found and where it stands, in a sentence.
fn decided(state: RunState, figures: &Figures, show: &Showing) -> String {
    let boards = counted(figures.boards, "board", "boards");
    let worth = figures.cost_words(show);
    let found = if figures.missing > 0 {
        let blanks = counted(figures.missing, "blank finds", "blanks find");
        format!("{boards} worth {worth} would be cut; {blanks} no place on them.")
    } else {
        format!("Everything comes out of {boards} worth {worth}.")
    };
    let then = match state {
        RunState::Running | RunState::Done => " Nothing is reserved before you accept it.",
        RunState::Accepted => " The boards are reserved for these boxes.",
        RunState::Cut => " The boards are cut, and the offcuts worth keeping are in the rack.",
        RunState::Dropped => " It was given up; nothing is reserved.",
    };
    format!("{found}{then}")
}

pub(super) async fn progress(
    State(bench): State<Bench>,
    Path(run): Path<String>,
) -> Result<Response, PageError> {
    let told = bench
        .work(move |bench| {
            let run = find(bench, &run)?;
            let show = showing(&bench.shop()?);
            Ok(match bench.runs().live(run.id).filter(|_| run.state == RunState::Running) {
                Some(live) => Told::of(live.progress(), &show),
                None => Told {
                    // The moment between the end of the search and its being kept.
                    state: run.state.word(),
                    elapsed: 0.0,
                    seconds: 0,
                    drawing: 0,
                    says: String::new(),
                    facts: None,
                },
            })
        })
        .await?;
    Ok(([(header::CACHE_CONTROL, "no-store")], Json(told)).into_response())
}

#[derive(Template)]
#[template(path = "parts/boards_cut.html")]
struct BestPart {
    boards: Vec<BoardCut>,
}

pub(super) async fn best(State(bench): State<Bench>, Path(run): Path<String>) -> Result<Response, PageError> {
    let part = bench
        .work(move |bench| {
            let run = find(bench, &run)?;
            let boards = bench.runs().live(run.id).map(|live| live.best()).unwrap_or_default();
            Ok(BestPart { boards }.render()?)
        })
        .await?;
    Ok(([(header::CACHE_CONTROL, "no-store")], Html(part)).into_response())
}
