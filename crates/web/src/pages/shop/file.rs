//! The shop file as text: out as the command line reads it, and in again.

use super::{Now, now, save};
use crate::error::PageError;
use crate::pages::frame::{Frame, page, page_as};
use crate::planner;
use crate::policy::limits;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Multipart, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Extension, Form, Router};
use keepwright_model::design::{Problem, text_of};
use keepwright_store::VersionId;
use serde::Deserialize;

/// The addresses of this screen.
pub(super) fn routes() -> Router<Bench> {
    Router::new()
        .route("/shop/file", get(show).post(put))
        .route("/shop/file/upload", post(upload))
        .route("/shop/shop.toml", get(download))
}

#[derive(Template)]
#[template(path = "pages/shop_file.html")]
struct FilePage {
    frame: Frame,
    base: i64,
    text: String,
    problems: Vec<Shown>,
}

/// A problem with its line drawn under it.
struct Shown {
    place: String,
    says: String,
    remedy: String,
    drawn: String,
}

impl FilePage {
    fn of(
        bench: &Bench,
        who: &Who,
        base: VersionId,
        text: String,
        problems: &[Problem],
    ) -> Result<Self, PageError> {
        let problems = problems
            .iter()
            .map(|p| {
                let place = p.place(&text);
                Shown {
                    place: format!("Line {}, column {}", place.line, place.column),
                    says: p.says.clone(),
                    remedy: p.remedy.clone(),
                    drawn: p.show("shop", &text).lines().skip(1).take(2).collect::<Vec<_>>().join("\n"),
                }
            })
            .collect();
        Ok(Self { frame: Frame::of(bench, who, "shop")?, base: base.get(), text, problems })
    }
}

async fn show(State(bench): State<Bench>, Extension(who): Extension<Who>) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let Now { head, .. } = now(bench)?;
            let problems = planner::shop(&head.text).err().unwrap_or_default();
            FilePage::of(bench, &who, head.id, head.text, &problems)
        })
        .await?;
    page(&shown)
}

async fn download(State(bench): State<Bench>) -> Result<Response, PageError> {
    let text = bench.work(|bench| Ok(now(bench)?.head.text)).await?;
    let head = [
        (header::CONTENT_TYPE, "application/toml; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"shop.toml\""),
    ];
    Ok((head, text).into_response())
}

/// The whole text, as typed.
#[derive(Deserialize)]
struct Typed {
    base: i64,
    text: String,
}

async fn put(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Form(typed): Form<Typed>,
) -> Result<Response, PageError> {
    // Browsers send the line ends of forms as two characters.
    let text = typed.text.replace("\r\n", "\n");
    taken(&bench, who, Some(VersionId::new(typed.base)), text, "the shop file as text").await
}

async fn upload(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    mut parts: Multipart,
) -> Result<Response, PageError> {
    let broken = |error: axum::extract::multipart::MultipartError| {
        if error.status() == StatusCode::PAYLOAD_TOO_LARGE || limits::is_too_long(&error) {
            PageError::TooLarge { most: limits::LARGEST_FORM }
        } else {
            PageError::BrokenBody(error.body_text())
        }
    };
    while let Some(part) = parts.next_field().await.map_err(broken)? {
        if part.name() != Some("file") {
            continue;
        }
        let bytes = part.bytes().await.map_err(broken)?;
        let text = text_of(&bytes).map_err(|problems| {
            let said = problems.first().map_or_else(String::new, |p| p.says.clone());
            PageError::refused(
                format!("this is no shop file: {said}"),
                "choose a shop file, which is plain text",
            )
        })?;
        return taken(&bench, who, None, text.to_owned(), "a shop file read in").await;
    }
    Err(PageError::refused("no file was chosen", "choose a shop file first"))
}

/// Saves a whole text if it reads as a shop; otherwise shows it with what is wrong in it.
async fn taken(
    bench: &Bench,
    who: Who,
    base: Option<VersionId>,
    text: String,
    says: &'static str,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let now = now(bench)?;
            let base = base.unwrap_or(now.head.id);
            match planner::shop(&text) {
                Ok(_) => save(bench, &who, &now, base, &text, says),
                Err(problems) => {
                    let shown = FilePage::of(bench, &who, base, text, &problems)?;
                    page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown)
                }
            }
        })
        .await
}
