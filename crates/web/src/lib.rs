//! The bench in the browser.

pub mod scene;
