//! The whole job, assembled: statement + rack + shop become everything that packet, page and command line show.

pub mod stock;
mod shopping;

pub use shopping::Purchase;
