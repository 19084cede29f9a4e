//! The packet of a box: making it, looking at its pages, taking its files away.

mod files;
mod job;

use super::frame::{Frame, page, page_as};
use crate::clock;
use crate::error::PageError;
use crate::packets::{KEPT_FOR, MOST_AT_ONCE, MOST_KEPT, Order, State as Making};
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use keepwright_model::units::LengthUnit;
use keepwright_packet::page::Paper;
use keepwright_store::{Document, Time};
use serde::Deserialize;

/// The setting under which the last chosen paper is kept.
const PAPER: &str = "packet-paper";
/// The papers, as forms and settings name them.
const PAPERS: [(&str, Paper, &str, &str); 2] =
    [("letter", Paper::Letter, "Letter", "8 1/2 by 11 in"), ("a4", Paper::A4, "A4", "210 by 297 mm")];

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/{slug}/packet", get(show))
        .route("/boxes/{slug}/packet/start", post(start))
        .route("/boxes/{slug}/packet/{number}", get(job::show))
        .route("/boxes/{slug}/packet/{number}/progress", get(job::progress))
        .route("/boxes/{slug}/packet/{number}/all.zip", get(files::all))
        .route("/boxes/{slug}/packet/{number}/files/{*path}", get(files::one))
}

#[derive(Template)]
#[template(path = "pages/packet.html")]
struct PacketPage {
    frame: Frame,
    slug: String,
    name: String,
    /// The version in force.
    number: i64,
    /// What went wrong, or was forgotten.
    trouble: String,
    papers: Vec<PaperChoice>,
    made: Vec<Line>,
    kept: String,
}

/// A paper to choose.
struct PaperChoice {
    word: &'static str,
    title: &'static str,
    says: &'static str,
    chosen: bool,
}

/// A packet that is kept.
struct Line {
    number: i64,
    version: i64,
    paper: &'static str,
    at: String,
    state: &'static str,
}

/// A paper's name.
fn paper_title(paper: Paper) -> &'static str {
    PAPERS.iter().find(|p| p.1 == paper).map_or("", |p| p.2)
}

fn packet_page(
    bench: &Bench,
    who: &Who,
    document: Document,
    trouble: impl Into<String>,
) -> Result<PacketPage, PageError> {
    let frame = Frame::of(bench, who, "boxes")?;
    let usual = bench.shop().map_or(LengthUnit::Millimeter, |shop| shop.unit);
    let last = bench.store().setting(PAPER)?;
    let chosen = last.as_deref().unwrap_or(if usual == LengthUnit::Inch { "letter" } else { "a4" });
    let papers = PAPERS
        .iter()
        .map(|(word, _, title, says)| PaperChoice { word, title, says, chosen: *word == chosen })
        .collect();
    let made = bench
        .packets()
        .of(document.id)
        .iter()
        .map(|job| Line {
            number: job.number,
            version: job.version.number,
            paper: paper_title(job.paper),
            at: clock::said(Time::seconds(job.at)),
            state: match job.state() {
                Making::Planning | Making::Making(_) => "being made",
                Making::Done(_) => "made",
                Making::Failed { .. } => "could not be made",
            },
        })
        .collect();
    Ok(PacketPage {
        frame,
        number: bench.store().head(document.id)?.number,
        trouble: trouble.into(),
        papers,
        made,
        kept: format!("the last {MOST_KEPT} packets are kept for {} minutes", KEPT_FOR.as_secs() / 60),
        slug: document.slug,
        name: document.name,
    })
}

async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
) -> Result<Response, PageError> {
    let shown = bench.work(move |bench| packet_page(bench, &who, bench.find_box(&slug)?, "")).await?;
    page(&shown)
}

/// The choice of paper.
#[derive(Debug, Deserialize)]
struct Chosen {
    #[serde(default)]
    paper: String,
}

async fn start(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Form(chosen): Form<Chosen>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let Some((word, paper, ..)) = PAPERS.iter().find(|p| p.0 == chosen.paper) else {
                let shown = packet_page(bench, &who, document, "Choose a paper: Letter or A4.")?;
                return page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown);
            };
            bench.store().set(PAPER, word)?;
            let job = bench.store().job(document.id)?;
            let order = Order {
                slug: slug.clone(),
                version: bench.store().head(document.id)?,
                paper: *paper,
                ground: bench.ground(document.id)?,
                due: super::box_page::due(&job),
            };
            match bench.packets().begin(order) {
                Some(job) => {
                    Ok(Redirect::to(&format!("/boxes/{slug}/packet/{}", job.number)).into_response())
                }
                None => {
                    let trouble = format!(
                        "{MOST_AT_ONCE} packets are being made, which is the most at once: wait for one of them, then make yours."
                    );
                    page_as(StatusCode::UNPROCESSABLE_ENTITY, &packet_page(bench, &who, document, trouble)?)
                }
            }
        })
        .await
}
