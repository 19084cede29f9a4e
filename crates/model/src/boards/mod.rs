//! boards
