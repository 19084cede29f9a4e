//! What every answer tells the browser: nothing from elsewhere, no inline script or style, no framing by others.

use axum::extract::Request;
use axum::http::{HeaderName, HeaderValue, header};
use axum::middleware::Next;
use axum::response::Response;

/// Starts from nothing allowed. Pictures of a view are made in the page, hence `blob:` and `data:`; the packet's
/// preview is a frame of our own.
const CONTENT: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; \
     font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; frame-src 'self'; form-action 'self'; \
     frame-ancestors 'self'; base-uri 'none'";

const HEADERS: [(&str, &str); 8] = [
    ("content-security-policy", CONTENT),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cross-origin-embedder-policy", "require-corp"),
    ("permissions-policy", "camera=(), microphone=(), geolocation=(), usb=(), payment=()"),
    ("x-frame-options", "SAMEORIGIN"),
];

/// Adds the headers to an answer; one that a page set itself stays, for it can only have been made stricter.
pub(crate) async fn add(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        headers.entry(HeaderName::from_static(name)).or_insert(HeaderValue::from_static(value));
    }
    // What a page says is true at the moment of asking only.
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-cache"));
    response
}
