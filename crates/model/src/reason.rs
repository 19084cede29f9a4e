//! How a number came about: formula in trade words, the values put in, the source.
//!
//! Reasons are made where the number is made, so that the command line, the packet and the page
//! all show the same.

use crate::units;

/// Where a number or rule comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Basis {
    /// A published source: author or body, work, chapter, equation, page.
    Published(&'static str),
    /// Worked out from geometry or statics; says from what.
    Derived(&'static str),
    /// Trade habit without a published source.
    CommonPractice,
    /// Known but not re-read; says from where.
    FromMemory(&'static str),
    /// The maker wrote it: in the statement, the rack or the shop file.
    Stated,
}

impl core::fmt::Display for Basis {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Published(s) | Self::Derived(s) => f.write_str(s),
            Self::CommonPractice => f.write_str("common practice"),
            Self::FromMemory(s) => write!(f, "{s} (from memory)"),
            Self::Stated => f.write_str("as stated by the maker"),
        }
    }
}

/// A value of any kind that can be shown.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A length, shown in the shop's unit.
    Length(units::Length),
    /// An angle, shown in degrees.
    Angle(units::Angle),
    /// A fraction shown in percent.
    Percent(f64),
    /// An area, shown in square centimeters or square inches.
    Area(units::Area),
    /// A volume of liquid, shown in milliliters.
    Milliliters(f64),
    /// A stress, shown in megapascals.
    Stress(units::Stress),
    /// A force, shown in newtons.
    Force(units::Force),
    /// A mass, shown in grams.
    Mass(units::Mass),
    /// Time.
    Minutes(units::Minutes),
    /// Money, in the shop's currency.
    Money(units::Money),
    /// A whole number of things.
    Count(u64),
    /// A plain number with decimals to show and its unit (may be empty).
    Number {
        /// The number.
        value: f64,
        /// Decimals to show.
        decimals: usize,
        /// The unit, such as `MPa`, or empty.
        unit: &'static str,
    },
    /// Words.
    Text(String),
}

/// A named value.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// The value's name in trade words, such as "wall thickness".
    pub name: String,
    /// The value.
    pub value: Value,
}

impl Given {
    /// A named value.
    pub fn new(name: impl Into<String>, value: Value) -> Self {
        Self { name: name.into(), value }
    }
}

/// How one number came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// A stable key to ask by, such as `bottom.length` or `key.depth`; lower case, dots between.
    pub key: String,
    /// What the number is, in trade words.
    pub title: String,
    /// The formula in trade words, such as "outside length − 2 × wall thickness + 2 × rabbet depth".
    pub formula: String,
    /// The values put in.
    pub given: Vec<Given>,
    /// The number.
    pub result: Value,
    /// Where the formula or rule comes from.
    pub basis: Basis,
}
