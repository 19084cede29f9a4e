//! Every table of constants says where its numbers come from.

use super::Finding;
use crate::tree::Tree;

/// Where the tables stand.
const FOLDER: &str = "crates/model/data/";

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (name, text) in tree.ending("csv").filter(|(name, _)| name.starts_with(FOLDER)) {
        columns(name, text, &mut found);
    }
    for (name, text) in tree.ending("toml").filter(|(name, _)| name.starts_with(FOLDER)) {
        // `sources.toml` names works; every other table names its sources, by row or once for all in its head.
        let named =
            |key: &str| text.lines().any(|line| line.split('=').next().is_some_and(|k| k.trim() == key));
        if !["source", "prov", "work"].into_iter().any(named) && !head_names_source(text) {
            found.push(Finding::new(name, 0, NO_SOURCE));
        }
    }
    found
}

/// What is said of a table without any.
const NO_SOURCE: &str =
    "no source: give each row a `source`, or say in the head `Source: ...` or `common practice`";

/// Whether the comment at the top says where all numbers come from.
fn head_names_source(text: &str) -> bool {
    let mut head = text.lines().take_while(|line| line.starts_with('#')).map(str::to_lowercase);
    head.any(|line| {
        ["source:", "sources:", "sources and terms:", "common practice", "from memory"]
            .iter()
            .any(|w| line.contains(w))
    })
}

/// A column that names a row's source, or says why the row stands as it does.
fn sourced(column: &str) -> bool {
    matches!(column, "source" | "why") || column == "prov" || column.starts_with("prov_")
}

fn columns(name: &str, text: &str, found: &mut Vec<Finding>) {
    let comment = |line: &str| line.starts_with('#');
    let mut rows = text.lines().enumerate().skip_while(|(_, line)| comment(line));
    if !text.lines().next().is_some_and(comment) {
        found.push(Finding::new(
            name,
            1,
            "a table opens with its columns, units and rules for adding (`# ` lines)",
        ));
    }
    let Some((_, header)) = rows.next() else {
        found.push(Finding::new(name, 0, "the table is empty"));
        return;
    };
    let places = |wanted: fn(&str) -> bool| -> Vec<usize> {
        header.split(',').enumerate().filter(|(_, column)| wanted(column.trim())).map(|(i, _)| i).collect()
    };
    let of_source = places(sourced);
    // A row of nothing but blanks says in its notes why it stands there.
    let said = places(|column| sourced(column) || column == "notes");
    if of_source.is_empty() {
        if !head_names_source(text) {
            found.push(Finding::new(name, 0, NO_SOURCE));
        }
        return;
    }
    for (index, row) in rows.filter(|(_, row)| !row.trim().is_empty() && !comment(row)) {
        let cells = cells(row);
        if said.iter().all(|&i| cells.get(i).is_none_or(|cell| cell.trim().is_empty())) {
            found.push(Finding::new(name, index + 1, "this row names no source (\"from memory\" is one)"));
        }
    }
}

/// The cells of a row; a comma inside double quotes does not divide.
fn cells(row: &str) -> Vec<String> {
    let (mut all, mut quoted) = (vec![String::new()], false);
    for sign in row.chars() {
        match sign {
            '"' => quoted = !quoted,
            ',' if !quoted => all.push(String::new()),
            _ => {
                if let Some(last) = all.last_mut() {
                    last.push(sign);
                }
            }
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::cells;
    use crate::tidy::told;

    struct Case {
        name: &'static str,
        given: &'static str,
        want: usize,
    }

    #[test]
    fn a_number_without_a_source_is_found() {
        let cases = [
            Case { name: "a column", given: "# Head.\nid,x_mm,prov\na,1,S1\nb,2,from memory\n", want: 0 },
            Case { name: "a blank cell", given: "# Head.\nid,x_mm,prov\na,1,\n", want: 1 },
            Case { name: "two columns, one filled", given: "# Head.\nid,prov_a,prov_b\na,,S1\n", want: 0 },
            Case { name: "notes", given: "# Head.\nid,prov,notes\na,,nothing published\n", want: 0 },
            Case { name: "notes are no source", given: "# Head.\nid,x_mm,notes\na,1,well\n", want: 1 },
            Case { name: "no column", given: "# Head.\nid,x_mm\na,1\n", want: 1 },
            Case { name: "the head says it", given: "# Source: a book.\nid,x_mm\na,1\n", want: 0 },
            Case { name: "no head", given: "id,x_mm,source\na,1,S1\n", want: 1 },
            Case { name: "a quoted comma", given: "# Head.\nid,says,prov\na,\"one, two\",\n", want: 1 },
            Case { name: "nothing", given: "# Head.\n", want: 1 },
        ];
        for Case { name, given, want } in cases {
            let found = told(super::findings, &[("crates/model/data/t.csv", given)]);
            assert_eq!(found.len(), want, "{name}: {found:?}");
        }
        assert!(told(super::findings, &[("elsewhere/t.csv", "x\n1\n")]).is_empty());
    }

    #[test]
    fn a_toml_table_names_its_sources() {
        for (given, want) in [
            ("[[row]]\nx = 1\nsource = \"S1\"\n", 0),
            ("[S1]\nwork = \"A book\"\n", 0),
            ("x = 1\n", 1),
            ("# Common practice.\nx = 1\n", 0),
            ("# Every row has a source.\nx = 1\n", 1),
        ] {
            assert_eq!(told(super::findings, &[("crates/model/data/t.toml", given)]).len(), want, "{given}");
        }
    }

    #[test]
    fn a_row_is_divided_at_bare_commas() {
        assert_eq!(cells("a,\"b, c\",,d"), ["a", "b, c", "", "d"]);
    }
}
