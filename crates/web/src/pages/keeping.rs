//! A box as a thing that is kept: its name, its state, its due day, its customer; copying it, the bin and back.

use super::frame::{Frame, page, page_as};
use super::one_box::{by, says};
use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use crate::{edit, planner};
use askama::Template;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use keepwright_store::{Document, Error, Job, JobState, MOST_NAME, Shelf};
use serde::Deserialize;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/boxes/bin", get(bin_list))
        .route("/boxes/{slug}/job", get(show).post(set))
        .route("/boxes/{slug}/copy", post(copy))
        .route("/boxes/{slug}/rename", post(rename))
        .route("/boxes/{slug}/bin", post(bin))
        .route("/boxes/{slug}/unbin", post(unbin))
}

/// How far a box may be, with the words for it.
const STATES: [JobState; 7] = [
    JobState::Idea,
    JobState::Planned,
    JobState::Cutting,
    JobState::Glued,
    JobState::Finishing,
    JobState::Done,
    JobState::Delivered,
];

#[derive(Template)]
#[template(path = "pages/job.html")]
struct JobPage {
    frame: Frame,
    document: Document,
    name: Filled,
    copy: Filled,
    due: Filled,
    state: String,
    states: Vec<&'static str>,
    customer: Filled,
    in_bin: bool,
}

/// A field with what was typed and what is wrong with it.
#[derive(Clone, Debug, Default)]
struct Filled {
    value: String,
    wrong: String,
}

impl Filled {
    fn with(value: impl Into<String>) -> Self {
        Self { value: value.into(), wrong: String::new() }
    }
}

fn job_page(bench: &Bench, who: &Who, document: Document) -> Result<JobPage, PageError> {
    let Job { state, due, customer } = bench.store().job(document.id)?;
    Ok(JobPage {
        frame: Frame::of(bench, who, "boxes")?,
        name: Filled::with(document.name.clone()),
        copy: Filled::with(format!("{} again", document.name)),
        due: Filled::with(due.unwrap_or_default()),
        state: state.word().to_owned(),
        states: STATES.map(JobState::word).to_vec(),
        customer: Filled::with(customer),
        in_bin: document.shelf == Shelf::Bin,
        document,
    })
}

async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
) -> Result<Response, PageError> {
    let made = bench.work(move |bench| job_page(bench, &who, bench.find_box(&slug)?)).await?;
    page(&made)
}

/// State, due day and customer; what is left out stays.
#[derive(Debug, Deserialize)]
struct Set {
    state: Option<String>,
    due: Option<String>,
    customer: Option<String>,
}

async fn set(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Form(asked): Form<Set>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let (id, by) = (document.id, by(&who));
            let state = asked.state.as_deref().map(|word| {
                JobState::from_word(word).ok_or_else(|| {
                    PageError::refused(
                        format!("a box cannot be `{word}`"),
                        format!("choose one of: {}", STATES.map(JobState::word).join(", ")),
                    )
                })
            });
            let state = state.transpose()?;
            if let Some(customer) = &asked.customer
                && let Err(error) = bench.store().set_customer(id, customer.trim(), by)
            {
                let mut page = job_page(bench, &who, document)?;
                page.customer = Filled { value: customer.clone(), wrong: in_field(error)? };
                return page_as(StatusCode::UNPROCESSABLE_ENTITY, &page);
            }
            if let Some(state) = state {
                bench.store().set_job_state(id, state, by)?;
            }
            if let Some(due) = &asked.due {
                let day = Some(due.trim()).filter(|d| !d.is_empty());
                if let Err(error) = bench.store().set_due(id, day, by) {
                    let mut page = job_page(bench, &who, document)?;
                    page.due = Filled { value: due.clone(), wrong: in_field(error)? };
                    return page_as(StatusCode::UNPROCESSABLE_ENTITY, &page);
                }
            }
            Ok(Redirect::to(&format!("/boxes/{slug}")).into_response())
        })
        .await
}

/// What is wrong with a field, where that is what went wrong.
fn in_field(error: Error) -> Result<String, PageError> {
    match error {
        Error::NoDate { .. } | Error::NoName | Error::TooLong { .. } => Ok(error.to_string()),
        other => Err(other.into()),
    }
}

#[derive(Debug, Deserialize)]
struct Name {
    #[serde(default)]
    name: String,
}

/// What is wrong with a name, in words; `None` if it is one.
fn no_name(name: &str) -> Option<String> {
    if !name.chars().any(char::is_alphanumeric) {
        return Some(Error::NoName.to_string());
    }
    (name.len() > MOST_NAME)
        .then(|| Error::TooLong { what: "the name", given: name.len(), most: MOST_NAME }.to_string())
}

/// The text with another name in it; a text that is no TOML stays as it is.
fn named(text: &str, name: &str) -> String {
    edit::set(text, "name", Some(&crate::forms::values::quoted(name))).unwrap_or_else(|_| text.to_owned())
}

/// Gives a box another name: in its statement, as a version, and in the list.
async fn rename(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Form(asked): Form<Name>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let name = asked.name.trim();
            if let Some(wrong) = no_name(name) {
                let mut page = job_page(bench, &who, document)?;
                page.name = Filled { value: asked.name, wrong };
                return page_as(StatusCode::UNPROCESSABLE_ENTITY, &page);
            }
            let head = bench.store().head(document.id)?;
            let text = named(&head.text, name);
            let shop = bench.shop()?;
            if planner::statement(&text, &shop).is_ok() {
                bench.store().save(document.id, head.id, &text, &says(&head.text, &text, &shop), by(&who))?;
            }
            bench.store().rename(document.id, name, by(&who))?;
            Ok(Redirect::to(&format!("/boxes/{slug}")).into_response())
        })
        .await
}

/// Makes another box like it.
async fn copy(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Form(asked): Form<Name>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let name = asked.name.trim();
            if let Some(wrong) = no_name(name) {
                let mut page = job_page(bench, &who, document)?;
                page.copy = Filled { value: asked.name, wrong };
                return page_as(StatusCode::UNPROCESSABLE_ENTITY, &page);
            }
            let head = bench.store().head(document.id)?;
            let made = bench.store().copy(document.id, name, &named(&head.text, name), by(&who))?;
            Ok(Redirect::to(&format!("/boxes/{}", made.slug)).into_response())
        })
        .await
}

/// Puts a box into the bin, where nothing is lost.
async fn bin(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
) -> Result<Redirect, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            bench.store().bin(document.id, by(&who))?;
            Ok(Redirect::to("/boxes/bin"))
        })
        .await
}

/// Takes a box out of the bin.
async fn unbin(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
) -> Result<Redirect, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            bench.store().unbin(document.id, by(&who))?;
            Ok(Redirect::to(&format!("/boxes/{slug}")))
        })
        .await
}

#[derive(Template)]
#[template(path = "pages/bin.html")]
struct BinPage {
    frame: Frame,
    boxes: Vec<Binned>,
}

struct Binned {
    document: Document,
    at: String,
}

async fn bin_list(State(bench): State<Bench>, Extension(who): Extension<Who>) -> Result<Response, PageError> {
    let made = bench
        .work(move |bench| {
            let boxes = bench.store().documents(keepwright_store::Kind::Box, Shelf::Bin)?;
            let binned = |d: Document| Binned { at: crate::clock::said(d.changed_at), document: d };
            Ok(BinPage {
                frame: Frame::of(bench, &who, "boxes")?,
                boxes: boxes.into_iter().map(binned).collect(),
            })
        })
        .await?;
    page(&made)
}
