//! A look at what is being typed: planned, shown, not saved.

use super::preview::{self, Preview};
use super::sent::Sent;
use super::work::{asked, read};
use crate::error::PageError;
use crate::planner::Boards;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::extract::{Form, Path, State};
use axum::response::{IntoResponse, Response};
use axum::{Extension, Json};
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Tried {
    ok: bool,
    #[serde(flatten)]
    preview: Preview,
}

/// Tries a change without saving it.
pub(super) async fn look(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let sent = Sent::of(fields);
    let tried = bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let asked = asked(bench, &document, &sent)?;
            if let Err(problems) = read(&asked, &bench.shop()?) {
                let problems = preview::spots(&asked.text, &problems);
                return Ok(Tried { ok: false, preview: Preview { problems, ..Preview::default() } });
            }
            let preview = preview::of(bench, &who, &document, (&asked.base, &asked.text), Boards::Unplanned)?;
            Ok(Tried { ok: preview.problems.is_empty(), preview })
        })
        .await?;
    Ok(Json(tried).into_response())
}
