//! How much is taken and how long is waited: a body that is too long, comes too slowly or never ends costs its sender
//! the connection and nobody else anything.

use crate::error::PageError;
use axum::body::Body;
use axum::extract::Request;
use axum::http::header;
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use http_body_util::{LengthLimitError, Limited};
use std::error::Error;
use std::time::Duration;
use tower_http::timeout::TimeoutBody;

/// What a request may bring, and how long it may take altogether.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Allowance {
    /// The longest body, in bytes.
    bytes: usize,
    /// From its head to the answer; longer work runs as a job that the page asks about.
    time: Duration,
}

/// The most bytes of a form: a statement of 1 MiB, in the form's encoding up to three times as long.
pub(crate) const LARGEST_FORM: usize = 4 << 20;
/// A picture of a board as a camera makes it.
pub(crate) const LARGEST_PICTURE: usize = 32 << 20;
/// A whole shop with its pictures.
pub(crate) const LARGEST_ARCHIVE: usize = 512 << 20;
/// The longest silence within a body.
const SILENCE: Duration = Duration::from_secs(15);

const USUAL: Allowance = Allowance { bytes: LARGEST_FORM, time: Duration::from_mins(1) };
/// Where more may come than a form: how the path begins.
const LARGER: [(&str, Allowance); 2] = [
    ("/rack/", Allowance { bytes: LARGEST_PICTURE, time: Duration::from_mins(5) }),
    ("/shop/archive", Allowance { bytes: LARGEST_ARCHIVE, time: Duration::from_mins(20) }),
];

fn allowance(path: &str) -> Allowance {
    LARGER.iter().find(|(begins, _)| path.starts_with(begins)).map_or(USUAL, |(_, allowance)| *allowance)
}

/// Holds every request to its allowance, whatever its page then does with the body.
pub(crate) async fn hold(request: Request, next: Next) -> Response {
    let Allowance { bytes, time } = allowance(request.uri().path());
    let announced = request.headers().get(header::CONTENT_LENGTH).and_then(|v| v.to_str().ok()?.parse().ok());
    if announced.is_some_and(|length: u64| length > bytes as u64) {
        return PageError::TooLarge { most: bytes }.into_response();
    }
    let request = request.map(|body| Body::new(TimeoutBody::new(SILENCE, Limited::new(body, bytes))));
    match tokio::time::timeout(time, next.run(request)).await {
        Ok(response) => response,
        Err(_) => PageError::TooSlow.into_response(),
    }
}

/// Whether a body broke off because it was too long, however the error is wrapped.
pub(crate) fn is_too_long(error: &(dyn Error + 'static)) -> bool {
    error.is::<LengthLimitError>() || error.source().is_some_and(is_too_long)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_uploads_may_be_large() {
        for (path, want) in [
            ("/", LARGEST_FORM),
            ("/boxes/tea-caddy/change", LARGEST_FORM),
            ("/shop/change", LARGEST_FORM),
            ("/rack", LARGEST_FORM),
            ("/rack/b1/picture", LARGEST_PICTURE),
            ("/shop/archive", LARGEST_ARCHIVE),
        ] {
            assert_eq!(allowance(path).bytes, want, "{path}");
        }
    }
}
