//! Labels to cut out and tape to the parts, so that no part is turned or mistaken for another.

use keepwright_model::parts::Role;

use super::draft::{Draft, title, wood_name};
use super::part_list::{from, kinds};
use crate::document::Sheet;
use crate::flow::{Block, Label, Labels, Words};
use crate::page::ScaleNote;
use crate::shown::{capital, counted};

/// Width of a label, millimetres: three across on either paper.
const WIDE: f64 = 60.0;

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let labels = labels(draft);
    let blocks = vec![
        title("Labels"),
        Block::Lead(Words::marked(&format!(
            "**{}** to cut out: tape one to each blank, its arrow the way the grain and the figure run.",
            counted(labels.len(), "label", "labels")
        ))),
        Block::Labels(Labels { width: WIDE, labels }),
    ];
    Sheet { scale: ScaleNote::Silent, ..Sheet::new("Labels", blocks) }
}

/// One for each part of one box; keys and tongues, all alike, share one for each kind.
fn labels(draft: &Draft<'_>) -> Vec<Label> {
    let mut out = Vec::new();
    for kind in kinds(draft) {
        let of = |name: &str, pieces: usize| Label {
            name: capital(name),
            lines: vec![
                draft.plan.statement.name.clone(),
                format!("{} {}", draft.show.sizes(&kind.part.size), wood_name(&kind.part.wood)),
                format!("{}, from {}", counted(pieces, "piece", "pieces"), from(draft, &kind)),
                marks(kind.part.role).to_owned(),
            ],
        };
        let boxes = draft.count() as usize;
        if matches!(kind.part.role, Role::Key | Role::Tongue | Role::Strip | Role::Veneer | Role::Foot) {
            out.push(of(&kind.name(draft), kind.ids.len().saturating_mul(boxes)));
            continue;
        }
        for part in kind.ids.iter().filter_map(|id| draft.part(*id)) {
            out.push(of(&part.name, boxes));
        }
    }
    out
}

/// How the part lies, seen on its show face.
const fn marks(role: Role) -> &'static str {
    match role {
        Role::Wall => "▲ rim up · → along the strip · this face out",
        Role::FrameMember => "▲ outside edge · → along the grain · this face up",
        Role::Key | Role::Tongue => "→ along the grain",
        _ => "▲ back · → along the grain · this face up",
    }
}
