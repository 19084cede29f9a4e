//! The bench in a real browser: Chromium against the real program, on a shop folder of its own.
//!
//! Needs Chromium and its driver (Debian: `apt-get install chromium chromium-driver`); without them the tests fail and
//! say so.

mod bench;
mod by_hand;
mod by_keys;
mod driver;
mod drawing;
mod saw;
mod screens;
