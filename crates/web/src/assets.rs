//! What the pages load: style, script, faces; all inside the program.

use crate::secret;
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

/// The service worker's file.
const WORKER: &str = "js/service-worker.js";

/// The service worker, at the root so that it may stand in for any page; before its text the version of the files that
/// it keeps, and their addresses. Another content of any of them is another worker to the browser.
pub(crate) async fn service_worker(headers: HeaderMap) -> Response {
    let Some(worker) = Assets::get(WORKER) else { return missing() };
    let shell: Vec<String> = names().filter(|name| in_shell(name)).collect();
    let mut digests = vec![hex(&worker.metadata.sha256_hash())];
    digests.extend(shell.iter().filter_map(|n| Assets::get(n)).map(|f| hex(&f.metadata.sha256_hash())));
    let all = secret::digest(&digests.iter().map(String::as_str).collect::<Vec<_>>());
    let version = all.get(..24).unwrap_or(&all);
    let files: Vec<String> = shell.iter().map(|name| format!("/assets/{name}")).collect();
    let head = serde_json::json!({ "version": version, "files": files });
    let mut text = format!("const SHELL = {head};\n").into_bytes();
    text.extend_from_slice(&worker.data);
    tagged(WORKER, version, text, &headers)
}

/// Whether the cards beside the saw need a file: styles, faces, their scripts, what stands round every page.
fn in_shell(name: &str) -> bool {
    matches!(name, "icon.svg" | "js/words.js")
        || name.starts_with("css/")
        || name.starts_with("js/saw/")
        || (name.starts_with("fonts/") && kind(name) == "font/woff2")
}

fn missing() -> Response {
    (StatusCode::NOT_FOUND, "there is no such file here").into_response()
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut out, byte| {
        let _ = write!(out, "{byte:02x}");
        out
    })
}

fn file(path: &str, headers: &HeaderMap) -> Response {
    let Some(file) = Assets::get(path) else { return missing() };
    let digest = hex(&file.metadata.sha256_hash());
    tagged(path, digest.get(..24).unwrap_or(&digest), file.data.into_owned(), headers)
}

/// A file's bytes with its tag, or the word that the browser has them already.
fn tagged(path: &str, digest: &str, bytes: Vec<u8>, headers: &HeaderMap) -> Response {
    let tag = format!("\"{digest}\"");
    let known = headers.get(header::IF_NONE_MATCH).is_some_and(|sent| sent.as_bytes() == tag.as_bytes());
    let head = [
        (header::CONTENT_TYPE, kind(path).to_owned()),
        (header::ETAG, tag),
        (header::CACHE_CONTROL, "no-cache".to_owned()),
    ];
    if known {
        return (StatusCode::NOT_MODIFIED, head).into_response();
    }
    (head, Body::from(bytes)).into_response()
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

/// The names of all assets.
fn names() -> impl Iterator<Item = String> {
    Assets::iter().map(std::borrow::Cow::into_owned)
}

/// The bytes of one asset.
pub(crate) fn bytes(path: &str) -> Option<std::borrow::Cow<'static, [u8]>> {
    Assets::get(path).map(|file| file.data)
}
