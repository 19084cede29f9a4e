//! Kept safe: what happens to the shop folder when things go wrong, each with the failure or attack itself.

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/sample.rs"]
mod sample;

mod archive;
mod backups;
mod child;
mod damaged;
mod full;
mod kill;
mod look;
mod migrations;
mod read_only;
mod refused;
