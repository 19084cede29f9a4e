//! Deciding on a run: stop it, give it up, accept it, release its boards, note that it was cut.

use super::super::rack::{board_taken, offcut_text, read as read_board, with_count};
use super::outcome::{Inputs, Outcome, Source};
use super::run::find;
use crate::clock;
use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::Extension;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use keepwright_store::{By, DocumentId, Error, JobState, Kind, NewBoard, Run, RunState, Time};
use std::collections::BTreeMap;

/// Ends the search with the best it has.
pub(super) async fn stop(State(bench): State<Bench>, Path(run): Path<String>) -> Result<Response, PageError> {
    decided(bench, run, |bench, run| {
        if let Some(live) = bench.runs().live(run.id) {
            live.stop();
        }
        Ok(())
    })
    .await
}

/// Gives a run up that is running or not decided.
pub(super) async fn cancel(
    State(bench): State<Bench>,
    Path(run): Path<String>,
) -> Result<Response, PageError> {
    decided(bench, run, |bench, run| {
        bench.store().drop_run(run.id, Time::seconds(clock::now())).map_err(plain)?;
        if let Some(live) = bench.runs().live(run.id) {
            live.stop();
        }
        Ok(())
    })
    .await
}

/// Accepts a finished run: its boards are reserved for its boxes.
pub(super) async fn accept(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(run): Path<String>,
) -> Result<Response, PageError> {
    decided(bench, run, move |bench, run| {
        let (inputs, outcome) = of(run)?;
        if !outcome.judged.is_empty() {
            return Err(PageError::refused(
                format!("the judge finds this plan wrong: {}", outcome.judged.join("; ")),
                "run the plan again; do not cut by this one",
            ));
        }
        must_be_as_read(bench, &inputs)?;
        let by = By::new(&who.name, Time::seconds(clock::now()));
        let used = times_used(&inputs, &outcome);
        let boards: Vec<DocumentId> = used.iter().map(|(source, _)| DocumentId::new(source.id)).collect();
        let boxes: Vec<DocumentId> = inputs.boxes.iter().map(|b| DocumentId::new(b.id)).collect();
        bench.store().reserve(run.id, &boards, &boxes, by).map_err(plain)?;
        for (source, times) in used {
            leave_the_others(bench, source, times, by)?;
        }
        advance(bench, &boxes, JobState::Idea, JobState::Planned, by)
    })
    .await
}

/// Gives an accepted run up: its boards are free again.
pub(super) async fn release(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(run): Path<String>,
) -> Result<Response, PageError> {
    decided(bench, run, move |bench, run| {
        let by = By::new(&who.name, Time::seconds(clock::now()));
        bench.store().release(run.id, by).map_err(plain)
    })
    .await
}

/// Notes that an accepted run was cut: its boards are used, its offcuts go to the rack.
pub(super) async fn cut(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(run): Path<String>,
) -> Result<Response, PageError> {
    decided(bench, run, move |bench, run| {
        let (inputs, outcome) = of(run)?;
        let by = By::new(&who.name, Time::seconds(clock::now()));
        let offcuts = offcuts(bench, &inputs, &outcome)?;
        bench.store().consume(run.id, &offcuts, by).map_err(plain)?;
        let boxes: Vec<DocumentId> = inputs.boxes.iter().map(|b| DocumentId::new(b.id)).collect();
        advance(bench, &boxes, JobState::Idea, JobState::Cutting, by)?;
        advance(bench, &boxes, JobState::Planned, JobState::Cutting, by)
    })
    .await
}

/// Does something to a run and goes back to its page.
async fn decided(
    bench: Bench,
    run: String,
    act: impl FnOnce(&Bench, &Run) -> Result<(), PageError> + Send + 'static,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let run = find(bench, &run)?;
            act(bench, &run)?;
            Ok(Redirect::to(&format!("/cutting/{}", run.id)).into_response())
        })
        .await
}

/// What a run was asked and what it found.
fn of(run: &Run) -> Result<(Inputs, Outcome), PageError> {
    super::read(run).ok_or_else(|| {
        let state = if run.state == RunState::Running { "is still running" } else { "has found no plan" };
        PageError::refused(format!("the run {state}"), "wait until it is done, or run the plan again")
    })
}

/// What the store refuses because of how things stand is the maker's to decide and no failure of ours.
fn plain(error: Error) -> PageError {
    match error {
        Error::RunState { .. } => PageError::refused(
            error.to_string(),
            "load the page of this run again: it says what can be done with it now",
        ),
        other => board_taken(other),
    }
}

/// A plan is for the boxes and boards as they were read: refuses it when one of them was changed since.
fn must_be_as_read(bench: &Bench, inputs: &Inputs) -> Result<(), PageError> {
    for source in inputs.boxes.iter().chain(&inputs.boards) {
        let now = bench.store().document_by_id(DocumentId::new(source.id))?;
        if now.head.get() != source.version {
            return Err(PageError::refused(
                format!("{} was changed since this plan was made", source.name),
                "run the plan again with it as it is now",
            ));
        }
    }
    Ok(())
}

/// The boards that are cut, each with how many of those alike.
fn times_used<'a>(inputs: &'a Inputs, outcome: &Outcome) -> Vec<(&'a Source, u32)> {
    let mut times: BTreeMap<usize, u32> = BTreeMap::new();
    for cut in &outcome.boards {
        *times.entry(cut.board).or_default() += 1;
    }
    times.into_iter().filter_map(|(place, times)| Some((inputs.boards.get(place)?, times))).collect()
}

/// Where several boards alike stand in one entry and not all of them are cut, the others become one of their own,
/// free as before.
fn leave_the_others(bench: &Bench, source: &Source, times: u32, by: By<'_>) -> Result<(), PageError> {
    let id = DocumentId::new(source.id);
    let head = bench.store().head(id)?;
    let Some((_, board)) = read_board(&head.text, &bench.shop()?) else { return Ok(()) };
    let others = board.count.saturating_sub(times);
    if others == 0 {
        return Ok(());
    }
    let name = format!("{} rest", source.name);
    let text = with_count(&head.text, &name, others)?;
    bench.store().create(Kind::Board, &name, &text, &format!("left of {} alike", board.count), by)?;
    let text = with_count(&head.text, &source.name, times)?;
    bench.store().save(id, head.id, &text, "those that are reserved", by)?;
    Ok(())
}

/// Moves boxes on that are in one state; those further on stay.
fn advance(
    bench: &Bench,
    boxes: &[DocumentId],
    from: JobState,
    to: JobState,
    by: By<'_>,
) -> Result<(), PageError> {
    for &id in boxes {
        if bench.store().job(id)?.state == from {
            bench.store().set_job_state(id, to, by)?;
        }
    }
    Ok(())
}

/// The offcuts that go back to the rack.
fn offcuts(bench: &Bench, inputs: &Inputs, outcome: &Outcome) -> Result<Vec<NewBoard>, PageError> {
    let shop = bench.shop()?;
    let mut numbers: BTreeMap<usize, u32> = BTreeMap::new();
    let mut out = Vec::new();
    for cut in &outcome.boards {
        let Some(source) = inputs.boards.get(cut.board) else { continue };
        let from = DocumentId::new(source.id);
        let text = bench.store().head(from)?.text;
        let Some((stated, _)) = read_board(&text, &shop) else { continue };
        for spot in &cut.offcuts {
            let number = numbers.entry(cut.board).or_default();
            *number += 1;
            let name = format!("{} offcut {number}", source.name);
            let text = offcut_text(&text, &stated, *spot, &name, &shop)?;
            out.push(NewBoard { name, text, from });
        }
    }
    Ok(out)
}
