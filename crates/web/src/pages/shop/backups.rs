//! Backups: which there are, one more now, back to one; and how much room the shop folder takes.

use super::at;
use crate::clock;
use crate::error::PageError;
use crate::pages::devices::unkept;
use crate::pages::frame::{Frame, page};
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Query, State};
use axum::response::{Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Form, Router};
use keepwright_store::backup::{ASKED_KEPT, DAILY_KEPT, Reason, WEEKLY_KEPT};
use serde::Deserialize;
use std::path::Path;

/// The addresses of this screen.
pub(super) fn routes() -> Router<Bench> {
    Router::new().route("/shop/backups", get(list).post(make)).route("/shop/backups/restore", post(restore))
}

#[derive(Template)]
#[template(path = "pages/shop_backups.html")]
struct BackupsPage {
    frame: Frame,
    say: String,
    /// What was just done.
    done: &'static str,
    lines: Vec<Line>,
    room: Vec<Room>,
    folder: String,
    rule: String,
}

struct Line {
    name: String,
    at: String,
    reason: &'static str,
    size: String,
}

/// A part of the shop folder and its size.
struct Room {
    what: &'static str,
    size: String,
}

/// What was just done, as the address says it.
#[derive(Deserialize)]
struct Done {
    done: Option<String>,
}

async fn list(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Query(done): Query<Done>,
) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let backups = bench.store().backups()?;
            let say = match backups.first() {
                None => "There is no backup yet.".to_owned(),
                Some(newest) => format!("The newest backup is of {}.", clock::said(newest.at)),
            };
            let trouble = bench.store().backup_trouble().map(ToString::to_string);
            let lines = backups
                .into_iter()
                .map(|b| Line {
                    name: b.name,
                    at: clock::said(b.at),
                    reason: match b.reason {
                        Reason::Daily => "first start of the day",
                        Reason::Asked => "asked for",
                        Reason::Before => "before a large change",
                    },
                    size: size(b.size),
                })
                .collect();
            Ok(BackupsPage {
                frame: Frame::of(bench, &who, "shop")?,
                say: trouble.map_or(say, |t| format!("The backup at the start could not be kept: {t}.")),
                done: match done.done.as_deref() {
                    Some("made") => "The backup is made.",
                    Some("restored") => "The shop is as it was; what was there before is the newest backup.",
                    _ => "",
                },
                lines,
                room: room(bench.store().folder()),
                folder: bench.store().folder().display().to_string(),
                rule: format!(
                    "Kept are those of the last {DAILY_KEPT} days, one for each of {WEEKLY_KEPT} weeks before, and the \
                     last {ASKED_KEPT} that were asked for or made before a large change. Each is checked when it is made."
                ),
            })
        })
        .await?;
    Ok(unkept(page(&shown)?))
}

async fn make(State(bench): State<Bench>) -> Result<Redirect, PageError> {
    bench.work(|bench| Ok(bench.store().backup(at())?)).await?;
    Ok(Redirect::to("/shop/backups?done=made"))
}

/// Which backup to go back to.
#[derive(Deserialize)]
struct Chosen {
    name: String,
}

async fn restore(State(bench): State<Bench>, Form(chosen): Form<Chosen>) -> Result<Redirect, PageError> {
    bench
        .work(move |bench| match bench.store().restore(&chosen.name, at()) {
            Ok(_) => Ok(()),
            Err(keepwright_store::Error::NoBackup { name }) => {
                Err(PageError::NoSuch { what: "backup", name })
            }
            Err(error) => Err(error.into()),
        })
        .await?;
    Ok(Redirect::to("/shop/backups?done=restored"))
}

/// The room that the folder's parts take; what cannot be looked at counts as nothing.
fn room(folder: &Path) -> Vec<Room> {
    let file = |name: &str| std::fs::metadata(folder.join(name)).map_or(0, |about| about.len());
    let inside = |name: &str| -> u64 {
        let entries = std::fs::read_dir(folder.join(name)).into_iter().flatten().flatten();
        entries.filter_map(|e| e.metadata().ok()).filter(std::fs::Metadata::is_file).map(|m| m.len()).sum()
    };
    let database = ["shop.sqlite", "shop.sqlite-wal", "shop.sqlite-shm"].map(file).iter().sum();
    let (pictures, backups) = (inside("pictures"), inside("backups"));
    vec![
        Room { what: "boxes, boards, shop, with all their versions", size: size(database) },
        Room { what: "pictures", size: size(pictures) },
        Room { what: "backups", size: size(backups) },
        Room { what: "all together", size: size(database + pictures + backups) },
    ]
}

/// Bytes as people say them.
fn size(bytes: u64) -> String {
    let kib = bytes as f64 / 1024.0;
    if kib < 1000.0 { format!("{kib:.0} KiB") } else { format!("{:.1} MiB", kib / 1024.0) }
}
