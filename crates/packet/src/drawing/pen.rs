//! Line styles by what the line means, in the manner of ISO 128.

use crate::ink::{self, Color};

/// What a line means; width and dashes follow from it.
///
/// # Source
/// ISO 128-2 names the line types and gives dashes as multiples of the width (long dash 24, dash 12,
/// gap 3, dot at most 0.5); the multiples and the two widths are from memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Line {
    /// Visible edge: continuous, 0.5 mm.
    Visible,
    /// Hidden edge: dashed, 0.25 mm.
    Hidden,
    /// Center or symmetry line: long dash and dot, 0.25 mm.
    Center,
    /// Dimension, extension and leader lines: continuous, 0.25 mm.
    Dimension,
    /// Where a section is cut: long dash and dot, 0.35 mm.
    CuttingPlane,
    /// Where a long part is broken off: continuous, 0.25 mm.
    Break,
    /// Wood figure and hatching: hairline, 0.13 mm.
    Figure,
    /// Outline to be cut with scissors or knife: short dashes, 0.25 mm.
    CutOut,
}

/// All line meanings, in the order of [`Line`].
pub const ALL: [Line; 8] = [
    Line::Visible,
    Line::Hidden,
    Line::Center,
    Line::Dimension,
    Line::CuttingPlane,
    Line::Break,
    Line::Figure,
    Line::CutOut,
];

impl Line {
    /// Width on paper, millimeters.
    pub const fn width(self) -> f64 {
        match self {
            Self::Visible => 0.5,
            Self::CuttingPlane => 0.35,
            Self::Hidden | Self::Center | Self::Dimension | Self::Break | Self::CutOut => 0.25,
            Self::Figure => 0.13,
        }
    }

    /// Dashes and gaps on paper, millimeters; empty for a continuous line.
    pub const fn dashes(self) -> &'static [f64] {
        match self {
            Self::Visible | Self::Dimension | Self::Break | Self::Figure => &[],
            Self::Hidden => &[3.0, 0.75],
            Self::Center => &[6.0, 0.75, 0.125, 0.75],
            Self::CuttingPlane => &[8.4, 1.05, 0.175, 1.05],
            Self::CutOut => &[1.5, 1.0],
        }
    }

    /// The name of its layer, capitals and underscores as the oldest drawing exchange wants them.
    pub const fn layer(self) -> &'static str {
        match self {
            Self::Visible => "VISIBLE",
            Self::Hidden => "HIDDEN",
            Self::Center => "CENTER",
            Self::Dimension => "DIMENSION",
            Self::CuttingPlane => "CUTTING_PLANE",
            Self::Break => "BREAK",
            Self::Figure => "FIGURE",
            Self::CutOut => "CUT_OUT",
        }
    }
}

/// A line style with its color.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// What the line means.
    pub line: Line,
    /// Its color.
    pub color: Color,
    /// Its width on paper, millimeters.
    pub width: f64,
}

impl Pen {
    /// The usual pen of a meaning: ink for edges, soft ink for dimensions and figure.
    pub const fn new(line: Line) -> Self {
        let color = match line {
            Line::Dimension | Line::Figure | Line::Break | Line::Center => ink::SOFT,
            _ => ink::INK,
        };
        Self { line, color, width: line.width() }
    }

    /// The same line in another color.
    #[must_use]
    pub const fn colored(self, color: Color) -> Self {
        Self { color, ..self }
    }

    /// The same line in another width, millimeters on paper.
    #[must_use]
    pub const fn wide(self, width: f64) -> Self {
        Self { width, ..self }
    }
}
