//! The versions of the shop file: all are kept, each can be read and put in force again.

use super::{Now, at, now, version_line};
use crate::clock;
use crate::error::PageError;
use crate::pages::frame::{Frame, page, page_as};
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use keepwright_store::{By, Standing, Version, VersionId};
use serde::Deserialize;

/// Versions on one page.
const PAGE: usize = 50;

/// The addresses of this screen.
pub(super) fn routes() -> Router<Bench> {
    Router::new()
        .route("/shop/versions", get(list))
        .route("/shop/versions/{id}", get(one))
        .route("/shop/versions/{id}/restore", post(restore))
}

#[derive(Template)]
#[template(path = "pages/shop_versions.html")]
struct VersionsPage {
    frame: Frame,
    say: String,
    lines: Vec<Line>,
    /// The number before which the next page begins.
    older: Option<i64>,
}

struct Line {
    id: i64,
    number: i64,
    says: String,
    by: String,
    at: String,
    standing: &'static str,
    is_head: bool,
}

#[derive(Template)]
#[template(path = "pages/shop_version.html")]
struct VersionPage {
    frame: Frame,
    number: i64,
    id: i64,
    line: String,
    by: String,
    text: String,
    is_head: bool,
}

#[derive(Template)]
#[template(path = "pages/shop_beside.html")]
struct BesidePage {
    frame: Frame,
    mine: String,
    mine_id: i64,
    mine_text: String,
    theirs: String,
    theirs_by: String,
    theirs_text: String,
}

/// Where a list of versions begins.
#[derive(Deserialize)]
struct From {
    before: Option<i64>,
}

async fn list(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Query(from): Query<From>,
) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let now = now(bench)?;
            let versions = bench.store().versions(now.document.id, from.before, PAGE)?;
            let older = versions.last().map(|v| v.number).filter(|n| *n > 1 && versions.len() == PAGE);
            let lines = versions
                .into_iter()
                .map(|v| Line {
                    id: v.id.get(),
                    number: v.number,
                    says: v.says,
                    by: v.by,
                    at: clock::said(v.at),
                    standing: match v.standing {
                        Standing::Head => "in force",
                        Standing::Past => "led to it",
                        Standing::Beside => "beside it",
                    },
                    is_head: v.standing == Standing::Head,
                })
                .collect();
            Ok(VersionsPage {
                frame: Frame::of(bench, &who, "shop")?,
                say: format!("{} is in force.", version_line(&now.head)),
                lines,
                older,
            })
        })
        .await?;
    page(&shown)
}

/// A version of the shop's own text; those of boxes and boards are not shown here.
fn of_the_shop(bench: &Bench, now: &Now, id: i64) -> Result<Version, PageError> {
    match bench.store().version(VersionId::new(id)) {
        Ok(version) if version.document == now.document.id => Ok(version),
        Ok(_) | Err(keepwright_store::Error::NoVersion { .. }) => {
            Err(PageError::NoSuch { what: "version of the shop with the number", name: id.to_string() })
        }
        Err(error) => Err(error.into()),
    }
}

async fn one(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(id): Path<i64>,
) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let now = now(bench)?;
            let version = of_the_shop(bench, &now, id)?;
            Ok(VersionPage {
                frame: Frame::of(bench, &who, "shop")?,
                number: version.number,
                id,
                line: version_line(&version),
                by: version.by,
                text: version.text,
                is_head: version.id == now.head.id,
            })
        })
        .await?;
    page(&shown)
}

async fn restore(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(id): Path<i64>,
) -> Result<Redirect, PageError> {
    bench
        .work(move |bench| {
            let now = now(bench)?;
            let version = of_the_shop(bench, &now, id)?;
            bench.store().restore_version(now.document.id, version.id, By::new(&who.name, at()))?;
            Ok(())
        })
        .await?;
    Ok(Redirect::to("/shop"))
}

/// The page that says that another window saved first: both are kept, and the maker chooses.
pub(super) fn beside(
    bench: &Bench,
    who: &Who,
    mine: &Version,
    head: &Version,
) -> Result<Response, PageError> {
    let shown = BesidePage {
        frame: Frame::of(bench, who, "shop")?,
        mine: version_line(mine),
        mine_id: mine.id.get(),
        mine_text: mine.text.clone(),
        theirs: version_line(head),
        theirs_by: head.by.clone(),
        theirs_text: head.text.clone(),
    };
    page_as(StatusCode::CONFLICT, &shown)
}
