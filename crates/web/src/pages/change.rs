//! Changing a box: what a form, a caution or the whole text sends becomes a new version, or a draft where it does not
//! read as a statement. Nothing that was typed is refused, and nothing is overwritten.
//!
//! - A text that reads as a statement is saved as a version, also where the box cannot be planned from it: the
//!   chapters then say why, and undo leads back.
//! - A text that does not read is kept as a draft and shown again with what is wrong at its fields.
//! - A save that was overtaken by another window's is kept beside, and both are shown.

mod answer;
mod edit_page;
mod file_in;
mod live;
pub(crate) mod preview;
mod sent;
mod step;
mod work;

pub(crate) use work::Wrong;

use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::extract::{Form, Path, State};
use axum::http::HeaderMap;
use axum::response::Response;
use axum::routing::{get, post};
use axum::{Extension, Router};
use sent::Sent;
use work::changed;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/{slug}/change", post(change))
        .route("/boxes/{slug}/statement", post(file_in::take))
        .route("/boxes/{slug}/try", post(live::look))
        .route("/boxes/{slug}/undo", post(step::undo))
        .route("/boxes/{slug}/redo", post(step::redo))
        .route("/boxes/{slug}/edit", get(edit_page::first))
        .route("/boxes/{slug}/edit/{chapter}", get(edit_page::chapter))
}

/// Takes a change.
async fn change(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    headers: HeaderMap,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let sent = Sent::of(fields);
    let script = answer::is_script(&headers);
    bench
        .work(move |bench| {
            let (document, outcome) = changed(bench, &who, &slug, &sent)?;
            if script {
                answer::to_script(bench, &who, &document, outcome)
            } else {
                answer::to_reader(bench, &who, &document, &sent, outcome)
            }
        })
        .await
}
