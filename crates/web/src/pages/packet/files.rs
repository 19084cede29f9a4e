//! The files of a packet, one by one or all together.

use super::job::find;
use crate::download::attachment;
use crate::error::PageError;
use crate::packets::{Packet, State as Making};
use crate::state::Bench;
use axum::extract::{Path, State};
use axum::response::Response;
use std::sync::Arc;

/// All files in one archive.
pub(super) async fn all(
    State(bench): State<Bench>,
    Path((slug, number)): Path<(String, String)>,
) -> Result<Response, PageError> {
    let (slug, packet) = bench.work(move |bench| packet(bench, &slug, &number)).await?;
    Ok(attachment(&format!("{slug}-packet.zip"), packet.zip.clone()))
}

/// One file, by its path in the packet.
pub(super) async fn one(
    State(bench): State<Bench>,
    Path((slug, number, path)): Path<(String, String, String)>,
) -> Result<Response, PageError> {
    let (slug, packet) = bench.work(move |bench| packet(bench, &slug, &number)).await?;
    let file = packet.files.iter().find(|f| f.path == path).ok_or_else(|| PageError::NoSuch {
        what: "file of the packet",
        name: path.chars().take(120).collect(),
    })?;
    let name = file.path.rsplit('/').next().unwrap_or(&file.path);
    Ok(attachment(&format!("{slug}-{name}"), file.bytes.clone()))
}

fn packet(bench: &Bench, slug: &str, number: &str) -> Result<(String, Arc<Packet>), PageError> {
    let document = bench.find_box(slug)?;
    match find(bench, &document, number).map(|job| job.state()) {
        Some(Making::Done(packet)) => Ok((document.slug, packet)),
        Some(Making::Planning | Making::Making(_)) => Err(PageError::refused(
            "this packet is not made yet",
            "wait until its page says that it is, then take the file",
        )),
        Some(Making::Failed { says, remedy }) => Err(PageError::refused(says, remedy)),
        None => Err(PageError::Gone {
            says: "this packet is no longer kept".to_owned(),
            remedy: "make it anew on the box's page, under Packet: the same statement gives the same packet"
                .to_owned(),
        }),
    }
}
