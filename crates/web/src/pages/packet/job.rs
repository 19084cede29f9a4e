//! One packet: how far it is; then its pages as they will be printed, and its files.

use super::super::frame::{Frame, page, page_as};
use super::{packet_page, paper_title};
use crate::clock;
use crate::error::PageError;
use crate::packets::{Job, Packet, State as Making};
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::{Extension, Json};
use keepwright_packet::shown::counted;
use keepwright_store::{Document, Time};
use serde::{Deserialize, Serialize};

/// Seconds until a page without script looks again.
const LOOK_AGAIN: u32 = 2;

#[derive(Template)]
#[template(path = "pages/packet_job.html")]
struct JobPage {
    frame: Frame,
    slug: String,
    name: String,
    number: i64,
    /// Version, paper and time.
    under: String,
    say: String,
    /// The number of the version in force, where the packet is of another.
    newer: Option<i64>,
    told: Option<Told>,
    failed: Option<String>,
    done: Option<Done>,
    look_again: u32,
}

/// How far a packet is, for the page and for its script.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
struct Told {
    /// Whether it is still being made.
    running: bool,
    done: usize,
    /// None while nobody knows.
    of: Option<usize>,
    says: String,
}

impl Told {
    fn of(state: &Making) -> Self {
        match state {
            Making::Planning => {
                let says = "Planning the box: boards, set-ups, times.".to_owned();
                Self { running: true, done: 0, of: None, says }
            }
            Making::Making(p) => Self {
                running: true,
                done: p.done,
                of: Some(p.of),
                says: format!("{} of {} done; now {}.", p.done, p.of, p.now),
            },
            Making::Done(_) | Making::Failed { .. } => {
                Self { running: false, done: 0, of: None, says: String::new() }
            }
        }
    }
}

/// What there is of a packet that is made.
struct Done {
    zip_size: String,
    pdf_size: String,
    sheets: Vec<Sheet>,
    shown: Shown,
    groups: Vec<Group>,
}

/// A sheet with the numbers of its pages.
struct Sheet {
    title: String,
    pages: Vec<usize>,
}

/// The page that is looked at.
struct Shown {
    number: usize,
    count: usize,
    svg: String,
    before: Option<usize>,
    after: Option<usize>,
}

/// Files of one kind.
struct Group {
    id: &'static str,
    title: &'static str,
    says: &'static str,
    files: Vec<Line>,
}

struct Line {
    path: String,
    name: String,
    size: String,
}

/// The kinds of files: where they lie, title, what they are for.
const GROUPS: [(&str, &str, &str, &str); 4] = [
    (
        "drawings/",
        "drawings",
        "Drawings (SVG)",
        "Line drawings; sections, keys and templates among them are at full scale.",
    ),
    (
        "templates/",
        "templates",
        "Templates (DXF)",
        "Full scale in millimeters. Measure the check bar under each before you cut by it.",
    ),
    ("stl/", "solids", "Solids (STL)", "Each part of one box in its place, in millimeters."),
    (
        "",
        "lists",
        "Lists and the plan",
        "The part list for a spreadsheet, the dates for a calendar, every number for a program.",
    ),
];

impl Done {
    fn of(packet: &Packet, page: usize) -> Self {
        let size_of = |path: &str| packet.files.iter().find(|f| f.path == path).map_or(0, |f| f.bytes.len());
        Self {
            zip_size: size(packet.zip.len()),
            pdf_size: size(size_of("packet.pdf")),
            sheets: sheets(packet),
            shown: Shown::of(packet, page),
            groups: groups(packet),
        }
    }
}

impl Shown {
    /// The page of a number; the nearest that there is.
    fn of(packet: &Packet, asked: usize) -> Self {
        let count = packet.pages.len();
        let number = asked.clamp(1, count.max(1));
        Self {
            number,
            count,
            svg: packet.pages.get(number - 1).map_or_else(String::new, |p| p.svg.clone()),
            before: (number > 1).then(|| number - 1),
            after: (number < count).then(|| number + 1),
        }
    }
}

fn sheets(packet: &Packet) -> Vec<Sheet> {
    let mut sheets: Vec<Sheet> = Vec::new();
    for (at, page) in packet.pages.iter().enumerate() {
        match (&page.opens, sheets.last_mut()) {
            (Some(title), _) => sheets.push(Sheet { title: title.clone(), pages: vec![at + 1] }),
            (None, Some(sheet)) => sheet.pages.push(at + 1),
            (None, None) => sheets.push(Sheet { title: "Pages".to_owned(), pages: vec![at + 1] }),
        }
    }
    sheets
}

fn groups(packet: &Packet) -> Vec<Group> {
    let of = |path: &str| GROUPS.iter().position(|g| path.starts_with(g.0));
    GROUPS
        .iter()
        .enumerate()
        .map(|(i, (folder, id, title, says))| Group {
            id,
            title,
            says,
            files: packet
                .files
                .iter()
                .filter(|f| f.path != "packet.pdf" && of(&f.path) == Some(i))
                .map(|f| Line {
                    name: f.path.strip_prefix(folder).unwrap_or(&f.path).to_owned(),
                    path: f.path.clone(),
                    size: size(f.bytes.len()),
                })
                .collect(),
        })
        .filter(|group| !group.files.is_empty())
        .collect()
}

/// Bytes as people say them.
fn size(bytes: usize) -> String {
    let kib = bytes as f64 / 1024.0;
    if kib < 1000.0 { format!("{:.0} KiB", kib.max(1.0)) } else { format!("{:.1} MiB", kib / 1024.0) }
}

/// The page to look at.
#[derive(Debug, Deserialize)]
pub(super) struct Asked {
    page: Option<usize>,
}

pub(super) async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path((slug, number)): Path<(String, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            match find(bench, &document, &number) {
                Some(job) => page(&job_page(bench, &who, document, &job, asked.page.unwrap_or(1))?),
                None => {
                    let trouble = "This packet is no longer kept. Make it anew: the same statement gives the same packet.";
                    page_as(StatusCode::NOT_FOUND, &packet_page(bench, &who, document, trouble)?)
                }
            }
        })
        .await
}

/// The packet of an address, if it is this box's and still kept.
pub(super) fn find(bench: &Bench, document: &Document, number: &str) -> Option<std::sync::Arc<Job>> {
    bench.packets().job(number.parse().ok()?).filter(|job| job.document == document.id)
}

fn job_page(
    bench: &Bench,
    who: &Who,
    document: Document,
    job: &Job,
    page: usize,
) -> Result<JobPage, PageError> {
    let state = job.state();
    let head = bench.store().head(document.id)?;
    let told = Told::of(&state);
    let (say, failed, done) = match &state {
        Making::Planning | Making::Making(_) => (told.says.clone(), None, None),
        Making::Failed { says, remedy } => {
            (format!("This packet could not be made: {says}."), Some(format!("{remedy}.")), None)
        }
        Making::Done(packet) => {
            let done = Done::of(packet, page);
            let pages = counted(packet.pages.len(), "page", "pages");
            let say = format!("{pages} to print and {} loose files.", packet.files.len() - 1);
            (say, None, Some(done))
        }
    };
    Ok(JobPage {
        frame: Frame::of(bench, who, "boxes")?,
        number: job.number,
        under: format!(
            "version {} · {} · {}",
            job.version.number,
            paper_title(job.paper),
            clock::said(Time::seconds(job.at))
        ),
        say: keepwright_packet::shown::capital(&say),
        newer: (head.id != job.version.id).then_some(head.number),
        told: told.running.then_some(told),
        failed,
        done,
        look_again: LOOK_AGAIN,
        slug: document.slug,
        name: document.name,
    })
}

pub(super) async fn progress(
    State(bench): State<Bench>,
    Path((slug, number)): Path<(String, String)>,
) -> Result<Response, PageError> {
    let told = bench
        .work(move |bench| {
            let document = bench.find_box(&slug)?;
            // One that is forgotten is not running either: the page then says so.
            Ok(find(bench, &document, &number).map_or_else(
                || Told { running: false, done: 0, of: None, says: String::new() },
                |job| Told::of(&job.state()),
            ))
        })
        .await?;
    Ok(([(header::CACHE_CONTROL, "no-store")], Json(told)).into_response())
}
