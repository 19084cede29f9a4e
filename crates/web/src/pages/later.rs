//! Two windows on one box: the later save is told, and both are there.

use super::frame::Frame;
use super::one_box::{by, same_name, says, unit_of, version};
use crate::error::PageError;
use crate::forms::changed::{self, Change};
use crate::forms::merge;
use crate::forms::values::Values;
use crate::policy::who::Who;
use crate::state::Bench;
use crate::{clock, planner};
use askama::Template;
use axum::extract::{Form, Path, Query, State};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use keepwright_store::{Document, Saved, Version};
use serde::Deserialize;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new().route("/boxes/{slug}/later", get(show)).route("/boxes/{slug}/mine", post(mine))
}

/// What somebody changed, against the version that both windows showed.
struct Side<'a> {
    version: &'a Version,
    at: String,
    changes: Vec<Change>,
}

#[derive(Template)]
#[template(path = "pages/later.html")]
struct LaterPage<'a> {
    frame: Frame,
    document: &'a Document,
    mine: &'a Version,
    head: &'a Version,
    sides: Vec<(&'static str, Side<'a>)>,
}

#[derive(Template)]
#[template(path = "pages/moved.html")]
struct MovedPage<'a> {
    frame: Frame,
    document: &'a Document,
    before: &'a Version,
    head: &'a Version,
}

/// The address of the page for a version that was saved beside.
pub(crate) fn address(document: &Document, mine: &Version) -> String {
    format!("/boxes/{}/later?mine={}", document.slug, mine.id.get())
}

/// The page that tells of a save that came first, and offers what can be done.
///
/// # Errors
/// Of the store, or a template that cannot be filled in.
pub(crate) fn page<'a>(
    bench: &Bench,
    who: &Who,
    document: &'a Document,
    mine: &'a Version,
    head: &'a Version,
) -> Result<Html<String>, PageError> {
    let base = base_of(bench, mine)?;
    let unit = unit_of(&head.text, &bench.shop()?);
    let changes = |to: &str| match (Values::of(&base), Values::of(to)) {
        (Some(was), Some(now)) => changed::changes(&was, &now, unit),
        _ => Vec::new(),
    };
    let side =
        |version: &'a Version| Side { version, at: clock::said(version.at), changes: changes(&version.text) };
    let page = LaterPage {
        frame: Frame::of(bench, who, "boxes")?,
        document,
        mine,
        head,
        sides: vec![("Yours", side(mine)), ("In force", side(head))],
    };
    Ok(Html(page.render()?))
}

/// The text that a version was made from; empty for the first.
fn base_of(bench: &Bench, mine: &Version) -> Result<String, PageError> {
    Ok(match mine.parent {
        Some(parent) => bench.store().version(parent)?.text,
        None => String::new(),
    })
}

/// The page when another window moved the version in force before an undo.
///
/// # Errors
/// Of the store, or a template that cannot be filled in.
pub(crate) fn moved(
    bench: &Bench,
    who: &Who,
    document: &Document,
    before: &Version,
    head: &Version,
) -> Result<Html<String>, PageError> {
    let page = MovedPage { frame: Frame::of(bench, who, "boxes")?, document, before, head };
    Ok(Html(page.render()?))
}

#[derive(Debug, Deserialize)]
struct Mine {
    #[serde(default)]
    mine: i64,
}

async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Query(asked): Query<Mine>,
) -> Result<Html<String>, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let mine = version(bench, &document, asked.mine)?;
            let head = bench.store().head(document.id)?;
            page(bench, &who, &document, &mine, &head)
        })
        .await
}

/// Which version goes on top of which.
#[derive(Debug, Deserialize)]
struct OnTop {
    #[serde(default)]
    base: i64,
    #[serde(default)]
    mine: i64,
}

/// Puts what a version changed on top of the version in force: where both changed the same key, this one's stands.
async fn mine(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Form(asked): Form<OnTop>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let mine = version(bench, &document, asked.mine)?;
            let head = version(bench, &document, asked.base)?;
            let shop = bench.shop()?;
            let before = base_of(bench, &mine)?;
            let merged = merge::on_top(&before, &mine.text, &head.text);
            // Two changes that do not go together make no statement: then mine stands as it was typed, whole.
            let text = merged
                .filter(|text| planner::statement(text, &shop).is_ok())
                .unwrap_or_else(|| mine.text.clone());
            let name = format!("on top: {}", says(&head.text, &text, &shop));
            match bench.store().save(document.id, head.id, &text, &name, by(&who))? {
                Saved::Kept(head) => {
                    same_name(bench, &document, &head.text, by(&who))?;
                    Ok(Redirect::to(&format!("/boxes/{slug}")).into_response())
                }
                Saved::Same(_) => Ok(Redirect::to(&format!("/boxes/{slug}")).into_response()),
                Saved::Beside { version, .. } => {
                    Ok(Redirect::to(&address(&document, &version)).into_response())
                }
            }
        })
        .await
}
