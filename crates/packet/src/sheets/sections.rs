//! The joints cut through, and the templates, at full scale.

use super::arrange::pages;
use super::draft::{Draft, full_scale_sheet, title};
use crate::document::Sheet;
use crate::drawings::Titled;
use crate::flow::{Block, Words};
use crate::shown::counted;

/// What a sheet's title and lead sentence take, millimetres.
const HEAD: f64 = 34.0;

/// Nothing where there is no joint to cut through.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    let sections = &draft.drawn.sections;
    let lead = format!(
        "**{}** through the finished box, at full scale: lay the work on them.",
        counted(sections.len(), "section", "sections")
    );
    of("Joint sections", &lead, sections, draft)
}

/// Nothing without templates that fit a page; larger ones are files only.
pub(super) fn templates(draft: &Draft<'_>) -> Option<Sheet> {
    let frame = draft.frame();
    let (paper, files): (Vec<Titled>, Vec<Titled>) = draft.drawn.templates.iter().cloned().partition(|t| {
        t.drawing
            .bounds(1.0)
            .is_some_and(|b| b.width() < frame.width - 2.0 && b.height() < frame.height - 40.0)
    });
    let only: Vec<&str> = files.iter().map(|t| t.title.as_str()).collect();
    let more = if only.is_empty() {
        String::new()
    } else {
        format!(" Larger than a page, so only among the files: {}.", only.join("; "))
    };
    let lead = format!("**{}** at full scale.{more}", counted(paper.len(), "template", "templates"));
    of("Templates", &lead, &paper, draft)
}

fn of(name: &str, lead: &str, drawings: &[Titled], draft: &Draft<'_>) -> Option<Sheet> {
    if drawings.is_empty() {
        return None;
    }
    let mut blocks = vec![title(name), Block::Lead(Words::marked(lead))];
    blocks.extend(pages(drawings, draft.frame(), HEAD));
    Some(full_scale_sheet(name, blocks))
}
