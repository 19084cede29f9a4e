//! What is drawn at full scale: joints cut through, keys and cradle, templates.

use super::arrange::{fits, pages};
use super::draft::{Draft, full_scale_sheet, title};
use crate::document::Sheet;
use crate::drawings::Titled;
use crate::flow::{Block, Words};
use crate::shown::{and, counted};

/// What the sheet's title and lead sentence take, millimeters.
const HEAD: f64 = 36.0;

/// Nothing where there is nothing to draw at full scale.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    let (drawn, frame) = (draft.drawn, draft.frame());
    let (templates, files): (Vec<&Titled>, Vec<&Titled>) =
        drawn.templates.iter().partition(|t| fits(&t.drawing, frame));
    let all: Vec<&Titled> = drawn
        .sections
        .iter()
        .chain(&drawn.keys)
        .chain(&drawn.cradles)
        .chain(templates.iter().copied())
        .collect();
    if all.is_empty() {
        return None;
    }
    let counts = [
        (drawn.sections.len(), "joint section", "joint sections"),
        (drawn.keys.len(), "key layout", "key layouts"),
        (drawn.cradles.len(), "cradle", "cradles"),
        (templates.len(), "template", "templates"),
    ];
    let said: Vec<String> = counts
        .iter()
        .filter(|(n, ..)| *n > 0)
        .map(|(n, one, many)| format!("**{}**", counted(*n, one, many)))
        .collect();
    let only: Vec<&str> = files.iter().map(|t| t.title.as_str()).collect();
    let more = if only.is_empty() {
        String::new()
    } else {
        format!(" Larger than a page, so only among the files: {}.", only.join("; "))
    };
    let lead = format!("{} at full scale: lay the work on them.{more}", and(&said));
    let mut blocks = vec![title("At full scale"), Block::Lead(Words::marked(&lead))];
    blocks.extend(pages(&all, frame, HEAD));
    Some(full_scale_sheet("At full scale", blocks))
}
