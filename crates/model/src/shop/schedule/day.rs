//! Civil dates and the working week. The model has no clock: dates come in as values.

use crate::units::Minutes;
use core::fmt;

/// A date of the Gregorian calendar, stored as days since 1970-01-01.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day(i32);

/// Days of the week, Monday first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weekday {
    /// Monday.
    Monday,
    /// Tuesday.
    Tuesday,
    /// Wednesday.
    Wednesday,
    /// Thursday.
    Thursday,
    /// Friday.
    Friday,
    /// Saturday.
    Saturday,
    /// Sunday.
    Sunday,
}

impl Weekday {
    /// All seven, Monday first.
    pub const ALL: [Self; 7] = [
        Self::Monday,
        Self::Tuesday,
        Self::Wednesday,
        Self::Thursday,
        Self::Friday,
        Self::Saturday,
        Self::Sunday,
    ];

    /// The day's name.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Monday => "Monday",
            Self::Tuesday => "Tuesday",
            Self::Wednesday => "Wednesday",
            Self::Thursday => "Thursday",
            Self::Friday => "Friday",
            Self::Saturday => "Saturday",
            Self::Sunday => "Sunday",
        }
    }
}

/// Why a text is not a date.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DayError {
    /// Not of the form `2026-03-09`.
    #[error("\"{text}\" is not a date: write year, month and day as 2026-03-09")]
    NotADate {
        /// What was given, shortened.
        text: String,
    },
    /// The calendar has no such day.
    #[error("there is no day {year:04}-{month:02}-{day:02}: years run from 1583 to 9999")]
    NoSuchDay {
        /// Year.
        year: i32,
        /// Month.
        month: u32,
        /// Day of the month.
        day: u32,
    },
}

impl Day {
    /// From year, month 1 to 12 and day of the month.
    ///
    /// # Errors
    /// [`DayError::NoSuchDay`] outside the calendar or the years 1583 to 9999.
    pub fn civil(year: i32, month: u32, day: u32) -> Result<Self, DayError> {
        let none = DayError::NoSuchDay { year, month, day };
        if !(1583..=9999).contains(&year) || !(1..=12).contains(&month) {
            return Err(none);
        }
        if day < 1 || day > days_in(year, month) {
            return Err(none);
        }
        // Years begin in March here, so that the leap day is the last of its year; a cycle is 400 years.
        let y = if month <= 2 { year - 1 } else { year };
        let of_cycle = y.rem_euclid(400);
        let from_march = i32::try_from((month + 9) % 12).unwrap_or(0);
        let in_year = (153 * from_march + 2) / 5 + i32::try_from(day).unwrap_or(1) - 1;
        let in_cycle = of_cycle * 365 + of_cycle / 4 - of_cycle / 100 + in_year;
        Ok(Self(y.div_euclid(400) * 146_097 + in_cycle - 719_468))
    }

    /// Reads `2026-03-09` (ISO 8601).
    ///
    /// # Errors
    /// [`DayError`] when the text is not a date of the calendar.
    pub fn parse(text: &str) -> Result<Self, DayError> {
        let wrong = || DayError::NotADate { text: text.chars().take(40).collect() };
        let fields: Vec<&str> = text.trim().split('-').collect();
        let [year, month, day] = fields[..] else { return Err(wrong()) };
        if [year, month, day].iter().any(|f| !f.bytes().all(|b| b.is_ascii_digit()))
            || (year.len(), month.len(), day.len()) != (4, 2, 2)
        {
            return Err(wrong());
        }
        let (Ok(y), Ok(m), Ok(d)) = (year.parse(), month.parse(), day.parse()) else { return Err(wrong()) };
        Self::civil(y, m, d)
    }

    /// From days since 1970-01-01.
    pub const fn since_1970(days: i32) -> Self {
        Self(days)
    }

    /// Days since 1970-01-01.
    pub const fn to_days(self) -> i32 {
        self.0
    }

    /// Year, month 1 to 12, day of the month.
    pub fn to_civil(self) -> (i32, u32, u32) {
        let z = i64::from(self.0) + 719_468;
        let in_cycle = z.rem_euclid(146_097);
        let of_cycle = (in_cycle - in_cycle / 1460 + in_cycle / 36_524 - in_cycle / 146_096) / 365;
        let in_year = in_cycle - (365 * of_cycle + of_cycle / 4 - of_cycle / 100);
        let from_march = (5 * in_year + 2) / 153;
        let day = in_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
        let year = z.div_euclid(146_097) * 400 + of_cycle + i64::from(month <= 2);
        (
            i32::try_from(year).unwrap_or(i32::MAX),
            u32::try_from(month).unwrap_or(1),
            u32::try_from(day).unwrap_or(1),
        )
    }

    /// The day of the week.
    pub fn weekday(self) -> Weekday {
        // 1970-01-01 was a Thursday, the fourth of a week that begins on Monday.
        let at = (i64::from(self.0) + 3).rem_euclid(7);
        Weekday::ALL.get(usize::try_from(at).unwrap_or(0)).copied().unwrap_or(Weekday::Monday)
    }

    /// So many days later (or earlier).
    #[must_use]
    pub const fn plus(self, days: i32) -> Self {
        Self(self.0.saturating_add(days))
    }
}

fn days_in(year: i32, month: u32) -> u32 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
        2 => 28,
        _ => 31,
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (y, m, d) = self.to_civil();
        write!(f, "{y:04}-{m:02}-{d:02}")
    }
}

/// A minute of shop time: whole minutes since 1970-01-01 at midnight, on the shop's own clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment(i64);

/// Minutes in a day.
const DAY: i64 = 24 * 60;

impl Moment {
    /// So many minutes after midnight at the start of a day.
    pub fn on(day: Day, minutes: i64) -> Self {
        Self(i64::from(day.0) * DAY + minutes)
    }

    /// Its date.
    pub fn day(self) -> Day {
        Day(i32::try_from(self.0.div_euclid(DAY)).unwrap_or(i32::MAX))
    }

    /// Minutes after midnight.
    pub const fn minute(self) -> i64 {
        self.0.rem_euclid(DAY)
    }

    /// So many minutes later.
    #[must_use]
    pub const fn plus(self, minutes: i64) -> Self {
        Self(self.0.saturating_add(minutes))
    }

    /// Minutes from `earlier` to this.
    pub const fn since(self, earlier: Self) -> i64 {
        self.0.saturating_sub(earlier.0)
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {:02}:{:02}", self.day(), self.minute() / 60, self.minute() % 60)
    }
}

/// The days and hours in which somebody stands at the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct Week {
    /// Working days, Monday first.
    pub days: [bool; 7],
    /// When the day begins, minutes after midnight.
    pub starts: Minutes,
    /// Working time in a day.
    pub hours: Minutes,
    /// Days off besides: holidays, markets.
    pub off: Vec<Day>,
}

impl Week {
    /// Monday to Friday, six hours at the bench from nine o'clock.
    ///
    /// # Source
    /// Common practice: of a working day about six hours are bench time.
    pub fn usual() -> Self {
        Self {
            days: [true, true, true, true, true, false, false],
            starts: Minutes::hours(9.0),
            hours: Minutes::hours(6.0),
            off: Vec::new(),
        }
    }

    /// Whether anybody works on a day.
    pub fn works(&self, day: Day) -> bool {
        let index = usize::try_from((i64::from(day.to_days()) + 3).rem_euclid(7)).unwrap_or(0);
        self.days.get(index).copied().unwrap_or(false) && !self.off.contains(&day)
    }

    /// Working time in a day.
    pub const fn minutes(&self) -> Minutes {
        self.hours
    }

    /// Whether there is any working time at all.
    pub fn is_open(&self) -> bool {
        self.days.contains(&true) && self.length() > 0
    }

    /// Working minutes in a day, whole, no longer than from its beginning to midnight.
    pub(super) fn length(&self) -> i64 {
        whole(self.hours).clamp(0, DAY - self.begins())
    }

    fn begins(&self) -> i64 {
        whole(self.starts).clamp(0, DAY - 1)
    }

    /// The first working minute at or after a moment; the week must be open.
    pub(super) fn open_at(&self, from: Moment) -> Moment {
        let mut day = from.day();
        let mut earliest = from.minute();
        // The list of days off is finite, so a working day comes within it and one week more.
        for _ in 0..(self.off.len() + 8) {
            let (begin, end) = (self.begins(), self.begins() + self.length());
            if self.works(day) && earliest < end {
                return Moment::on(day, earliest.max(begin));
            }
            day = day.plus(1);
            earliest = 0;
        }
        Moment::on(day, self.begins())
    }

    /// Working minutes left in the day of a working moment.
    pub(super) fn left(&self, at: Moment) -> i64 {
        (self.begins() + self.length() - at.minute()).max(0)
    }
}

/// Minutes rounded up to whole ones; nothing below zero, nothing beyond a century.
#[expect(clippy::cast_possible_truncation, reason = "clamped to a century of minutes first")]
pub(super) fn whole(minutes: Minutes) -> i64 {
    let m = minutes.value();
    if m.is_finite() { (m - 1e-9).ceil().clamp(0.0, 100.0 * 525_960.0) as i64 } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Sources: 1970-01-01 is day 0 of POSIX time, a Thursday; the others from Python's `datetime.date`.
    #[test]
    fn known_days() {
        for (text, days, weekday) in [
            ("1970-01-01", 0, Weekday::Thursday),
            ("2000-02-29", 11_016, Weekday::Tuesday),
            ("1997-07-14", 10_056, Weekday::Monday),
            ("1969-12-31", -1, Weekday::Wednesday),
        ] {
            let day = Day::parse(text).unwrap();
            assert_eq!((day.to_days(), day.weekday()), (days, weekday), "{text}");
            assert_eq!(day.to_string(), text);
        }
    }

    #[test]
    fn refuses_what_is_no_day() {
        for text in
            ["2026-02-29", "2026-13-01", "2026-00-10", "2026-1-5", "tomorrow", "", "2026-04-31", "1500-01-01"]
        {
            assert!(Day::parse(text).is_err(), "{text}");
        }
        assert!(Day::parse("2024-02-29").is_ok());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        /// Counting the days of every month up to a date gives its number, and the number gives the date back.
        #[test]
        fn days_count_up(year in 1970i32..2200, month in 1u32..=12, day in 1u32..=28) {
            let mut count = 0;
            for y in 1970..=year {
                for m in 1..=12 {
                    if y < year || m < month {
                        count += i32::try_from(days_in(y, m)).unwrap();
                    }
                }
            }
            let got = Day::civil(year, month, day).unwrap();
            prop_assert_eq!(got.to_days(), count + i32::try_from(day).unwrap() - 1);
            prop_assert_eq!(got.to_civil(), (year, month, day));
        }
    }
}
