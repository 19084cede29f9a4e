//! Against forged writes: every request that changes something must bring a token that only our own pages know.
//!
//! The token is a digest of the server's secret and the asker's cookie. A form carries it in the field `forgery`, a
//! script in the header `x-forgery`, an upload in the query of its address.

use crate::error::PageError;
use crate::policy::limits::{self, LARGEST_FORM};
use crate::policy::who::Who;
use crate::secret;
use crate::state::Bench;
use axum::body::{Body, Bytes};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use http_body_util::{BodyExt, Limited};

/// The field of forms and of an upload's query.
const FIELD: &str = "forgery";
/// The header of scripts.
const HEADER: &str = "x-forgery";

/// The token of an asker.
pub(crate) fn token(bench: &Bench, cookie: &str) -> String {
    secret::digest(&[bench.secret(), cookie])
}

/// Lets reading pass; lets writing pass that brings the token.
pub(crate) async fn check(State(bench): State<Bench>, request: Request, next: Next) -> Response {
    if matches!(*request.method(), Method::GET | Method::HEAD) {
        return next.run(request).await;
    }
    match checked(&bench, request).await {
        Ok(request) => next.run(request).await,
        Err(error) => error.into_response(),
    }
}

async fn checked(bench: &Bench, request: Request) -> Result<Request, PageError> {
    let (parts, body) = request.into_parts();
    let who = parts.extensions.get::<Who>().ok_or(PageError::Forged)?;
    // A device that holds no cookie of ours has no token either: a digest of nothing could be had by anybody.
    if who.cookie.is_empty() {
        return Err(PageError::Forged);
    }
    let want = token(bench, &who.cookie);
    let given = parts
        .headers
        .get(HEADER)
        .and_then(|v| v.to_str().ok())
        .map(str::to_owned)
        .or_else(|| parts.uri.query().and_then(|q| field(q.as_bytes())));
    if let Some(given) = given {
        return if secret::same(&given, &want) {
            Ok(Request::from_parts(parts, body))
        } else {
            Err(PageError::Forged)
        };
    }
    if !is_form(&parts.headers) {
        return Err(PageError::Forged);
    }
    let bytes = whole(body).await?;
    let given = field(&bytes).ok_or(PageError::Forged)?;
    if !secret::same(&given, &want) {
        return Err(PageError::Forged);
    }
    Ok(Request::from_parts(parts, Body::from(bytes)))
}

fn is_form(headers: &HeaderMap) -> bool {
    headers
        .get(header::CONTENT_TYPE)
        .and_then(|v| v.to_str().ok())
        .is_some_and(|kind| kind.starts_with("application/x-www-form-urlencoded"))
}

async fn whole(body: Body) -> Result<Bytes, PageError> {
    Limited::new(body, LARGEST_FORM).collect().await.map(http_body_util::Collected::to_bytes).map_err(
        |error| {
            if limits::is_too_long(error.as_ref()) {
                PageError::TooLarge { most: LARGEST_FORM }
            } else {
                PageError::BrokenBody(error.to_string())
            }
        },
    )
}

/// The token among the fields of a form; hexadecimal digits are never encoded.
fn field(form: &[u8]) -> Option<String> {
    form.split(|b| *b == b'&')
        .find_map(|pair| pair.strip_prefix(FIELD.as_bytes())?.strip_prefix(b"="))
        .and_then(|value| std::str::from_utf8(value).ok())
        .map(str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_token_is_found_in_a_form() {
        assert_eq!(field(b"name=a&forgery=12ab&x="), Some("12ab".to_owned()));
        assert_eq!(field(b"forgeryx=12ab"), None);
        assert_eq!(field(b""), None);
    }
}
