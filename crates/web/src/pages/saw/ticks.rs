//! Ticks come in: as a list from the page's script, which may have kept them while there was no network, or as a press
//! of a form's button. What was pressed last counts, whoever pressed it.

use super::{deck, digest, plan};
use crate::clock;
use crate::error::PageError;
use crate::policy::who::Who;
use crate::secret;
use crate::state::Bench;
use axum::body::Bytes;
use axum::extract::{Form, FromRequest, Path, Request, State};
use axum::http::{HeaderMap, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::{Extension, Json};
use keepwright_store::{Mark, NewTick, PlanTick, Store, Time};
use serde::{Deserialize, Serialize};

/// The most presses that are taken at once.
const MOST: usize = 2000;
/// The longest of a press's words, in bytes.
const MOST_WORD: usize = 200;
/// The sender's clock at the time of sending, in seconds since 1970.
const CLOCK: &str = "x-clock";

/// A press as a script sends it.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct Press {
    /// The box's address.
    #[serde(rename = "box")]
    slug: String,
    /// Digest of what was set when it was pressed.
    plan: String,
    /// The card.
    setup: String,
    /// The part or step.
    part: String,
    /// Made where it was pressed, never twice.
    id: String,
    /// Set or taken away.
    on: bool,
    /// When, by the sender's clock, in seconds since 1970.
    at: i64,
}

/// What became of a list of presses.
#[derive(Debug, Default, Serialize)]
struct Outcome {
    /// Ids that need not be sent again.
    kept: Vec<String>,
    /// Ids that can never be taken, each with why.
    refused: Vec<Refused>,
    /// Presses that are kept but do not count, because a later one says otherwise.
    overruled: Vec<Overruled>,
}

#[derive(Debug, Serialize)]
struct Refused {
    id: String,
    why: String,
}

#[derive(Debug, Serialize)]
struct Overruled {
    id: String,
    on: bool,
    by: String,
    at: i64,
}

/// `POST /ticks`.
pub(super) async fn take(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    request: Request,
) -> Result<Response, PageError> {
    let kind = request.headers().get(header::CONTENT_TYPE).and_then(|v| v.to_str().ok()).unwrap_or("");
    if kind.starts_with("application/json") {
        listed(bench, who, request).await
    } else {
        pressed(bench, who, request).await
    }
}

async fn listed(bench: Bench, who: Who, request: Request) -> Result<Response, PageError> {
    let sent = sent_at(request.headers());
    let body = Bytes::from_request(request, &()).await.map_err(|e| PageError::BrokenBody(e.body_text()))?;
    let presses: Vec<Press> =
        serde_json::from_slice(&body).map_err(|e| PageError::BrokenBody(format!("no list of ticks: {e}")))?;
    if presses.len() > MOST {
        let says = format!("{} ticks came at once; {MOST} are taken", presses.len());
        return Err(PageError::refused(says, "send them in several lists"));
    }
    let now = clock::now();
    let off = sent.map_or(0, |sent| now.saturating_sub(sent));
    let outcome = bench.work(move |bench| keep(bench.store(), &who.name, &presses, off, now)).await?;
    Ok(Json(outcome).into_response())
}

fn sent_at(headers: &HeaderMap) -> Option<i64> {
    headers.get(CLOCK)?.to_str().ok()?.parse().ok()
}

/// Keeps presses; `off` is how far the sender's clock is behind ours, in seconds.
fn keep(store: &Store, by: &str, presses: &[Press], off: i64, now: i64) -> Result<Outcome, PageError> {
    let mut outcome = Outcome::default();
    let mut boxes: Vec<&str> = Vec::new();
    for press in presses {
        match fault(press) {
            Some(why) => outcome.refused.push(Refused { id: press.id.clone(), why }),
            None if !boxes.contains(&press.slug.as_str()) => boxes.push(&press.slug),
            None => {}
        }
    }
    for slug in boxes {
        let of_box: Vec<&Press> = presses.iter().filter(|p| p.slug == slug && fault(p).is_none()).collect();
        let document = match store.document(keepwright_store::Kind::Box, slug) {
            Ok(document) => document,
            Err(keepwright_store::Error::NoSlug { .. }) => {
                let why = format!("there is no box called {slug} in this shop");
                outcome.refused.extend(of_box.iter().map(|p| Refused { id: p.id.clone(), why: why.clone() }));
                continue;
            }
            Err(error) => return Err(error.into()),
        };
        let new: Vec<NewTick<'_>> = of_box.iter().map(|p| tick(p, by, off, now)).collect();
        store.tick(document.id, &new)?;
        let standing = store.all_ticks(document.id)?;
        outcome.overruled.extend(of_box.iter().enumerate().filter_map(|(i, press)| {
            let later = of_box.get(i + 1..).unwrap_or_default();
            overruled(press, later, &standing)
        }));
        outcome.kept.extend(of_box.iter().map(|p| p.id.clone()));
    }
    Ok(outcome)
}

/// Why a press can never be taken.
fn fault(press: &Press) -> Option<String> {
    let words = [
        ("box", &press.slug),
        ("plan", &press.plan),
        ("setup", &press.setup),
        ("part", &press.part),
        ("id", &press.id),
    ];
    let bad = words.iter().find(|(_, word)| word.is_empty() || word.len() > MOST_WORD)?;
    Some(format!("its `{}` has {} bytes; 1 to {MOST_WORD} are taken", bad.0, bad.1.len()))
}

/// A press by our clock; none is later than now, for it would overrule everything pressed until then.
fn tick<'p>(press: &'p Press, by: &'p str, off: i64, now: i64) -> NewTick<'p> {
    NewTick {
        token: &press.id,
        plan: &press.plan,
        setup: &press.setup,
        part: &press.part,
        mark: if press.on { Mark::On } else { Mark::Off },
        by,
        at: Time::seconds(press.at.saturating_add(off).min(now)),
    }
}

/// What says otherwise than a press that was the last one for its part in its list.
fn overruled(press: &Press, later: &[&Press], standing: &[PlanTick]) -> Option<Overruled> {
    let same = |p: &&Press| p.plan == press.plan && p.setup == press.setup && p.part == press.part;
    if later.iter().any(same) {
        return None;
    }
    let now = standing
        .iter()
        .find(|t| t.plan == press.plan && t.tick.setup == press.setup && t.tick.part == press.part)?;
    let on = now.tick.mark == Mark::On;
    (on != press.on).then(|| Overruled {
        id: press.id.clone(),
        on,
        by: now.tick.by.clone(),
        at: now.tick.at.to_seconds(),
    })
}

/// A press of a form's button, for a page without script.
#[derive(Debug, Deserialize)]
struct Pressed {
    #[serde(rename = "box")]
    slug: String,
    plan: String,
    setup: String,
    /// `on` or `off`, a colon, the part.
    tick: String,
    /// The card's number.
    card: usize,
    /// The card that the page shows; 0 for all of them.
    shown: usize,
}

async fn pressed(bench: Bench, who: Who, request: Request) -> Result<Response, PageError> {
    let Form(form): Form<Pressed> =
        Form::from_request(request, &()).await.map_err(|e| PageError::BrokenBody(e.body_text()))?;
    let (mark, part) = form.tick.split_once(':').unwrap_or(("", ""));
    let on = match mark {
        "on" => true,
        "off" => false,
        _ => return Err(PageError::BrokenBody(format!("`{}` is no tick", form.tick))),
    };
    let now = clock::now();
    let press = Press {
        slug: form.slug.clone(),
        plan: form.plan,
        setup: form.setup,
        part: part.to_owned(),
        id: secret::random_hex().map_err(PageError::Random)?,
        on,
        at: now,
    };
    let outcome = bench.work(move |bench| keep(bench.store(), &who.name, &[press], 0, now)).await?;
    if let Some(refused) = outcome.refused.into_iter().next() {
        return Err(PageError::refused(refused.why, "load the card again and tick there"));
    }
    let (slug, card) = (form.slug, form.card);
    let to = if form.shown == 0 {
        format!("/boxes/{slug}/saw#card-{card}")
    } else {
        format!("/boxes/{slug}/saw/{card}")
    };
    Ok(Redirect::to(&to).into_response())
}

/// How the ticks of a box stand.
#[derive(Debug, Serialize)]
struct List {
    /// Digest of the box's cards; a page with another one shows an earlier plan.
    deck: String,
    /// Now, by our clock.
    now: i64,
    ticks: Vec<Stands>,
}

/// One part.
#[derive(Debug, Serialize)]
struct Stands {
    plan: String,
    setup: String,
    part: String,
    on: bool,
    by: String,
    at: i64,
}

/// `GET /boxes/{slug}/ticks`.
pub(super) async fn list(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
) -> Result<Response, PageError> {
    let list = bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            let cards = deck::deck(&plan(bench, &document)?);
            let stands = |t: PlanTick| Stands {
                plan: t.plan,
                setup: t.tick.setup,
                part: t.tick.part,
                on: t.tick.mark == Mark::On,
                by: t.tick.by,
                at: t.tick.at.to_seconds(),
            };
            let ticks = bench.store().all_ticks(document.id)?.into_iter().map(stands).collect();
            Ok(List { deck: digest(&cards), now: clock::now(), ticks })
        })
        .await?;
    Ok(Json(list).into_response())
}
