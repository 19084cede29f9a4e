//! Check and tidy: the one command that CI and a developer both run.
fn main() {}
