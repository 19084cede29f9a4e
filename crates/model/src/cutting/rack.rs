//! From the rack to stock: boards as the planner sees them.

use super::demand::{Margins, Stock, StockDefect};
use crate::boards::{Board, Milling};
use crate::units::Length;

/// More boards alike than this are not looked at; no one-person shop stacks them.
const MOST_ALIKE: u32 = 500;

impl Stock {
    /// The boards of a rack, flattened; a board of which there are several stands there several times.
    ///
    /// Faults of either face count, and checked ends are margins. A cost below zero counts as nothing.
    pub fn from_rack(rack: &[Board], milling: &Milling) -> Vec<Self> {
        let mut out = Vec::new();
        for (place, board) in rack.iter().enumerate() {
            let (thickness, _) = milling.usable(board);
            let one = Self {
                board: place,
                length: board.length,
                width: board.width,
                cost: u64::try_from(board.cost().to_minor()).unwrap_or(0),
                defects: board
                    .defects
                    .iter()
                    .map(|d| StockDefect { x: d.x, y: d.y, length: d.length, width: d.width })
                    .collect(),
                thickness,
                wood: board.wood.clone(),
                margins: Margins {
                    left: board.end_check_left,
                    right: board.end_check_right,
                    lower: Length::ZERO,
                    upper: Length::ZERO,
                },
            };
            out.extend((0..board.count.min(MOST_ALIKE)).map(|_| one.clone()));
        }
        out
    }
}
