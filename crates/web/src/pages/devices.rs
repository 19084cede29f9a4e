//! Devices of the local network: who is paired, new links, dismissal.

use super::frame::{Frame, page, page_as};
use crate::clock;
use crate::error::PageError;
use crate::invitation::{Invitation, InvitationError, MINUTES};
use crate::policy::who::{self, Who};
use crate::qr::Qr;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Form, Router};
use keepwright_store::{Device, DeviceId, Place, Rights, Time};
use serde::Deserialize;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/shop/devices", get(list))
        .route("/shop/devices/link", post(make_link))
        .route("/shop/devices/withdraw", post(withdraw))
        .route("/shop/devices/{id}/dismiss", post(dismiss))
}

/// Name and rights of the paired device that holds a cookie; none for one that was dismissed.
///
/// # Errors
/// When the store cannot be read.
pub(crate) async fn known(bench: &Bench, secret: &str) -> Result<Option<(String, who::Rights)>, PageError> {
    let secret = secret.to_owned();
    bench
        .work(move |bench| {
            let device = bench.store().device_by_token(&secret, Time::seconds(clock::now()))?;
            // A cookie that was given to a browser of this machine is no way in from elsewhere.
            let device = device.filter(|d| d.place == Place::Lan);
            Ok(device.map(|d| {
                let rights = match d.rights {
                    Rights::Full => who::Rights::Full,
                    Rights::Look => who::Rights::Look,
                };
                (d.name, rights)
            }))
        })
        .await
}

#[derive(Template)]
#[template(path = "pages/devices.html")]
struct DevicesPage {
    frame: Frame,
    say: String,
    paired: Vec<Line>,
    dismissed: Vec<Line>,
    made: Option<Made>,
    /// Why no link can be made.
    no_link: Option<String>,
    minutes: i64,
}

/// A device in the list.
struct Line {
    id: i64,
    name: String,
    rights: &'static str,
    paired: String,
    seen: String,
    dismissed: String,
}

/// A link just made, shown this once.
struct Made {
    rights: &'static str,
    until: String,
    ways: Vec<Way>,
}

/// The link by one address of this machine.
struct Way {
    link: String,
    code: Option<Drawn>,
}

/// The code for a camera, as the page draws it.
struct Drawn {
    side: usize,
    path: String,
}

async fn list(State(bench): State<Bench>, Extension(who): Extension<Who>) -> Result<Response, PageError> {
    let shown = bench.work(move |bench| devices_page(bench, &who)).await?;
    Ok(unkept(page(&shown)?))
}

/// What the form for a new link sends.
#[derive(Deserialize)]
struct NewLink {
    rights: String,
}

/// The answer to this POST is the page itself: the code must not stand in an address that a browser remembers.
async fn make_link(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Form(form): Form<NewLink>,
) -> Result<Response, PageError> {
    let rights = Rights::from_word(&form.rights).ok_or_else(|| {
        PageError::refused(
            format!("`{}` is nothing that a device can be allowed", form.rights),
            "choose one of the two on the page of devices",
        )
    })?;
    let shown = bench
        .work(move |bench| {
            let mut shown = devices_page(bench, &who)?;
            match bench.invite(rights) {
                Ok(invitation) => shown.made = Some(made(&invitation)),
                Err(InvitationError::Store(error)) => return Err(error.into()),
                Err(InvitationError::Random(error)) => return Err(PageError::Random(error)),
                Err(error @ InvitationError::OutOfReach) => shown.no_link = Some(error.to_string()),
            }
            Ok(shown)
        })
        .await?;
    let status = if shown.made.is_some() { StatusCode::OK } else { StatusCode::CONFLICT };
    Ok(unkept(page_as(status, &shown)?))
}

async fn withdraw(State(bench): State<Bench>) -> Result<Redirect, PageError> {
    bench.work(|bench| Ok(bench.store().withdraw_pairings()?)).await?;
    Ok(Redirect::to("/shop/devices"))
}

async fn dismiss(State(bench): State<Bench>, Path(id): Path<i64>) -> Result<Redirect, PageError> {
    let was_there = bench
        .work(move |bench| Ok(bench.store().dismiss(DeviceId::new(id), Time::seconds(clock::now()))?))
        .await?;
    if was_there {
        Ok(Redirect::to("/shop/devices"))
    } else {
        Err(PageError::NoSuch { what: "paired device with the number", name: id.to_string() })
    }
}

fn devices_page(bench: &Bench, who: &Who) -> Result<DevicesPage, PageError> {
    let devices = bench.store().devices()?;
    let (dismissed, paired): (Vec<_>, Vec<_>) =
        devices.iter().filter(|d| d.place == Place::Lan).map(line).partition(|l| !l.dismissed.is_empty());
    let say = match paired.len() {
        0 => "No device is paired: only this machine gets in.".to_owned(),
        1 => "One device is paired with this bench.".to_owned(),
        n => format!("{n} devices are paired with this bench."),
    };
    let no_link = bench.others().is_empty().then(|| InvitationError::OutOfReach.to_string());
    Ok(DevicesPage {
        frame: Frame::of(bench, who, "shop")?,
        say,
        paired,
        dismissed,
        made: None,
        no_link,
        minutes: MINUTES,
    })
}

fn line(device: &Device) -> Line {
    Line {
        id: device.id.get(),
        name: device.name.clone(),
        rights: may(device.rights),
        paired: clock::said(device.paired_at),
        seen: clock::said(device.last_seen),
        dismissed: device.dismissed_at.map(clock::said).unwrap_or_default(),
    }
}

fn may(rights: Rights) -> &'static str {
    match rights {
        Rights::Look => "look and tick",
        Rights::Full => "everything",
    }
}

fn made(invitation: &Invitation) -> Made {
    let ways = invitation.links.iter().map(|link| Way {
        link: link.clone(),
        code: Qr::of(link).map(|qr| Drawn { side: qr.side(), path: qr.path() }),
    });
    Made { rights: may(invitation.rights), until: clock::said(invitation.until), ways: ways.collect() }
}

/// Keeps an answer out of every cache.
pub(crate) fn unkept(response: Response) -> Response {
    ([(header::CACHE_CONTROL, HeaderValue::from_static("no-store"))], response).into_response()
}
