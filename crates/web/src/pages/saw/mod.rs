//! Beside the saw: a card for each set-up and each step between, big enough to read from the blade, with ticks and
//! clocks. All cards stand in one page, so that one kept copy has them all.

mod card;
mod deck;
mod setup;
mod standing;
mod steps;
mod ticks;

use super::frame::{Frame, page};
use crate::clock;
use crate::error::PageError;
use crate::planner::{self, Boards};
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, State};
use axum::response::Response;
use axum::routing::{get, post};
use axum::{Extension, Router};
use card::Card;
use keepwright_model::design::show_problems;
use keepwright_model::job::Plan;
use keepwright_store::Document;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/{slug}/saw", get(all))
        .route("/boxes/{slug}/saw/{number}", get(one))
        .route("/boxes/{slug}/ticks", get(ticks::list))
        .route("/ticks", post(ticks::take))
}

#[derive(Template)]
#[template(path = "pages/saw.html")]
struct SawPage {
    frame: Frame,
    slug: String,
    name: String,
    /// How many boxes are made.
    boxes: u32,
    /// When the page was made, in seconds since 1970.
    made: i64,
    /// Digest of all cards: another one means another plan.
    deck: String,
    cards: Vec<Card>,
    /// The one card that is shown; 0 shows the list and all of them.
    shown: usize,
    /// Minutes of setting and re-setting.
    minutes: String,
    /// Ticks for cards that are no longer in the plan, in words.
    gone: String,
}

impl SawPage {
    fn total(&self) -> usize {
        self.cards.len()
    }

    fn done(&self) -> usize {
        self.cards.iter().filter(|c| c.is_done()).count()
    }

    /// The first card with something left to do.
    fn next(&self) -> usize {
        self.cards.iter().find(|c| !c.is_done()).map_or(0, |c| c.number)
    }

    fn is_out(&self, card: &Card) -> bool {
        self.shown != 0 && self.shown != card.number
    }
}

async fn all(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
) -> Result<Response, PageError> {
    shown(bench, who, slug, 0).await
}

async fn one(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path((slug, number)): Path<(String, String)>,
) -> Result<Response, PageError> {
    let missing = || PageError::NoSuch { what: "card", name: number.clone() };
    let wanted: usize = number.parse().map_err(|_| missing())?;
    if wanted == 0 {
        return Err(missing());
    }
    shown(bench, who, slug, wanted).await
}

async fn shown(bench: Bench, who: Who, slug: String, wanted: usize) -> Result<Response, PageError> {
    let made = bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let plan = plan(bench, &document)?;
            let mut cards = deck::deck(&plan);
            if wanted > cards.len() {
                return Err(PageError::NoSuch { what: "card", name: wanted.to_string() });
            }
            let gone = standing::put(&mut cards, &bench.store().all_ticks(document.id)?);
            Ok(SawPage {
                frame: Frame::of(bench, &who, "boxes")?,
                slug: document.slug,
                name: plan.statement.name.clone(),
                boxes: plan.statement.count.max(1),
                made: clock::now(),
                deck: digest(&cards),
                cards,
                shown: wanted,
                minutes: keepwright_packet::shown::minutes(plan.saw.minutes),
                gone,
            })
        })
        .await?;
    page(&made)
}

/// The plan of a box, without boards: what is set at the machines does not hang on them.
///
/// # Errors
/// When the shop's or the box's text has problems.
fn plan(bench: &Bench, document: &Document) -> Result<Plan, PageError> {
    let text = bench.store().head(document.id)?.text;
    let ground = planner::Ground { shop: bench.shop()?, rack: Vec::new() };
    planner::planned(&text, &ground, Boards::Unplanned, None).map_err(|problems| {
        PageError::refused(
            format!(
                "There are no cards for {}: {}",
                document.name,
                show_problems(&problems, "the box", &text)
            ),
            "change the box on its page; the cards follow by themselves",
        )
    })
}

/// The digest of all cards in their order.
fn digest(cards: &[Card]) -> String {
    let all: Vec<&str> = cards.iter().flat_map(|c| [c.key.as_str(), c.plan.as_str()]).collect();
    crate::secret::digest(&all).get(..16).unwrap_or_default().to_owned()
}
