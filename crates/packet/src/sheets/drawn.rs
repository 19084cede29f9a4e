//! Every drawing of a packet, made once: the pages and the loose files show the same.

use keepwright_model::job::Plan;

use super::draft::Draft;
use crate::drawing::Drawing;
use crate::drawings::{self, Room, Titled};
use crate::page::Paper;

/// Height of the drawing of the box apart, millimetres.
const APART: f64 = 122.0;
/// Height of the drawing of the closed box, millimetres.
const CLOSED: f64 = 60.0;
/// Height of the three views, millimetres.
const VIEWS: f64 = 104.0;
/// The closed box's share of the cover's width.
pub(super) const CLOSED_SHARE: f64 = 0.5;

/// The drawings.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawn {
    pub(crate) apart: Drawing,
    pub(crate) closed: Drawing,
    pub(crate) views: Drawing,
    /// Full scale.
    pub(crate) sections: Vec<Titled>,
}

impl Drawn {
    /// All drawings for a paper.
    pub(crate) fn new(plan: &Plan, paper: Paper) -> Self {
        let frame = Draft::frame_of(paper);
        // A stroke's width and the figure's clear edge stay inside the frame.
        let across = |height: f64| Room::new(frame.width - 3.0, height.min(frame.height - 12.0));
        let shown = crate::shown::Showing::of(plan).shown;
        let (parts, solids) = (&plan.parts, &plan.solids);
        let beside = Room::new(frame.width * CLOSED_SHARE - 10.0, CLOSED);
        Self {
            apart: drawings::exploded(parts, solids, across(APART)),
            closed: drawings::assembled(parts, solids, shown, beside),
            views: drawings::views(parts, solids, shown, across(VIEWS)),
            sections: drawings::joint_sections(parts, solids, shown),
        }
    }

    /// Every drawing with its name, for loose files.
    pub(crate) fn all(&self) -> Vec<(String, &Drawing)> {
        let named = |name: &str, drawing| (name.to_owned(), drawing);
        let mut all =
            vec![named("taken apart", &self.apart), named("closed", &self.closed), named("views", &self.views)];
        all.extend(self.full_scale());
        all
    }

    /// The drawings at full scale, for templates.
    pub(crate) fn full_scale(&self) -> Vec<(String, &Drawing)> {
        self.sections.iter().map(|t| (format!("section {}", t.title), &t.drawing)).collect()
    }
}
