//! What stands in the shop file, key by key, as the maker wrote it.

use keepwright_model::shop::time::operation;
use toml_edit::{DocumentMut, Item, Table, Value};

/// A shop file taken apart, without judging it.
pub(crate) struct Written(DocumentMut);

impl Written {
    /// The text's keys; none at all of a text that is no TOML.
    pub(crate) fn of(text: &str) -> Self {
        Self(text.parse().unwrap_or_default())
    }

    /// The value of a key as a field shows it: a text without its quotes, a list with commas between.
    pub(crate) fn get(&self, key: &str) -> Option<String> {
        let value = self.item(key)?.as_value()?;
        Some(match value.as_array() {
            Some(list) => list.iter().map(plain).collect::<Vec<_>>().join(", "),
            None => plain(value),
        })
    }

    /// The entries of a list.
    pub(crate) fn list(&self, key: &str) -> Option<Vec<String>> {
        Some(self.item(key)?.as_array()?.iter().map(plain).collect())
    }

    /// Name and price of each bought thing.
    pub(crate) fn hardware(&self) -> Vec<(String, String)> {
        (1..=self.count("hardware"))
            .map(|n| {
                let cell = |name: &str| self.in_list("hardware", n, name).unwrap_or_default();
                (cell("name"), cell("price"))
            })
            .collect()
    }

    /// The key under which an operation's minutes stand: as the maker spelled it, or as the reference does.
    pub(crate) fn times_key(&self, operation_key: &str) -> String {
        let spelled = self
            .0
            .get("times")
            .and_then(Item::as_table_like)
            .into_iter()
            .flat_map(|times| times.iter().map(|(name, _)| name))
            // A dot in a name would read as a path.
            .find(|name| !name.contains('.') && operation(name).is_some_and(|row| row.key == operation_key));
        spelled.map_or_else(|| super::fields::times_key(operation_key), |name| format!("times.{name}"))
    }

    fn item(&self, key: &str) -> Option<&Item> {
        key.split('.').try_fold(self.0.as_item(), |here, name| here.get(name))
    }

    fn count(&self, key: &str) -> usize {
        match self.0.get(key) {
            Some(Item::ArrayOfTables(list)) => list.len(),
            Some(Item::Value(Value::Array(list))) => list.len(),
            _ => 0,
        }
    }

    /// A cell of the `n`-th table of a list, from 1.
    fn in_list(&self, key: &str, n: usize, name: &str) -> Option<String> {
        let at = n.checked_sub(1)?;
        let cell = match self.0.get(key)? {
            Item::ArrayOfTables(list) => list.get(at).and_then(|t: &Table| t.get(name))?.as_value()?,
            Item::Value(Value::Array(list)) => list.get(at)?.as_inline_table()?.get(name)?,
            _ => return None,
        };
        Some(plain(cell))
    }
}

fn plain(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        other => other.clone().decorated("", "").to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_shown_as_they_were_written() {
        let text = "[shop]\nhourly_rate = 38.50 # asked\n[saw]\nkerf = '3/32\"'\nbevel_error = { bias_degrees = -0.05 }\n\
             [router]\nbits = ['1/8\"', 6]\n[times]\n\"Glue_Ring\" = 25\n[[hardware]]\nname = \"hinge\"\nprice = 4.50\n";
        let written = Written::of(text);
        for (key, want) in [
            ("shop.hourly_rate", Some("38.50")),
            ("saw.kerf", Some("3/32\"")),
            ("saw.bevel_error.bias_degrees", Some("-0.05")),
            ("router.bits", Some("1/8\", 6")),
            ("saw.teeth", None),
            ("saw", None),
            ("nothing.at.all", None),
        ] {
            assert_eq!(written.get(key).as_deref(), want, "{key}");
        }
        assert_eq!(written.times_key("glue_ring"), "times.Glue_Ring");
        assert_eq!(written.times_key("key_slot"), "times.key slot");
        assert_eq!(written.hardware(), [("hinge".to_owned(), "4.50".to_owned())]);
        assert!(Written::of("no = = toml").get("no").is_none());
    }
}
