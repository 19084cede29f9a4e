//! cutting
