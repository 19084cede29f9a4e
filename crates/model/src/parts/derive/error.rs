//! Why a stated box has no parts: the statement contradicts itself or the geometry.

use crate::units::Length;
use thiserror::Error;

/// A statement that cannot become parts; says the value, what is possible, and the key to change.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DeriveError {
    /// Walls that leave no room.
    #[error(
        "walls {thickness:.1} mm thick leave no inside in a box {across:.1} mm across; make them thinner than {most:.1} mm, or the box larger",
        thickness = .thickness.to_mm(), across = .across.to_mm(), most = .most.to_mm()
    )]
    WallTooThick {
        /// As stated.
        thickness: Length,
        /// Narrowest outside size.
        across: Length,
        /// Just short of half of it.
        most: Length,
    },
    /// A splay that closes the box before its foot or rim.
    #[error(
        "walls leaning {degrees:.1}° from vertical over {height:.1} mm meet before the box ends; lean less or make the box larger",
        height = .height.to_mm()
    )]
    LeanTooGreat {
        /// Lean from vertical.
        degrees: f64,
        /// Height of the walls.
        height: Length,
    },
    /// A height that the bottom, lid and their joints use up.
    #[error(
        "{what} needs {needs:.1} mm of height and the walls have {has:.1} mm; make the walls higher or {what} thinner",
        needs = .needs.to_mm(), has = .has.to_mm()
    )]
    NoHeight {
        /// Which part.
        what: &'static str,
        /// Key of the statement.
        key: &'static str,
        /// Height it takes.
        needs: Length,
        /// Height there is.
        has: Length,
    },
    /// A key slot that breaks through.
    #[error(
        "a key {depth:.1} mm deep breaks through the corner, which is {through:.1} mm along the diagonal; at most {most:.1} mm leaves {skin:.1} mm of skin",
        depth = .depth.to_mm(), through = .through.to_mm(), most = .most.to_mm(), skin = .skin.to_mm()
    )]
    KeyTooDeep {
        /// As stated.
        depth: Length,
        /// To break through.
        through: Length,
        /// With skin left.
        most: Length,
        /// The skin.
        skin: Length,
    },
    /// Keys outside the walls.
    #[error(
        "a key {thickness:.1} mm thick with its center at {at:.1} mm does not lie in walls {height:.1} mm high; keep its center between {least:.1} and {most:.1} mm",
        thickness = .thickness.to_mm(), at = .at.to_mm(), height = .height.to_mm(), least = .least.to_mm(), most = .most.to_mm()
    )]
    KeyOutside {
        /// Slot width.
        thickness: Length,
        /// Center height.
        at: Length,
        /// Wall height.
        height: Length,
        /// Least center.
        least: Length,
        /// Greatest center.
        most: Length,
    },
    /// Keys that run into each other.
    #[error(
        "keys at {first:.1} mm and {second:.1} mm overlap; their centers must be more than {apart:.1} mm apart",
        first = .first.to_mm(), second = .second.to_mm(), apart = .apart.to_mm()
    )]
    KeysOverlap {
        /// Lower center.
        first: Length,
        /// Upper center.
        second: Length,
        /// Least distance.
        apart: Length,
    },
    /// A dimension that must stay under a limit.
    #[error("{what} is {value:.1} mm and can be at most {most:.1} mm here: {why}", value = .value.to_mm(), most = .most.to_mm())]
    TooLarge {
        /// Which dimension.
        what: &'static str,
        /// Key of the statement.
        key: &'static str,
        /// As stated.
        value: Length,
        /// The limit.
        most: Length,
        /// What sets it.
        why: &'static str,
    },
    /// Two choices that do not go together.
    #[error("{what}; {remedy}")]
    Contradiction {
        /// What does not go together.
        what: &'static str,
        /// Key of the statement.
        key: &'static str,
        /// What to state instead.
        remedy: &'static str,
    },
}

impl DeriveError {
    /// The key of the statement to point at.
    pub const fn key(&self) -> &'static str {
        match self {
            Self::WallTooThick { .. } => "walls.thickness",
            Self::LeanTooGreat { .. } => "shape.lean_from_vertical",
            Self::KeyTooDeep { .. } | Self::KeyOutside { .. } | Self::KeysOverlap { .. } => "corners",
            Self::NoHeight { key, .. } | Self::TooLarge { key, .. } | Self::Contradiction { key, .. } => key,
        }
    }
}
