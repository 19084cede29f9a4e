//! When, and by whom. This crate reads no clock: the caller says what time it is.

use std::fmt;

/// A moment.
///
/// # Units
/// Whole seconds since the beginning of 1970 in UTC, from then to the end of the year 9999.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Time(i64);

/// Seconds in a day.
const DAY: i64 = 86_400;
/// The last second of the year 9999.
const LAST: i64 = 253_402_300_799;

impl Time {
    /// That many seconds after the beginning of 1970; what lies outside the range becomes its nearest end.
    pub fn seconds(seconds: i64) -> Self {
        Self(seconds.clamp(0, LAST))
    }

    /// Seconds since the beginning of 1970.
    pub fn to_seconds(self) -> i64 {
        self.0
    }

    /// Later by so many seconds.
    #[must_use]
    pub fn plus(self, seconds: i64) -> Self {
        Self::seconds(self.0.saturating_add(seconds))
    }

    /// Whole days since the beginning of 1970, in UTC.
    pub(crate) fn day(self) -> i64 {
        self.0 / DAY
    }

    /// The beginning of a day, counted from the beginning of 1970.
    pub(crate) fn of_day(day: i64) -> Self {
        Self::seconds(day.saturating_mul(DAY))
    }
}

impl fmt::Display for Time {
    /// As `2026-11-25 17:06:11`, in UTC.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match jiff::Timestamp::from_second(self.0) {
            Ok(at) => write!(f, "{}", at.strftime("%Y-%m-%d %H:%M:%S")),
            Err(_) => write!(f, "{} s", self.0),
        }
    }
}

/// Who does something, and when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct By<'a> {
    /// The name shown in the history, such as that of a paired device.
    pub who: &'a str,
    /// When it is done.
    pub at: Time,
}

impl<'a> By<'a> {
    /// This one, at this time.
    pub fn new(who: &'a str, at: Time) -> Self {
        Self { who, at }
    }
}
