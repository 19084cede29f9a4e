//! What a form of a box sends.

use crate::forms::apply::{RowStep, Typed};

/// Where a form stands, and so where its answer leads back to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum From {
    /// On the page of the box.
    Box,
    /// On the page of one chapter's fields.
    Edit,
    /// On the page of the whole text.
    Text,
}

/// A change as it was sent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Sent {
    /// The version that the form was made from.
    pub(crate) base: i64,
    /// The draft that it showed.
    pub(crate) draft: Option<u64>,
    /// The chapter that it belongs to.
    pub(crate) chapter: String,
    /// Fields as typed.
    pub(crate) typed: Vec<Typed>,
    /// Edits of the text: `key = value` in TOML, one to a line.
    pub(crate) sets: Vec<String>,
    /// What to call these edits.
    pub(crate) says: String,
    /// The whole text.
    pub(crate) text: Option<String>,
    /// What is done to a row of a list.
    pub(crate) row: Option<RowStep>,
    /// Where the form stands.
    pub(crate) from: From,
}

/// The longest name that a form may give to its change, in characters.
const MOST_SAYS: usize = 200;

impl Sent {
    /// Reads the fields of a form.
    pub(crate) fn of(fields: Vec<(String, String)>) -> Self {
        let mut sent = Self {
            base: 0,
            draft: None,
            chapter: String::new(),
            typed: Vec::new(),
            sets: Vec::new(),
            says: String::new(),
            text: None,
            row: None,
            from: From::Box,
        };
        for (name, value) in fields {
            match name.as_str() {
                "base" => sent.base = value.trim().parse().unwrap_or_default(),
                "draft" => sent.draft = value.trim().parse().ok(),
                "chapter" | "at" => sent.chapter = value,
                // Browsers send lines of a text as they are sent over the wire.
                "text" => sent.text = Some(value.replace("\r\n", "\n")),
                "row" => sent.row = RowStep::of(&value),
                "says" => {
                    sent.says = value
                        .split_whitespace()
                        .collect::<Vec<_>>()
                        .join(" ")
                        .chars()
                        .take(MOST_SAYS)
                        .collect();
                }
                "set" => sent.sets.extend(value.lines().filter(|l| !l.trim().is_empty()).map(str::to_owned)),
                "from" => {
                    sent.from = match value.as_str() {
                        "edit" => From::Edit,
                        "text" => From::Text,
                        _ => From::Box,
                    };
                }
                _ => {
                    if let Some(key) = name.strip_prefix("f:") {
                        sent.typed.push((key.to_owned(), value));
                    }
                }
            }
        }
        sent
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_form_is_read() {
        let field = |n: &str, v: &str| (n.to_owned(), v.to_owned());
        let sent = Sent::of(vec![
            field("base", "7"),
            field("forgery", "x"),
            field("f:walls.thickness", " 3/8 in "),
            field("set", "lid.panel.hold = \"groove\"\n\nlid.member = 30"),
            field("set", "a = 1"),
            field("row", "add corners.row"),
            field("text", "a = 1\r\nb = 2\r\n"),
            field("says", "  Float the\npanel "),
            field("draft", "none"),
        ]);
        assert_eq!(sent.base, 7);
        assert_eq!(sent.typed, [("walls.thickness".to_owned(), " 3/8 in ".to_owned())]);
        assert_eq!(sent.sets, ["lid.panel.hold = \"groove\"", "lid.member = 30", "a = 1"]);
        assert_eq!(sent.row, Some(RowStep::Add("corners.row".to_owned())));
        assert_eq!(sent.text.as_deref(), Some("a = 1\nb = 2\n"));
        assert_eq!(sent.says, "Float the panel");
        assert_eq!(sent.draft, None);
        assert_eq!(RowStep::of("remove corners.row.0"), None);
        assert_eq!(RowStep::of("remove walls.1"), None);
    }
}
