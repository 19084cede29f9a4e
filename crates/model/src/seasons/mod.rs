//! seasons
