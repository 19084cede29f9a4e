//! What is wrong in a file that the maker wrote: where, what, and what to do about it.
//!
//! A [`Problem`] knows its place as a span of bytes; [`Problem::show`] draws it under the line it stands in,
//! [`Problem::place`] gives line and column for a program. There are no color codes here.

use core::fmt::Write as _;
use core::ops::Range;

/// The most characters of one line that are shown; a longer line is cut on both sides of the place.
const LINE_SHOWN: usize = 120;

/// One thing wrong in a file, with its remedy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Where, as bytes of the text; always inside it.
    pub span: Range<usize>,
    /// The key path, dots between, such as `walls.thickness`; empty where no key is meant.
    pub key: String,
    /// What is wrong, with the value that was written.
    pub says: String,
    /// What to do about it.
    pub remedy: String,
}

/// A place in a text, both counted from one; columns are characters, not bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line.
    pub line: usize,
    /// Column.
    pub column: usize,
}

impl Problem {
    /// The place where it begins.
    pub fn place(&self, text: &str) -> Place {
        place_of(text, self.span.start)
    }

    /// The problem as text: `file:line:column: what`, the line with a caret run under the place, the remedy.
    ///
    /// # Example
    /// ```text
    /// tea.toml:6:13: `thickness` is 0 mm, but it must be more than nothing
    ///   6 | thickness = 0
    ///     |             ^
    ///   remedy: write a length such as 3/8 in or 9.5 mm
    /// ```
    pub fn show(&self, file: &str, text: &str) -> String {
        let Place { line, column } = self.place(text);
        let mut out = format!("{file}:{line}:{column}: {}\n", self.says);
        let number = line.to_string();
        let (shown, pad, carets) = self.excerpt(text);
        // Writing into a string cannot fail.
        let _ = writeln!(out, "  {number} | {shown}");
        let _ = writeln!(out, "  {} | {pad}{}", " ".repeat(number.len()), "^".repeat(carets));
        let _ = writeln!(out, "  remedy: {}", self.remedy);
        out
    }

    /// The line with the place, what pads the caret run, and how many carets.
    fn excerpt(&self, text: &str) -> (String, String, usize) {
        let at = floor_boundary(text, self.span.start);
        let start = text[..at].rfind('\n').map_or(0, |n| n + 1);
        let end = text[at..].find('\n').map_or(text.len(), |n| at + n);
        let line = text[start..end].trim_end_matches('\r');
        let before = text[start..at].chars().count();
        let stop = floor_boundary(text, self.span.end).min(start + line.len()).max(at);
        let marked = text[at..stop].chars().count().max(1);
        // A line longer than the screen is shown from a little before the place.
        let skip = before.saturating_sub(LINE_SHOWN / 2);
        let mut shown = String::new();
        let mut pad = String::new();
        if skip > 0 {
            shown.push('…');
            pad.push(' ');
        }
        for (i, c) in line.chars().enumerate().skip(skip).take(LINE_SHOWN) {
            let safe = printable(c);
            shown.push(safe);
            if i < before {
                pad.push(if safe == '\t' { '\t' } else { ' ' });
            }
        }
        if line.chars().count() > skip + LINE_SHOWN {
            shown.push('…');
        }
        let room = (LINE_SHOWN + skip).saturating_sub(before).max(1);
        (shown, pad, marked.min(room))
    }
}

/// A character that does not move the screen's pen: control characters are replaced.
fn printable(c: char) -> char {
    if c.is_control() && c != '\t' { char::REPLACEMENT_CHARACTER } else { c }
}

/// Several problems, one under the other, with how many there are if more than one.
pub fn show_problems(problems: &[Problem], file: &str, text: &str) -> String {
    let mut out: Vec<String> = problems.iter().map(|p| p.show(file, text)).collect();
    if problems.len() > 1 {
        out.push(format!("{} problems in {file}\n", problems.len()));
    }
    out.join("\n")
}

/// Line and column of a byte of the text.
pub fn place_of(text: &str, byte: usize) -> Place {
    let at = floor_boundary(text, byte);
    let before = &text[..at];
    let start = before.rfind('\n').map_or(0, |n| n + 1);
    Place { line: before.matches('\n').count() + 1, column: before[start..].chars().count() + 1 }
}

/// The nearest character boundary at or before a byte.
pub(super) fn floor_boundary(text: &str, byte: usize) -> usize {
    let mut at = byte.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// At most sixty characters of what was written, control characters replaced, for messages.
pub(super) fn quoted(text: &str) -> String {
    let mut out: String =
        text.chars().take(60).map(|c| if c == '\t' || c == '\n' { ' ' } else { printable(c) }).collect();
    if text.chars().count() > 60 {
        out.push('…');
    }
    out
}

/// The nearest of some words to one that was written, if near enough to be a slip of the pen.
pub(super) fn nearest<'w>(written: &str, words: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let written = written.to_lowercase();
    let length = written.chars().count();
    if length > 40 {
        return None;
    }
    let limit = (length / 3).clamp(1, 4);
    let begins = |word: &str| length >= 4 && (word.starts_with(&written) || written.starts_with(word));
    words
        .into_iter()
        .map(|word| {
            let steps = edits(&written, word);
            (if begins(word) { steps.min(limit) } else { steps }, word)
        })
        .filter(|(steps, _)| *steps <= limit)
        .min_by_key(|(steps, _)| *steps)
        .map(|(_, word)| word)
}

/// How many letters must be put in, left out, replaced or swapped with their neighbor.
///
/// # Source
/// Optimal string alignment: F. J. Damerau, "A technique for computer detection and correction of spelling
/// errors", Communications of the ACM 7 (1964), with the usual dynamic program.
fn edits(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let mut two_back: Vec<usize> = vec![0; b.len() + 1];
    let mut back: Vec<usize> = (0..=b.len()).collect();
    for (i, &from) in a.iter().enumerate() {
        let mut row = vec![i + 1; b.len() + 1];
        for (j, &to) in b.iter().enumerate() {
            let mut best = (back[j] + usize::from(from != to)).min(back[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && from == b[j - 1] && a[i - 1] == to {
                best = best.min(two_back[j - 1] + 1);
            }
            row[j + 1] = best;
        }
        two_back = core::mem::replace(&mut back, row);
    }
    back.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Expected distances counted by hand.
    #[test]
    fn counts_edits() {
        for (a, b, want) in [
            ("", "", 0),
            ("", "abc", 3),
            ("kerf", "kerf", 0),
            ("kref", "kerf", 1),
            ("thicknes", "thickness", 1),
            ("wall", "walls", 1),
            ("lenght", "length", 1),
            ("miter", "rabbet", 5),
        ] {
            assert_eq!(edits(a, b), want, "{a} {b}");
        }
    }

    #[test]
    fn suggests_only_near_words() {
        let keys = ["length", "depth", "height", "thickness", "wood"];
        for (written, want) in [
            ("lenght", Some("length")),
            ("Depth", Some("depth")),
            ("thick", Some("thickness")),
            ("wodo", Some("wood")),
            ("color", None),
            ("", None),
        ] {
            assert_eq!(nearest(written, keys), want, "{written}");
        }
    }

    #[test]
    fn shows_the_line_and_the_caret() {
        let text = "name = \"a\"\r\n\tsize = é x\r\nend";
        let at = text.find('x').unwrap();
        let problem =
            Problem { span: at..at + 1, key: "size".into(), says: "no".into(), remedy: "yes".into() };
        assert_eq!(
            problem.show("f.toml", text),
            "f.toml:2:11: no\n  2 | \tsize = é x\n    | \t         ^\n  remedy: yes\n"
        );
        assert_eq!(problem.place(text), Place { line: 2, column: 11 });
    }

    #[test]
    fn a_long_line_is_cut_round_the_place() {
        let text = format!("{}HERE{}", "a".repeat(5000), "b\u{7}".repeat(5000));
        let problem =
            Problem { span: 5000..5004, key: String::new(), says: "no".into(), remedy: "yes".into() };
        let shown = problem.show("f", &text);
        let lines: Vec<&str> = shown.lines().collect();
        assert!(lines[1].chars().count() < 135, "{shown}");
        let caret = lines[2].chars().position(|c| c == '^').unwrap();
        let under: String = lines[1].chars().skip(caret).take(4).collect();
        assert_eq!(under, "HERE");
        assert_eq!(lines[2].matches('^').count(), 4);
        assert!(!shown.contains('\u{7}'));
    }

    /// A span at or past the end, or inside a character, does not break the drawing.
    #[test]
    fn any_span_can_be_shown() {
        for text in ["", "é", "a\n", "\n\n", "ab"] {
            for start in 0..6 {
                for end in start..6 {
                    let problem = Problem {
                        span: start..end,
                        key: String::new(),
                        says: String::new(),
                        remedy: String::new(),
                    };
                    assert!(problem.show("f", text).contains('^'));
                }
            }
        }
    }
}
