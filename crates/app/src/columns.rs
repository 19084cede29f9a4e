//! Small tables for the terminal: columns aligned with blanks, nothing else, at most 100 columns wide.

/// The widest line that is printed.
pub(crate) const WIDTH: usize = 100;

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A table under way.
#[derive(Debug)]
pub(crate) struct Table {
    head: Vec<&'static str>,
    sides: Vec<Side>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// A table with these columns.
    pub(crate) fn new(columns: &[(&'static str, Side)]) -> Self {
        Self {
            head: columns.iter().map(|c| c.0).collect(),
            sides: columns.iter().map(|c| c.1).collect(),
            rows: Vec::new(),
        }
    }

    /// One more row; cells beyond the columns are left out.
    pub(crate) fn row<I: IntoIterator<Item = String>>(&mut self, cells: I) {
        self.rows.push(cells.into_iter().take(self.head.len()).collect());
    }

    /// The table as lines, indented by two; the last column, if it holds words, is folded at the width.
    pub(crate) fn text(&self) -> String {
        let widths: Vec<usize> = (0..self.head.len())
            .map(|i| {
                let cells = self.rows.iter().filter_map(|r| r.get(i)).map(|c| c.chars().count());
                cells.chain(self.head.get(i).map(|h| h.chars().count())).max().unwrap_or(0)
            })
            .collect();
        let mut out = String::new();
        if self.head.iter().any(|h| !h.is_empty()) {
            let head: Vec<String> = self.head.iter().map(|&h| h.to_owned()).collect();
            self.line(&mut out, &head, &widths);
        }
        for row in &self.rows {
            self.line(&mut out, row, &widths);
        }
        out
    }

    fn line(&self, out: &mut String, cells: &[String], widths: &[usize]) {
        let mut line = String::from("  ");
        let last = widths.len().saturating_sub(1);
        for (i, width) in widths.iter().enumerate() {
            let cell = cells.get(i).map_or("", String::as_str);
            let blanks = width.saturating_sub(cell.chars().count());
            let before = line.chars().count();
            match self.sides.get(i) {
                Some(Side::Right) => {
                    line.extend(std::iter::repeat_n(' ', blanks));
                    line.push_str(cell);
                }
                _ if i == last && before + cell.chars().count() > WIDTH => {
                    let room = WIDTH.saturating_sub(before).max(20);
                    for (n, part) in fold(cell, room).iter().enumerate() {
                        if n > 0 {
                            line.push('\n');
                            line.extend(std::iter::repeat_n(' ', before));
                        }
                        line.push_str(part);
                    }
                }
                _ => {
                    line.push_str(cell);
                    line.extend(std::iter::repeat_n(' ', blanks));
                }
            }
            line.push_str("  ");
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
}

/// A text folded between words, so that no line is wider than `width` unless one word is.
pub(crate) fn fold(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        let mut line = String::new();
        let mut wide = 0;
        for word in paragraph.split(' ').filter(|w| !w.is_empty()) {
            let letters = word.chars().count();
            if wide > 0 && wide + 1 + letters > width {
                lines.push(std::mem::take(&mut line));
                wide = 0;
            }
            if wide > 0 {
                line.push(' ');
                wide += 1;
            }
            line.push_str(word);
            wide += letters;
        }
        lines.push(line);
    }
    lines
}

/// A sentence folded at the width, each line indented.
pub(crate) fn paragraph(text: &str, indent: usize) -> String {
    let mut out = String::new();
    for line in fold(text, WIDTH.saturating_sub(indent)) {
        out.extend(std::iter::repeat_n(' ', indent));
        out.push_str(&line);
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_right_and_words_left() {
        let mut table = Table::new(&[("part", Side::Left), ("mm", Side::Right)]);
        table.row(["front".to_owned(), "9.5".to_owned()]);
        table.row(["é".to_owned(), "190.0".to_owned()]);
        assert_eq!(table.text(), "  part      mm\n  front    9.5\n  é      190.0\n");
    }

    #[test]
    fn long_words_of_the_last_column_fold_below_it() {
        let mut table = Table::new(&[("", Side::Left), ("", Side::Left)]);
        table.row(["a".to_owned(), "word ".repeat(30)]);
        let text = table.text();
        assert!(text.lines().count() == 2, "{text}");
        assert!(text.lines().all(|l| l.chars().count() <= WIDTH), "{text}");
        assert!(text.lines().nth(1).is_some_and(|l| l.starts_with("     word")), "{text}");
    }

    #[test]
    fn folds_between_words_only() {
        assert_eq!(fold("one two three", 7), ["one two", "three"]);
        assert_eq!(fold("abcdefghij k", 4), ["abcdefghij", "k"]);
        assert_eq!(fold("", 4), [""]);
    }
}
