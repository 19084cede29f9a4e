//! Kept safe: what happens to the shop folder when things go wrong, each with the failure or attack itself.

#[cfg(test)]
#[path = "../common/mod.rs"]
mod common;
#[cfg(test)]
#[path = "../common/sample.rs"]
mod sample;

#[cfg(test)]
mod archive;
#[cfg(test)]
mod backups;
#[cfg(test)]
mod child;
#[cfg(test)]
mod damaged;
#[cfg(test)]
mod full;
#[cfg(test)]
mod kill;
#[cfg(test)]
mod look;
#[cfg(test)]
mod migrations;
#[cfg(test)]
mod read_only;
#[cfg(test)]
mod refused;
