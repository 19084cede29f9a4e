//! What to cut from which board, and where: demand in, plan and proof out.
//!
//! Everything lies with its length along the grain, nothing is turned. Every cut runs edge to edge
//! through the piece in hand (a guillotine cut), as a table saw cuts, and takes one kerf.
//!
//! - [`Demand`]: items, runs (walls that follow one another in one strip), stock and shop rules.
//! - [`plan`]: an anytime search, repeatable from its seed; it never reads a clock.
//! - [`bound()`]: no complete plan can cost less than this.
//! - [`verify`](mod@verify): the judge, written apart from the search; ask it about every plan.

mod blanks;
mod bound;
mod capacity;
mod cover;
mod demand;
mod fill;
mod knapsack;
mod layout;
mod offcuts;
mod rack;
mod random;
mod rework;
mod search;
mod state;
mod ticks;
mod tree;
pub mod verify;

pub use bound::{Bound, bound};
pub use demand::{Demand, DemandError, Item, KeepOffcuts, Margins, Order, Rules, Run, Stock, StockDefect};
pub use layout::{Cut, CutKind, Layout, Next, Offcut, Piece, Placed, Plan, ShortWhy, Shortage};
pub use search::{Listener, NeverStop, Settings, Silent, Terminator, plan};

#[cfg(test)]
mod tests;
