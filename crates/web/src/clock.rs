//! The one place of the bench that reads a clock.

use keepwright_model::shop::schedule::{Day, DayError};
use std::time::{Instant, SystemTime, UNIX_EPOCH};

/// Seconds since 1970 by this machine's clock; 0 for a clock that stands before.
pub(crate) fn now() -> i64 {
    SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .map_or(0, |since| i64::try_from(since.as_secs()).unwrap_or(i64::MAX))
}

/// The moment, to measure how long something takes.
pub(crate) fn instant() -> Instant {
    Instant::now()
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

/// A moment as it is said, in this machine's time zone: `25 Nov 2026, 17:06`.
pub(crate) fn said(seconds: i64) -> String {
    jiff::Timestamp::from_second(seconds)
        .map(|at| at.to_zoned_datetime(jiff::tz::TimeZone::system()).strftime("%-d %b %Y, %H:%M").to_string())
        .unwrap_or_else(|_| format!("{seconds} s after 1970"))
}
