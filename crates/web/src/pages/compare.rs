//! Two versions of a box side by side: drawing, stated keys, parts, price, time, weight, cautions.

use super::frame::{Frame, page};
use super::one_box::{due, unit_of, version};
use crate::clock;
use crate::error::PageError;
use crate::forms::changed::{self, Change};
use crate::forms::values::Values;
use crate::planner::{self, Boards, Ground};
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Extension, Router};
use keepwright_model::caution::Caution;
use keepwright_model::design::Problem;
use keepwright_model::job::Plan;
use keepwright_packet::drawings::{Room, assembled_alike};
use keepwright_packet::shown::{Showing, capital, hours};
use keepwright_packet::svg;
use keepwright_store::{Document, Version};
use serde::Deserialize;
use std::collections::BTreeMap;

/// Room for each drawing, millimeters.
const ROOM: Room = Room::new(150.0, 120.0);
/// Clear space around it, millimeters.
const MARGIN: f64 = 2.0;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/{slug}/compare", get(compare))
        .route("/boxes/{slug}/compare.svg", get(drawing))
}

/// Which two versions: their numbers in the store. Without them, the version in force and the one before it.
#[derive(Debug, Default, Deserialize)]
struct Asked {
    a: Option<i64>,
    b: Option<i64>,
    /// Which of the two is drawn.
    #[serde(default)]
    side: String,
}

/// A version with what comes of it.
struct Side {
    version: Version,
    at: String,
    plan: Result<Plan, Vec<Problem>>,
}

impl Side {
    fn plan(&self) -> Option<&Plan> {
        self.plan.as_ref().ok()
    }
}

#[derive(Template)]
#[template(path = "pages/compare.html")]
struct ComparePage {
    frame: Frame,
    document: Document,
    /// The numbers of the two within the box.
    a: i64,
    b: i64,
    /// Their numbers in the store.
    a_id: i64,
    b_id: i64,
    sides: Vec<(&'static str, Seen)>,
    /// Both drawings, where both can be planned.
    drawn: bool,
    keys: Vec<Change>,
    parts: Vec<Row>,
    numbers: Vec<Row>,
    gone: Vec<CautionLine>,
    fresh: Vec<CautionLine>,
    unit: &'static str,
}

/// The head of a side.
struct Seen {
    id: i64,
    number: i64,
    says: String,
    by: String,
    at: String,
    problems: Vec<String>,
}

/// A thing on both sides; empty where there is none.
struct Row {
    name: String,
    a: String,
    b: String,
    differs: bool,
}

struct CautionLine {
    class: &'static str,
    weight: String,
    place: String,
    says: String,
}

fn sides(bench: &Bench, slug: &str, asked: &Asked) -> Result<(Document, Side, Side), PageError> {
    let document = bench.find_box(slug)?;
    let head = bench.store().head(document.id)?;
    let b = match asked.b {
        Some(number) => version(bench, &document, number)?,
        None => head,
    };
    let a = match (asked.a, b.parent) {
        (Some(number), _) => version(bench, &document, number)?,
        (None, Some(parent)) => bench.store().version(parent)?,
        (None, None) => b.clone(),
    };
    // No boards are laid out: prices are compared by what the wood costs, not by what lies on the rack today.
    let ground = Ground { shop: bench.shop()?, rack: Vec::new() };
    let due = due(bench, &document)?;
    let side = |version: Version| Side {
        at: clock::said(version.at),
        plan: planner::planned(&version.text, &ground, Boards::Unplanned, due),
        version,
    };
    Ok((document, side(a), side(b)))
}

async fn compare(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let made = bench
        .work(move |bench| {
            let (document, a, b) = sides(bench, &slug, &asked)?;
            let unit = unit_of(&b.version.text, &bench.shop()?);
            let keys = match (Values::of(&a.version.text), Values::of(&b.version.text)) {
                (Some(was), Some(now)) => changed::changes(&was, &now, unit),
                _ => Vec::new(),
            };
            let (gone, fresh) = (cautions(&a, &b), cautions(&b, &a));
            Ok(ComparePage {
                frame: Frame::of(bench, &who, "boxes")?,
                drawn: a.plan.is_ok() && b.plan.is_ok(),
                keys,
                parts: parts(&a, &b),
                numbers: numbers(&a, &b),
                gone,
                fresh,
                unit,
                a: a.version.number,
                b: b.version.number,
                a_id: a.version.id.get(),
                b_id: b.version.id.get(),
                sides: vec![("a", seen(&a)), ("b", seen(&b))],
                document,
            })
        })
        .await?;
    page(&made)
}

fn seen(side: &Side) -> Seen {
    let problems =
        side.plan.as_ref().err().map(|p| p.iter().map(|p| format!("{}: {}", p.says, p.remedy)).collect());
    Seen {
        id: side.version.id.get(),
        number: side.version.number,
        says: side.version.says.clone(),
        by: side.version.by.clone(),
        at: side.at.clone(),
        problems: problems.unwrap_or_default(),
    }
}

/// A part's size and wood in both units.
fn part_words(plan: &Plan) -> Vec<(String, String)> {
    let show = Showing::of(plan);
    let wood = |id: &str| {
        plan.woods
            .iter()
            .find(|(w, _)| w == id)
            .map_or_else(|| id.replace('_', " "), |(_, name)| name.clone())
    };
    plan.parts
        .parts
        .iter()
        .map(|p| {
            let size = format!("{} ({}), {}", show.sizes(&p.size), show.sizes_other(&p.size), wood(&p.wood));
            (p.name.clone(), size)
        })
        .collect()
}

/// The parts that differ: in size or wood, gone or new. Those of one name are told apart by it, which is unique.
fn parts(a: &Side, b: &Side) -> Vec<Row> {
    let (Some(was), Some(now)) = (a.plan(), b.plan()) else { return Vec::new() };
    let (was, now) = (part_words(was), part_words(now));
    let later: BTreeMap<&str, &str> = now.iter().map(|(n, w)| (n.as_str(), w.as_str())).collect();
    let earlier: BTreeMap<&str, &str> = was.iter().map(|(n, w)| (n.as_str(), w.as_str())).collect();
    let mut rows = Vec::new();
    for (name, words) in &was {
        let other = later.get(name.as_str()).copied().unwrap_or_default();
        if other != words {
            rows.push(Row { name: name.clone(), a: words.clone(), b: other.to_owned(), differs: true });
        }
    }
    for (name, words) in now.iter().filter(|(name, _)| !earlier.contains_key(name.as_str())) {
        rows.push(Row { name: name.clone(), a: String::new(), b: words.clone(), differs: true });
    }
    rows
}

/// Price, time, weight, sizes.
fn numbers(a: &Side, b: &Side) -> Vec<Row> {
    let of = |side: &Side| {
        side.plan().map(|plan| {
            let show = Showing::of(plan);
            [
                format!("{} ({})", show.sizes(&plan.parts.outside), show.sizes_other(&plan.parts.outside)),
                format!("{} ({})", show.sizes(&plan.parts.inside), show.sizes_other(&plan.parts.inside)),
                show.money(plan.price.price),
                show.money(plan.price.cost),
                hours(plan.timing.per_box),
                plan.mass().map_or_else(|| "not known".to_owned(), |m| show.mass(m)),
                plan.parts.parts.len().to_string(),
            ]
        })
    };
    let (Some(was), Some(now)) = (of(a), of(b)) else { return Vec::new() };
    let names = ["Outside", "Inside", "Price of one", "Cost of one", "Work on one", "Weight", "Parts"];
    names
        .into_iter()
        .zip(was.into_iter().zip(now))
        .map(|(name, (a, b))| Row { name: name.to_owned(), differs: a != b, a, b })
        .collect()
}

/// The cautions of one side that the other has not.
fn cautions(of: &Side, but: &Side) -> Vec<CautionLine> {
    use keepwright_model::caution::Weight;
    let (Some(of), Some(but)) = (of.plan(), but.plan()) else { return Vec::new() };
    let same = |a: &Caution, b: &Caution| a.code == b.code && a.place == b.place && a.weight == b.weight;
    of.cautions
        .iter()
        .filter(|c| but.cautions.iter().all(|other| !same(c, other)))
        .map(|c| CautionLine {
            class: match c.weight {
                Weight::WorthKnowing => "know",
                Weight::LikelyToFail => "fail",
                Weight::Cannot => "cannot",
            },
            weight: capital(c.weight.words()),
            place: c.place.clone(),
            says: c.says.clone(),
        })
        .collect()
}

/// One of the two drawings, both at one scale and in a frame of one size.
async fn drawing(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let text = bench
        .work(move |bench| {
            let (_, a, b) = sides(bench, &slug, &asked)?;
            let missing = || PageError::refused("one of the two cannot be drawn", "mend its statement first");
            let (was, now) = (a.plan().ok_or_else(missing)?, b.plan().ok_or_else(missing)?);
            let boxes = [(&was.parts, was.solids.as_slice()), (&now.parts, now.solids.as_slice())];
            let drawn: Vec<String> = assembled_alike(&boxes, Showing::of(now).shown, ROOM)
                .iter()
                .map(|d| svg::write(d, 1.0, MARGIN, &now.statement.name))
                .collect();
            let [a, b] = drawn.as_slice() else { return Err(missing()) };
            Ok(if asked.side == "a" { in_frame(a, b) } else { in_frame(b, a) })
        })
        .await?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], text).into_response())
}

/// The drawing in a frame as large as the larger of the two.
fn in_frame(svg: &str, other: &str) -> String {
    let (Some(mine), Some(theirs)) = (view_box(svg), view_box(other)) else { return svg.to_owned() };
    let ([x, y, w, h], [_, _, ow, oh]) = (mine, theirs);
    let (width, height) = (w.max(ow), h.max(oh));
    let head = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.3}mm\" height=\"{height:.3}mm\" \
         viewBox=\"{:.3} {:.3} {width:.3} {height:.3}\" role=\"img\" fill=\"none\" stroke-linejoin=\"round\">",
        x - (width - w) / 2.0,
        y - (height - h),
    );
    svg.split_once('>').map_or_else(|| svg.to_owned(), |(_, rest)| format!("{head}{rest}"))
}

fn view_box(svg: &str) -> Option<[f64; 4]> {
    let numbers = svg.split("viewBox=\"").nth(1)?.split('"').next()?;
    let mut each = numbers.split(' ').map(str::parse::<f64>);
    Some([each.next()?.ok()?, each.next()?.ok()?, each.next()?.ok()?, each.next()?.ok()?])
}

/// A version in one sentence, or what is wrong with it.
///
/// # Errors
/// When the store cannot be read.
pub(crate) fn sentence(
    bench: &Bench,
    document: &Document,
    version: &Version,
) -> Result<(bool, String), PageError> {
    let ground = Ground { shop: bench.shop()?, rack: Vec::new() };
    Ok(match planner::planned(&version.text, &ground, Boards::Unplanned, due(bench, document)?) {
        Ok(plan) => (true, super::change::preview::sentence(&plan)),
        Err(problems) => {
            let says = problems.first().map_or_else(String::new, |p| p.says.clone());
            (false, format!("This version cannot be planned: {says}."))
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_drawings_get_one_frame() {
        let a = "<svg xmlns=\"x\" viewBox=\"0 0 10 20\" role=\"img\"><title>a</title></svg>";
        let b = "<svg xmlns=\"x\" viewBox=\"-5 -5 30 10\" role=\"img\"><title>b</title></svg>";
        assert_eq!(view_box(&in_frame(a, b)), Some([-10.0, 0.0, 30.0, 20.0]));
        assert_eq!(view_box(&in_frame(b, a)), Some([-5.0, -15.0, 30.0, 20.0]));
        assert!(in_frame(a, b).ends_with("<title>a</title></svg>"));
    }
}
