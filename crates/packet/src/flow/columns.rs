//! Two columns of blocks side by side, kept whole.

use super::slab::Slab;
use super::tags::Tree;
use super::{Block, Layout};

/// Two columns.
#[derive(Clone, Debug, PartialEq)]
pub struct Columns {
    /// Blocks at the left.
    pub left: Vec<Block>,
    /// Blocks at the right.
    pub right: Vec<Block>,
    /// The left column's share of the width, 0.2 to 0.8.
    pub share: f64,
}

/// Clear width between columns, millimeters.
const GUTTER: f64 = 8.0;

impl Layout<'_> {
    pub(super) fn columns(&mut self, columns: &Columns, width: f64, tree: Tree) -> Slab {
        let share = if columns.share.is_finite() { columns.share.clamp(0.2, 0.8) } else { 0.5 };
        let room = (width - GUTTER).max(20.0);
        let left = Slab::stack(self.blocks(&columns.left, room * share, tree));
        let right = Slab::stack(self.blocks(&columns.right, room * (1.0 - share), tree));
        let mut slab = Slab { above: 3.0, ..Slab::empty(left.height.max(right.height)) };
        slab.place(left, 0.0, 0.0);
        slab.place(right, room * share + GUTTER, 0.0);
        slab
    }
}
