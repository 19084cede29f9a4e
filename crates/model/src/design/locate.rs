//! Where in a maker's file a key stands: for what is found wrong only after reading.

use core::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The place of a key path (dots between, such as `lid.panel.thickness`) in a file: its value, else the header or
/// value of the nearest section above it that is there, else the first line.
///
/// Always inside the text; a text that is no TOML at all has its first line for every key.
pub fn locate(text: &str, key: &str) -> Range<usize> {
    let first_line = 0..text.find('\n').unwrap_or(text.len());
    let (table, _) = DeTable::parse_recoverable(text);
    let mut here: &DeTable<'_> = table.get_ref();
    let mut found = None;
    for name in key.split('.').filter(|n| !n.is_empty()) {
        let (name, number) = numbered(name);
        let Some((written, value)) = here.iter().find(|(k, _)| -> bool { k.get_ref() == name }) else {
            break;
        };
        let value = item(value, number);
        // A section's own span may be empty or its whole block; its name is where the maker looks.
        found = Some(
            if matches!(value.get_ref(), DeValue::Table(_)) && !text[at(text, &value.span())].starts_with('{')
            {
                written.span()
            } else {
                value.span()
            },
        );
        match value.get_ref() {
            DeValue::Table(table) => here = table,
            _ => break,
        }
    }
    found.map_or(first_line, |span| at(text, &span))
}

/// `board[2]` as its name and place, from 0.
fn numbered(name: &str) -> (&str, Option<usize>) {
    match name.split_once('[') {
        Some((name, number)) => (name, number.trim_end_matches(']').parse().ok()),
        None => (name, None),
    }
}

/// The value, or the wanted item of a list.
fn item<'v, 'p>(value: &'v Spanned<DeValue<'p>>, number: Option<usize>) -> &'v Spanned<DeValue<'p>> {
    match (value.get_ref(), number) {
        (DeValue::Array(items), n) => items.get(n.unwrap_or(0)).unwrap_or(value),
        _ => value,
    }
}

/// A span that lies inside the text and between characters.
fn at(text: &str, span: &Range<usize>) -> Range<usize> {
    let start = super::problem::floor_boundary(text, span.start);
    let end = super::problem::floor_boundary(text, span.end).max(start);
    start..end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_key_or_what_is_nearest_to_it() {
        let text = "keepwright = 1\n[walls]\nthickness = \"9 mm\"\n\n[lid]\nkind = \"slab\"\npanel = { depth = 3 }\n\n[[board]]\nwood = \"ash\"\n[[board]]\nwood = \"elm\"\n";
        for (key, want) in [
            ("walls.thickness", "\"9 mm\""),
            ("walls.wood", "walls"),
            ("lid.panel.depth", "3"),
            ("lid.panel.thickness", "{ depth = 3 }"),
            ("lid.keys.depth", "lid"),
            ("corners", "keepwright = 1"),
            ("board[1].wood", "\"elm\""),
            ("board.wood", "\"ash\""),
            ("", "keepwright = 1"),
        ] {
            assert_eq!(&text[locate(text, key)], want, "{key}");
        }
    }

    #[test]
    fn any_text_has_a_place_for_any_key() {
        for text in ["", "é", "= = =", "[walls", "walls = 'é", "a = [1, {b = 2}]"] {
            for key in ["walls.thickness", "a.b", "..", "a[7].b", "a[x", "é"] {
                let span = locate(text, key);
                assert!(text.get(span).is_some(), "{text} {key}");
            }
        }
    }
}
