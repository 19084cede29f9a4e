//! The computed part of a box's page, chapter by chapter: opening sentence, drawings and tables, cautions, and where
//! the numbers come from. Nothing here reads the store: the page and the live preview show the same.

mod cautions;
mod leads;
mod parts;
mod preview;
mod reasons;
mod say;
mod setups;

pub(crate) use parts::PartNames;
pub use preview::{Preview, Previewed};
pub(crate) use reasons::{Why, whys};

use crate::error::PageError;
use crate::planner::Boards;
use askama::Template;
use keepwright_model::job::Plan;
use keepwright_packet::chapters::{Chapter, Picture, Piece, pieces};
use keepwright_packet::html::{self, Page};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Pixels for a millimeter of a drawing, as the drawings in line have them.
const PIXELS: f64 = 4.4;

/// What the chapters of a box must know besides its plan.
#[derive(Clone, Debug)]
pub(crate) struct ChapterContext {
    /// The box's address.
    pub(crate) slug: String,
    /// The token that every form carries.
    pub(crate) forgery: String,
    /// The version that a change is made from.
    pub(crate) base: i64,
    /// The version that the plan was made from, for addresses of drawings and reasons.
    pub(crate) version: i64,
    /// Whether the plan has its boards laid out. Without them the chapters that rest on them are left out, and those
    /// on the page stay until the next whole plan.
    pub(crate) boards: Boards,
    /// Whether changes can be offered.
    pub(crate) changes: Changes,
    /// How cautions stand that are only worth knowing.
    pub(crate) worth_knowing: Stands,
}

/// How a caution stands on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stands {
    /// In full.
    Open,
    /// Folded to its heading; a press opens it.
    Folded,
}

/// Whether a page offers changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Changes {
    /// Cautions carry their change as a press.
    Offered,
    /// The change is only said: the reader may only look, or the plan is not of the version in force.
    Said,
}

#[derive(Template)]
#[template(path = "parts/chapter.html")]
struct ChapterPart<'a> {
    say: Vec<say::Bit>,
    body: String,
    cautions: Vec<cautions::CautionLine>,
    groups: Vec<reasons::Group>,
    count: usize,
    context: &'a ChapterContext,
    chapter: &'static str,
}

#[derive(Template)]
#[template(path = "parts/chapter_picture.html")]
struct PicturePart<'a> {
    picture: &'a Picture,
    context: &'a ChapterContext,
    width: f64,
    height: f64,
}

/// The computed part of every chapter as HTML, by the chapter's id.
///
/// # Errors
/// A template that cannot be filled in; none is expected.
pub(crate) fn fragments(
    plan: &Plan,
    context: &ChapterContext,
) -> Result<BTreeMap<&'static str, String>, PageError> {
    let names = PartNames::of(plan);
    Chapter::ALL
        .into_iter()
        .filter(|c| context.boards == Boards::Rack || !matches!(c, Chapter::Boards | Chapter::Money))
        .map(|chapter| Ok((chapter.id(), fragment(plan, chapter, &names, context)?)))
        .collect()
}

fn fragment(
    plan: &Plan,
    chapter: Chapter,
    names: &PartNames,
    context: &ChapterContext,
) -> Result<String, PageError> {
    let groups = reasons::groups(plan, chapter);
    let part = ChapterPart {
        say: leads::lead(plan, chapter),
        body: body(plan, chapter, names, context)?,
        cautions: cautions::lines(plan, chapter, names, context),
        count: groups.iter().map(|g| g.lines.len()).sum(),
        groups,
        context,
        chapter: chapter.id(),
    };
    Ok(part.render()?)
}

/// Drawings and tables.
fn body(
    plan: &Plan,
    chapter: Chapter,
    names: &PartNames,
    context: &ChapterContext,
) -> Result<String, PageError> {
    let mut out = String::new();
    let mut blocks = Vec::new();
    let mut count = 0;
    let mut flush = |blocks: &mut Vec<_>, out: &mut String| {
        if !blocks.is_empty() {
            count += 1;
            let prefix = format!("{}-{count}-", chapter.id());
            out.push_str(&html::write(blocks, &Page { level: 3, names, prefix: &prefix }));
            blocks.clear();
        }
    };
    for piece in pieces(plan, chapter) {
        match piece {
            Piece::Block(block) => blocks.push(block),
            Piece::Picture(picture) => {
                flush(&mut blocks, &mut out);
                out.push_str(&picture_part(&picture, context)?);
            }
            Piece::Setup(card) => {
                flush(&mut blocks, &mut out);
                out.push_str(&setups::details(&card, names, context)?);
            }
        }
    }
    flush(&mut blocks, &mut out);
    Ok(out)
}

fn picture_part(picture: &Picture, context: &ChapterContext) -> Result<String, PageError> {
    let [width, height] = picture.room.map(|mm| (mm * PIXELS).round());
    Ok(PicturePart { picture, context, width, height }.render()?)
}

/// Text as a part of an address: everything but plain letters, digits, dots and hyphens as percent signs and digits.
pub(crate) fn in_address(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'-' | b'_') {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}
