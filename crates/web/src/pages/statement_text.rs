//! The whole statement as text, the same as the command line's file; and the drafts that do not read yet.

use super::change::Wrong;
use super::frame::{Frame, page_as};
use super::one_box::version;
use crate::download::attachment;
use crate::drafts::{self, Draft};
use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use crate::{clock, planner};
use askama::Template;
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use keepwright_model::design::Problem;
use keepwright_store::{Document, Time, Version};
use serde::Deserialize;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/{slug}/text", get(show))
        .route("/boxes/{slug}/statement.toml", get(file))
        .route("/boxes/{slug}/drafts/drop", post(drop))
}

#[derive(Template)]
#[template(path = "pages/text.html")]
struct TextPage<'a> {
    frame: Frame,
    document: &'a Document,
    /// The version that the text was made from.
    base: &'a Version,
    /// The draft that is shown, if one is.
    draft: Option<u64>,
    /// Whether the text could be kept as a draft, where it does not read.
    kept: bool,
    text: &'a str,
    rows: usize,
    problems: Vec<Listed>,
    drafts: Vec<DraftLine>,
    /// Why a file was not taken.
    file_wrong: &'a str,
}

/// A problem with its excerpt.
struct Listed {
    line: usize,
    column: usize,
    says: String,
    remedy: String,
    excerpt: String,
}

struct DraftLine {
    number: u64,
    at: String,
    by: String,
    here: bool,
}

#[derive(Debug, Deserialize)]
struct Asked {
    draft: Option<u64>,
}

/// The text in force, or a draft: the one asked for, else the newest that was made from the version in force.
async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let head = bench.store().head(document.id)?;
            let drafts = drafts::of(bench, document.id)?;
            let draft = match asked.draft {
                Some(0) => None,
                Some(number) => Some(
                    drafts
                        .iter()
                        .find(|d| d.number == number)
                        .cloned()
                        .ok_or_else(|| PageError::NoSuch { what: "draft", name: number.to_string() })?,
                ),
                None => drafts.into_iter().find(|d| d.base == head.id.get()),
            };
            let base = match &draft {
                Some(draft) => version(bench, &document, draft.base)?,
                None => head,
            };
            let text = draft.as_ref().map_or_else(|| base.text.clone(), |d| d.text.clone());
            let problems = planner::statement(&text, &bench.shop()?).err().unwrap_or_default();
            let page = made(bench, &who, &document, (&base, draft.as_ref(), true), (&text, &problems))?;
            Ok(Html(page.render()?).into_response())
        })
        .await
}

/// The text again, with what is wrong in it.
///
/// # Errors
/// Of the store, or a template that cannot be filled in.
pub(crate) fn again(
    bench: &Bench,
    who: &Who,
    document: &Document,
    wrong: Wrong,
) -> Result<Response, PageError> {
    let kept = wrong.draft.is_some();
    let page = made(
        bench,
        who,
        document,
        (&wrong.base, wrong.draft.as_ref(), kept),
        (&wrong.text, &wrong.problems),
    )?;
    page_as(StatusCode::UNPROCESSABLE_ENTITY, &page)
}

/// The text in force, and why a file was not taken in its place.
///
/// # Errors
/// Where there is no such box; of the store, or a template that cannot be filled in.
pub(crate) fn file_refused(bench: &Bench, who: &Who, slug: &str, says: &str) -> Result<Response, PageError> {
    let document = bench.find_box(slug)?;
    let head = bench.store().head(document.id)?;
    let mut page = made(bench, who, &document, (&head, None, true), (&head.text, &[]))?;
    page.file_wrong = says;
    page_as(StatusCode::UNPROCESSABLE_ENTITY, &page)
}

fn made<'a>(
    bench: &Bench,
    who: &Who,
    document: &'a Document,
    (base, draft, kept): (&'a Version, Option<&Draft>, bool),
    (text, problems): (&'a str, &[Problem]),
) -> Result<TextPage<'a>, PageError> {
    let number = draft.map(|d| d.number);
    let drafts = drafts::of(bench, document.id)?
        .into_iter()
        .map(|d| DraftLine {
            number: d.number,
            at: clock::said(Time::seconds(d.at)),
            by: d.by,
            here: Some(d.number) == number,
        })
        .collect();
    Ok(TextPage {
        frame: Frame::of(bench, who, "boxes")?,
        document,
        base,
        draft: number,
        kept,
        text,
        rows: text.lines().count().clamp(12, 40) + 2,
        problems: problems.iter().map(|p| listed(p, text)).collect(),
        drafts,
        file_wrong: "",
    })
}

/// Which version is taken away.
#[derive(Debug, Deserialize)]
struct Which {
    /// Its number in the store; the one in force if none is given.
    v: Option<i64>,
}

/// The statement as a file for the command line.
async fn file(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
    Query(which): Query<Which>,
) -> Result<Response, PageError> {
    let (name, text) = bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let text = match which.v {
                Some(number) => version(bench, &document, number)?.text,
                None => bench.store().head(document.id)?.text,
            };
            Ok((format!("{}.toml", document.slug), text))
        })
        .await?;
    Ok(attachment(&name, text))
}

/// A problem with its line and the carets under it; what [`Problem::show`] says above and below them stands beside.
fn listed(problem: &Problem, text: &str) -> Listed {
    let place = problem.place(text);
    let shown = problem.show("", text);
    let lines: Vec<&str> = shown.lines().collect();
    let excerpt = lines.len().checked_sub(3).and_then(|from| lines.get(from..from + 2)).unwrap_or_default();
    Listed {
        line: place.line,
        column: place.column,
        says: problem.says.clone(),
        remedy: problem.remedy.clone(),
        excerpt: excerpt.join("\n"),
    }
}

#[derive(Debug, Deserialize)]
struct Drop {
    #[serde(default)]
    draft: u64,
}

/// Throws a draft away.
async fn drop(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
    Form(asked): Form<Drop>,
) -> Result<Redirect, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            drafts::drop(bench, document.id, asked.draft)?;
            Ok(Redirect::to(&format!("/boxes/{slug}")))
        })
        .await
}
