//! The one place of the bench that reads a clock.

use keepwright_model::shop::schedule::{Day, DayError};
use keepwright_store::Time;
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

/// A moment as people of this machine's time zone write it: `Mar 1, 2026, 13:05`.
pub(crate) fn said(at: Time) -> String {
    jiff::Timestamp::from_second(at.to_seconds()).map_or_else(
        |_| at.to_string(),
        |moment| {
            moment.to_zoned_datetime(jiff::tz::TimeZone::system()).strftime("%b %-d, %Y, %H:%M").to_string()
        },
    )
}
