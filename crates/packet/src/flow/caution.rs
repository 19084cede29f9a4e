//! A caution: a bar and a word in its color, then the text; clear in black and white too.

use keepwright_model::caution::Weight;

use super::prose::{BODY, SMALL};
use super::slab::{Mark, Slab};
use super::tags::{Kind, Tree};
use super::{Layout, Words};
use crate::faces::Face;
use crate::ink;
use crate::typeset::{Align, Style};

/// A caution as printed.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// How much it weighs.
    pub weight: Weight,
    /// The part, joint or step; may be empty.
    pub place: String,
    /// One or two sentences.
    pub says: Words,
    /// What cures it; may be empty.
    pub cure: String,
    /// Where the rule comes from; may be empty.
    pub basis: String,
}

impl Caution {
    /// A caution with its sentence only.
    pub fn new(weight: Weight, says: impl Into<Words>) -> Self {
        Self { weight, place: String::new(), says: says.into(), cure: String::new(), basis: String::new() }
    }
}

impl From<&keepwright_model::caution::Caution> for Caution {
    fn from(caution: &keepwright_model::caution::Caution) -> Self {
        Self {
            weight: caution.weight,
            place: caution.place.clone(),
            says: Words::plain(caution.says.as_str()),
            cure: caution.change.as_ref().map(|change| change.says.clone()).unwrap_or_default(),
            basis: caution.basis.to_string(),
        }
    }
}

/// The word as printed.
const fn word(weight: Weight) -> &'static str {
    match weight {
        Weight::WorthKnowing => "Worth knowing",
        Weight::LikelyToFail => "Likely to fail",
        Weight::Cannot => "Cannot be made, or not safely",
    }
}

/// Width of the bar: the graver, the wider, so that weight shows without color.
const fn bar(weight: Weight) -> f64 {
    match weight {
        Weight::WorthKnowing => 0.7,
        Weight::LikelyToFail => 1.4,
        Weight::Cannot => 2.4,
    }
}

impl Layout<'_> {
    pub(super) fn caution(&mut self, caution: &Caution, width: f64, tree: Tree) -> Slab {
        let color = ink::of_weight(caution.weight);
        let tree = self.tags.under(tree, Kind::Group);
        let (left, pad) = (5.5, 2.4);
        let inner = (width - left - 4.0).max(10.0);
        let head = Style::new(Face::Bold, 3.6).colored(color);
        let mut parts: Vec<(Words, Style, f64)> = Vec::new();
        let mut title = Words::plain(word(caution.weight));
        if !caution.place.is_empty() {
            title = title.and(Words::plain(format!(": {}", caution.place)));
        }
        parts.push((title, head, 0.0));
        parts.push((caution.says.clone(), BODY, 0.6));
        if !caution.cure.is_empty() {
            parts.push((Words::bold("Do: ").and(caution.cure.as_str()), BODY, 0.8));
        }
        if !caution.basis.is_empty() {
            parts.push((Words::plain(format!("Why: {}", caution.basis)), SMALL, 0.8));
        }
        let mut text = Slab::default();
        let mut y = pad;
        for (words, style, gap) in parts {
            let lines = self.setter.set(&words, style, inner);
            let tree = self.tags.under(tree, Kind::Paragraph);
            text.lines([left, y + gap], &lines, inner, Align::Left, tree);
            y += gap + lines.height();
        }
        let height = y + pad;
        let mut slab = Slab { above: 3.4, ..Slab::empty(height) };
        let ground = Some(color.tint(0.08));
        slab.put(Mark::Rect { x: 0.0, y: 0.0, width, height, fill: ground, stroke: None }, None);
        let bar = bar(caution.weight);
        slab.put(Mark::Rect { x: 0.0, y: 0.0, width: bar, height, fill: Some(color), stroke: None }, None);
        slab.place(text, 0.0, 0.0);
        slab
    }
}
