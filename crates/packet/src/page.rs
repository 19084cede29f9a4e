//! Paper and its frame: sizes, margins, what runs at head and foot.

/// A paper size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 8.5 by 11 in.
    Letter,
    /// 210 by 297 mm (ISO 216).
    A4,
}

/// Which way the paper lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Orientation {
    /// Upright.
    Portrait,
    /// On its side.
    Landscape,
}

/// What the foot says about the size of drawings on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScaleNote {
    /// Nothing: no drawing to measure from.
    Silent,
    /// Not to be measured from.
    NotToScale,
    /// Full scale: measure from it once the check bar is right.
    FullScale,
}

impl ScaleNote {
    /// The words at the foot.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Silent => "",
            Self::NotToScale => "not to scale",
            Self::FullScale => "full scale: print at 100 %",
        }
    }
}

impl Paper {
    /// Width and height, millimeters.
    pub const fn size(self, orientation: Orientation) -> [f64; 2] {
        let [width, height] = match self {
            Self::Letter => [8.5 * 25.4, 11.0 * 25.4],
            Self::A4 => [210.0, 297.0],
        };
        match orientation {
            Orientation::Portrait => [width, height],
            Orientation::Landscape => [height, width],
        }
    }
}

/// The part of a page that blocks may fill. Measured from the page's upper left corner, y down, millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// From the page's left edge.
    pub left: f64,
    /// From the page's upper edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

/// Left and right margin: wide enough for a hole punch and a printer's unprintable edge.
const SIDE: f64 = 15.0;
/// From the upper edge to the frame; the running head stands in it.
const HEAD: f64 = 23.0;
/// From the frame to the lower edge; the foot stands in it.
const FOOT: f64 = 19.0;

impl Frame {
    /// The frame of a paper.
    pub const fn of(paper: Paper, orientation: Orientation) -> Self {
        let [width, height] = paper.size(orientation);
        Self { left: SIDE, top: HEAD, width: width - 2.0 * SIDE, height: height - HEAD - FOOT }
    }
}
