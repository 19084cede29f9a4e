//! The joints cut through, at full scale.

use super::draft::{Draft, full_scale, full_scale_sheet, title};
use crate::document::Sheet;
use crate::flow::{Block, Words};
use crate::shown::{capital, counted};

/// Nothing where there is no joint to cut through.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    let sections = &draft.drawn.sections;
    if sections.is_empty() {
        return None;
    }
    let mut blocks = vec![
        title("Joint sections"),
        Block::Lead(Words::marked(&format!(
            "**{}** through the finished box, at full scale: lay the work on them.",
            counted(sections.len(), "section", "sections")
        ))),
    ];
    for section in sections {
        let alt = format!("Section: {}.", section.title);
        blocks.push(Block::Heading(capital(&section.title)));
        blocks.push(full_scale(section.drawing.clone(), "", alt));
    }
    Some(full_scale_sheet("Joint sections", blocks))
}
