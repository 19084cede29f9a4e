//! What may be done with a board besides changing what is written of it: copy, bin, mark, bring back.

use super::board::find;
use super::form::Form;
use crate::clock;
use crate::edit;
use crate::error::PageError;
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::{Extension, Json};
use keepwright_model::design::show_problems;
use keepwright_model::units::{Length, LengthUnit, parse_length_in};
use keepwright_store::{BoardMark, By, Error, Saved, Time, VersionId};

/// Measures that are read in one question.
const MOST_LENGTHS: usize = 8;

/// What a copy is to be called.
#[derive(Debug, serde::Deserialize)]
pub(super) struct Copied {
    name: String,
}

pub(super) async fn copy(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    axum::Form(copied): axum::Form<Copied>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = find(bench, &slug)?;
            let text = bench.store().head(document.id)?.text;
            let name = match copied.name.trim() {
                "" => format!("{} again", document.name),
                name => name.to_owned(),
            };
            let text = renamed(&text, &name)?;
            if let Err(problems) = planner::rack_file(&text, &bench.shop()?) {
                return Err(PageError::refused(
                    show_problems(&problems, &document.name, &text),
                    "mend the board first, or give the copy another name",
                ));
            }
            let by = By::new(&who.name, Time::seconds(clock::now()));
            let copy = bench.store().copy(document.id, &name, &text, by)?;
            Ok(Redirect::to(&format!("/rack/{}?said=made", copy.slug)).into_response())
        })
        .await
}

/// A board's text under another name.
///
/// # Errors
/// When the text cannot be changed.
pub(super) fn renamed(text: &str, name: &str) -> Result<String, PageError> {
    let value = toml_edit::Value::from(name).to_string();
    edit::set(text, "board.1.name", Some(&value))
        .map_err(|e| PageError::refused(e.to_string(), "mend the board's text on its page"))
}

pub(super) async fn bin(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = find(bench, &slug)?;
            bench.store().bin(document.id, By::new(&who.name, Time::seconds(clock::now()))).map_err(taken)?;
            Ok(Redirect::to("/rack").into_response())
        })
        .await
}

pub(super) async fn unbin(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = find(bench, &slug)?;
            bench.store().unbin(document.id, By::new(&who.name, Time::seconds(clock::now())))?;
            Ok(Redirect::to(&format!("/rack/{slug}")).into_response())
        })
        .await
}

/// An older version.
#[derive(Debug, serde::Deserialize)]
pub(super) struct Older {
    version: i64,
}

/// Puts an older version's text in force, as a new version.
pub(super) async fn restore(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    axum::Form(older): axum::Form<Older>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = find(bench, &slug)?;
            let version = VersionId::new(older.version);
            let by = By::new(&who.name, Time::seconds(clock::now()));
            let saved =
                bench.store().restore_version(document.id, version, by).map_err(|error| match error {
                    Error::NoVersion { .. } => {
                        PageError::NoSuch { what: "version", name: older.version.to_string() }
                    }
                    other => other.into(),
                })?;
            let said = match saved {
                Saved::Kept(head) => {
                    let name = Form::of_text(&head.text).value("name").to_owned();
                    if !name.is_empty() {
                        bench.store().rename(document.id, &name, by)?;
                    }
                    "kept"
                }
                Saved::Same(_) | Saved::Beside { .. } => "same",
            };
            Ok(Redirect::to(&format!("/rack/{slug}?said={said}")).into_response())
        })
        .await
}

/// What a maker says of a board by hand.
#[derive(Debug, serde::Deserialize)]
pub(super) struct Marked {
    mark: String,
}

pub(super) async fn mark(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    axum::Form(marked): axum::Form<Marked>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = find(bench, &slug)?;
            let mark = match marked.mark.as_str() {
                "free" => BoardMark::Free,
                "used" => BoardMark::Used,
                other => {
                    return Err(PageError::refused(
                        format!("a board cannot be marked `{other}`"),
                        "mark it free or used with the buttons of its page",
                    ));
                }
            };
            let by = By::new(&who.name, Time::seconds(clock::now()));
            bench.store().mark_board(document.id, mark, by).map_err(taken)?;
            Ok(Redirect::to(&format!("/rack/{slug}")).into_response())
        })
        .await
}

/// A board that a run has is refused with who has it, and no store failure.
pub(crate) fn taken(error: Error) -> PageError {
    match error {
        Error::BoardTaken { board, held } => PageError::refused(
            format!("board {board} cannot be taken: {held}"),
            "choose another board, or release that cutting run first",
        ),
        other => other.into(),
    }
}

/// Lengths as typed.
pub(super) async fn lengths(Query(asked): Query<Vec<(String, String)>>) -> Json<Vec<Option<f64>>> {
    let inches = asked.iter().any(|(name, value)| name == "unit" && value == "in");
    let unit = if inches { LengthUnit::Inch } else { LengthUnit::Millimeter };
    let typed = asked.iter().filter(|(name, _)| name == "t").take(MOST_LENGTHS);
    Json(typed.map(|(_, text)| parse_length_in(text, unit).ok().map(Length::to_mm)).collect())
}
