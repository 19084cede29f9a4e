//! Setting a key in a maker's TOML text: comments, order and all other lines stay as they were written.

use thiserror::Error;
use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, TableLike, Value};

/// The most items that a list may grow to by naming the one after its last.
const MOST_ITEMS: usize = 1000;

/// Why a text could not be changed.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum EditError {
    /// The text itself is no TOML.
    #[error("the text is no TOML: {0}")]
    Text(String),
    /// The new value is no TOML value.
    #[error("`{value}` cannot be written as the value of `{key}`: {why}")]
    Value {
        /// The key.
        key: String,
        /// The value as given.
        value: String,
        /// Why.
        why: String,
    },
    /// The key leads through something that is no section.
    #[error("`{key}` leads through `{through}`, which is a value and no section")]
    NoSection {
        /// The key.
        key: String,
        /// What stands in the way.
        through: String,
    },
    /// A place in a list that is not there.
    #[error("`{key}`: the list has {has} items, so there is no item {number}")]
    NoItem {
        /// The key.
        key: String,
        /// The place asked for, from 1.
        number: usize,
        /// How many there are.
        has: usize,
    },
}

/// Sets `key` to a TOML value, or takes it away for `None`.
///
/// A key is a path with dots between; `item[2]` or `item.2` is the second item of a list, and the number after the
/// last adds one. Sections on the way are made. An empty section that is left behind by taking a key away stays: its
/// being there may mean something.
///
/// # Errors
/// [`EditError`]; the text is then unchanged.
pub fn set(text: &str, key: &str, value: Option<&str>) -> Result<String, EditError> {
    let mut document: DocumentMut =
        text.parse().map_err(|e: toml_edit::TomlError| EditError::Text(e.to_string()))?;
    let value = value.map(|v| parsed(key, v)).transpose()?;
    let path = steps(key);
    put(document.as_table_mut(), &path, value, key)?;
    Ok(document.to_string())
}

/// As [`set`] with an inline table for a value, written as a section of its own where the sections around it are.
///
/// # Errors
/// As [`set`].
pub fn set_section(text: &str, key: &str, value: &str) -> Result<String, EditError> {
    let text = set(text, key, Some(value))?;
    let mut document: DocumentMut =
        text.parse().map_err(|e: toml_edit::TomlError| EditError::Text(e.to_string()))?;
    let mut here = document.as_table_mut();
    let path = steps(key);
    let Some((Step::Name(last), sections)) = path.split_last() else { return Ok(text) };
    // A section of the file itself comes last, one of a section after that.
    let mut end = None;
    if sections.is_empty() {
        positions(here, &mut |p| end = end.max(*p));
        end = end.map(|p| p.saturating_add(1));
    }
    for step in sections {
        let Step::Name(name) = step else { return Ok(text) };
        match here.get_mut(name) {
            Some(Item::Table(inner)) if !inner.is_dotted() => here = inner,
            _ => return Ok(text),
        }
    }
    match here.get_mut(last) {
        Some(item @ Item::Value(Value::InlineTable(_))) => {
            if let Item::Value(Value::InlineTable(inline)) = std::mem::take(item) {
                let mut table = inline.into_table();
                table.set_position(end);
                *item = Item::Table(table);
            }
            // The blank before an equals sign has no place before a bracket.
            if let Some(mut name) = here.key_mut(last) {
                name.leaf_decor_mut().clear();
            }
            Ok(document.to_string())
        }
        _ => Ok(text),
    }
}

/// Several keys, one after another; all or none.
///
/// # Errors
/// As [`set`].
pub fn set_all<'a>(
    text: &str,
    sets: impl IntoIterator<Item = (&'a str, Option<&'a str>)>,
) -> Result<String, EditError> {
    sets.into_iter().try_fold(text.to_owned(), |text, (key, value)| set(&text, key, value))
}

/// Lets two items of a list change places; the numbers count from 1.
///
/// # Errors
/// [`EditError`]; the text is then unchanged.
pub fn swap(text: &str, key: &str, one: usize, other: usize) -> Result<String, EditError> {
    let mut document: DocumentMut =
        text.parse().map_err(|e: toml_edit::TomlError| EditError::Text(e.to_string()))?;
    let swapped = find(document.as_table_mut(), &steps(key), &mut |list| swap_items(list, one, other));
    swapped.ok_or_else(|| EditError::NoItem { key: key.to_owned(), number: one.max(other), has: 0 })?;
    Ok(document.to_string())
}

/// Does something with the item at a path, if it is there.
fn find(
    here: &mut dyn TableLike,
    path: &[Step<'_>],
    todo: &mut dyn FnMut(&mut Item) -> Option<()>,
) -> Option<()> {
    match path {
        [Step::Name(name)] => todo(here.get_mut(name)?),
        [Step::Name(name), Step::Number(number), rest @ ..] => {
            let at = number.checked_sub(1)?;
            match here.get_mut(name)? {
                Item::ArrayOfTables(list) => find(list.get_mut(at)?, rest, todo),
                Item::Value(Value::Array(list)) => find(list.get_mut(at)?.as_inline_table_mut()?, rest, todo),
                _ => None,
            }
        }
        [Step::Name(name), rest @ ..] => find(here.get_mut(name)?.as_table_like_mut()?, rest, todo),
        _ => None,
    }
}

fn swap_items(list: &mut Item, one: usize, other: usize) -> Option<()> {
    let (one, other) = (one.checked_sub(1)?, other.checked_sub(1)?);
    match list {
        Item::ArrayOfTables(list) => {
            let (a, b) = (list.get(one)?.clone(), list.get(other)?.clone());
            // Sections are written in the order of their positions: the two take over each other's.
            let mut places = Vec::new();
            list.iter_mut().for_each(|t| positions(t, &mut |p| places.extend(*p)));
            places.sort_unstable();
            list.replace(one, b);
            list.replace(other, a);
            let mut places = places.into_iter();
            list.iter_mut().for_each(|t| {
                positions(t, &mut |p| {
                    if p.is_some() {
                        *p = places.next();
                    }
                });
            });
        }
        Item::Value(Value::Array(list)) => {
            let (mut a, mut b) = (list.get(one)?.clone(), list.get(other)?.clone());
            std::mem::swap(a.decor_mut(), b.decor_mut());
            list.replace_formatted(one, b);
            list.replace_formatted(other, a);
        }
        _ => return None,
    }
    Some(())
}

/// Shows the position of a section and of all below it, in their order, to be changed.
fn positions(table: &mut Table, todo: &mut dyn FnMut(&mut Option<isize>)) {
    let mut position = table.position();
    todo(&mut position);
    table.set_position(position);
    for (_, item) in table.iter_mut() {
        match item {
            Item::Table(inner) => positions(inner, todo),
            Item::ArrayOfTables(list) => list.iter_mut().for_each(|t| positions(t, todo)),
            _ => {}
        }
    }
}

/// The value of a key as it is written there, a text without its quotes; `None` if it does not stand there.
pub fn get(text: &str, key: &str) -> Option<String> {
    let document: DocumentMut = text.parse().ok()?;
    let mut here: &Item = document.as_item();
    for step in steps(key) {
        here = match step {
            Step::Name(name) => here.get(name)?,
            Step::Number(n) => here.get(n.checked_sub(1)?)?,
        };
    }
    match here.as_value()? {
        Value::String(text) => Some(text.value().clone()),
        other => Some(other.clone().decorated("", "").to_string()),
    }
}

/// A typed text as a TOML value: a plain number stays a number, anything else is quoted.
///
/// # Example
/// ```
/// assert_eq!(keepwright_web::edit::typed("12.5"), "12.5");
/// assert_eq!(keepwright_web::edit::typed("7 1/2\""), "'7 1/2\"'");
/// ```
pub fn typed(text: &str) -> String {
    let plain = text.trim();
    let number = plain.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && plain.starts_with(|c: char| c.is_ascii_digit())
        && plain.ends_with(|c: char| c.is_ascii_digit())
        && !(plain.len() > 1 && plain.starts_with('0') && !plain.starts_with("0."));
    if number && plain.parse::<f64>().is_ok_and(f64::is_finite) {
        return plain.to_owned();
    }
    Value::from(plain).to_string()
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Step<'a> {
    Name(&'a str),
    /// From 1.
    Number(usize),
}

fn steps(key: &str) -> Vec<Step<'_>> {
    let mut out = Vec::new();
    for word in key.split('.').filter(|w| !w.is_empty()) {
        if let Ok(number) = word.parse() {
            out.push(Step::Number(number));
            continue;
        }
        match word.split_once('[') {
            Some((name, rest)) => {
                out.push(Step::Name(name));
                // Problems count the items of a list from 1 as `board[1]`.
                out.push(Step::Number(rest.trim_end_matches(']').parse().unwrap_or(1)));
            }
            None => out.push(Step::Name(word)),
        }
    }
    out
}

fn parsed(key: &str, value: &str) -> Result<Value, EditError> {
    value.parse::<Value>().map_err(|e| EditError::Value {
        key: key.to_owned(),
        value: value.to_owned(),
        why: e.to_string().lines().last().unwrap_or_default().to_owned(),
    })
}

fn put(
    here: &mut dyn TableLike,
    path: &[Step<'_>],
    value: Option<Value>,
    key: &str,
) -> Result<(), EditError> {
    let no_section =
        |through: &str| EditError::NoSection { key: key.to_owned(), through: through.to_owned() };
    match path {
        [] | [Step::Number(_), ..] => Err(no_section("a number where a name must stand")),
        [Step::Name(name)] => {
            match value {
                Some(value) => write(here, name, value),
                None => {
                    here.remove(name);
                }
            }
            Ok(())
        }
        [Step::Name(name), Step::Number(number), rest @ ..] => {
            let gone = value.is_none() && rest.is_empty();
            if here.get(name).is_none() {
                if value.is_none() {
                    return Ok(());
                }
                // A list of sections is written as sections, a list of anything else in brackets.
                let of_sections = !rest.is_empty() || matches!(value, Some(Value::InlineTable(_)));
                let list = if of_sections {
                    Item::ArrayOfTables(ArrayOfTables::new())
                } else {
                    Item::Value(Value::Array(Array::new()))
                };
                here.insert(name, list);
            }
            let Some(item) = here.get_mut(name) else { return Err(no_section(name)) };
            in_list(item, *number, rest, value, key)?;
            // A list that has lost its last item says nothing any more.
            if gone && item.as_array().is_some_and(Array::is_empty)
                || item.as_array_of_tables().is_some_and(ArrayOfTables::is_empty)
            {
                here.remove(name);
            }
            Ok(())
        }
        [Step::Name(name), rest @ ..] => {
            if here.get(name).is_none() {
                if value.is_none() {
                    return Ok(());
                }
                here.insert(name, Item::Table(Table::new()));
            }
            let inner =
                here.get_mut(name).and_then(Item::as_table_like_mut).ok_or_else(|| no_section(name))?;
            put(inner, rest, value, key)
        }
    }
}

/// A value in the place of the old one, with the old one's comment behind it.
fn write(here: &mut dyn TableLike, name: &str, mut value: Value) {
    match here.get_mut(name).and_then(Item::as_value_mut) {
        Some(old) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        None => {
            here.insert(name, Item::Value(value));
        }
    }
}

fn in_list(
    item: &mut Item,
    number: usize,
    rest: &[Step<'_>],
    value: Option<Value>,
    key: &str,
) -> Result<(), EditError> {
    let has = match &*item {
        Item::ArrayOfTables(list) => list.len(),
        Item::Value(Value::Array(list)) => list.len(),
        _ => {
            return Err(EditError::NoSection {
                key: key.to_owned(),
                through: "a value that is no list".to_owned(),
            });
        }
    };
    let adds = value.is_some() && number == has + 1 && has < MOST_ITEMS;
    let no_item = EditError::NoItem { key: key.to_owned(), number, has };
    let Some(at) = number.checked_sub(1).filter(|at| *at < has || adds) else {
        return if value.is_none() { Ok(()) } else { Err(no_item) };
    };
    match item {
        Item::ArrayOfTables(list) => {
            if rest.is_empty() {
                return match value {
                    None => {
                        list.remove(at);
                        Ok(())
                    }
                    Some(Value::InlineTable(table)) => {
                        if adds {
                            list.push(table.into_table());
                        } else if let Some(old) = list.get_mut(at) {
                            *old = table.into_table();
                        }
                        Ok(())
                    }
                    Some(_) => Err(no_item),
                };
            }
            if adds {
                list.push(Table::new());
            }
            list.get_mut(at).map_or(Err(no_item), |table| put(table, rest, value, key))
        }
        Item::Value(Value::Array(list)) => match (rest.is_empty(), value) {
            (true, None) => {
                list.remove(at);
                Ok(())
            }
            (true, Some(mut value)) => {
                if adds {
                    // In a list of one item to a line the new one gets its line too.
                    let before = list.iter().last().and_then(|v| v.decor().prefix()).and_then(|p| p.as_str());
                    let space =
                        if list.is_empty() { "" } else { before.filter(|p| p.contains('\n')).unwrap_or(" ") };
                    *value.decor_mut() = toml_edit::Decor::new(space, "");
                    list.push_formatted(value);
                } else {
                    list.replace(at, value);
                }
                Ok(())
            }
            (false, value) => {
                if adds {
                    list.push(Value::InlineTable(toml_edit::InlineTable::new()));
                }
                match list.get_mut(at).and_then(Value::as_inline_table_mut) {
                    Some(table) => put(table, rest, value, key),
                    None => Err(no_item),
                }
            }
        },
        _ => Err(no_item),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# mine\nkeepwright = 1\n[walls]\nwood = \"cherry\" # from the barn\nthickness = 12\n\n[[size.contents.item]]\nname = \"cards\"\nheight = 9\n";

    #[test]
    fn a_set_key_changes_its_line_alone() {
        for (key, value, want) in [
            ("walls.wood", Some("\"ash\""), TEXT.replace("\"cherry\"", "\"ash\"")),
            ("walls.thickness", Some("'3/8\"'"), TEXT.replace("= 12", "= '3/8\"'")),
            ("walls.thickness", None, TEXT.replace("thickness = 12\n", "")),
            ("size.contents.item[1].height", Some("10"), TEXT.replace("height = 9", "height = 10")),
            ("size.contents.item.1.height", Some("10"), TEXT.replace("height = 9", "height = 10")),
            (
                "lid.panel.hold",
                Some("\"groove\""),
                format!("{TEXT}\n[lid]\n\n[lid.panel]\nhold = \"groove\"\n"),
            ),
            (
                "size.contents.item.2.name",
                Some("\"pens\""),
                format!("{TEXT}\n[[size.contents.item]]\nname = \"pens\"\n"),
            ),
            ("nothing.here", None, TEXT.to_owned()),
        ] {
            assert_eq!(set(TEXT, key, value), Ok(want), "{key} {value:?}");
        }
        assert_eq!(get(TEXT, "walls.wood").as_deref(), Some("cherry"));
        assert_eq!(get(TEXT, "walls.thickness").as_deref(), Some("12"));
        assert_eq!(get(TEXT, "size.contents.item[1].name").as_deref(), Some("cards"));
        assert_eq!(get(TEXT, "walls.rings"), None);
    }

    #[test]
    fn what_cannot_be_set_says_why() {
        for (key, value) in [
            ("walls.wood.deep", "1"),
            ("size.contents.item[4].name", "\"x\""),
            ("walls", "= ="),
            ("", "1"),
            ("3", "1"),
            ("keepwright[1]", "1"),
        ] {
            assert!(set(TEXT, key, Some(value)).is_err(), "{key}");
        }
        assert!(matches!(set("a = = b", "c", Some("1")), Err(EditError::Text(_))));
    }

    #[test]
    fn items_change_places_with_their_comments_and_all_below_them() {
        let text = "[[a]]\nb = 1 # one\n[[a.c]]\nd = 2\n[e]\nf = 3\n\n# two\n[[a]]\nb = 4\n";
        let swapped = swap(text, "a", 1, 2).unwrap();
        assert_eq!(get(&swapped, "a.1.b").as_deref(), Some("4"), "{swapped}");
        assert_eq!(get(&swapped, "a.2.c.1.d").as_deref(), Some("2"), "{swapped}");
        assert_eq!(get(&swapped, "e.f").as_deref(), Some("3"));
        assert!(swapped.contains("\n# two\n[[a]]\nb = 4\n[[a]]\nb = 1 # one\n"), "{swapped}");
        assert_eq!(swapped.len(), text.len());
        let inline = "a = [\n  { b = 1 },\n  { b = 2 }, # second\n]\n";
        let want = "a = [\n  { b = 2 },\n  { b = 1 }, # second\n]\n";
        assert_eq!(swap(inline, "a", 2, 1).as_deref(), Ok(want));
        for (text, key) in [("a = 1", "a"), ("a = [1]", "a"), ("", "a"), ("a = [1, 2]", "a.1")] {
            assert!(swap(text, key, 1, 2).is_err(), "{text}");
        }
    }

    #[test]
    fn a_section_is_written_as_one_where_it_may_be() {
        for (text, key, want) in [
            ("a = 1\n[walls]\nb = 2\n", "pull", "a = 1\n[walls]\nb = 2\n\n[pull]\nc = 3\n"),
            ("[lid]\nb = 2\n[z]\n", "lid.panel", "[lid]\nb = 2\n\n[lid.panel]\nc = 3\n[z]\n"),
            ("lid = { b = 2 }\n", "lid.panel", "lid = { b = 2 , panel = { c = 3 } }\n"),
        ] {
            let made = set_section(text, key, "{ c = 3 }").unwrap();
            assert_eq!(get(&made, &format!("{key}.c")).as_deref(), Some("3"), "{made}");
            assert_eq!(made.replace(' ', ""), want.replace(' ', ""), "{key}");
        }
        let list = "a = [\n  { b = 1 },\n]\n";
        assert_eq!(
            set(list, "a.2", Some("{ b = 2 }")).as_deref(),
            Ok("a = [\n  { b = 1 },\n  { b = 2 },\n]\n")
        );
        assert_eq!(set("a = [1]\n", "a.2", Some("2")).as_deref(), Ok("a = [1, 2]\n"));
    }

    #[test]
    fn a_fresh_list_of_sections_is_written_as_sections() {
        let made = set("[corners]\njoint = 1\n", "corners.row.1", Some("{ count = 2 }")).unwrap();
        assert_eq!(made, "[corners]\njoint = 1\n\n[[corners.row]]\ncount = 2\n");
        let inside = set("corners = { joint = 1 }\n", "corners.row.1", Some("{ count = 2 }")).unwrap();
        assert_eq!(get(&inside, "corners.row.1.count").as_deref(), Some("2"), "{inside}");
    }

    /// TOML 1.0, "Integer" and "Float": no leading zeros, digits on both sides of the dot.
    #[test]
    fn typed_numbers_stay_numbers() {
        for (given, want) in [
            ("12", "12"),
            ("0.5", "0.5"),
            ("0", "0"),
            ("007", "\"007\""),
            (".5", "\".5\""),
            ("1.", "\"1.\""),
            ("1.2.3", "\"1.2.3\""),
            ("7 1/2", "\"7 1/2\""),
            (" 190 mm ", "\"190 mm\""),
            ("", "\"\""),
        ] {
            assert_eq!(typed(given), want, "{given}");
            assert!(parsed("k", &typed(given)).is_ok());
        }
    }
}
