//! The one place of the bench that reads a clock.

use keepwright_model::shop::schedule::{Day, DayError};
use std::time::{SystemTime, UNIX_EPOCH};

/// Seconds since 1970 by this machine's clock; 0 for a clock that stands before.
pub(crate) fn now() -> i64 {
    SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .map_or(0, |since| i64::try_from(since.as_secs()).unwrap_or(i64::MAX))
}

/// Today in this machine's time zone.
///
/// # Errors
/// When the clock is beyond the shop's calendar.
pub(crate) fn today() -> Result<Day, DayError> {
    let date = jiff::ZonedDateTime::now().date();
    let unsigned = |n: i8| u32::try_from(n).unwrap_or(1);
    Day::civil(i32::from(date.year()), unsigned(date.month()), unsigned(date.day()))
}
