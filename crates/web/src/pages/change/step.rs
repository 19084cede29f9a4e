//! Undo and redo, without end.

use super::answer::{is_script, stepped};
use crate::clock;
use crate::error::PageError;
use crate::pages::later;
use crate::pages::one_box::{by, same_name, version};
use crate::policy::who::Who;
use crate::state::Bench;
use axum::Extension;
use axum::extract::{Form, Path, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use keepwright_store::{Stepped, Time, VersionId};
use serde::Deserialize;

/// The version that the page shows.
#[derive(Debug, Deserialize)]
pub(super) struct Base {
    #[serde(default)]
    base: i64,
}

#[derive(Clone, Copy)]
enum Way {
    Back,
    Forth,
}

/// Goes back to what the version in force was made from.
pub(super) async fn undo(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    headers: HeaderMap,
    Form(base): Form<Base>,
) -> Result<Response, PageError> {
    bench.work(move |bench| step(bench, &who, &slug, (Way::Back, base.base), is_script(&headers))).await
}

/// Goes forward again.
pub(super) async fn redo(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    headers: HeaderMap,
    Form(base): Form<Base>,
) -> Result<Response, PageError> {
    bench.work(move |bench| step(bench, &who, &slug, (Way::Forth, base.base), is_script(&headers))).await
}

fn step(
    bench: &Bench,
    who: &Who,
    slug: &str,
    (way, base): (Way, i64),
    script: bool,
) -> Result<Response, PageError> {
    let document = bench.find_box(slug)?;
    let before = version(bench, &document, base)?;
    let (id, now) = (VersionId::new(base), Time::seconds(clock::now()));
    let done = match way {
        Way::Back => bench.store().undo(document.id, id, now)?,
        Way::Forth => bench.store().redo(document.id, id, now)?,
    };
    let (head, moved) = match done {
        Stepped::To(head) => {
            same_name(bench, &document, &head.text, by(who))?;
            (head, false)
        }
        Stepped::End(head) => (head, false),
        Stepped::Moved(head) => (head, true),
    };
    let document = bench.find_box(slug)?;
    if script {
        return stepped(bench, who, &document, (&head, &before.text), moved);
    }
    if moved {
        return Ok(
            (StatusCode::CONFLICT, later::moved(bench, who, &document, &before, &head)?).into_response()
        );
    }
    Ok(Redirect::to(&format!("/boxes/{slug}")).into_response())
}
