//! A box from a statement file, sent or pasted.

use super::text::Typed;
use super::{made, make};
use crate::error::PageError;
use crate::pages::frame::page_as;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::Extension;
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::Response;
use keepwright_model::design::text_of;
use keepwright_store::MOST_TEXT;

/// Takes the file if one was sent, else the pasted text.
pub(super) async fn from_file(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    mut sent: Multipart,
) -> Result<Response, PageError> {
    let broken = |e: axum::extract::multipart::MultipartError| PageError::BrokenBody(e.body_text());
    let (mut pasted, mut file) = (String::new(), Vec::new());
    while let Some(field) = sent.next_field().await.map_err(broken)? {
        match field.name() {
            Some("text") => pasted = field.text().await.map_err(broken)?,
            Some("file") => file = field.bytes().await.map_err(broken)?.to_vec(),
            _ => {}
        }
    }
    bench
        .work(move |bench| {
            if file.len() > MOST_TEXT {
                return Err(PageError::TooLarge { most: MOST_TEXT });
            }
            let text = if file.is_empty() {
                pasted
            } else {
                match text_of(&file) {
                    Ok(text) => text.to_owned(),
                    Err(problems) => {
                        let shown = String::from_utf8_lossy(&file).into_owned();
                        let page = made(bench, &who, "file", Typed::default(), &problems, &shown)?;
                        return page_as(StatusCode::UNPROCESSABLE_ENTITY, &page);
                    }
                }
            };
            let typed = Typed::of(vec![("text".to_owned(), text.clone())]);
            make(bench, &who, "file", typed, &text, "from a file")
        })
        .await
}
