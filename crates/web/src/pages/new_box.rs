//! A new box: from what must fit in, from a size, from an example, from a file.

mod file;
mod text;

use super::box_asked::picture_of;
use super::frame::{Frame, page, page_as};
use crate::error::PageError;
use crate::planner::{self, Boards, Ground};
use crate::policy::who::Who;
use crate::state::Bench;
use crate::{clock, demo, edit};
use askama::Template;
use axum::extract::{Form, Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use keepwright_model::design::Problem;
use keepwright_model::wood;
use keepwright_packet::chapters::wood_name;
use keepwright_store::{By, Document, Kind, Time};
use serde::Deserialize;
use text::Typed;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/new", get(show))
        .route("/boxes/new/contents", post(from_contents))
        .route("/boxes/new/size", post(from_size))
        .route("/boxes/new/example", post(from_example))
        .route("/boxes/new/file", post(file::from_file))
        .route("/boxes/new/example/{name}", get(example_picture))
}

/// The ways to a new box, as they stand in the address.
const WAYS: [(&str, &str); 4] = [
    ("contents", "From what must fit in"),
    ("size", "From a size"),
    ("example", "From an example"),
    ("file", "From a file"),
];
/// Rows for things that must fit in; a maker with more adds them on the box's page.
pub(super) const ROWS: usize = 6;

#[derive(Template)]
#[template(path = "pages/new_box.html")]
struct NewPage {
    frame: Frame,
    way: &'static str,
    ways: [(&'static str, &'static str); 4],
    typed: Typed,
    woods: Vec<String>,
    examples: Vec<Example>,
    /// What is wrong, where it belongs to no field.
    problems: Vec<Listed>,
    rows: [usize; ROWS],
}

struct Example {
    file: &'static str,
    name: String,
    note: String,
}

/// A problem of a whole text, with its excerpt.
struct Listed {
    line: usize,
    column: usize,
    says: String,
    remedy: String,
    excerpt: String,
}

#[derive(Debug, Deserialize)]
struct Asked {
    way: Option<String>,
}

async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let way = WAYS.iter().map(|w| w.0).find(|w| Some(*w) == asked.way.as_deref()).unwrap_or("contents");
    bench.work(move |bench| page(&made(bench, &who, way, Typed::default(), &[], "")?)).await
}

/// The page with what was typed and what is wrong with it.
fn made(
    bench: &Bench,
    who: &Who,
    way: &'static str,
    mut typed: Typed,
    problems: &[Problem],
    text: &str,
) -> Result<NewPage, PageError> {
    let mut listed = Vec::new();
    for problem in problems {
        // A text of the maker's own has its problems listed; a form has them at its fields.
        if way == "file" || !typed.note(problem) {
            let place = problem.place(text);
            listed.push(Listed {
                line: place.line,
                column: place.column,
                says: problem.says.clone(),
                remedy: problem.remedy.clone(),
                excerpt: problem.show("the statement", text),
            });
        }
    }
    let examples = demo::BOXES
        .iter()
        .map(|(file, text)| Example {
            file,
            name: edit::get(text, "name").unwrap_or_else(|| (*file).to_owned()),
            note: edit::get(text, "note").unwrap_or_default(),
        })
        .collect();
    Ok(NewPage {
        frame: Frame::of(bench, who, "boxes")?,
        way,
        ways: WAYS,
        typed,
        woods: wood::all().iter().map(|s| wood_name(s.id)).collect(),
        examples,
        problems: listed,
        rows: core::array::from_fn(|i| i + 1),
    })
}

/// Makes the box of a statement, or shows the form again with what is wrong.
fn make(
    bench: &Bench,
    who: &Who,
    way: &'static str,
    typed: Typed,
    text: &str,
    says: &str,
) -> Result<Response, PageError> {
    let shop = bench.shop()?;
    let ground = Ground { shop, rack: Vec::new() };
    match planner::planned(text, &ground, Boards::Unplanned, None) {
        Ok(plan) => {
            let document = create(bench, who, &plan.statement.name, text, says)?;
            Ok(Redirect::to(&format!("/boxes/{}", document.slug)).into_response())
        }
        Err(problems) => {
            let shown = made(bench, who, way, typed, &problems, text)?;
            page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown)
        }
    }
}

fn create(bench: &Bench, who: &Who, name: &str, text: &str, says: &str) -> Result<Document, PageError> {
    // A name of signs only is none that a list can show.
    let name = if name.chars().any(char::is_alphanumeric) { name } else { "Box" };
    let by = By::new(&who.name, Time::seconds(clock::now()));
    Ok(bench.store().create(Kind::Box, name, text, says, by)?)
}

async fn from_contents(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let typed = Typed::of(fields);
            let text = text::of_contents(&typed);
            make(bench, &who, "contents", typed, &text, "from what must fit in")
        })
        .await
}

async fn from_size(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let typed = Typed::of(fields);
            let text = text::of_size(&typed);
            make(bench, &who, "size", typed, &text, "from a size")
        })
        .await
}

#[derive(Debug, Deserialize)]
struct Chosen {
    example: String,
}

/// An example's statement by the name of its file.
fn example(name: &str) -> Result<&'static str, PageError> {
    demo::BOXES
        .iter()
        .find(|(file, _)| *file == name)
        .map(|(_, text)| *text)
        .ok_or_else(|| PageError::NoSuch { what: "example", name: name.to_owned() })
}

async fn from_example(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Form(chosen): Form<Chosen>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let text = example(&chosen.example)?;
            make(bench, &who, "example", Typed::default(), text, "from an example")
        })
        .await
}

async fn example_picture(
    State(bench): State<Bench>,
    Path(name): Path<String>,
) -> Result<Response, PageError> {
    let Some(name) = name.strip_suffix(".svg").map(str::to_owned) else { return Err(PageError::NotFound) };
    let text = bench
        .work(move |bench| {
            let ground = Ground { shop: bench.shop()?, rack: Vec::new() };
            let plan = planner::planned(example(&name)?, &ground, Boards::Unplanned, None)
                .map_err(|_| PageError::NotFound)?;
            Ok(picture_of(&plan))
        })
        .await?;
    Ok((
        [(header::CONTENT_TYPE, "image/svg+xml"), (header::CONTENT_SECURITY_POLICY, crate::figure::CONTENT)],
        text,
    )
        .into_response())
}
