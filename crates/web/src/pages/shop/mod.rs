//! The shop: what it has and how it works, once for all boxes.

mod archive;
mod backups;
mod fields;
mod file;
mod history;
mod say;
mod sheet;
mod typed;
mod usual;
mod written;

use super::frame::{Frame, page, page_as};
use crate::chapters::Stands;
use crate::clock;
use crate::error::PageError;
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Form, Router};
use keepwright_model::job::Shop;
use keepwright_model::seasons::sites;
use keepwright_model::shop::glue::glues;
use keepwright_store::{By, Document, Kind, Saved, Stepped, Time, Version, VersionId};
use serde::Deserialize;
use sheet::{Control, Given, Sheet};
use std::collections::BTreeMap;
use typed::Typed;

/// The setting under which it is kept whether cautions worth knowing are folded.
const FOLDED: &str = "cautions-folded";

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/shop", get(show))
        .route("/shop/change", post(change))
        .route("/shop/undo", post(undo))
        .route("/shop/redo", post(redo))
        .route("/shop/cautions", post(cautions))
        .merge(history::routes())
        .merge(file::routes())
        .merge(backups::routes())
        .merge(archive::routes())
}

/// How cautions that are only worth knowing stand on the pages.
///
/// # Errors
/// When the store cannot be read.
pub(crate) fn worth_knowing(bench: &Bench) -> Result<Stands, PageError> {
    Ok(if bench.store().setting(FOLDED)?.is_some() { Stands::Folded } else { Stands::Open })
}

#[derive(Template)]
#[template(path = "pages/shop.html")]
struct ShopPage {
    frame: Frame,
    say: String,
    base: i64,
    version: String,
    can_undo: bool,
    can_redo: bool,
    folded: bool,
    sheet: Sheet,
    /// Names of places with how many there are of each, and of glues, to choose from.
    sites: Vec<String>,
    glues: Vec<&'static str>,
}

/// The shop's document, its text in force, and the shop that it states.
struct Now {
    document: Document,
    head: Version,
    /// A small shop where the text cannot be read.
    shop: Shop,
    /// Why it cannot be read, by key.
    wrong: BTreeMap<String, String>,
}

/// The shop as it is in the store; made where it is not there yet.
fn now(bench: &Bench) -> Result<Now, PageError> {
    let store = bench.store();
    let document = if let Some(document) = store.shop()? {
        document
    } else {
        let text = bench.shop_text()?;
        store.create(Kind::Shop, "Shop", &text, "first start", By::new("first start", at()))?
    };
    let head = store.head(document.id)?;
    let (shop, wrong) = match planner::shop(&head.text) {
        Ok(shop) => (shop, BTreeMap::new()),
        Err(problems) => (Shop::small_shop(), sheet::by_key(&problems)),
    };
    Ok(Now { document, head, shop, wrong })
}

fn at() -> Time {
    Time::seconds(clock::now())
}

impl ShopPage {
    fn of(
        bench: &Bench,
        who: &Who,
        now: &Now,
        typed: &Typed,
        wrong: BTreeMap<String, String>,
    ) -> Result<Self, PageError> {
        let given = Given { text: &now.head.text, typed, wrong, shop: &now.shop };
        Ok(Self {
            frame: Frame::of(bench, who, "shop")?,
            say: say::whole(&now.shop),
            base: now.head.id.get(),
            version: version_line(&now.head),
            can_undo: now.head.parent.is_some(),
            can_redo: now.head.redo.is_some(),
            folded: worth_knowing(bench)? == Stands::Folded,
            sheet: Sheet::of(given),
            sites: sites().iter().map(keepwright_model::seasons::Site::full_name).collect(),
            glues: glues().iter().map(|g| g.name.as_str()).collect(),
        })
    }
}

fn version_line(version: &Version) -> String {
    format!("Version {}, {}: {}", version.number, clock::said(version.at), version.says)
}

async fn show(State(bench): State<Bench>, Extension(who): Extension<Who>) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let mut now = now(bench)?;
            let wrong = std::mem::take(&mut now.wrong);
            ShopPage::of(bench, &who, &now, &Typed::default(), wrong)
        })
        .await?;
    page(&shown)
}

/// The version that a form was made from.
fn base(form: &[(String, String)]) -> Result<VersionId, PageError> {
    form.iter()
        .find(|(name, _)| name == "base")
        .and_then(|(_, value)| value.parse().ok())
        .map(VersionId::new)
        .ok_or_else(|| {
            PageError::refused("the form does not say which version it changes", "load the page again")
        })
}

async fn change(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Form(form): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let base = base(&form)?;
            let typed = Typed::of(&form);
            let now = now(bench)?;
            // The fields are laid into the text that they were made from, whatever another window saved since.
            let text = bench.store().version(base)?.text;
            let mut changed = typed.put_into(&text);
            let wrong = match planner::shop(&changed.text) {
                Ok(_) if changed.wrong.is_empty() => {
                    return save(bench, &who, &now, base, &changed.text, &changed.name());
                }
                Ok(_) => BTreeMap::new(),
                Err(problems) => sheet::by_key(&problems),
            };
            for (key, says) in wrong {
                changed.wrong.entry(key).or_insert(says);
            }
            let mut shown = ShopPage::of(bench, &who, &now, &typed, changed.wrong)?;
            shown.base = base.get();
            page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown)
        })
        .await
}

/// Saves a text that reads as a shop; says so when another window saved first.
fn save(
    bench: &Bench,
    who: &Who,
    now: &Now,
    base: VersionId,
    text: &str,
    says: &str,
) -> Result<Response, PageError> {
    match bench.store().save(now.document.id, base, text, says, By::new(&who.name, at()))? {
        Saved::Kept(_) | Saved::Same(_) => Ok(Redirect::to("/shop").into_response()),
        Saved::Beside { version, head } => history::beside(bench, who, &version, &head),
    }
}

/// What the buttons for undo and redo send.
#[derive(Deserialize)]
struct Step {
    base: i64,
}

async fn undo(State(bench): State<Bench>, Form(step): Form<Step>) -> Result<Response, PageError> {
    stepped(&bench, move |bench, shop| Ok(bench.store().undo(shop.id, VersionId::new(step.base), at())?))
        .await
}

async fn redo(State(bench): State<Bench>, Form(step): Form<Step>) -> Result<Response, PageError> {
    stepped(&bench, move |bench, shop| Ok(bench.store().redo(shop.id, VersionId::new(step.base), at())?))
        .await
}

async fn stepped(
    bench: &Bench,
    step: impl FnOnce(&Bench, &Document) -> Result<Stepped, PageError> + Send + 'static,
) -> Result<Response, PageError> {
    let went = bench.work(move |bench| step(bench, &now(bench)?.document)).await?;
    match went {
        Stepped::To(_) | Stepped::End(_) => Ok(Redirect::to("/shop").into_response()),
        Stepped::Moved(head) => Err(PageError::refused(
            format!("another window changed the shop in the meantime ({})", version_line(&head)),
            "load the shop's page again and look at what it says now",
        )),
    }
}

/// What the form about cautions sends.
#[derive(Deserialize)]
struct Cautions {
    show: String,
}

async fn cautions(State(bench): State<Bench>, Form(form): Form<Cautions>) -> Result<Redirect, PageError> {
    bench
        .work(move |bench| {
            match form.show.as_str() {
                "folded" => bench.store().set(FOLDED, "yes")?,
                _ => bench.store().unset(FOLDED)?,
            }
            Ok(())
        })
        .await?;
    Ok(Redirect::to("/shop#cautions"))
}
