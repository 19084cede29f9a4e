//! What the pages load: style, script, faces; all inside the program.

use axum::body::Body;
use axum::extract::Path;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use rust_embed::Embed;
use std::fmt::Write as _;

#[derive(Embed)]
#[folder = "assets"]
struct Assets;

/// One file of the assets, with a tag by which the browser asks whether it has changed.
pub(crate) async fn asset(Path(path): Path<String>, headers: HeaderMap) -> Response {
    file(&path, &headers)
}

/// The service worker, at the root so that it may stand in for any page.
pub(crate) async fn service_worker(headers: HeaderMap) -> Response {
    file("js/service-worker.js", &headers)
}

fn file(path: &str, headers: &HeaderMap) -> Response {
    let Some(file) = Assets::get(path) else {
        return (StatusCode::NOT_FOUND, "there is no such file here").into_response();
    };
    let mut tag = String::from("\"");
    for byte in file.metadata.sha256_hash().iter().take(12) {
        let _ = write!(tag, "{byte:02x}");
    }
    tag.push('"');
    let known = headers.get(header::IF_NONE_MATCH).is_some_and(|sent| sent.as_bytes() == tag.as_bytes());
    let head = [
        (header::CONTENT_TYPE, kind(path).to_owned()),
        (header::ETAG, tag),
        (header::CACHE_CONTROL, "no-cache".to_owned()),
    ];
    if known {
        return (StatusCode::NOT_MODIFIED, head).into_response();
    }
    (head, Body::from(file.data.into_owned())).into_response()
}

/// The media type by the name's ending.
fn kind(path: &str) -> &'static str {
    match path.rsplit('.').next() {
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("woff2") => "font/woff2",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("webmanifest") => "application/manifest+json",
        Some("json") => "application/json",
        _ => "text/plain; charset=utf-8",
    }
}

/// The names of all assets, for tests and for the list that the service worker keeps.
pub(crate) fn names() -> impl Iterator<Item = String> {
    Assets::iter().map(std::borrow::Cow::into_owned)
}
