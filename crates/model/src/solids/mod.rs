//! solids
