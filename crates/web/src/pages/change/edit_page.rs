//! The fields of one chapter on a page of their own.

use super::answer::{frame, summary};
use super::preview::Spot;
use crate::drafts;
use crate::error::PageError;
use crate::forms::{self, Chapter, Made, Shown};
use crate::pages::frame::Frame;
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::Extension;
use axum::extract::{Path, State};
use axum::response::{Html, IntoResponse, Redirect, Response};
use keepwright_store::{Document, Version};

#[derive(Template)]
#[template(path = "pages/edit.html")]
struct EditPage<'a> {
    frame: Frame,
    document: &'a Document,
    head: &'a Version,
    draft: Option<u64>,
    chapter: Chapter,
    chapters: &'static [Chapter],
    problems: Vec<Spot>,
    form: String,
}

/// What an edit page shows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Told<'a> {
    /// The version that the form is made from.
    pub(super) head: &'a Version,
    /// The draft that it shows, if it shows one.
    pub(super) draft: Option<u64>,
    /// Text and problems.
    pub(super) shown: Shown<'a>,
}

/// The page of a chapter's fields.
///
/// # Errors
/// Of the store, or a template that cannot be filled in.
pub(super) fn render(
    bench: &Bench,
    who: &Who,
    document: &Document,
    chapter: Chapter,
    told: Told<'_>,
) -> Result<Html<String>, PageError> {
    let frame = frame(bench, who)?;
    let made = Made {
        slug: &document.slug,
        base: told.head.id.get(),
        draft: told.draft,
        forgery: &frame.forgery,
        from: "edit",
    };
    let form = if frame.only_looks { String::new() } else { forms::form(&made, chapter, told.shown)? };
    let page = EditPage {
        problems: summary(&told.shown),
        document,
        head: told.head,
        draft: told.draft,
        chapter,
        chapters: forms::chapters(),
        form,
        frame,
    };
    Ok(Html(page.render()?))
}

/// The first chapter.
pub(super) async fn first(Path(slug): Path<String>) -> Redirect {
    Redirect::to(&format!("/boxes/{slug}/edit/{}", forms::chapters()[0].id))
}

/// One chapter: of the newest draft that was made from the version in force, else of that version.
pub(super) async fn chapter(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path((slug, chapter)): Path<(String, String)>,
) -> Result<Response, PageError> {
    let chapter =
        forms::chapter(&chapter).ok_or(PageError::NoSuch { what: "chapter with fields", name: chapter })?;
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let head = bench.store().head(document.id)?;
            let draft = drafts::fresh(bench, document.id, &head)?;
            let text = draft.as_ref().map_or(&head.text, |d| &d.text);
            let problems = planner::statement(text, &bench.shop()?).err().unwrap_or_default();
            let shown = Shown { text, problems: &problems, typed: &[] };
            let told = Told { head: &head, draft: draft.as_ref().map(|d| d.number), shown };
            Ok(render(bench, &who, &document, chapter, told)?.into_response())
        })
        .await
}
