//! A set-up of a machine: its settings in one line, and the rest of its card when it is opened.

use super::{ChapterContext, PartNames, picture_part};
use crate::error::PageError;
use askama::Template;
use keepwright_packet::chapters::SetupCard;
use keepwright_packet::html::{self, Names as _, Page};

#[derive(Template)]
#[template(path = "parts/chapter_setup.html")]
struct SetupPart<'a> {
    card: &'a SetupCard,
    short: String,
    picture: String,
    words: String,
    pieces: Vec<(&'a str, String)>,
}

/// The set-up as a part of the page that opens.
pub(super) fn details(
    card: &SetupCard,
    names: &PartNames,
    context: &ChapterContext,
) -> Result<String, PageError> {
    let settings: Vec<String> = card.settings.iter().map(|s| format!("{} {}", s.name, s.value)).collect();
    let prefix = format!("setup-{}-", card.number);
    let part = SetupPart {
        card,
        short: settings.join(" · "),
        picture: card.picture.as_ref().map_or(Ok(String::new()), |p| picture_part(p, context))?,
        words: html::write(&card.blocks, &Page { level: 3, names, prefix: &prefix }),
        pieces: card.pieces.iter().map(|p| (p.as_str(), ids(p, names))).collect(),
    };
    Ok(part.render()?)
}

/// The parts that a piece is: `front, far end` names the front; `key × 12` every key.
fn ids(piece: &str, names: &PartNames) -> String {
    let first = piece.split(", ").next().unwrap_or(piece);
    let first = first.split(" × ").next().unwrap_or(first);
    names.ids(first).unwrap_or_default()
}
