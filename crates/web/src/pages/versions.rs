//! Every version of a box: named by what changed, when and by which device; each can be opened, compared, put back.

use super::frame::{Frame, page};
use super::one_box::{by, same_name, version};
use crate::clock;
use crate::drafts;
use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Form, Path, Query, State};
use axum::response::{Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use keepwright_store::{Document, Standing, Version, VersionLine};
use serde::Deserialize;

/// Versions on one page.
const ON_PAGE: usize = 40;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/{slug}/versions", get(list))
        .route("/boxes/{slug}/versions/{version}", get(open))
        .route("/boxes/{slug}/restore", post(restore))
}

#[derive(Template)]
#[template(path = "pages/versions.html")]
struct VersionsPage {
    frame: Frame,
    document: Document,
    head: Version,
    lines: Vec<Line>,
    /// The number before which the next page begins.
    older: Option<i64>,
    newer: bool,
    events: Vec<EventLine>,
    drafts: usize,
}

struct Line {
    id: i64,
    number: i64,
    says: String,
    by: String,
    at: String,
    standing: &'static str,
    is_head: bool,
    /// Chosen for comparing at first: the newest two.
    first: bool,
    second: bool,
}

struct EventLine {
    says: String,
    by: String,
    at: String,
}

#[derive(Debug, Deserialize)]
struct Before {
    before: Option<i64>,
}

async fn list(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Query(asked): Query<Before>,
) -> Result<Response, PageError> {
    let made = bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let versions = bench.store().versions(document.id, asked.before, ON_PAGE + 1)?;
            let older =
                (versions.len() > ON_PAGE).then(|| versions.get(ON_PAGE - 1).map(|v| v.number)).flatten();
            let lines = versions.into_iter().take(ON_PAGE).enumerate().map(|(i, v)| line(i, v)).collect();
            let events = bench.store().history(document.id, 30)?.into_iter().map(event).collect();
            Ok(VersionsPage {
                frame: Frame::of(bench, &who, "boxes")?,
                head: bench.store().head(document.id)?,
                drafts: drafts::of(bench, document.id)?.len(),
                document,
                lines,
                older,
                newer: asked.before.is_some(),
                events,
            })
        })
        .await?;
    page(&made)
}

fn line(place: usize, version: VersionLine) -> Line {
    Line {
        id: version.id.get(),
        number: version.number,
        says: version.says,
        by: version.by,
        at: clock::said(version.at),
        standing: match version.standing {
            Standing::Head => "in force",
            Standing::Past => "before it",
            Standing::Beside => "beside",
        },
        is_head: version.standing == Standing::Head,
        first: place == 1,
        second: place == 0,
    }
}

fn event(event: keepwright_store::Event) -> EventLine {
    let (was, became) = (event.was.as_str(), event.became.as_str());
    let says = match event.what.as_str() {
        "made" => format!("made as {became}"),
        "copied" => format!("copied from {was}"),
        "shelf" if became == "bin" => "put into the bin".to_owned(),
        "shelf" => "taken out of the bin".to_owned(),
        what if was.is_empty() => format!("{what} {became}"),
        what if became.is_empty() => format!("{what} {was} taken away"),
        what => format!("{what} {was} → {became}"),
    };
    EventLine { says, by: event.by, at: clock::said(event.at) }
}

#[derive(Template)]
#[template(path = "pages/version.html")]
struct VersionPage {
    frame: Frame,
    document: Document,
    head: Version,
    version: Version,
    at: String,
    drawn: bool,
    sentence: String,
    rows: usize,
}

/// One version, to be read only.
async fn open(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path((slug, number)): Path<(String, i64)>,
) -> Result<Response, PageError> {
    let made = bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let version = version(bench, &document, number)?;
            let head = bench.store().head(document.id)?;
            let (drawn, sentence) = super::compare::sentence(bench, &document, &version)?;
            Ok(VersionPage {
                frame: Frame::of(bench, &who, "boxes")?,
                at: clock::said(version.at),
                rows: version.text.lines().count().clamp(6, 60) + 1,
                document,
                head,
                version,
                drawn,
                sentence,
            })
        })
        .await?;
    page(&made)
}

#[derive(Debug, Deserialize)]
struct Restore {
    #[serde(default)]
    version: i64,
}

/// Makes a new version with an old one's text.
async fn restore(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Form(asked): Form<Restore>,
) -> Result<Redirect, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let old = version(bench, &document, asked.version)?;
            bench.store().restore_version(document.id, old.id, by(&who))?;
            same_name(bench, &document, &old.text, by(&who))?;
            Ok(Redirect::to(&format!("/boxes/{slug}")))
        })
        .await
}
