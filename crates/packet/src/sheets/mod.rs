//! The packet's sheets: one file for each subject, from the plan to a [`Document`].
//!
//! Every sheet is made alike: first one computed sentence, then the drawing, then the numbers, then this
//! subject's cautions with what to change.

mod arrange;
pub(crate) mod boards;
pub(crate) mod cover;
pub(crate) mod draft;
pub(crate) mod drawn;
pub(crate) mod finish;
pub(crate) mod fit;
pub(crate) mod glue;
pub(crate) mod keys;
mod labels;
pub(crate) mod money;
pub(crate) mod part_list;
pub(crate) mod seasons;
mod sections;
pub(crate) mod setup_card;
pub(crate) mod setup_passes;
pub(crate) mod setups;
pub(crate) mod stock;
pub(crate) mod strip;
pub(crate) mod timeline;
mod words;

use keepwright_model::job::Plan;

use crate::document::{Document, Sheet};
use crate::flow::Block;
use crate::page::Paper;
use draft::Draft;
use drawn::Drawn;

/// What the packet is printed on, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PacketSettings {
    /// The paper.
    pub paper: Paper,
    /// The date as printed at the foot; from the caller, never from a clock.
    pub date: String,
}

/// The whole packet, sheet by sheet.
pub fn document(plan: &Plan, settings: &PacketSettings) -> Document {
    document_of(plan, settings, &Drawn::new(plan, settings.paper))
}

/// The packet with drawings that are made already.
pub(crate) fn document_of(plan: &Plan, settings: &PacketSettings, drawn: &Drawn) -> Document {
    let draft = Draft::new(plan, settings.paper, drawn);
    let rest: Vec<Sheet> = [
        Some(words::sheet(&draft)),
        joined(
            "Stock, boards and strip",
            [Some(stock::sheet(&draft)), boards::sheet(&draft), strip::sheet(&draft)],
        ),
        Some(part_list::sheet(&draft)),
        Some(setups::sheet(&draft)),
        keys::sheet(&draft),
        sections::sheet(&draft),
        glue::sheet(&draft),
        Some(finish::sheet(&draft)),
        joined("Seasons and fit", [Some(seasons::sheet(&draft)), fit::sheet(&draft)]),
        joined("Money and timeline", [Some(money::sheet(&draft)), Some(timeline::sheet(&draft))]),
        Some(labels::sheet(&draft)),
    ]
    .into_iter()
    .flatten()
    .collect();
    let names: Vec<&str> = rest.iter().map(|s| s.title.as_str()).collect();
    let cover = cover::sheet(&draft, &names);
    Document {
        title: plan.statement.name.clone(),
        author: plan.shop.name.clone(),
        language: "en-US".into(),
        date: settings.date.clone(),
        paper: settings.paper,
        sheets: core::iter::once(cover).chain(rest).collect(),
    }
}

/// Clear space above a subject that begins in the middle of a page, millimeters.
const BETWEEN: f64 = 9.0;

/// Subjects that follow one another without a new page, so that none leaves half a page empty.
fn joined<const N: usize>(title: &str, sheets: [Option<Sheet>; N]) -> Option<Sheet> {
    let mut blocks = Vec::new();
    for sheet in sheets.into_iter().flatten() {
        if !blocks.is_empty() {
            blocks.push(Block::Space(BETWEEN));
        }
        blocks.extend(sheet.blocks);
    }
    (!blocks.is_empty()).then(|| Sheet::new(title, blocks))
}
