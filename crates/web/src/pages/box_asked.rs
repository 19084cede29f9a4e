//! What the page of a box asks for once it is there: where a number comes from, drawings, the box in space.

use super::box_page::{due, scene_text};
use super::frame::{Frame, page};
use crate::chapters::{Why, whys};
use crate::error::PageError;
use crate::planner::{self, Boards};
use crate::policy::who::Who;
use crate::scene::{self, Sight};
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Extension, Router};
use keepwright_model::job::Plan;
use keepwright_packet::chapters::picture;
use keepwright_packet::drawings::{self, Room};
use keepwright_packet::svg;
use keepwright_store::{Document, VersionId};
use serde::Deserialize;

/// Clear space around a drawing, millimeters.
const MARGIN: f64 = 1.0;
/// Room of the picture in the list of boxes.
const PICTURE: Room = Room::new(120.0, 82.0);

/// These addresses.
pub(super) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/{slug}/why/{key}", get(why))
        .route("/boxes/{slug}/figure/{name}", get(figure))
        .route("/boxes/{slug}/scene.json", get(scene_json))
        .route("/boxes/{slug}/drawing.svg", get(line_drawing))
        .route("/boxes/{slug}/picture.svg", get(picture_of_box))
}

/// Which version is asked about, and whether as a part of a page.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Asked {
    /// The version's number in the store; the one in force if none is given.
    v: Option<i64>,
    /// Present: only the answer, without the page round it.
    part: Option<String>,
}

/// The plan of one version, without a search for its cutting plan unless what is asked rests on it.
///
/// # Errors
/// Where there is no such box or version, or it cannot be planned; the store's.
pub(super) fn plan_of(
    bench: &Bench,
    slug: &str,
    asked: &Asked,
    boards: Boards,
) -> Result<(Document, Plan), PageError> {
    let document = bench.find_box(slug)?;
    let version = match asked.v {
        Some(id) => bench.store().version(VersionId::new(id))?,
        None => bench.store().head(document.id)?,
    };
    if version.document != document.id {
        return Err(PageError::NotFound);
    }
    let ground = bench.ground(document.id)?;
    let job = bench.store().job(document.id)?;
    let plan = planner::planned(&version.text, &ground, boards, due(&job)).map_err(|problems| {
        let says = problems.first().map_or_else(String::new, |p| p.says.clone());
        PageError::refused(
            format!("version {} of {} cannot be planned: {says}", version.number, document.name),
            "mend its statement on the box's page first",
        )
    })?;
    Ok((document, plan))
}

#[derive(Template)]
#[template(path = "pages/why.html")]
struct WhyPage {
    frame: Frame,
    slug: String,
    name: String,
    whys: Vec<Why>,
}

#[derive(Template)]
#[template(path = "parts/why.html")]
struct WhyPart {
    whys: Vec<Why>,
}

async fn why(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path((slug, key)): Path<(String, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let only_part = asked.part.is_some();
    let made = bench
        .work(move |bench| {
            // Prices rest on the boards that are used.
            let (document, plan) = plan_of(bench, &slug, &asked, Boards::Rack)?;
            let whys = whys(&plan, &key);
            if whys.is_empty() {
                return Err(PageError::NoSuch { what: "explained number", name: key });
            }
            let frame = Frame::of(bench, &who, "boxes")?;
            Ok(WhyPage { frame, slug: document.slug, name: document.name, whys })
        })
        .await?;
    if only_part { page(&WhyPart { whys: made.whys }) } else { page(&made) }
}

async fn figure(
    State(bench): State<Bench>,
    Path((slug, name)): Path<(String, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let Some(name) = name.strip_suffix(".svg").map(str::to_owned) else { return Err(PageError::NotFound) };
    let text = bench
        .work(move |bench| {
            let boards = if name.starts_with("board-") { Boards::Rack } else { Boards::Unplanned };
            let (_, plan) = plan_of(bench, &slug, &asked, boards)?;
            let missing = || PageError::NoSuch { what: "drawing", name: name.clone() };
            let drawing = picture::draw(&plan, &name).ok_or_else(missing)?;
            Ok(crate::figure::with_faces(&svg::write(&drawing, 1.0, MARGIN, &plan.statement.name)))
        })
        .await?;
    Ok(drawn(text))
}

async fn scene_json(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let text = bench
        .work(move |bench| {
            let (_, plan) = plan_of(bench, &slug, &asked, Boards::Unplanned)?;
            scene_text(&plan)
        })
        .await?;
    Ok(([(header::CONTENT_TYPE, "application/json")], text).into_response())
}

async fn line_drawing(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
    Query(asked): Query<Asked>,
    Query(sight): Query<Sight>,
) -> Result<Response, PageError> {
    let text = bench
        .work(move |bench| {
            let (_, plan) = plan_of(bench, &slug, &asked, Boards::Unplanned)?;
            let drawn = scene::line_drawing(&plan, &sight)
                .map_err(|e| PageError::refused(e.to_string(), "write the address as the bench writes it"))?;
            Ok(crate::figure::with_faces(&drawn))
        })
        .await?;
    Ok(drawn(text))
}

/// The closed box in its woods, for the list of boxes.
async fn picture_of_box(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let text =
        bench.work(move |bench| Ok(picture_of(&plan_of(bench, &slug, &asked, Boards::Unplanned)?.1))).await?;
    Ok(drawn(text))
}

/// The closed box in its woods, without dimensions.
pub(super) fn picture_of(plan: &Plan) -> String {
    let drawing = drawings::plain(&plan.parts, &plan.solids, PICTURE);
    svg::write(&drawing, 1.0, MARGIN, &plan.statement.name)
}

/// A drawing as an answer that may load nothing but what it brings.
fn drawn(text: String) -> Response {
    let kind = (header::CONTENT_TYPE, "image/svg+xml");
    ([kind, (header::CONTENT_SECURITY_POLICY, crate::figure::CONTENT)], text).into_response()
}
