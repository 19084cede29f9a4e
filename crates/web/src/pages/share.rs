//! A box for the client to look at: one file that needs nothing else and loads nothing, in any browser.

use super::box_asked::{Asked, plan_of};
use crate::clock;
use crate::download::attachment;
use crate::error::PageError;
use crate::figure;
use crate::planner::Boards;
use crate::state::Bench;
use askama::Template;
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::response::Response;
use axum::routing::get;
use keepwright_model::job::Plan;
use keepwright_model::shop::care::{Care, care_card};
use keepwright_packet::chapters::{day, picture, wood_name};
use keepwright_packet::shown::{Showing, and, capital, counted};
use keepwright_packet::svg;
use serde::Deserialize;

/// Pixels for a millimeter of a drawing.
const PIXELS: f64 = 5.0;

/// The address of this file.
pub(crate) fn routes() -> Router<Bench> {
    Router::new().route("/boxes/{slug}/share.html", get(give))
}

/// What is asked to be in the file.
#[derive(Debug, Deserialize)]
struct Ticked {
    /// Present: the price, too.
    price: Option<String>,
}

#[derive(Template)]
#[template(path = "share.html")]
struct SharePage {
    /// The letters of the file, as style rules.
    faces: String,
    name: String,
    say: String,
    pictures: Vec<Picture>,
    facts: Vec<(&'static str, Vec<String>)>,
    care: Vec<String>,
    /// Who made it and when.
    foot: String,
}

struct Picture {
    svg: String,
    caption: &'static str,
}

async fn give(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
    Query(ticked): Query<Ticked>,
) -> Result<Response, PageError> {
    let (slug, text) = bench
        .work(move |bench| {
            // Only the price rests on the boards that are used.
            let boards = if ticked.price.is_some() { Boards::Rack } else { Boards::Unplanned };
            let (document, plan) = plan_of(bench, &slug, &Asked::default(), boards)?;
            Ok((document.slug, share_page(&plan, ticked.price.is_some()).render()?))
        })
        .await?;
    Ok(attachment(&format!("{slug}.html"), text))
}

fn share_page(plan: &Plan, with_price: bool) -> SharePage {
    let show = Showing::of(plan);
    let name = plan.statement.name.clone();
    let woods: Vec<String> = plan.woods.iter().map(|(id, _)| wood_name(id)).collect();
    let made_on = clock::today().map_or_else(|_| String::new(), |today| format!(" · {}", day(today)));
    SharePage {
        faces: figure::faces(),
        say: sentence(plan, &show, &woods),
        pictures: pictures(plan, &name),
        facts: facts(plan, &show, &woods, with_price),
        // No statement can ask for magnets.
        care: care_card(&Care { woods: &woods, finish: &plan.finish, magnets: false })
            .into_iter()
            .map(|line| line.says)
            .collect(),
        foot: format!("{}{made_on}", plan.shop.name),
        name,
    }
}

fn sentence(plan: &Plan, show: &Showing, woods: &[String]) -> String {
    let boxes = match plan.statement.count {
        0 | 1 => "One box".to_owned(),
        count => format!("{count} boxes alike"),
    };
    let of = if woods.is_empty() { String::new() } else { format!(" of {}", and(woods)) };
    format!(
        "{boxes}{of}, {} outside ({}).",
        show.sizes(&plan.parts.outside),
        show.sizes_other(&plan.parts.outside)
    )
}

fn pictures(plan: &Plan, name: &str) -> Vec<Picture> {
    [
        ("closed", "Closed, with its outside sizes."),
        ("views", "From the front, from above and from the right."),
        ("apart", "Taken apart, each kind of part named."),
    ]
    .into_iter()
    .filter_map(|(which, caption)| {
        let drawing = picture::draw(plan, which)?;
        let svg = svg::inline(&drawing, PIXELS, &format!("{name}: {caption}"), &format!("{which}-"));
        Some(Picture { svg, caption })
    })
    .collect()
}

fn facts(
    plan: &Plan,
    show: &Showing,
    woods: &[String],
    with_price: bool,
) -> Vec<(&'static str, Vec<String>)> {
    let both = |sizes: &[_]| vec![show.sizes(sizes), show.sizes_other(sizes)];
    let mut facts = vec![("Outside", both(&plan.parts.outside)), ("Inside", both(&plan.parts.inside))];
    if !woods.is_empty() {
        facts.push(("Woods", vec![capital(&and(woods))]));
    }
    if let Some(mass) = plan.mass() {
        facts.push(("Weight", vec![format!("about {}", show.mass(mass))]));
    }
    facts.push(("Finish", finish(plan)));
    if with_price {
        let each = if plan.statement.count > 1 { " each" } else { "" };
        facts.push(("Price", vec![format!("{}{each}", show.money(plan.price.price))]));
    }
    facts
}

/// The coats, a line to each product on each side.
fn finish(plan: &Plan) -> Vec<String> {
    if plan.finish.coats.is_empty() {
        return vec!["None: the wood stays bare.".to_owned()];
    }
    let coats = plan.finish.coats.iter();
    coats
        .map(|c| {
            let times = counted(c.coats as usize, "coat", "coats");
            format!("{}: {}, {times}", capital(c.side.words()), c.product.name)
        })
        .collect()
}
