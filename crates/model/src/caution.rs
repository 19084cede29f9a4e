//! Cautions: what, where, how much, why, and what to change, as data.

use crate::reason::{Basis, Given};

/// How much a caution weighs; ordered, the gravest last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Worth knowing.
    WorthKnowing,
    /// Likely to fail.
    LikelyToFail,
    /// Cannot be made, or not safely.
    Cannot,
}

impl Weight {
    /// The words shown to the maker.
    pub const fn words(self) -> &'static str {
        match self {
            Self::WorthKnowing => "worth knowing",
            Self::LikelyToFail => "likely to fail",
            Self::Cannot => "cannot be made or not safely",
        }
    }
}

/// One edit of the statement: the key path (dots between) and the new value as TOML text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Set {
    /// Such as `bottom.hold`.
    pub key: String,
    /// Such as `"groove"` or `"9 mm"`, quoted as TOML wants it.
    pub value: String,
}

/// A change that cures a caution, for a person and for a program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// In words: "Float the bottom in a groove".
    pub says: String,
    /// As edits of the statement; empty when the cure is not in the statement (buy a board, wait a week).
    pub sets: Vec<Set>,
}

impl Change {
    /// A change of one key of the statement.
    pub fn set(says: impl Into<String>, key: impl Into<String>, value: impl Into<String>) -> Self {
        Self {
            says: says.into(),
            sets: vec![Set {
                key: key.into(),
                value: value.into(),
            }],
        }
    }

    /// A change that lies outside the statement.
    pub fn words(says: impl Into<String>) -> Self {
        Self {
            says: says.into(),
            sets: Vec::new(),
        }
    }
}

/// Something the maker should know before cutting wood.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// Stable code, such as `key-through-rabbet`; lower case, dashes between.
    pub code: &'static str,
    /// How much it weighs.
    pub weight: Weight,
    /// The part, joint or step, in trade words: "front-right corner, key 2".
    pub place: String,
    /// One or two plain sentences with the numbers in them.
    pub says: String,
    /// The numbers.
    pub numbers: Vec<Given>,
    /// Why it is so.
    pub basis: Basis,
    /// What cures it.
    pub change: Option<Change>,
}

/// A value together with what the maker should know about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked<T> {
    /// The value.
    pub value: T,
    /// What to know about it.
    pub cautions: Vec<Caution>,
}
