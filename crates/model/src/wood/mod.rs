//! wood
