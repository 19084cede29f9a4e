//! Cutting: several boxes laid out together on several boards; accepting the plan reserves the boards for them.

mod choose;
mod decide;
pub(crate) mod live;
pub(crate) mod outcome;
mod plain;
mod run;

use crate::error::PageError;
use crate::state::Bench;
use axum::Router;
use axum::routing::{get, post};
use keepwright_store::{DocumentId, Run, RunState};
use outcome::{BoardCut, Inputs, Missing, Outcome};

/// The last runs that are looked through for a box's layout.
const MOST_RUNS: usize = 500;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/cutting", get(choose::show))
        .route("/cutting/choose", post(choose::choose))
        .route("/cutting/start", post(choose::start))
        .route("/cutting/{run}", get(run::show))
        .route("/cutting/{run}/progress", get(run::progress))
        .route("/cutting/{run}/best", get(run::best))
        .route("/cutting/{run}/stop", post(decide::stop))
        .route("/cutting/{run}/cancel", post(decide::cancel))
        .route("/cutting/{run}/accept", post(decide::accept))
        .route("/cutting/{run}/release", post(decide::release))
        .route("/cutting/{run}/cut", post(decide::cut))
}

/// The layout that was accepted for a box.
#[derive(Clone, Debug)]
pub(crate) struct Accepted {
    /// The run's number, as in its address.
    pub(crate) run: i64,
    /// Its title: the boxes that share the boards.
    pub(crate) title: String,
    /// Whether it is sawn already.
    pub(crate) is_cut: bool,
    /// The boards that hold a blank of this box.
    pub(crate) boards: Vec<BoardCut>,
    /// What of this box found no place.
    pub(crate) missing: Vec<Missing>,
}

/// The layout that was accepted for a box last, if there is one.
///
/// # Errors
/// When the store cannot be read.
pub(crate) fn accepted(bench: &Bench, document: DocumentId) -> Result<Option<Accepted>, PageError> {
    for run in bench.store().runs(MOST_RUNS)? {
        if !matches!(run.state, RunState::Accepted | RunState::Cut) {
            continue;
        }
        let Some((inputs, outcome)) = read(&run) else { continue };
        let Some(of) = inputs.boxes.iter().position(|b| b.id == document.get()) else { continue };
        let Outcome { mut boards, mut missing, .. } = outcome;
        boards.retain(|board| board.blanks.iter().any(|blank| blank.of == of));
        missing.retain(|blank| blank.of == of);
        return Ok(Some(Accepted {
            run: run.id.get(),
            title: run.title,
            is_cut: run.state == RunState::Cut,
            boards,
            missing,
        }));
    }
    Ok(None)
}

/// What was asked of a run and what it found; `None` where it has found nothing, or was kept by a later version.
fn read(run: &Run) -> Option<(Inputs, Outcome)> {
    let inputs = serde_json::from_str(&run.inputs).ok()?;
    let mut outcome: Outcome = serde_json::from_str(run.outcome.as_deref()?).ok()?;
    outcome.boards.iter_mut().filter(|b| !plain::is_plain(&b.svg)).for_each(|b| b.svg.clear());
    Some((inputs, outcome))
}
