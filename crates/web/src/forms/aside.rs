//! What is set aside: keys that do not apply any more are kept in the text as comments at its end, and come back when
//! they apply again.
//!
//! ```text
//! # Set aside while it does not apply:
//! #: lid.member = "1 1/4 in"
//! ```

use crate::edit::EditError;
use std::fmt::Write as _;
use toml_edit::DocumentMut;

/// The line above what is set aside.
const HEAD: &str = "# Set aside while it does not apply:";
/// What begins a line that holds a key.
const MARK: &str = "#: ";

/// The keys set aside in a text, with their values as TOML.
pub(crate) fn kept(text: &str) -> Vec<(String, String)> {
    let Ok(document) = text.parse::<DocumentMut>() else { return Vec::new() };
    document.trailing().as_str().unwrap_or_default().lines().filter_map(line).collect()
}

fn line(line: &str) -> Option<(String, String)> {
    let (key, value) = line.trim_end().strip_prefix(MARK)?.split_once(" = ")?;
    Some((key.to_owned(), value.to_owned()))
}

/// The text with other keys set aside than before.
///
/// # Errors
/// [`EditError::Text`] if it is no TOML.
pub(crate) fn with(text: &str, kept: &[(String, String)]) -> Result<String, EditError> {
    let mut whole = text.to_owned();
    if !whole.is_empty() && !whole.ends_with('\n') {
        whole.push('\n');
    }
    let mut document: DocumentMut =
        whole.parse().map_err(|e: toml_edit::TomlError| EditError::Text(e.to_string()))?;
    let before = document.trailing().as_str().unwrap_or_default();
    let mut trailing: String =
        before.split_inclusive('\n').filter(|l| line(l).is_none() && l.trim_end() != HEAD).collect();
    if kept.is_empty() {
        // The blank line that stood above the head goes with it.
        if before.contains(HEAD) && trailing.ends_with('\n') {
            trailing.truncate(trailing.len() - 1);
        }
    } else {
        if !trailing.ends_with('\n') || !before.contains(HEAD) {
            trailing.push('\n');
        }
        trailing.push_str(HEAD);
        trailing.push('\n');
        for (key, value) in kept {
            let _ = writeln!(trailing, "{MARK}{key} = {value}");
        }
    }
    document.set_trailing(trailing);
    Ok(document.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_set_aside_comes_back_and_leaves_nothing() {
        for text in ["a = 1\n", "a = 1\n# the end\n", "a = 1", "[b]\nc = 2\n\n", ""] {
            let aside = vec![
                ("lid.member".to_owned(), "\"1 1/4 in\"".to_owned()),
                ("pull".to_owned(), "{ wood = \"ash\" }".to_owned()),
            ];
            let with_two = with(text, &aside).unwrap();
            assert_eq!(kept(&with_two), aside, "{with_two}");
            assert!(with_two.starts_with(text));
            let with_one = with(&with_two, &aside[..1]).unwrap();
            assert_eq!(kept(&with_one), &aside[..1], "{with_one}");
            assert_eq!(with_one.matches(HEAD).count(), 1);
            let again = with(&with_one, &[]).unwrap();
            assert_eq!(again.trim_end(), text.trim_end());
        }
    }
}
