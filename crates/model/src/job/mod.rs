//! The whole job, assembled: statement + rack + shop become everything that packet, page and command line show.

mod living;
mod shopping;
mod stock;

pub use living::{Bow, HomeSwing, Living, PartMovement};
pub use shopping::Purchase;
pub use stock::{Becomes, Billet, StockPlan, StockRules, plan_stock};
