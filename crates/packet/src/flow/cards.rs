//! Cards that follow each other: stacked where they fit, two side by side where each would take a page for itself.

use super::slab::Slab;
use super::tags::{Tags, Tree};
use super::{Block, Card, Layout};

/// Clear width between two cards side by side, millimeters.
const BETWEEN: f64 = 4.0;
/// Clear height above a card, millimeters.
const ABOVE: f64 = 5.0;
/// Columns narrower than this hold one card only, millimeters.
const FOR_TWO: f64 = 160.0;

/// Width of each of two cards side by side.
pub(super) const fn beside_width(width: f64) -> f64 {
    (width - BETWEEN) / 2.0
}

/// How far the pages are filled; fewer pages are better, then a shorter last one.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
struct Filled {
    pages: u32,
    used: f64,
}

impl Filled {
    /// With something more, kept whole.
    fn and(self, height: f64, page: f64) -> Self {
        let used = if self.used > 0.0 { self.used + ABOVE + height } else { height };
        if used <= page { Self { used, ..self } } else { Self { pages: self.pages + 1, used: height } }
    }
}

impl Layout<'_> {
    /// Cards in their order on as few pages as can be.
    pub(super) fn cards(&mut self, cards: &[&Card], width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let before: f64 = out.iter().map(|slab| slab.above + slab.height).sum();
        let pairs = self.pairs_of(cards, width, Filled { pages: 0, used: before % self.page });
        let mut at = 0;
        while let Some(card) = cards.get(at) {
            let next = cards.get(at + 1).filter(|_| pairs.contains(&at));
            at += if next.is_some() { 2 } else { 1 };
            let slab = if let Some(next) = next {
                self.two(card, next, width, tree)
            } else {
                self.card(card, width, tree)
            };
            out.push(slab);
        }
    }

    /// The firsts of the cards that stand beside their next.
    fn pairs_of(&mut self, cards: &[&Card], width: f64, start: Filled) -> Vec<usize> {
        if width < FOR_TWO {
            return Vec::new();
        }
        let page = self.page;
        let alone: Vec<f64> = cards.iter().map(|card| self.measured(card, width)).collect();
        // The best filling with all cards up to each, and whether the last two of them are a pair.
        let mut best: Vec<(Filled, bool)> = vec![(start, false)];
        for (index, height) in alone.iter().enumerate() {
            let Some((before, _)) = best.last() else { break };
            let mut choice = (before.and(*height, page), false);
            if let Some(earlier) = index.checked_sub(1) {
                let both = (cards.get(earlier), cards.get(index), alone.get(earlier), best.get(earlier));
                if let (Some(first), Some(second), Some(above), Some((start, _))) = both
                    && above + ABOVE + height > page
                    && let Some(beside) = self.beside(first, second, width)
                    && start.and(beside, page) < choice.0
                {
                    choice = (start.and(beside, page), true);
                }
            }
            best.push(choice);
        }
        let mut pairs = Vec::new();
        let mut at = cards.len();
        while at > 0 {
            let pair = best.get(at).is_some_and(|(_, pair)| *pair);
            at = at.saturating_sub(if pair { 2 } else { 1 });
            if pair {
                pairs.push(at);
            }
        }
        pairs
    }

    /// Height of two cards side by side; nothing where they do not go into half the width or onto a page.
    fn beside(&mut self, first: &Card, second: &Card, width: f64) -> Option<f64> {
        let tables = |card: &Card| card.blocks.iter().any(|b| matches!(b, Block::Table(_)));
        if tables(first) || tables(second) {
            return None;
        }
        let narrow = beside_width(width);
        let height = self.measured(first, narrow).max(self.measured(second, narrow));
        (height <= self.page).then_some(height)
    }

    /// Height of a card; nothing of it stays in the tags.
    fn measured(&mut self, card: &Card, width: f64) -> f64 {
        let (mut tags, page) = (Tags::new(), self.page);
        let tree = Tags::ROOT;
        Layout { setter: self.setter, tags: &mut tags, page }.card(card, width, tree).height
    }

    fn two(&mut self, first: &Card, second: &Card, width: f64, tree: Tree) -> Slab {
        let narrow = beside_width(width);
        let [left, right] = [first, second].map(|card| self.card(card, narrow, tree));
        let mut slab = Slab { above: ABOVE, ..Slab::empty(left.height.max(right.height)) };
        slab.place(left, 0.0, 0.0);
        slab.place(right, narrow + BETWEEN, 0.0);
        slab
    }
}
