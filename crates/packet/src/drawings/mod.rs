//! The drawings of the packet: the box apart and closed, its joints, keys, strip, boards, set-ups, templates.
//!
//! Each is a pure function from the parts to a [`Drawing`]. Words are placed for paper, so every drawing
//! here is made to be shown at scale 1: the full-scale ones in the millimeters of the box, the others in
//! millimeters of the paper, as large as the stated [`Room`] allows.

mod axonometric;
mod board;
mod keys;
mod outline;
mod pieces;
mod place;
mod section;
mod section_size;
mod setup;
mod setup_above;
mod setup_marks;
mod shown;
mod stance;
mod strip;
mod template;
pub mod wood;

pub use axonometric::{assembled, assembled_alike, exploded, plain, views};
pub use board::{BoardDrawing, board_layout};
pub use keys::{cradle, key_layout};
pub use pieces::{Sawn, saw_band, sawn};
pub use section::joint_sections;
pub use setup::{has_setup_drawing, setup_drawing};
pub use shown::Shown;
pub use stance::{LidMotion, Stance, seen_along};
pub use strip::{strip_note, strip_plan};
pub use template::{
    Place, end_profile, face_outline, finger_layout, hinge_layout, key_triangle, label_marks, lining_card,
};

use crate::drawing::Drawing;

/// The paper that a drawing may fill, words and dimensions included, millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Room {
    /// Room of a width and a height, millimeters.
    pub const fn new(width: f64, height: f64) -> Self {
        Self { width, height }
    }
}

/// A drawing with its name, where one subject takes several.
#[derive(Clone, Debug, PartialEq)]
pub struct Titled {
    /// What it is, such as `front wall, lower edge`.
    pub title: String,
    /// The drawing.
    pub drawing: Drawing,
}

/// Clear space kept at each side, millimeters: a page sets a figure with half a millimeter round it, and a drawing
/// that then needed shrinking would draw its words together.
const CLEAR: f64 = 0.6;

/// Makes a drawing as large as fits: `build` draws at a scale, `size` is the model's at scale 1.
///
/// Words keep their size, so the scale is found by asking how far the words reach beyond the model.
fn fitted(room: Room, size: [f64; 2], most: f64, build: impl Fn(f64) -> Drawing) -> Drawing {
    let room = Room::new(room.width - 2.0 * CLEAR, room.height - 2.0 * CLEAR);
    let whole = (room.width / size[0].max(1e-6)).min(room.height / size[1].max(1e-6));
    let mut scale = whole.min(most);
    if !scale.is_finite() || scale <= 0.0 {
        return Drawing::new();
    }
    let mut drawing = build(scale);
    for _ in 0..8 {
        let Some(bounds) = drawing.bounds(1.0) else { break };
        let over = (bounds.width() - room.width).max(bounds.height() - room.height);
        if over <= 0.05 {
            break;
        }
        let fits = |model: f64, room: f64, drawn: f64| (scale * model - (drawn - room).max(0.0)) / model;
        let next = fits(size[0].max(1e-6), room.width, bounds.width())
            .min(fits(size[1].max(1e-6), room.height, bounds.height()))
            .min(scale * 0.99)
            .max(scale * 0.3);
        scale = next;
        drawing = build(scale);
    }
    drawing
}
