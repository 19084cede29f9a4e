//! Reading the embedded tables: rows of comma-separated cells with a commented head.
//!
//! Cells borrow from the embedded text. A cell that holds a comma stands in double quotes; a double quote
//! never stands inside a cell.

/// The rows of a table after its comment lines and its line of column names.
#[derive(Clone, Debug)]
pub(crate) struct Rows {
    columns: Vec<&'static str>,
    lines: core::str::Lines<'static>,
}

/// One row: its cells in column order.
#[derive(Clone, Debug)]
pub(crate) struct Row<'c> {
    columns: &'c [&'static str],
    cells: Vec<&'static str>,
}

impl Rows {
    /// Starts reading a table.
    pub(crate) fn of(text: &'static str) -> Self {
        let mut lines = text.lines();
        let head = lines.by_ref().find(|l| !l.starts_with('#')).unwrap_or_default();
        Self { columns: head.split(',').collect(), lines }
    }

    /// Calls `make` on every row, in file order.
    pub(crate) fn map<T>(mut self, mut make: impl FnMut(&Row<'_>) -> T) -> Vec<T> {
        let mut made = Vec::new();
        let mut row = Row { columns: &self.columns, cells: Vec::with_capacity(self.columns.len()) };
        for line in self.lines.by_ref().filter(|l| !l.is_empty() && !l.starts_with('#')) {
            row.cells.clear();
            split(line, &mut row.cells);
            made.push(make(&row));
        }
        made
    }
}

/// Splits a line into cells.
fn split(line: &'static str, cells: &mut Vec<&'static str>) {
    let mut rest = line;
    loop {
        if let Some(quoted) = rest.strip_prefix('"')
            && let Some((cell, after)) = quoted.split_once('"')
        {
            cells.push(cell);
            match after.strip_prefix(',') {
                Some(next) => rest = next,
                None => return,
            }
        } else if let Some((cell, next)) = rest.split_once(',') {
            cells.push(cell);
            rest = next;
        } else {
            cells.push(rest);
            return;
        }
    }
}

impl Row<'_> {
    /// The cell of a column; empty if there is none.
    pub(crate) fn text(&self, column: &str) -> &'static str {
        let at = self.columns.iter().position(|c| *c == column);
        at.and_then(|i| self.cells.get(i)).copied().unwrap_or_default()
    }

    /// The number in a column; `None` where the cell is blank.
    pub(crate) fn number(&self, column: &str) -> Option<f64> {
        number(self.text(column))
    }
}

/// A finite number, or `None`.
pub(crate) fn number(text: &str) -> Option<f64> {
    text.parse().ok().filter(|x: &f64| x.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quoted_cells_keep_their_commas() {
        let rows = Rows::of("# head\na,b,c\n\"x, y\",,3.5\n1,\"z\",\n");
        let got = rows.map(|r| (r.text("a"), r.text("b"), r.number("c"), r.cells.len()));
        assert_eq!(got, [("x, y", "", Some(3.5), 3), ("1", "z", None, 3)]);
    }

    /// No embedded table can fail to parse: every row has every cell.
    #[test]
    fn every_embedded_table_is_square() {
        let tables = [
            ("species", include_str!("../../data/species.csv")),
            ("elastic ratios", include_str!("../../data/elastic_ratios.csv")),
            ("aliases", include_str!("../../data/aliases.csv")),
            ("harms", include_str!("../../data/harms.csv")),
            ("sheets", include_str!("../../data/sheets.csv")),
            ("finishes", include_str!("../../data/finish_mee.csv")),
            ("sites", include_str!("../../data/climate/sites.csv")),
            ("months", include_str!("../../data/climate/monthly.csv")),
            ("moisture", include_str!("../../tests/published/emc_table.csv")),
        ];
        for (name, text) in tables {
            assert!(text.starts_with("# "), "{name} opens with a comment");
            let full = Rows::of(text).map(|r| r.cells.len() == r.columns.len());
            assert!(full.len() > 3, "{name} has rows");
            assert!(full.iter().all(|f| *f), "{name}: every row has every cell");
        }
    }
}
