//! Words with bold runs in them.

/// An asterisk that marks nothing, until [`Words::marked`] has read the marks: a code point of nobody's alphabet.
const STAR: char = '\u{e02a}';

/// What the maker wrote, to stand in a sentence that [`Words::marked`] reads: its asterisks stay asterisks.
pub fn literal(text: &str) -> String {
    text.replace('*', STAR.encode_utf8(&mut [0; 4]))
}

/// A stretch of words in one weight.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Run {
    /// The words.
    pub text: String,
    /// Whether they are bold.
    pub bold: bool,
}

/// Words of a paragraph, a cell, a list item; some of them bold.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Words {
    /// The stretches in reading order.
    pub runs: Vec<Run>,
}

impl Words {
    /// Words in one weight, exactly as given.
    pub fn plain(text: impl Into<String>) -> Self {
        Self { runs: vec![Run { text: text.into(), bold: false }] }
    }

    /// Bold words, exactly as given.
    pub fn bold(text: impl Into<String>) -> Self {
        Self { runs: vec![Run { text: text.into(), bold: true }] }
    }

    /// Words in which pairs of `**` switch bold on and off; for sentences that the program itself
    /// writes. What the maker wrote comes into them by [`literal`].
    pub fn marked(text: &str) -> Self {
        let runs = text.split("**").enumerate().filter(|(_, part)| !part.is_empty());
        Self { runs: runs.map(|(i, part)| Run { text: part.replace(STAR, "*"), bold: i % 2 == 1 }).collect() }
    }

    /// These words, then others.
    #[must_use]
    pub fn and(mut self, more: impl Into<Self>) -> Self {
        self.runs.extend(more.into().runs);
        self
    }

    /// All words without their weight.
    pub fn text(&self) -> String {
        self.runs.iter().map(|run| run.text.as_str()).collect()
    }

    /// Whether there is nothing to read.
    pub fn is_empty(&self) -> bool {
        self.runs.iter().all(|run| run.text.trim().is_empty())
    }
}

impl From<&str> for Words {
    fn from(text: &str) -> Self {
        Self::plain(text)
    }
}

impl From<String> for Words {
    fn from(text: String) -> Self {
        Self::plain(text)
    }
}

/// Text in which a number and its unit stay on one line: the blank between becomes one that holds.
pub(super) fn held_together(text: &str) -> String {
    const UNITS: [&str; 14] =
        ["mm", "cm", "in", "m", "%", "°C", "°F", "kg", "g", "h", "min", "N", "MPa", "mL"];
    let mut out = String::with_capacity(text.len() + 8);
    let mut rest = text;
    while let Some(at) = rest.find(' ') {
        let (before, after) = rest.split_at(at);
        let after = after.get(1..).unwrap_or("");
        let word: &str =
            after.split(|c: char| !c.is_alphanumeric() && c != '%' && c != '°').next().unwrap_or("");
        let number = before.ends_with(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c));
        let fraction = before.ends_with(|c: char| c.is_ascii_digit())
            && word.starts_with(|c: char| c.is_ascii_digit())
            && after.get(word.len()..).is_some_and(|tail| tail.starts_with('/'));
        out.push_str(before);
        out.push(if (number && UNITS.contains(&word)) || fraction { '\u{a0}' } else { ' ' });
        rest = after;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bold_marks_switch() {
        let words = Words::marked("strip **868 mm** long");
        assert_eq!(words.runs.len(), 3);
        assert!(words.runs[1].bold && words.runs[1].text == "868 mm");
        assert_eq!(Words::plain("a ** b").text(), "a ** b");
        let named = Words::marked(&format!("**{}** in {}", literal("2 ** 3"), literal("a *** b ** c")));
        assert_eq!(named.text(), "2 ** 3 in a *** b ** c");
        assert_eq!(named.runs.iter().map(|r| r.bold).collect::<Vec<_>>(), [true, false]);
    }

    #[test]
    fn a_number_holds_its_unit() {
        for (given, want) in [
            ("868 mm long", "868\u{a0}mm long"),
            ("7 1/2 in", "7\u{a0}1/2\u{a0}in"),
            ("cut 4 pieces", "cut 4 pieces"),
            ("3 in all", "3\u{a0}in all"),
            ("84 % of", "84\u{a0}% of"),
            ("é 5 mm, then", "é 5\u{a0}mm, then"),
        ] {
            assert_eq!(held_together(given), want);
        }
    }
}
