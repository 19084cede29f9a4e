//! The schedule as iCalendar (RFC 5545): all-day events that a phone or desk calendar can read.

use icalendar::{Calendar, Component as _, Event, Property};
use jiff::civil::{Date, DateTime};

/// One stretch of whole days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Days {
    /// A key that stays the same when the schedule is written again, so that a calendar updates the
    /// event; such as `pear-box/clamp-walls`.
    pub key: String,
    /// The first day.
    pub first: Date,
    /// How many days, at least one.
    pub days: u16,
    /// What is done, in a few words.
    pub title: String,
    /// More about it; may be empty.
    pub note: String,
}

/// Why a schedule could not be written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// An event without days, or one that runs past the last year a calendar knows.
    #[error("event {key} has {days} days from {first}: give at least one, and end before the year 10000")]
    Length {
        /// The event.
        key: String,
        /// Its first day.
        first: Date,
        /// Its days.
        days: u16,
    },
}

/// The events as one iCalendar file named `title`; lines end in CR LF and are folded at 75 octets.
///
/// `written` is the moment of writing in UTC, from the caller: nothing here reads a clock.
///
/// # Errors
/// [`Error::Length`].
pub fn write(title: &str, written: DateTime, events: &[Days]) -> Result<String, Error> {
    let mut calendar = Calendar::empty();
    calendar.append_property(Property::new("VERSION", "2.0"));
    calendar.append_property(Property::new("PRODID", "-//Keepwright//Shop schedule//EN"));
    calendar.append_property(Property::new("CALSCALE", "GREGORIAN"));
    calendar.append_property(Property::new("X-WR-CALNAME", clean(title).as_str()));
    let stamp = written.strftime("%Y%m%dT%H%M%SZ").to_string();
    for days in events {
        calendar.push(event(days, &stamp)?);
    }
    Ok(calendar.to_string())
}

fn event(days: &Days, stamp: &str) -> Result<Event, Error> {
    let wrong = || Error::Length { key: days.key.clone(), first: days.first, days: days.days };
    if days.days == 0 || days.first.year() < 1 {
        return Err(wrong());
    }
    // The end is the day after the last (RFC 5545, 3.6.1: DTEND is not part of the event).
    let end = days.first.checked_add(jiff::Span::new().days(i64::from(days.days))).map_err(|_| wrong())?;
    let day = |name: &str, date: Date| {
        let text = date.strftime("%Y%m%d").to_string();
        Property::new(name, text.as_str()).add_parameter("VALUE", "DATE").done()
    };
    let mut event = Event::new();
    event.uid(&format!("{}@keepwright", clean(&days.key).replace(char::is_whitespace, "-")));
    event.add_property("DTSTAMP", stamp);
    event.append_property(day("DTSTART", days.first));
    event.append_property(day("DTEND", end));
    event.summary(&clean(&days.title));
    if !days.note.is_empty() {
        event.description(&clean(&days.note));
    }
    // Shop days do not make a person busy.
    event.add_property("TRANSP", "TRANSPARENT");
    Ok(event.done())
}

/// Text without control characters other than line breaks, which the format forbids.
fn clean(text: &str) -> String {
    text.replace("\r\n", "\n").chars().filter(|c| !c.is_control() || *c == '\n').collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::{date, datetime};

    fn one(title: &str, note: &str) -> String {
        let events = [Days {
            key: "a".into(),
            first: date(2025, 3, 30),
            days: 3,
            title: title.into(),
            note: note.into(),
        }];
        write("Pear box", datetime(2025, 3, 1, 8, 0, 0, 0), &events).unwrap()
    }

    /// Octets of the physical lines of the content line that begins with `name`.
    fn octets(text: &str, name: &str) -> Vec<usize> {
        let mut lines = text.split("\r\n").skip_while(|line| !line.starts_with(name));
        let first = lines.next().unwrap().len();
        std::iter::once(first).chain(lines.take_while(|l| l.starts_with(' ')).map(str::len)).collect()
    }

    #[test]
    fn long_lines_are_folded_by_octets() {
        // FM-01, FM-02, FM-03: derived from RFC 5545, 3.1.
        assert_eq!(octets(&one("t", &"x".repeat(80)), "DESCRIPTION:"), [75, 18], "FM-01");
        let accents = one(&"é".repeat(40), "");
        assert_eq!(octets(&accents, "SUMMARY:"), [74, 15], "FM-02");
        assert!(std::str::from_utf8(accents.as_bytes()).is_ok());
        assert_eq!(octets(&one(&"x".repeat(75 - 8), ""), "SUMMARY:"), [75], "FM-03");
    }

    #[test]
    fn days_end_on_the_day_after_the_last() {
        // FM-05: RFC 5545.
        let text = one("Clamp the walls", "");
        assert!(text.contains("\r\nDTSTART;VALUE=DATE:20250330\r\n"), "{text}");
        assert!(text.contains("\r\nDTEND;VALUE=DATE:20250402\r\n"), "{text}");
        assert!(text.contains("\r\nDTSTAMP:20250301T080000Z\r\n"), "{text}");
    }

    #[test]
    fn only_crlf_ends_a_line_and_the_order_is_kept_in_text() {
        // RFC 5545, 3.3.11: backslash, semicolon, comma and newline are escaped.
        let text = one("a\\b;c,d\ne\u{7}", "");
        assert!(text.contains(r"SUMMARY:a\\b\;c\,d\ne"), "{text}");
        assert!(!text.replace("\r\n", "").contains(['\r', '\n']));
        assert!(text.ends_with("END:VCALENDAR\r\n"));
        assert_eq!(text, one("a\\b;c,d\ne\u{7}", ""), "same bytes again");
    }

    #[test]
    fn the_parser_reads_it_back() {
        let text = one(&"Glue, clamp; wait ½ day – ".repeat(5), "first\nsecond");
        let calendar: Calendar = text.parse().unwrap();
        let event = calendar.events().next().unwrap();
        assert_eq!(
            event.get_summary().unwrap().trim_end(),
            "Glue, clamp; wait ½ day – ".repeat(5).trim_end()
        );
        assert_eq!(event.get_description(), Some("first\nsecond"));
        assert_eq!(event.get_uid(), Some("a@keepwright"));
    }

    #[test]
    fn an_event_without_days_is_refused() {
        let events = [Days {
            key: "a".into(),
            first: date(2025, 3, 30),
            days: 0,
            title: String::new(),
            note: String::new(),
        }];
        assert!(write("x", datetime(2025, 3, 1, 8, 0, 0, 0), &events).is_err());
    }
}
