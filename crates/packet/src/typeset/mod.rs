//! Text set in lines: shaped and broken once, kept for the whole document.

mod set;
mod words;

pub(crate) use set::{Glyph, GlyphRun, Lines, Typesetter};
pub use words::{Run, Words, literal};

use crate::faces::Face;
use crate::ink::{self, Color};

/// Where lines stand in their column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Align {
    /// At the left.
    Left,
    /// In the middle.
    Center,
    /// At the right, with figures of one width: for numbers.
    Right,
}

/// How text looks on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Style {
    pub(crate) face: Face,
    /// The em, millimeters.
    pub(crate) size: f64,
    /// Line distance as a multiple of the em.
    pub(crate) leading: f64,
    pub(crate) color: Color,
    /// Figures of one width.
    pub(crate) tabular: bool,
}

impl Style {
    pub(crate) const fn new(face: Face, size: f64) -> Self {
        Self { face, size, leading: 1.36, color: ink::INK, tabular: false }
    }

    pub(crate) const fn colored(self, color: Color) -> Self {
        Self { color, ..self }
    }

    pub(crate) const fn leaded(self, leading: f64) -> Self {
        Self { leading, ..self }
    }

    pub(crate) const fn tabular(self) -> Self {
        Self { tabular: true, ..self }
    }

    pub(crate) fn line_height(self) -> f64 {
        self.size * self.leading
    }
}
