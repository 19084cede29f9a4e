//! Lists as CSV: part list, cutting list, price list, safe to open in a spreadsheet.

/// Why a list could not be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// A row is longer or shorter than the heading.
    #[error("row {row} of the list has {cells} cells, but the heading has {columns}")]
    RowLength {
        /// Which row, from 1.
        row: usize,
        /// How many cells it has.
        cells: usize,
        /// How many the heading has.
        columns: usize,
    },
    /// The list did not fit into memory.
    #[error("the list could not be held in memory")]
    Memory,
}

/// The list as CSV (RFC 4180: commas, quotes where needed, CR LF), in UTF-8.
///
/// A cell that a spreadsheet would run as a formula (beginning with `=`, `+`, `-` or `@`, also after
/// blanks or quotes, or with a tab or line break) gets an apostrophe in front, unless it is a plain number such as
/// `-0.5`.
///
/// # Errors
/// [`Error::RowLength`]; [`Error::Memory`] is not expected.
pub fn write<S: AsRef<str>>(heading: &[&str], rows: &[Vec<S>]) -> Result<String, Error> {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).flexible(true).from_writer(vec![]);
    writer.write_record(heading.iter().map(|cell| guarded(cell))).map_err(|_| Error::Memory)?;
    for (index, row) in rows.iter().enumerate() {
        if row.len() != heading.len() {
            return Err(Error::RowLength { row: index + 1, cells: row.len(), columns: heading.len() });
        }
        writer.write_record(row.iter().map(|cell| guarded(cell.as_ref()))).map_err(|_| Error::Memory)?;
    }
    let bytes = writer.into_inner().map_err(|_| Error::Memory)?;
    String::from_utf8(bytes).map_err(|_| Error::Memory)
}

/// The cell, made harmless for a spreadsheet.
fn guarded(cell: &str) -> String {
    let first = cell.trim_start_matches([' ', '\u{a0}', '"', '\'']).chars().next();
    let runs = matches!(first, Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠'));
    if runs && !is_number(cell) { format!("'{cell}") } else { cell.to_owned() }
}

/// Whether the cell is a plain decimal number.
fn is_number(cell: &str) -> bool {
    let digits = cell.strip_prefix(['-', '+']).unwrap_or(cell);
    !digits.is_empty()
        && digits.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && digits.bytes().any(|b| b.is_ascii_digit())
        && digits.bytes().filter(|b| *b == b'.').count() <= 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_that_would_run_are_guarded() {
        struct Case {
            given: &'static str,
            want: &'static str,
        }
        // Cells to guard: dependencies of spreadsheets on the first sign, as OWASP's page on CSV injection
        // lists it (=, +, -, @, tab, carriage return; from memory).
        let cases = [
            Case { given: "=1+1", want: "'=1+1" },
            Case { given: "+1 board", want: "'+1 board" },
            Case { given: "-1+2", want: "'-1+2" },
            Case { given: "@SUM(A1)", want: "'@SUM(A1)" },
            Case { given: " =1", want: "' =1" },
            Case { given: "\tx", want: "'\tx" },
            Case { given: "-0.5", want: "-0.5" },
            Case { given: "+3", want: "+3" },
            Case { given: "pear", want: "pear" },
            Case { given: "-", want: "'-" },
            Case { given: "", want: "" },
        ];
        for case in cases {
            assert_eq!(guarded(case.given), case.want, "{:?}", case.given);
        }
    }

    #[test]
    fn a_list_comes_back_from_the_reader() {
        let rows = vec![vec!["front, left", "3 \"1/4\"\nlong", "=A1"], vec!["bottom", "é", "-2"]];
        let text = write(&["part", "note", "x"], &rows).unwrap();
        assert!(text.starts_with("part,note,x\r\n"));
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let back: Vec<Vec<String>> =
            reader.records().map(|r| r.unwrap().iter().map(ToOwned::to_owned).collect()).collect();
        assert_eq!(back[0], ["front, left", "3 \"1/4\"\nlong", "'=A1"]);
        assert_eq!(back[1], ["bottom", "é", "-2"]);
    }

    #[test]
    fn a_short_row_is_refused() {
        let rows = vec![vec!["a", "b"], vec!["c"]];
        assert_eq!(write(&["x", "y"], &rows), Err(Error::RowLength { row: 2, cells: 1, columns: 2 }));
    }
}
