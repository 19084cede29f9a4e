//! What a statement's text states, as a tree that can be asked by key without knowing woods or lengths.

use std::fmt::Write as _;
use toml_edit::{DocumentMut, Item, TableLike, Value};

/// One value of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Node {
    /// A text, without its quotes.
    Text(String),
    /// A number, true, false or a date, as written.
    Bare(String),
    /// A list.
    List(Vec<Node>),
    /// A section, in the order of the text.
    Section(Vec<(String, Node)>),
}

/// A text of TOML, read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Values(Node);

impl Values {
    /// Reads a text; `None` if it is no TOML.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let document: DocumentMut = text.parse().ok()?;
        Some(Self(section(document.as_table())))
    }

    /// The whole text as a section.
    pub(crate) fn root(&self) -> &Node {
        &self.0
    }

    /// The value at a key; a finish that is written as a word has that word as its `kind`.
    pub(crate) fn get(&self, key: &str) -> Option<&Node> {
        let mut here = &self.0;
        for word in key.split('.') {
            here = match here {
                Node::Section(entries) => &entries.iter().find(|(name, _)| name == word)?.1,
                Node::List(items) => items.get(word.parse::<usize>().ok()?.checked_sub(1)?)?,
                Node::Text(_) if word == "kind" => here,
                _ => return None,
            };
        }
        Some(here)
    }

    /// Whether a key is stated.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
    }

    /// How many items a list has; 0 if it is none.
    pub(crate) fn len(&self, key: &str) -> usize {
        match self.get(key) {
            Some(Node::List(items)) => items.len(),
            _ => 0,
        }
    }

    /// A value as a field shows it: as it was written, a text without its quotes, a list with commas between.
    pub(crate) fn shown(&self, key: &str) -> String {
        self.get(key).map(Node::shown).unwrap_or_default()
    }

    /// Every value with its key, in the order of the text; items of a list of sections by their numbers.
    pub(crate) fn leaves(&self) -> Vec<(String, &Node)> {
        let mut out = Vec::new();
        leaves(&self.0, String::new(), &mut out);
        out
    }
}

impl Node {
    /// As a field shows it.
    pub(crate) fn shown(&self) -> String {
        match self {
            Self::Text(text) | Self::Bare(text) => text.clone(),
            Self::List(items) => items.iter().map(Self::shown).collect::<Vec<_>>().join(", "),
            Self::Section(_) => String::new(),
        }
    }

    /// As TOML on one line.
    pub(crate) fn inline(&self) -> String {
        match self {
            Self::Text(text) => quoted(text),
            Self::Bare(bare) => bare.clone(),
            Self::List(items) => {
                format!("[{}]", items.iter().map(Self::inline).collect::<Vec<_>>().join(", "))
            }
            Self::Section(entries) if entries.is_empty() => "{}".to_owned(),
            Self::Section(entries) => {
                let entries: Vec<String> = entries
                    .iter()
                    .map(|(name, node)| format!("{} = {}", key_word(name), node.inline()))
                    .collect();
                format!("{{ {} }}", entries.join(", "))
            }
        }
    }
}

fn key_word(name: &str) -> String {
    let bare = !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_' || b == b'-');
    if bare { name.to_owned() } else { quoted(name) }
}

/// A text as a basic string of TOML 1.0 on one line.
pub(crate) fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            '\r' => out.push_str("\\r"),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

fn section(table: &dyn TableLike) -> Node {
    Node::Section(table.iter().filter_map(|(name, item)| Some((name.to_owned(), node(item)?))).collect())
}

fn node(item: &Item) -> Option<Node> {
    Some(match item {
        Item::None => return None,
        Item::Value(value) => value_node(value),
        Item::Table(table) => section(table),
        Item::ArrayOfTables(list) => Node::List(list.iter().map(|t| section(t)).collect()),
    })
}

fn value_node(value: &Value) -> Node {
    match value {
        Value::String(text) => Node::Text(text.value().clone()),
        Value::Array(list) => Node::List(list.iter().map(value_node).collect()),
        Value::InlineTable(table) => section(table),
        other => Node::Bare(other.clone().decorated("", "").to_string()),
    }
}

fn leaves<'n>(node: &'n Node, path: String, out: &mut Vec<(String, &'n Node)>) {
    let under = |word: &str| if path.is_empty() { word.to_owned() } else { format!("{path}.{word}") };
    match node {
        Node::Section(entries) => {
            for (name, inner) in entries {
                leaves(inner, under(name), out);
            }
        }
        Node::List(items) if items.iter().any(|i| matches!(i, Node::Section(_))) => {
            for (i, inner) in items.iter().enumerate() {
                leaves(inner, under(&(i + 1).to_string()), out);
            }
        }
        _ => out.push((path, node)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_can_be_asked_by_key() {
        let text = "name = 'a\"b'\nfinish.outside = 'oil'\n[walls]\nthickness = 12.50 # thick\n[[corners.row]]\nheights = [1, '1 1/8 in']\n[[corners.row]]\n";
        let values = Values::of(text).unwrap();
        for (key, want) in [
            ("name", "a\"b"),
            ("walls.thickness", "12.50"),
            ("corners.row.1.heights", "1, 1 1/8 in"),
            ("finish.outside.kind", "oil"),
            ("finish.outside.coats", ""),
            ("walls.wood", ""),
            ("corners.row.3.heights", ""),
        ] {
            assert_eq!(values.shown(key), want, "{key}");
        }
        assert_eq!(values.len("corners.row"), 2);
        assert!(values.has("corners.row.2") && !values.has("corners.row.0"));
        let inline = values.get("corners").unwrap().inline();
        assert_eq!(inline, "{ row = [{ heights = [1, \"1 1/8 in\"] }, {}] }");
        assert!(Values::of("= =").is_none());
    }

    /// TOML 1.0, "String": what a basic string may not hold is escaped, and comes back the same.
    #[test]
    fn a_quoted_text_comes_back() {
        for text in ["", "a\"\\b", "a\nb\tc\r", "\u{7f}\u{0}\u{85}", "ü'"] {
            let toml = format!("k = {}", quoted(text));
            assert_eq!(Values::of(&toml).unwrap().shown("k"), text, "{toml}");
            assert_eq!(quoted(text).lines().count(), 1);
        }
    }
}
