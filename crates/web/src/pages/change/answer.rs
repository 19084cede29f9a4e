//! The answer to a change: a page for a reader, JSON for the script that shows it while it is typed.

use super::edit_page::{self, Told};
use super::preview::{self, Preview, Spot};
use super::sent::{From, Sent};
use super::work::{Outcome, Wrong, chapter_of};
use crate::error::PageError;
use crate::forms::{self, Shown};
use crate::pages::frame::Frame;
use crate::pages::{later, statement_text};
use crate::planner::Boards;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::Json;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use keepwright_store::{Document, Version};
use serde::Serialize;
use std::collections::BTreeMap;

/// Whether a script asks, which wants JSON.
pub(super) fn is_script(headers: &HeaderMap) -> bool {
    headers
        .get(header::ACCEPT)
        .and_then(|v| v.to_str().ok())
        .is_some_and(|v| v.starts_with("application/json"))
}

/// The answer for a reader: on to the box, or the form again.
pub(super) fn to_reader(
    bench: &Bench,
    who: &Who,
    document: &Document,
    sent: &Sent,
    outcome: Outcome,
) -> Result<Response, PageError> {
    match outcome {
        Outcome::Kept { .. } => Ok(Redirect::to(&back(document, sent)).into_response()),
        Outcome::Beside { mine, head } => {
            let told = later::page(bench, who, document, &mine, &head)?;
            Ok((StatusCode::CONFLICT, told).into_response())
        }
        Outcome::Wrong(wrong) if sent.from == From::Text || sent.text.is_some() => {
            statement_text::again(bench, who, document, &wrong)
        }
        Outcome::Wrong(wrong) => again(bench, who, document, sent, &wrong),
    }
}

/// Where a form leads back to.
fn back(document: &Document, sent: &Sent) -> String {
    let slug = &document.slug;
    match sent.from {
        From::Edit => format!("/boxes/{slug}/edit/{}", chapter_of(sent).id),
        From::Text => format!("/boxes/{slug}/text"),
        From::Box if sent.chapter.is_empty() => format!("/boxes/{slug}"),
        // A caution's chapter may have no fields of its own, but it has its place on the page.
        From::Box if sent.chapter.bytes().all(|b| b.is_ascii_lowercase()) => {
            format!("/boxes/{slug}#{}", sent.chapter)
        }
        From::Box => format!("/boxes/{slug}#{}", chapter_of(sent).id),
    }
}

/// The form again, with what is wrong at its fields.
fn again(
    bench: &Bench,
    who: &Who,
    document: &Document,
    sent: &Sent,
    wrong: &Wrong,
) -> Result<Response, PageError> {
    let told = Told {
        head: &wrong.base,
        draft: wrong.draft.as_ref().map(|d| d.number),
        shown: Shown { text: &wrong.text, problems: &wrong.problems, typed: &wrong.typed },
    };
    let page = edit_page::render(bench, who, document, chapter_of(sent), told)?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// What a script learns of a change.
#[derive(Debug, Serialize)]
struct Answer {
    /// Whether it is saved.
    ok: bool,
    /// The version in force: forms are made from it now.
    base: i64,
    /// Its number within the box.
    number: i64,
    /// What changed with it.
    says: String,
    /// Whether there is something to undo.
    undo: bool,
    /// Whether there is something to redo.
    redo: bool,
    /// The draft that holds what was typed, if it does not read.
    draft: Option<u64>,
    /// The page to go to when another window was faster.
    page: Option<String>,
    /// The fields of chapters that look different now.
    forms: BTreeMap<&'static str, String>,
    /// The rest.
    #[serde(flatten)]
    preview: Preview,
}

/// The answer for a script.
pub(super) fn to_script(
    bench: &Bench,
    who: &Who,
    document: &Document,
    outcome: Outcome,
) -> Result<Response, PageError> {
    match outcome {
        Outcome::Kept { head, before } => {
            Ok(Json(kept(bench, who, document, (&head, &before.text))?).into_response())
        }
        Outcome::Beside { mine, head } => {
            let mut answer = Answer { ok: false, ..state_of(&head) };
            answer.page = Some(later::address(document, &mine));
            Ok((StatusCode::CONFLICT, Json(answer)).into_response())
        }
        Outcome::Wrong(wrong) => {
            let preview =
                Preview { problems: preview::spots(&wrong.text, &wrong.problems), ..Preview::default() };
            let draft = wrong.draft.map(|d| d.number);
            let answer = Answer { ok: false, draft, preview, ..state_of(&wrong.base) };
            Ok((StatusCode::UNPROCESSABLE_ENTITY, Json(answer)).into_response())
        }
    }
}

/// The answer when a version is in force now; `before` is the text that the page was made from.
fn kept(
    bench: &Bench,
    who: &Who,
    document: &Document,
    (head, before): (&Version, &str),
) -> Result<Answer, PageError> {
    let preview = preview::of(bench, who, document, (head, &head.text), Boards::Rack)?;
    let problems = preview.read.clone();
    let shown = |text| Shown { text, problems: &problems, typed: &[] };
    let mut changed = BTreeMap::new();
    for chapter in forms::chapters() {
        let now = forms::html(chapter.id, shown(&head.text))?;
        let was = forms::html(chapter.id, Shown { problems: &[], ..shown(before) })?;
        if now != was {
            changed.insert(chapter.id, now);
        }
    }
    Ok(Answer { forms: changed, preview, ..state_of(head) })
}

fn state_of(head: &Version) -> Answer {
    Answer {
        ok: true,
        base: head.id.get(),
        number: head.number,
        says: head.says.clone(),
        undo: head.parent.is_some(),
        redo: head.redo.is_some(),
        draft: None,
        page: None,
        forms: BTreeMap::new(),
        preview: Preview::default(),
    }
}

/// The answer to a step back or forth: what is in force now, or that another window moved it.
pub(super) fn stepped(
    bench: &Bench,
    who: &Who,
    document: &Document,
    (head, before): (&Version, &str),
    moved: bool,
) -> Result<Response, PageError> {
    let mut answer = kept(bench, who, document, (head, before))?;
    if moved {
        answer.ok = false;
        answer.page = Some(format!("/boxes/{}", document.slug));
        return Ok((StatusCode::CONFLICT, Json(answer)).into_response());
    }
    Ok(Json(answer).into_response())
}

/// The problems as a summary for a page: each with its place and, where there is one, its field.
pub(super) fn summary(shown: &Shown<'_>) -> Vec<Spot> {
    preview::spots(shown.text, shown.problems)
}

/// The frame of these pages.
pub(super) fn frame(bench: &Bench, who: &Who) -> Result<Frame, PageError> {
    Frame::of(bench, who, "boxes")
}
