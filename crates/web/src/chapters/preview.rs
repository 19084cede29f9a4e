//! A statement as it is being typed, planned without its boards: what a change costs before it is saved.

use super::{Changes, ChapterContext, Stands, fragments};
use crate::planner::{Boards, Ground, planned};
use crate::scene;
use keepwright_model::design::Problem;
use keepwright_model::job::Shop;
use std::collections::BTreeMap;

/// What a page shows anew.
#[derive(Clone, Debug)]
pub struct Previewed {
    /// The computed part of each chapter as HTML.
    pub chapters: BTreeMap<&'static str, String>,
    /// The box in space as JSON.
    pub scene: String,
}

/// A shop that previews are made in.
#[derive(Clone, Debug)]
pub struct Preview {
    ground: Ground,
    context: ChapterContext,
}

impl Preview {
    /// Previews in a shop, of the box at an address.
    pub fn new(shop: Shop, slug: &str) -> Self {
        let context = ChapterContext {
            slug: slug.to_owned(),
            forgery: String::new(),
            base: 0,
            version: 0,
            boards: Boards::Unplanned,
            changes: Changes::Said,
            worth_knowing: Stands::Open,
        };
        Self { ground: Ground { shop, rack: Vec::new() }, context }
    }

    /// The computed part of every chapter that does not rest on the boards, by the chapter's id, and the box in space
    /// as JSON.
    ///
    /// # Errors
    /// Every problem of the text, at its place.
    pub fn of(&self, text: &str) -> Result<Previewed, Vec<Problem>> {
        let plan = planned(text, &self.ground, Boards::Unplanned, None)?;
        Ok(Previewed {
            chapters: fragments(&plan, &self.context).unwrap_or_default(),
            scene: scene::json(&scene::scene(&plan)).unwrap_or_default(),
        })
    }
}
