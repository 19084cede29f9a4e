//! How the walls meet.

use super::statement::WoodUse;
use crate::units::Length;

/// A corner by its place: corner i lies between wall i and wall i + 1 (front, right, back, left for a
/// rectangle; front and then counter-clockwise seen from above for a polygon).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct CornerName(pub u32);

impl CornerName {
    /// The corner in words for a box of so many sides.
    pub fn words(self, sides: u32) -> String {
        match (sides, self.0) {
            (4, 0) => "front right".into(),
            (4, 1) => "back right".into(),
            (4, 2) => "back left".into(),
            (4, 3) => "front left".into(),
            (n, i) => format!("corner {} to {}", i + 1, (i + 1) % n.max(1) + 1),
        }
    }
}

/// The joint at the corners.
#[derive(Clone, Debug, PartialEq)]
pub enum CornerJoint {
    /// Glued miter, nothing else.
    Miter,
    /// Miter with keys let in from outside.
    Keyed(Keys),
    /// Miter with a hidden loose tongue along it.
    Tongue(LooseTongue),
    /// Fingers.
    Fingers(FingerJoint),
}

/// Keys in the corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Keys {
    /// The rows of keys from bottom to top, for every corner without a pattern of its own.
    pub rows: Vec<KeyRow>,
    /// Rows for one corner, instead of the common ones.
    pub per_corner: Vec<(CornerName, Vec<KeyRow>)>,
    /// How deep, along the diagonal.
    pub depth: KeyDepth,
}

/// One key, or a spaced group of keys.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyRow {
    /// Wood of the keys.
    pub wood: WoodUse,
    /// Thickness, which is the slot's width.
    pub thickness: Length,
    /// Where they stand.
    pub place: Spacing,
}

/// Where keys stand along the corner.
#[derive(Clone, Debug, PartialEq)]
pub enum Spacing {
    /// So many at equal distances between centers, the outermost half a distance from the edges.
    Even {
        /// How many.
        count: u32,
    },
    /// So many between stated distances from the lower and upper edge to the outermost centers.
    Between {
        /// How many.
        count: u32,
        /// Lower edge to the lowest center.
        from_foot: Length,
        /// Upper edge to the highest center.
        from_rim: Length,
    },
    /// Explicit heights of the centers above the lower edge.
    Heights(Vec<Length>),
}

/// How deep the key slots are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum KeyDepth {
    /// This deep, measured from the corner's arris along the diagonal.
    Depth(Length),
    /// So deep that this much wood stays between slot and inside corner.
    LeaveSkin(Length),
}

/// A loose tongue (spline) hidden along the miter.
#[derive(Clone, Debug, PartialEq)]
pub struct LooseTongue {
    /// Wood or sheet id of the tongue.
    pub wood: WoodUse,
    /// Its thickness.
    pub thickness: Length,
    /// Its width across the joint; half of it lies in each wall.
    pub width: Length,
    /// Ends this far below the upper edge so that it does not show; it may run out below.
    pub stopped: Length,
}

/// A finger joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FingerJoint {
    /// Width of one finger; a socket is as wide plus `play`.
    pub finger: Length,
    /// Play in each socket for the glue.
    pub play: Length,
}
