//! What every sheet works with: the plan, the shop's way of reading values, the paper, and whose caution is whose.

use keepwright_model::caution::{Caution, Weight};
use keepwright_model::job::Plan;
use keepwright_model::parts::{Part, PartId};

pub(crate) use crate::drawings::wood::name as wood_name;

use super::drawn::Drawn;
use crate::document::Sheet;
use crate::drawing::Drawing;
use crate::flow::{Align, Block, Column, Figure, Fit, Words};
use crate::page::{Frame, Orientation, Paper, ScaleNote};
use crate::shown::Showing;

/// A plan about to be laid out.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Draft<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) show: Showing,
    /// Its drawings.
    pub(super) drawn: &'a Drawn,
    paper: Paper,
}

/// A subject of the packet; every caution belongs to one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Chapter {
    Words,
    Stock,
    Setups,
    Keys,
    Glue,
    Finish,
    Seasons,
    Fit,
    Money,
    Timeline,
}

impl Chapter {
    /// The subject of a caution; what is about the box as such stands beside its statement.
    fn of(caution: &Caution) -> Self {
        match caution.code {
            "rack-short" | "wood-harms" => Self::Stock,
            "v-at-slot-bottom" | "slot-narrower-than-kerf" | "key-meets-hinge" | "keys-are-small-parts" => {
                Self::Keys
            }
            "open-time-split" | "open-time-too-short" | "band-below-wanted" | "epoxy-skin" => Self::Glue,
            "finish-inside-first"
            | "oily-rags"
            | "alcohol-vapor"
            | "smell-shut-in"
            | "finish-glues-panel"
            | "claims-to-buyers"
            | "one-side-finished"
            | "grit-not-known"
            | "sanding-allowance"
            | "sanding-dust"
            | "screw-splits-edge" => Self::Finish,
            "faces-finished-unequally"
            | "glued-across-grain"
            | "frame-miter-opens"
            | "panel-drops-out"
            | "panel-binds"
            | "wood-not-at-home"
            | "movement-unknown" => Self::Seasons,
            "miters-show" => Self::Fit,
            "hardware-not-priced" | "wood-not-priced" => Self::Money,
            "longer-than-a-day" | "starts-in-the-past" | "does-not-end-in-time" => Self::Timeline,
            _ => Self::Words,
        }
    }

    /// Its name, as its sheet is headed.
    pub(super) const fn title(self) -> &'static str {
        match self {
            Self::Words => "The box in words",
            Self::Stock => "Stock and shopping",
            Self::Setups => "Set-ups",
            Self::Keys => "Keys and cradle",
            Self::Glue => "Glue-up",
            Self::Finish => "Sanding and finish",
            Self::Seasons => "Seasons",
            Self::Fit => "Fit",
            Self::Money => "Money",
            Self::Timeline => "Timeline",
        }
    }
}

impl<'a> Draft<'a> {
    pub(crate) fn new(plan: &'a Plan, paper: Paper, drawn: &'a Drawn) -> Self {
        Self { plan, show: Showing::of(plan), drawn, paper }
    }

    /// The frame of an upright page.
    pub(super) const fn frame(&self) -> Frame {
        Self::frame_of(self.paper)
    }

    /// The frame of an upright page of a paper.
    pub(crate) const fn frame_of(paper: Paper) -> Frame {
        Frame::of(paper, Orientation::Portrait)
    }

    pub(crate) fn part(&self, id: PartId) -> Option<&'a Part> {
        self.plan.parts.parts.get(id.0)
    }

    /// Boxes in the batch.
    pub(crate) const fn count(&self) -> u32 {
        self.plan.statement.count
    }

    /// Cautions of a chapter, gravest first.
    pub(super) fn of_chapter(&self, chapter: Chapter) -> impl Iterator<Item = &'a Caution> {
        self.plan.cautions.iter().filter(move |c| Chapter::of(c) == chapter)
    }

    /// Cautions of a chapter as blocks under their heading; nothing when there are none.
    pub(super) fn cautions(&self, chapter: Chapter) -> Vec<Block> {
        under("Cautions", self.of_chapter(chapter).map(|c| Block::Caution(c.into())).collect())
    }

    /// Cautions that must be read before wood is cut, those of one kind together: of the plan and of single set-ups.
    pub(super) fn grave(&self) -> Vec<Grave<'a>> {
        let plan = self.plan.cautions.iter().map(|c| (Chapter::of(c), c));
        let saw = self.plan.saw.setups.iter().flat_map(|s| &s.cautions).map(|c| (Chapter::Setups, c));
        let mut all: Vec<Grave<'_>> = Vec::new();
        for (chapter, caution) in plan.chain(saw).filter(|(_, c)| c.weight > Weight::WorthKnowing) {
            let alike = |have: &&mut Grave<'_>| {
                have.chapter == chapter
                    && have.first.code == caution.code
                    && have.first.weight == caution.weight
            };
            match all.iter_mut().find(alike) {
                Some(have) => {
                    if !have.places.contains(&caution.place.as_str()) {
                        have.places.push(&caution.place);
                    }
                }
                None => all.push(Grave { chapter, first: caution, places: vec![&caution.place] }),
            }
        }
        all.sort_by_key(|g| core::cmp::Reverse(g.first.weight));
        all
    }
}

/// Grave cautions of one kind.
#[derive(Clone, Debug)]
pub(super) struct Grave<'a> {
    /// Where they stand in full.
    pub(super) chapter: Chapter,
    /// The first of them.
    pub(super) first: &'a Caution,
    /// What they are about.
    pub(super) places: Vec<&'a str>,
}

/// Blocks under a heading; nothing at all without blocks.
pub(crate) fn under(heading: &str, blocks: Vec<Block>) -> Vec<Block> {
    if blocks.is_empty() {
        return blocks;
    }
    core::iter::once(Block::Heading(heading.into())).chain(blocks).collect()
}

/// A sheet's head: its title alone.
pub(super) fn title(text: &str) -> Block {
    Block::Title { text: text.into(), under: String::new() }
}

/// A drawing made for its room, shown as it is.
pub(crate) fn figure(drawing: Drawing, caption: &str, alt: impl Into<String>) -> Block {
    let caption = Words::marked(caption);
    Block::Figure(Figure { drawing, fit: Fit::Within(f64::INFINITY), caption, alt: alt.into() })
}

/// A drawing at full scale, with its check bar.
pub(super) fn full_scale(drawing: Drawing, caption: &str, alt: impl Into<String>) -> Block {
    Block::Figure(Figure { drawing, fit: Fit::FullScale, caption: Words::marked(caption), alt: alt.into() })
}

/// A sheet whose drawings are at full scale.
pub(super) fn full_scale_sheet(title: &str, blocks: Vec<Block>) -> Sheet {
    Sheet { scale: ScaleNote::FullScale, ..Sheet::new(title, blocks) }
}

/// A narrow column of numbers.
pub(crate) fn numbers(heading: impl Into<String>) -> Column {
    Column { heading: heading.into(), align: Align::Right, weight: 0.0 }
}
