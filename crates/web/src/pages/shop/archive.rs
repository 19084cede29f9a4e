//! The whole shop as one archive: out to keep or to carry, and in again in this one's place.

use super::at;
use crate::clock;
use crate::download::file_attachment;
use crate::error::PageError;
use crate::pages::devices::unkept;
use crate::pages::frame::{Frame, page, page_as};
use crate::policy::limits::LARGEST_ARCHIVE;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::body::Bytes;
use axum::extract::multipart::{Field, MultipartError};
use axum::extract::{DefaultBodyLimit, Multipart, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum::{Extension, Router};
use keepwright_packet::shown::{and, counted};
use keepwright_store::archive::{ArchiveError, Limits};
use keepwright_store::{Kind, Shelf};
use serde::Deserialize;
use std::fs::File;
use std::io::{self, Seek, SeekFrom, Write};
use std::path::Path;
use tokio::sync::mpsc::channel;

/// Pieces of an upload that wait for the disk.
const WAITING: usize = 8;

/// The addresses of this screen.
pub(super) fn routes() -> Router<Bench> {
    let large = DefaultBodyLimit::max(LARGEST_ARCHIVE);
    Router::new()
        .route("/shop/archive", get(show).post(take).layer(large))
        .route("/shop/archive.zip", get(give))
}

#[derive(Template)]
#[template(path = "pages/shop_archive.html")]
struct ArchivePage {
    frame: Frame,
    /// What was just taken in.
    taken: String,
    say: String,
    /// Why an archive was not taken.
    wrong: String,
    most: usize,
}

/// The backup of what was there before an archive was taken in, as the address says it.
#[derive(Debug, Default, Deserialize)]
struct Taken {
    before: Option<String>,
}

fn archive_page(bench: &Bench, who: &Who, taken: &Taken, wrong: String) -> Result<ArchivePage, PageError> {
    let count = |kind, shelf| bench.store().documents(kind, shelf).map(|all| all.len());
    let (boxes, binned) = (count(Kind::Box, Shelf::Kept)?, count(Kind::Box, Shelf::Bin)?);
    let boards = count(Kind::Board, Shelf::Kept)?;
    let mut all = vec![counted(boxes, "box", "boxes"), counted(boards, "board", "boards")];
    if binned > 0 {
        all.push(format!("{} in the bin", counted(binned, "box", "boxes")));
    }
    // Only a backup that is there is spoken of, whatever the address says.
    let before = match &taken.before {
        Some(name) => bench.store().backups()?.into_iter().find(|b| b.name == *name),
        None => None,
    };
    let frame = Frame::of(bench, who, "shop")?;
    Ok(ArchivePage {
        taken: before.map_or_else(String::new, |b| {
            format!(
                "The archive is read in: {} with {}. What was here before is kept as the backup of {}.",
                frame.shop,
                and(&all),
                clock::said(b.at)
            )
        }),
        say: format!("{} has {}, with every version of each.", frame.shop, and(&all)),
        frame,
        wrong,
        most: LARGEST_ARCHIVE >> 20,
    })
}

async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Query(taken): Query<Taken>,
) -> Result<Response, PageError> {
    let shown = bench.work(move |bench| archive_page(bench, &who, &taken, String::new())).await?;
    Ok(unkept(page(&shown)?))
}

/// A file without a name on the disk of the shop folder: it goes when it is closed, however that comes about.
fn spool(folder: &Path) -> Result<File, PageError> {
    tempfile::tempfile_in(folder).map_err(|error| unwritable(&error))
}

fn unwritable(error: &io::Error) -> PageError {
    PageError::refused(
        format!("the archive cannot be put on the disk: {error}"),
        "see that the disk has room and the shop folder can be written; the shop is unchanged",
    )
}

async fn give(State(bench): State<Bench>) -> Result<Response, PageError> {
    let (file, length) = bench
        .work(|bench| {
            let mut file = bench.store().write_archive(spool(bench.store().folder())?, at())?;
            let sized = file.seek(SeekFrom::End(0)).and_then(|length| file.rewind().map(|()| length));
            Ok((file, sized.map_err(|error| unwritable(&error))?))
        })
        .await?;
    let day = clock::today().map_or_else(|_| String::new(), |day| format!("-{day}"));
    Ok(file_attachment(&format!("shop{day}.zip"), file, length))
}

async fn take(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    mut parts: Multipart,
) -> Result<Response, PageError> {
    let mut sent = None;
    while let Some(part) = parts.next_field().await.map_err(|e| broken(&e))? {
        if part.name() == Some("archive") {
            sent = Some(received(spool(bench.store().folder())?, part).await?);
            break;
        }
    }
    bench.work(move |bench| taken_in(bench, &who, sent)).await
}

fn broken(error: &MultipartError) -> PageError {
    match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => PageError::TooLarge { most: LARGEST_ARCHIVE },
        _ => PageError::BrokenBody(error.body_text()),
    }
}

/// Puts an upload on the disk as it comes; gives it back with its length, standing at its beginning.
async fn received(mut file: File, mut part: Field<'_>) -> Result<(File, u64), PageError> {
    let (send, mut pieces) = channel::<Bytes>(WAITING);
    let writer = tokio::task::spawn_blocking(move || -> io::Result<(File, u64)> {
        let mut length = 0;
        while let Some(piece) = pieces.blocking_recv() {
            file.write_all(&piece)?;
            length += piece.len() as u64;
        }
        file.rewind()?;
        Ok((file, length))
    });
    while let Some(piece) = part.chunk().await.map_err(|e| broken(&e))? {
        // A writer that ended says why below.
        if send.send(piece).await.is_err() {
            break;
        }
    }
    drop(send);
    match writer.await {
        Ok(written) => written.map_err(|error| unwritable(&error)),
        Err(ended) => Err(PageError::Broken(ended.to_string())),
    }
}

fn taken_in(bench: &Bench, who: &Who, sent: Option<(File, u64)>) -> Result<Response, PageError> {
    let refused = |says: &str| {
        let shown = archive_page(bench, who, &Taken::default(), says.to_owned())?;
        Ok(unkept(page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown)?))
    };
    let Some((file, 1..)) = sent else {
        return refused(
            "No archive was chosen. Choose a file that this page gave out, here or on another machine.",
        );
    };
    if !bench.runs().is_idle() {
        // A run that ends would be kept among the runs of another shop.
        return refused(
            "A cutting run is under way. Stop it on its page or wait for it, then read the archive in. The shop is unchanged.",
        );
    }
    match bench.store().read_archive(file, Limits::usual(), at()) {
        Ok(before) => {
            bench.keep_secret()?;
            bench.packets().forget_all();
            Ok(Redirect::to(&format!("/shop/archive?before={}", before.name)).into_response())
        }
        Err(ArchiveError::Store(error)) => Err(error.into()),
        Err(other) => {
            let says = other.to_string();
            refused(&format!("{}.", keepwright_packet::shown::capital(says.trim_end_matches('.'))))
        }
    }
}
