//! The way in for a device of the local network. Looking at the link changes nothing, so that a program that shows a
//! preview of it does not use it up; pressing the button does.

use super::devices::unkept;
use crate::clock;
use crate::error::PageError;
use crate::policy::forgery;
use crate::policy::who::{Cookie, Who};
use crate::secret;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use axum::{Extension, Form, Router};
use keepwright_store::{Lock, Paired, Source, Time};
use serde::Deserialize;
use std::net::IpAddr;
use std::time::Duration;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new().route("/pair/{code}", get(ask).post(pair))
}

/// The longest name of a device, in characters.
const LONGEST_NAME: usize = 60;
/// What a wrong code costs, whoever sends it: one guess a second for each connection.
const WRONG_WAITS: Duration = Duration::from_secs(1);

#[derive(Template)]
#[template(path = "pages/pair.html")]
struct PairPage {
    forgery: String,
    code: String,
    name: String,
    longest: usize,
    wrong: Option<&'static str>,
    /// Whether the asker needs no link.
    is_desk: bool,
}

#[derive(Deserialize)]
struct Name {
    name: String,
}

async fn ask(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(code): Path<String>,
) -> Result<Response, PageError> {
    shown(&bench, &who, code, "Tablet", None)
}

/// The page; whether the code is right is not said here, so that nothing can be learned by looking.
fn shown(
    bench: &Bench,
    who: &Who,
    code: String,
    name: &str,
    wrong: Option<&'static str>,
) -> Result<Response, PageError> {
    let page = PairPage {
        forgery: forgery::token(bench, &who.cookie),
        code,
        name: name.to_owned(),
        longest: LONGEST_NAME,
        wrong,
        is_desk: who.address.is_none(),
    };
    let status = if wrong.is_some() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok(unkept((status, Html(page.render()?)).into_response()))
}

async fn pair(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(code): Path<String>,
    headers: HeaderMap,
    Form(form): Form<Name>,
) -> Result<Response, PageError> {
    let Some(address) = who.address else {
        return Err(PageError::refused(
            "this is the machine that the bench runs on, and it needs no link",
            "open the link on the device that is to be paired",
        ));
    };
    let name: String = form.name.trim().chars().filter(|c| !c.is_control()).take(LONGEST_NAME).collect();
    if name.is_empty() {
        return shown(&bench, &who, code, "", Some("Write a name by which you will know this device."));
    }
    let token = secret::random_hex().map_err(PageError::Random)?;
    let (port, before, fresh) = (bench.port(), Cookie::Own.sent(bench.port(), &headers), token.clone());
    let came_to = bench
        .work(move |bench| {
            let now = Time::seconds(clock::now());
            let came_to = bench.store().pair(&code, &name, &fresh, Source::Lan(&network(address)), now)?;
            // A device that is paired anew leaves what it was before.
            if let (Paired::In(_), Some(before)) = (&came_to, before)
                && let Some(old) = bench.store().device_by_token(&before, now)?
            {
                bench.store().dismiss(old.id, now)?;
            }
            Ok((came_to, now))
        })
        .await?;
    match came_to {
        (Paired::In(_), _) => {
            let cookie = Cookie::Own.give(port, &token)?;
            Ok(unkept(([(header::SET_COOKIE, cookie)], Redirect::to("/boxes")).into_response()))
        }
        (Paired::Wrong(lock), now) => {
            tokio::time::sleep(WRONG_WAITS).await;
            Err(refused(lock, now))
        }
        (Paired::Locked { until }, now) => Err(PageError::CodeRefused {
            says: "too many wrong codes were tried, so none is looked at for a while".to_owned(),
            wait: seconds(until, now).max(1),
        }),
    }
}

fn refused(lock: Lock, now: Time) -> PageError {
    PageError::CodeRefused {
        says: "this link was used already, is too old, or is not quite what the desk shows".to_owned(),
        wait: lock.until.map_or(0, |until| seconds(until, now)),
    }
}

fn seconds(until: Time, now: Time) -> i64 {
    until.to_seconds() - now.to_seconds()
}

/// What counts as one source: an address, or the network of an IPv6 address, in which a device has as many as it likes.
fn network(address: IpAddr) -> String {
    match address {
        IpAddr::V4(v4) => v4.to_string(),
        IpAddr::V6(v6) => {
            let [a, b, c, d, ..] = v6.segments();
            format!("{a:x}:{b:x}:{c:x}:{d:x}::/64")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_ipv6_device_cannot_change_its_address_to_guess_on() {
        let of = |text: &str| network(text.parse().unwrap());
        assert_eq!(of("192.168.7.20"), "192.168.7.20");
        assert_eq!(of("fd00:1:2:3::7"), of("fd00:1:2:3:ffff::1"));
        assert_ne!(of("fd00:1:2:3::7"), of("fd00:1:2:4::7"));
    }
}
