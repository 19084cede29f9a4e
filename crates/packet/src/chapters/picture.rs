//! Drawings of a page that are made when they are looked at, each by its name.

use keepwright_model::job::Plan;

use crate::drawing::Drawing;
use crate::drawings::{self, Room};
use crate::sheets::drawn;
use crate::shown::Showing;

/// A column of a page, millimeters of paper.
pub(super) const COLUMN: f64 = 150.0;

/// A drawing to be made later.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Its name, as [`draw`] takes it: lower-case letters, digits, hyphens.
    pub name: String,
    /// What it shows, for a reader who cannot see it.
    pub alt: String,
    /// Words under it; may be empty.
    pub caption: String,
    /// Width and height that it will have at most, millimeters.
    pub room: [f64; 2],
}

impl Picture {
    pub(super) fn new(name: impl Into<String>, alt: impl Into<String>, room: Room) -> Self {
        Self { name: name.into(), alt: alt.into(), caption: String::new(), room: [room.width, room.height] }
    }
}

/// Room of the box taken apart.
pub(super) const APART: Room = Room::new(COLUMN, 130.0);
/// Room of the three views.
pub(super) const VIEWS: Room = Room::new(COLUMN, 120.0);
/// Room of a board.
pub(super) const BOARD: Room = Room::new(COLUMN, 62.0);
/// Room of a set-up.
pub(super) const SETUP: Room = Room::new(96.0, 52.0);

/// The drawing of a name: `apart`, `views`, `closed`, `board-2`, `setup-5`; `None` if this plan has no such drawing.
pub fn draw(plan: &Plan, name: &str) -> Option<Drawing> {
    let shown = Showing::of(plan).shown;
    let (parts, solids) = (&plan.parts, &plan.solids);
    match name {
        "apart" => return Some(drawings::exploded(parts, solids, APART)),
        "views" => return Some(drawings::views(parts, solids, shown, VIEWS)),
        "closed" => return Some(drawings::assembled(parts, solids, shown, APART)),
        _ => {}
    }
    let (kind, number) = name.rsplit_once('-')?;
    let index = number.parse::<usize>().ok()?.checked_sub(1)?;
    match kind {
        "board" => drawn::board(plan, index, shown, BOARD).map(|b| b.drawing),
        "setup" => drawings::setup_drawing(plan.saw.setups.get(index)?, shown, SETUP),
        _ => None,
    }
}
