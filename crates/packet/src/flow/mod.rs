//! Blocks that flow down the page: what a sheet is made of.

mod card;
mod cards;
mod caution;
mod columns;
mod figure;
mod labels;
mod paginate;
mod prose;
pub(crate) mod slab;
mod table;
pub(crate) mod tags;
mod tiles;

pub use crate::typeset::{Align, Run, Words, literal};
pub use card::{Card, Setting};
pub use caution::Caution;
pub use columns::Columns;
pub use figure::{Figure, Fit};
pub use labels::{Label, Labels};
pub(crate) use paginate::paginate;
pub use prose::{Bullet, List};
pub use table::{Column, Table};

use crate::typeset::Typesetter;
use slab::Slab;
use tags::{Tags, Tree};

/// One block of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// The sheet's title with a line of soft words under it (may be empty).
    Title {
        /// The title.
        text: String,
        /// The line under it.
        under: String,
    },
    /// A heading; stays with what follows.
    Heading(String),
    /// A small heading inside a part; stays with what follows.
    Subheading(String),
    /// The sentence that opens a chapter, in the book face; numbers in bold.
    Lead(Words),
    /// A paragraph.
    Paragraph(Words),
    /// Small soft words: a source, a remark.
    Note(Words),
    /// A list.
    List(List),
    /// A table.
    Table(Table),
    /// A caution: bar, word, text.
    Caution(Caution),
    /// One thing to do at a machine, kept whole.
    Card(Card),
    /// A drawing.
    Figure(Figure),
    /// Blocks side by side, kept whole.
    Columns(Columns),
    /// Names with their values.
    Pairs(Vec<(String, Words)>),
    /// Labels to cut out.
    Labels(Labels),
    /// A hairline across.
    Rule,
    /// Empty height in millimeters.
    Space(f64),
    /// What follows begins a new page.
    NewPage,
}

impl Block {
    /// A paragraph; pairs of `**` switch bold on and off.
    pub fn paragraph(marked: &str) -> Self {
        Self::Paragraph(Words::marked(marked))
    }

    /// A lead sentence; pairs of `**` switch bold on and off.
    pub fn lead(marked: &str) -> Self {
        Self::Lead(Words::marked(marked))
    }

    /// The card, if it is one.
    fn card(&self) -> Option<&Card> {
        if let Self::Card(card) = self { Some(card) } else { None }
    }

    /// Small soft words; pairs of `**` switch bold on and off.
    pub fn note(marked: &str) -> Self {
        Self::Note(Words::marked(marked))
    }
}

/// What laying out needs: the typesetter, the tag tree, the height of a page's frame.
pub(crate) struct Layout<'a> {
    pub(crate) setter: &'a mut Typesetter,
    pub(crate) tags: &'a mut Tags,
    /// Height of the frame, millimeters.
    pub(crate) page: f64,
}

impl Layout<'_> {
    /// The blocks as slabs for a column of this width.
    pub(crate) fn blocks(&mut self, blocks: &[Block], width: f64, tree: Tree) -> Vec<Slab> {
        let mut slabs = Vec::new();
        let mut rest = blocks;
        while let Some((block, after)) = rest.split_first() {
            let first = slabs.len();
            let cards: Vec<&Card> = rest.iter().map_while(Block::card).collect();
            if cards.len() > 1 {
                self.cards(&cards, width, tree, &mut slabs);
                rest = rest.get(cards.len()..).unwrap_or_default();
            } else {
                self.block(block, width, tree, &mut slabs);
                rest = after;
            }
            for slab in slabs.iter().skip(first) {
                slab.check(width);
            }
        }
        slabs
    }

    fn block(&mut self, block: &Block, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        match block {
            Block::Title { text, under } => self.title(text, under, width, tree, out),
            Block::Heading(text) => self.heading(text, width, tree, out),
            Block::Subheading(text) => self.subheading(text, width, tree, out),
            Block::Lead(words) => self.lead(words, width, tree, out),
            Block::Paragraph(words) => self.paragraph(words, width, tree, out),
            Block::Note(words) => self.note(words, width, tree, out),
            Block::List(list) => self.list(list, width, tree, out),
            Block::Table(table) => self.table(table, width, tree, out),
            Block::Caution(caution) => out.push(self.caution(caution, width, tree)),
            Block::Card(card) => out.push(self.card(card, width, tree)),
            Block::Figure(figure) => self.figure(figure, width, tree, out),
            Block::Columns(columns) => out.push(self.columns(columns, width, tree)),
            Block::Pairs(pairs) => self.pairs(pairs, width, tree, out),
            Block::Labels(labels) => self.labels(labels, width, tree, out),
            Block::Rule => out.push(Slab::rule(width)),
            Block::Space(height) => out.push(Slab::empty(height.clamp(0.0, self.page))),
            Block::NewPage => out.push(Slab { new_page: true, ..Slab::empty(0.0) }),
        }
    }
}
