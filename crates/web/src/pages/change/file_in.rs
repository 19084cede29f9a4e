//! A statement file taken in for a box that is there: it becomes a new version, as if its text had been typed.

use super::answer;
use super::sent::{From, Sent};
use super::work::changed;
use crate::error::PageError;
use crate::pages::statement_text::file_refused;
use crate::policy::limits::LARGEST_FORM;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::Extension;
use axum::extract::multipart::MultipartError;
use axum::extract::{Multipart, Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use keepwright_model::design::text_of;

/// Takes a file.
pub(super) async fn take(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    mut parts: Multipart,
) -> Result<Response, PageError> {
    let (mut base, mut bytes) = (0, Vec::new());
    while let Some(part) = parts.next_field().await.map_err(|e| broken(&e))? {
        match part.name() {
            Some("base") => {
                base = part.text().await.map_err(|e| broken(&e))?.trim().parse().unwrap_or_default()
            }
            Some("file") => bytes = part.bytes().await.map_err(|e| broken(&e))?.to_vec(),
            _ => {}
        }
    }
    bench
        .work(move |bench| {
            if bytes.is_empty() {
                return file_refused(bench, &who, &slug, "No file was chosen, or it is empty.");
            }
            let text = match text_of(&bytes) {
                Ok(text) => text.replace("\r\n", "\n"),
                Err(problems) => {
                    let says = problems.first().map_or("", |p| p.says.as_str());
                    return file_refused(bench, &who, &slug, &format!("This is no statement file: {says}."));
                }
            };
            let mut sent = Sent::of(vec![("says".to_owned(), "a statement file read in".to_owned())]);
            (sent.base, sent.text, sent.from) = (base, Some(text), From::Text);
            let (document, outcome) = changed(bench, &who, &slug, &sent)?;
            answer::to_reader(bench, &who, &document, &sent, outcome)
        })
        .await
}

fn broken(error: &MultipartError) -> PageError {
    match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => PageError::TooLarge { most: LARGEST_FORM },
        _ => PageError::BrokenBody(error.body_text()),
    }
}
