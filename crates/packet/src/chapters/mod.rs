//! A box's chapters for a screen, in the order of the work: the same tables and drawings as the sheets of the packet.
//!
//! [`pieces()`] gives a chapter's blocks; what is slow to draw is only named there and drawn by [`picture::draw`] when it
//! is looked at. The opening sentence, the cautions and where the numbers come from are the page's own; whose they are
//! is said here.

pub mod picture;
mod pieces;
mod woods;

pub use picture::Picture;
pub use pieces::{Piece, SetupCard, pieces};

use keepwright_model::caution::{Caution, Weight};
use keepwright_model::job::Plan;
use keepwright_model::reason::Reason;
use keepwright_model::shop::schedule::Day;

/// A chapter of a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Chapter {
    /// Sizes and parts.
    Shape,
    /// Which woods, and what they are like.
    Woods,
    /// Strips, boards, what to buy.
    Boards,
    /// Set-ups in their order.
    Saw,
    /// Whether corners close; keys.
    Joints,
    /// The home's year.
    Seasons,
    /// Glue-ups in stages.
    Glue,
    /// Sanding and coats.
    Finish,
    /// Price, hours, timeline.
    Money,
    /// What goes out on paper and as files.
    Packet,
}

impl Chapter {
    /// All of them in the order of the work.
    pub const ALL: [Self; 10] = [
        Self::Shape,
        Self::Woods,
        Self::Boards,
        Self::Saw,
        Self::Joints,
        Self::Seasons,
        Self::Glue,
        Self::Finish,
        Self::Money,
        Self::Packet,
    ];

    /// Its id in a page and in addresses.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Shape => "shape",
            Self::Woods => "woods",
            Self::Boards => "boards",
            Self::Saw => "saw",
            Self::Joints => "joints",
            Self::Seasons => "seasons",
            Self::Glue => "glue",
            Self::Finish => "finish",
            Self::Money => "money",
            Self::Packet => "packet",
        }
    }

    /// Its heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Shape => "Shape",
            Self::Woods => "Woods",
            Self::Boards => "Boards",
            Self::Saw => "At the saw",
            Self::Joints => "Joints",
            Self::Seasons => "Seasons",
            Self::Glue => "Glue",
            Self::Finish => "Finish",
            Self::Money => "Money and time",
            Self::Packet => "Packet",
        }
    }

    /// The chapter that a caution belongs to; what is about the box as such stands with its shape.
    pub fn of_caution(caution: &Caution) -> Self {
        match caution.code {
            "wood-harms" | "movement-unknown" => Self::Woods,
            "rack-short" | "cutting-plan-judged-wrong" => Self::Boards,
            "short-part" | "very-short-part" | "tilted-blade" | "tilt-beyond-saw" | "rip-kickback"
            | "router-feed" | "stopped-cut" | "planer-short" | "offcut-free" | "not-through"
            | "no-setting" | "lid-pinch" | "bandsaw-guard" | "blade-too-low" => Self::Saw,
            "v-at-slot-bottom"
            | "slot-narrower-than-kerf"
            | "keys-are-small-parts"
            | "key-meets-hinge"
            | "key-through-hollow"
            | "key-near-hollow"
            | "key-on-saw-line"
            | "key-near-saw-line"
            | "finger-sliver"
            | "stopped-at-fingers"
            | "miters-show" => Self::Joints,
            "faces-finished-unequally"
            | "glued-across-grain"
            | "frame-miter-opens"
            | "panel-drops-out"
            | "panel-binds"
            | "wood-not-at-home" => Self::Seasons,
            "open-time-split"
            | "open-time-too-short"
            | "band-below-wanted"
            | "epoxy-skin"
            | "squeeze-out" => Self::Glue,
            "finish-inside-first"
            | "oily-rags"
            | "alcohol-vapor"
            | "smell-shut-in"
            | "finish-glues-panel"
            | "claims-to-buyers"
            | "one-side-finished"
            | "grit-not-known"
            | "grit-step-long"
            | "grit-step-back"
            | "sanding-allowance"
            | "sanding-dust"
            | "screw-splits-edge" => Self::Finish,
            "hardware-not-priced"
            | "wood-not-priced"
            | "longer-than-a-day"
            | "starts-in-the-past"
            | "does-not-end-in-time" => Self::Money,
            _ => Self::Shape,
        }
    }

    /// The chapter that a reason belongs to, by its key.
    pub fn of_reason(reason: &Reason) -> Self {
        let key = reason.key.as_str();
        let first = key.split('.').next().unwrap_or(key);
        let last = key.rsplit('.').next().unwrap_or(key);
        match (first, last) {
            (_, "gap" | "hold" | "miter" | "bow" | "stress") | ("season", _) => Self::Seasons,
            ("setup" | "saw", _) => Self::Saw,
            ("run" | "blank" | "board", _) => Self::Boards,
            ("key" | "keys" | "lid_key" | "fit" | "lid_fit" | "fingers" | "corner" | "corners", _) => {
                Self::Joints
            }
            ("glue", _) => Self::Glue,
            ("shop", _) if key.starts_with("shop.glue") || key.starts_with("shop.band") => Self::Glue,
            ("sanding" | "finish" | "screws", _) => Self::Finish,
            ("price" | "time" | "shop", _) | (_, "wait") => Self::Money,
            _ => Self::Shape,
        }
    }
}

/// The trade's name of a wood or sheet by its id, as it is said: `black cherry`.
pub fn wood_name(id: &str) -> String {
    crate::drawings::wood::name(id)
}

/// A day as it is said: `Mon 9 Mar 2026`.
pub fn day(day: Day) -> String {
    crate::sheets::timeline::day(day)
}

/// A caution as a page shows it: what is said of several places alike is said once.
#[derive(Clone, Debug)]
pub struct Said<'a> {
    /// The caution, of the first place.
    pub caution: &'a Caution,
    /// All places, in their order.
    pub places: Vec<&'a str>,
}

/// The cautions of a chapter, gravest first; those of single set-ups that say the same stand together.
pub fn cautions(plan: &Plan, chapter: Chapter) -> Vec<Said<'_>> {
    let own = plan.cautions.iter().filter(|c| Chapter::of_caution(c) == chapter);
    let mut all: Vec<Said<'_>> =
        own.map(|caution| Said { caution, places: vec![caution.place.as_str()] }).collect();
    if chapter == Chapter::Saw {
        for caution in plan.saw.setups.iter().flat_map(|s| &s.cautions) {
            match all.iter_mut().find(|have| have.caution.code == caution.code) {
                Some(have) => {
                    if !have.places.contains(&caution.place.as_str()) {
                        have.places.push(&caution.place);
                    }
                }
                None => all.push(Said { caution, places: vec![&caution.place] }),
            }
        }
    }
    all.sort_by_key(|said| core::cmp::Reverse(said.caution.weight));
    all
}

/// The gravest weight of a chapter's cautions.
pub fn worst(plan: &Plan, chapter: Chapter) -> Option<Weight> {
    cautions(plan, chapter).first().map(|said| said.caution.weight)
}
