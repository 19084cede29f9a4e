//! The packet's sheets: one file for each subject, from the plan to a [`Document`].
//!
//! Every sheet is made alike: first one computed sentence, then the drawing, then the numbers, then this
//! subject's cautions with what to change.

mod arrange;
mod boards;
mod cover;
pub(crate) mod draft;
pub(crate) mod drawn;
mod finish;
mod fit;
mod glue;
mod keys;
mod labels;
mod money;
pub(crate) mod part_list;
mod seasons;
mod sections;
mod setup_card;
mod setups;
mod stock;
mod strip;
mod timeline;
mod words;

use keepwright_model::job::Plan;

use crate::document::Document;
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
    let sheets = [
        Some(cover::sheet(&draft)),
        Some(words::sheet(&draft)),
        Some(stock::sheet(&draft)),
        boards::sheet(&draft),
        strip::sheet(&draft),
        Some(part_list::sheet(&draft)),
        Some(setups::sheet(&draft)),
        sections::sheet(&draft),
        keys::sheet(&draft),
        sections::templates(&draft),
        glue::sheet(&draft),
        Some(finish::sheet(&draft)),
        Some(seasons::sheet(&draft)),
        fit::sheet(&draft),
        Some(money::sheet(&draft)),
        Some(timeline::sheet(&draft)),
        Some(labels::sheet(&draft)),
    ];
    Document {
        title: plan.statement.name.clone(),
        author: plan.shop.name.clone(),
        language: "en-US".into(),
        date: settings.date.clone(),
        paper: settings.paper,
        sheets: sheets.into_iter().flatten().collect(),
    }
}
