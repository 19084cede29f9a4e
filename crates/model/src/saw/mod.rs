//! saw
