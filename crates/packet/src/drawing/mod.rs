//! Geometry in millimeters for every writer: lines by their meaning, text, hatching, dimensions, groups.
//!
//! One drawing unit is one millimeter of the real thing; **x runs right, y runs up**, as on a drafting
//! board and in the box frame. Line widths, text sizes, arrowheads, dimension offsets and hatch spacing
//! are millimeters *on paper*: they stay as they are when a drawing is shown smaller. [`flat`] turns a
//! drawing at a stated scale into the few marks that the writers draw.

pub mod affine;
pub mod bounds;
mod conventions;
pub mod dimension;
pub mod flat;
pub(crate) mod hatch;
pub mod pen;
pub mod scale_bar;

pub use affine::Affine;
pub use bounds::Bounds;
pub use dimension::{Dimension, Leader};
pub use pen::{Line, Pen};

use crate::faces::Face;
use crate::ink::{self, Color};

/// A point, x right and y up, in millimeters.
pub type Point = [f64; 2];

/// Where text hangs from its point, along the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text begins at the point.
    Start,
    /// The text is centered on the point.
    Middle,
    /// The text ends at the point.
    End,
}

/// Where text hangs from its point, across the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rise {
    /// The baseline runs through the point.
    Baseline,
    /// Half the height of a capital lies at the point.
    Middle,
    /// The top of a capital lies at the point.
    Top,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// The point it hangs from, drawing units.
    pub at: Point,
    /// The words.
    pub words: String,
    /// Size on paper in millimeters (of the face's em).
    pub size: f64,
    /// Along the line.
    pub anchor: Anchor,
    /// Across the line.
    pub rise: Rise,
    /// Counter-clockwise, degrees.
    pub rotation: f64,
    /// The face.
    pub face: Face,
    /// The color.
    pub color: Color,
}

impl Text {
    /// Text of 3.5 mm in the plain face, centered on the point both ways.
    pub fn new(at: Point, words: impl Into<String>) -> Self {
        Self {
            at,
            words: words.into(),
            size: 3.5,
            anchor: Anchor::Middle,
            rise: Rise::Middle,
            rotation: 0.0,
            face: Face::Plain,
            color: ink::INK,
        }
    }

    /// The same text in another size.
    #[must_use]
    pub fn sized(mut self, size: f64) -> Self {
        self.size = size;
        self
    }

    /// The same text hung differently.
    #[must_use]
    pub fn hung(mut self, anchor: Anchor, rise: Rise) -> Self {
        self.anchor = anchor;
        self.rise = rise;
        self
    }

    /// The same text turned counter-clockwise by degrees.
    #[must_use]
    pub fn turned(mut self, degrees: f64) -> Self {
        self.rotation = degrees;
        self
    }

    /// The same text in another face.
    #[must_use]
    pub fn faced(mut self, face: Face) -> Self {
        self.face = face;
        self
    }

    /// The same text in another color.
    #[must_use]
    pub fn colored(mut self, color: Color) -> Self {
        self.color = color;
        self
    }
}

/// One thing in a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// An open line through points.
    Polyline {
        /// At least two points.
        points: Vec<Point>,
        /// How it is drawn.
        pen: Pen,
    },
    /// A closed outline.
    Polygon {
        /// At least three points.
        points: Vec<Point>,
        /// Color inside, if any.
        fill: Option<Color>,
        /// Outline, if any.
        stroke: Option<Pen>,
    },
    /// Part of a circle, counter-clockwise from `start` to `end`, degrees from the x axis.
    Arc {
        /// Center.
        center: Point,
        /// Radius.
        radius: f64,
        /// Degrees.
        start: f64,
        /// Degrees; more than `start`.
        end: f64,
        /// How it is drawn.
        pen: Pen,
    },
    /// A circle.
    Circle {
        /// Center.
        center: Point,
        /// Radius.
        radius: f64,
        /// Color inside, if any.
        fill: Option<Color>,
        /// Outline, if any.
        stroke: Option<Pen>,
    },
    /// A line of text.
    Text(Text),
    /// Parallel lines inside an outline.
    Hatch {
        /// The outline.
        points: Vec<Point>,
        /// Direction of the lines, degrees.
        angle: f64,
        /// Distance between lines on paper, millimeters.
        spacing: f64,
        /// How they are drawn.
        pen: Pen,
    },
    /// A dimension.
    Dimension(Dimension),
    /// A pointer with words.
    Leader(Leader),
    /// Where a section is cut.
    CuttingPlane {
        /// One end.
        from: Point,
        /// The other end; the section looks to the left of the way there.
        to: Point,
        /// The section's letter.
        letter: String,
    },
    /// Where a long part is broken off.
    BreakLine {
        /// One end.
        from: Point,
        /// The other end.
        to: Point,
    },
    /// Items placed together.
    Group {
        /// From the group's frame to the frame around it; lengths move with the scale.
        place: Affine,
        /// Only what lies inside this outline (in the group's frame) shows.
        clip: Option<Vec<Point>>,
        /// What is in it.
        items: Vec<Item>,
    },
}

/// A drawing: items in drawing order, the last on top.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// What is in it.
    pub items: Vec<Item>,
}

impl Drawing {
    /// An empty drawing.
    pub const fn new() -> Self {
        Self { items: Vec::new() }
    }

    /// Adds an item.
    pub fn push(&mut self, item: Item) {
        self.items.push(item);
    }

    /// Adds a straight line.
    pub fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.push(Item::Polyline { points: vec![from, to], pen });
    }

    /// Adds an open line through points.
    pub fn polyline(&mut self, points: impl Into<Vec<Point>>, pen: Pen) {
        self.push(Item::Polyline { points: points.into(), pen });
    }

    /// Adds a closed outline, filled or stroked or both.
    pub fn polygon(&mut self, points: impl Into<Vec<Point>>, fill: Option<Color>, stroke: Option<Pen>) {
        self.push(Item::Polygon { points: points.into(), fill, stroke });
    }

    /// Adds an upright rectangle from its lower left corner.
    pub fn rectangle(
        &mut self,
        corner: Point,
        width: f64,
        height: f64,
        fill: Option<Color>,
        stroke: Option<Pen>,
    ) {
        let [x, y] = corner;
        self.polygon([[x, y], [x + width, y], [x + width, y + height], [x, y + height]], fill, stroke);
    }

    /// Adds part of a circle, counter-clockwise, degrees.
    pub fn arc(&mut self, center: Point, radius: f64, start: f64, end: f64, pen: Pen) {
        self.push(Item::Arc { center, radius, start, end, pen });
    }

    /// Adds a circle.
    pub fn circle(&mut self, center: Point, radius: f64, fill: Option<Color>, stroke: Option<Pen>) {
        self.push(Item::Circle { center, radius, fill, stroke });
    }

    /// Adds text.
    pub fn text(&mut self, text: Text) {
        self.push(Item::Text(text));
    }

    /// Adds hatching in the manner of a cut surface: 45 degrees, thin lines, 2.5 mm apart on paper.
    pub fn cut_surface(&mut self, points: impl Into<Vec<Point>>) {
        let pen = Pen::new(Line::Figure);
        self.push(Item::Hatch { points: points.into(), angle: 45.0, spacing: 2.5, pen });
    }

    /// Adds a dimension.
    pub fn dimension(&mut self, dimension: Dimension) {
        self.push(Item::Dimension(dimension));
    }

    /// Adds a pointer with words.
    pub fn leader(&mut self, leader: Leader) {
        self.push(Item::Leader(leader));
    }

    /// Adds the line along which a section is cut, with its letter; the section looks to the left of the
    /// way from `from` to `to`.
    pub fn cutting_plane(&mut self, from: Point, to: Point, letter: impl Into<String>) {
        self.push(Item::CuttingPlane { from, to, letter: letter.into() });
    }

    /// Adds the zigzag line where a long part is broken off.
    pub fn break_line(&mut self, from: Point, to: Point) {
        self.push(Item::BreakLine { from, to });
    }

    /// Adds another drawing, placed.
    pub fn place(&mut self, drawing: Self, place: Affine) {
        self.push(Item::Group { place, clip: None, items: drawing.items });
    }

    /// Adds another drawing, placed, showing only what lies inside `outline` (in its own frame).
    pub fn place_clipped(&mut self, drawing: Self, place: Affine, outline: impl Into<Vec<Point>>) {
        self.push(Item::Group { place, clip: Some(outline.into()), items: drawing.items });
    }

    /// The rectangle around everything, text and line widths included, in millimeters on paper when
    /// one drawing unit is shown as `scale` millimeters; `None` when nothing is drawn.
    pub fn bounds(&self, scale: f64) -> Option<Bounds> {
        bounds::of(&flat::flatten(self, scale))
    }
}
