//! Boxes: every box of the shop.

use super::frame::{Frame, page};
use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::State;
use axum::response::Response;
use axum::routing::get;
use axum::{Extension, Router};
use keepwright_store::{Kind, Shelf};

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new().route("/boxes", get(list))
}

#[derive(Template)]
#[template(path = "pages/boxes.html")]
struct BoxesPage {
    frame: Frame,
    boxes: Vec<Line>,
}

/// One box in the list.
struct Line {
    slug: String,
    name: String,
}

async fn list(State(bench): State<Bench>, Extension(who): Extension<Who>) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let boxes = bench
                .store()
                .documents(Kind::Box, Shelf::Kept)?
                .into_iter()
                .map(|d| Line { slug: d.slug, name: d.name })
                .collect();
            Ok(BoxesPage { frame: Frame::of(bench, &who, "boxes")?, boxes })
        })
        .await?;
    page(&shown)
}
