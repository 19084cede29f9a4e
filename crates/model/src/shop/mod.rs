//! shop
