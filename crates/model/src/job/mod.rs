//! The whole job, assembled: statement + rack + shop become everything that packet, page and command line show.

mod billets;
mod from_files;
mod gather;
mod living;
mod measure;
mod plan;
mod shop;
mod short;
mod shopping;
mod stock;

pub use billets::{Becomes, Billet, BoxOrder, Question, ask};
pub use from_files::{ShopError, home_at, rack_from, unpriced};
pub use living::{Bow, HomeSwing, Living, PartMovement};
pub use measure::{Faces, PartMeasure};
pub use plan::{Fit, Order, Plan, PlanError, When, plan};
pub use shop::{HardwarePrice, Shop};
pub use shopping::Purchase;
pub use stock::{StockPlan, StockRules, lay_out, plan_stock};

/// A count with its noun: "one cut", "12 cuts".
fn plural_of(count: u32, word: &str) -> String {
    if count == 1 { format!("one {word}") } else { format!("{count} {word}s") }
}
