//! Boxes: every box of the shop with its drawing, state, due day, gravest caution and price.

use super::box_page::due;
use super::frame::{Frame, page};
use crate::error::PageError;
use crate::planner::{self, Boards, Ground};
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Query, State};
use axum::response::Response;
use axum::routing::get;
use axum::{Extension, Router};
use keepwright_model::caution::Weight;
use keepwright_model::job::Plan;
use keepwright_packet::chapters::{day, wood_name};
use keepwright_packet::shown::{Showing, and};
use keepwright_store::{BoxLine, JobState, Shelf};
use serde::Deserialize;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new().route("/boxes", get(list))
}

#[derive(Template)]
#[template(path = "pages/boxes.html")]
struct BoxesPage {
    frame: Frame,
    /// What stands here, in one sentence.
    say: String,
    /// The states that there are boxes in, each with its count.
    states: Vec<StateLink>,
    /// The state asked for; empty for all.
    only: String,
    by_due: bool,
    boxes: Vec<Line>,
}

/// A link to the boxes of one state.
struct StateLink {
    word: &'static str,
    count: usize,
}

/// One box in the list.
struct Line {
    slug: String,
    name: String,
    /// The version in force: a drawing's address changes with it.
    version: i64,
    state: &'static str,
    due: String,
    customer: String,
    /// Sizes and woods, or what is wrong.
    under: String,
    price: String,
    /// The class and the words of the gravest caution; empty without one.
    worst: (&'static str, &'static str),
    /// Whether it can be drawn.
    drawn: bool,
}

#[derive(Debug, Default, Deserialize)]
struct Asked {
    /// Only boxes in this state.
    state: Option<String>,
    /// `due`: those that are due first come first.
    by: Option<String>,
}

/// Class and words of a weight, as cautions are shown.
const fn shown(weight: Weight) -> (&'static str, &'static str) {
    match weight {
        Weight::Cannot => ("cannot", weight.words()),
        Weight::LikelyToFail => ("fail", weight.words()),
        Weight::WorthKnowing => ("know", weight.words()),
    }
}

fn under(plan: &Plan) -> String {
    let woods: Vec<String> = plan.woods.iter().map(|(id, _)| wood_name(id)).collect();
    format!("{}; {}", Showing::of(plan).sizes(&plan.parts.outside), and(&woods))
}

fn line(one: BoxLine, ground: &Ground) -> Line {
    let due = due(&one.job);
    // The list needs no cutting plan: what the boards cost is on the box's own page.
    let planned = planner::planned(&one.head.text, ground, Boards::Unplanned, due);
    let mut line = Line {
        slug: one.document.slug,
        name: one.document.name,
        version: one.head.id.get(),
        state: one.job.state.word(),
        due: due.map(day).unwrap_or_default(),
        customer: one.job.customer.lines().next().unwrap_or_default().to_owned(),
        under: String::new(),
        price: String::new(),
        worst: ("", ""),
        drawn: planned.is_ok(),
    };
    match planned {
        Ok(plan) => {
            line.under = under(&plan);
            line.price = format!("{} before its boards", Showing::of(&plan).money(plan.price.price));
            line.worst = plan.worst().map(shown).unwrap_or_default();
        }
        Err(problems) => {
            line.under = problems.first().map(|p| p.says.clone()).unwrap_or_default();
            line.worst = ("cannot", "does not read");
        }
    }
    line
}

fn say(all: &[Line]) -> String {
    let grave = all.iter().filter(|l| matches!(l.worst.0, "cannot" | "fail")).count();
    let due = all.iter().filter(|l| !l.due.is_empty()).count();
    let boxes = if all.len() == 1 { "One box".to_owned() } else { format!("{} boxes", all.len()) };
    let dated = match due {
        0 => "none has a due day yet".to_owned(),
        1 => "one has a due day".to_owned(),
        n => format!("{n} have a due day"),
    };
    let cautions = match grave {
        0 => "none needs mending before it is cut".to_owned(),
        1 => "one has a caution to look at before it is cut".to_owned(),
        n => format!("{n} have a caution to look at before they are cut"),
    };
    format!("{boxes} stand here; {dated}, and {cautions}.").replacen("One box stand", "One box stands", 1)
}

async fn list(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let made = bench
        .work(move |bench| {
            let shop = bench.shop()?;
            let ground = Ground { shop, rack: Vec::new() };
            let mut kept = bench.store().boxes(Shelf::Kept)?;
            let by_due = asked.by.as_deref() == Some("due");
            if by_due {
                // Days are written so that their order is that of their letters; those without one come last.
                kept.sort_by_key(|b| (b.job.due.is_none(), b.job.due.clone()));
            }
            let mut states: Vec<StateLink> = Vec::new();
            for &state in JobState::ALL {
                let count = kept.iter().filter(|b| b.job.state == state).count();
                if count > 0 {
                    states.push(StateLink { word: state.word(), count });
                }
            }
            let only = asked.state.filter(|s| states.iter().any(|known| known.word == s)).unwrap_or_default();
            let boxes: Vec<Line> = kept
                .into_iter()
                .filter(|b| only.is_empty() || b.job.state.word() == only)
                .map(|b| line(b, &ground))
                .collect();
            let frame = Frame::of(bench, &who, "boxes")?;
            Ok(BoxesPage { frame, say: say(&boxes), states, only, by_due, boxes })
        })
        .await?;
    page(&made)
}
