//! What was typed into the fields, and the shop file that follows from it.

use super::fields::{Field, GROUPS, Kind};
use super::written::Written;
use crate::edit;
use keepwright_model::shop::time::operation_times;
use std::collections::BTreeMap;
use toml_edit::Value;

/// Before the name of every field of the shop file, so that no key meets a name of the form's own.
pub(crate) const PREFIX: &str = "f:";
/// The most bought things that the page takes.
const MOST_HARDWARE: usize = 500;

/// The fields as they were sent: name without the prefix, and every value it came with.
#[derive(Clone, Debug, Default)]
pub(crate) struct Typed(BTreeMap<String, Vec<String>>);

/// The shop file after a change, or what is wrong at which field.
pub(crate) struct Changed {
    /// The text, with the values that could be written.
    pub(crate) text: String,
    /// What changed, in words, in the order of the page.
    pub(crate) says: Vec<String>,
    /// What could not be written: key and sentence.
    pub(crate) wrong: BTreeMap<String, String>,
}

impl Typed {
    /// Takes the fields out of a form.
    pub(crate) fn of(form: &[(String, String)]) -> Self {
        let mut fields: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (name, value) in form {
            if let Some(key) = name.strip_prefix(PREFIX) {
                fields.entry(key.to_owned()).or_default().push(value.trim().to_owned());
            }
        }
        Self(fields)
    }

    /// What stands in a field; the last where the form named it twice.
    pub(crate) fn get(&self, key: &str) -> Option<&str> {
        self.0.get(key)?.last().map(String::as_str)
    }

    /// All values of a field of several, without the empty one that says that the field was there.
    pub(crate) fn all(&self, key: &str) -> Option<Vec<String>> {
        Some(self.0.get(key)?.iter().filter(|v| !v.is_empty()).cloned().collect())
    }

    /// Name and price of each row of bought things; `None` where the form has no such rows.
    pub(crate) fn hardware(&self) -> Option<Vec<(String, String)>> {
        let cell = |n: usize, name: &str| self.get(&format!("hardware.{n}.{name}")).map(str::to_owned);
        let rows: Vec<_> = (1..=MOST_HARDWARE)
            .map_while(|n| match (cell(n, "name"), cell(n, "price")) {
                (None, None) => None,
                (name, price) => Some((name.unwrap_or_default(), price.unwrap_or_default())),
            })
            .collect();
        (!rows.is_empty()).then_some(rows)
    }

    /// The shop file with what was typed; comments and all other lines stay.
    pub(crate) fn put_into(&self, text: &str) -> Changed {
        let written = Written::of(text);
        let mut change = Changed { text: text.to_owned(), says: Vec::new(), wrong: BTreeMap::new() };
        for field in GROUPS.iter().flat_map(|g| g.fields) {
            self.put_field(field, &written, &mut change);
        }
        for row in operation_times() {
            let key = written.times_key(&row.key);
            let asked = super::fields::times_key(&row.key);
            let Some(typed) = self.get(&asked) else { continue };
            if typed == written.get(&key).unwrap_or_default() {
                continue;
            }
            let label = format!("minutes to {}", row.title);
            change.put(&asked, &key, &label, (written.get(&key), typed), number(typed));
        }
        self.put_hardware(&written, &mut change);
        change
    }

    fn put_field(&self, field: &Field, written: &Written, change: &mut Changed) {
        let key = field.key;
        if field.kind == Kind::Days {
            let Some(days) = self.all(key) else { return };
            if written.list(key).is_some_and(|now| now == days) {
                return;
            }
            // Nothing stated and the usual days ticked: nothing to state.
            if written.list(key).is_none() && days == USUAL_DAYS {
                return;
            }
            let typed = days.join(", ");
            change.put(key, key, field.label, (written.get(key), &typed), Ok(listed(&days, quoted)));
            return;
        }
        let Some(typed) = self.get(key) else { return };
        if typed == written.get(key).unwrap_or_default() {
            return;
        }
        let value = match field.kind {
            Kind::Text | Kind::Site | Kind::Glue | Kind::Choice(_) | Kind::Days => Ok(quoted(typed)),
            Kind::Length => Ok(edit::typed(typed)),
            Kind::Number | Kind::NumberChoice(_) => number(typed),
            Kind::Lengths => Ok(listed(&parts(typed), edit::typed)),
            Kind::Numbers => numbers(typed),
        };
        change.put(key, key, field.label, (written.get(key), typed), value);
    }

    /// Rows that are empty go; the others stand as typed.
    fn put_hardware(&self, written: &Written, change: &mut Changed) {
        let Some(rows) = self.hardware() else { return };
        let had = written.hardware();
        let keeps: Vec<&(String, String)> =
            rows.iter().filter(|(name, price)| !name.is_empty() || !price.is_empty()).collect();
        if keeps.len() == had.len() && keeps.iter().zip(&had).all(|(a, b)| *a == b) {
            return;
        }
        let mut place = 0;
        for (at, (name, price)) in rows.iter().enumerate() {
            if name.is_empty() && price.is_empty() {
                continue;
            }
            place += 1;
            // The sentence belongs to the row as it stands on the page.
            let shown = format!("hardware.{}.price", at + 1);
            change.set(&shown, &format!("hardware.{place}.name"), name, Ok(quoted(name)));
            change.set(&shown, &format!("hardware.{place}.price"), price, number(price));
        }
        for gone in (place + 1..=had.len()).rev() {
            change.set("hardware", &format!("hardware.{gone}"), "", Ok(String::new()));
        }
        change.says.push("prices of bought things".to_owned());
    }
}

/// The days that a shop works that says nothing.
const USUAL_DAYS: [&str; 5] = ["mon", "tue", "wed", "thu", "fri"];

impl Changed {
    /// Sets a key and says so.
    fn put(
        &mut self,
        shown: &str,
        key: &str,
        label: &str,
        (was, typed): (Option<String>, &str),
        value: Result<String, String>,
    ) {
        self.set(shown, key, typed, value);
        let was = was.unwrap_or_else(|| "not stated".to_owned());
        let now = if typed.is_empty() { "not stated" } else { typed };
        self.says.push(format!("{}: {was} → {now}", lower(label)));
    }

    /// Sets a key, or takes it away where nothing was typed.
    fn set(&mut self, shown: &str, key: &str, typed: &str, value: Result<String, String>) {
        let value = match value {
            _ if typed.is_empty() => None,
            Ok(value) => Some(value),
            Err(says) => {
                self.wrong.insert(shown.to_owned(), says);
                return;
            }
        };
        match edit::set(&self.text, key, value.as_deref()) {
            Ok(text) => self.text = text,
            Err(error) => {
                self.wrong.insert(shown.to_owned(), error.to_string());
            }
        }
    }

    /// What changed, short enough for a list of versions.
    pub(crate) fn name(&self) -> String {
        match self.says.as_slice() {
            [] => "nothing".to_owned(),
            [one] => one.clone(),
            [one, two] => format!("{one}; {two}"),
            [one, rest @ ..] => format!("{one}; and {} more", rest.len()),
        }
    }
}

/// A label inside a sentence.
fn lower(label: &str) -> String {
    let mut letters = label.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    Value::from(text).to_string()
}

/// A number as TOML writes it; a sign for percent or degrees behind it is left out.
fn number(text: &str) -> Result<String, String> {
    let plain = text.trim_end_matches(['%', '°']).trim();
    let digits = plain.strip_prefix(['-', '+']).unwrap_or(plain);
    let looks = digits.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && digits.bytes().filter(|b| *b == b'.').count() <= 1
        && digits.bytes().any(|b| b.is_ascii_digit());
    let parsed = plain.parse::<f64>().ok().filter(|n| looks && n.is_finite());
    let Some(parsed) = parsed else {
        let point = if text.contains(',') { ", with a point before the decimals" } else { "" };
        return Err(format!("`{text}` is no number: write one such as 38.5{point}"));
    };
    // As typed where TOML writes it the same way.
    let same = plain.parse::<Value>().is_ok_and(|v| v.is_integer() || v.is_float());
    Ok(if same { plain.to_owned() } else { format!("{parsed}") })
}

fn parts(text: &str) -> Vec<String> {
    text.split([',', ';']).map(str::trim).filter(|p| !p.is_empty()).map(str::to_owned).collect()
}

fn listed<T: AsRef<str>>(entries: &[T], write: impl Fn(&str) -> String) -> String {
    let entries: Vec<String> = entries.iter().map(|e| write(e.as_ref())).collect();
    format!("[{}]", entries.join(", "))
}

/// Numbers with commas or blanks between.
fn numbers(text: &str) -> Result<String, String> {
    let entries = text.split(|c: char| c == ',' || c == ';' || c.is_whitespace()).filter(|e| !e.is_empty());
    let entries = entries.map(number).collect::<Result<Vec<_>, _>>()?;
    Ok(format!("[{}]", entries.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# mine\nkeepwright = 1\n[shop]\nname = \"Yard\" # ours\nhourly_rate = 38.50\n[saw]\nkerf = \"3/32 in\"\n\n[[hardware]]\nname = \"hinge\"\nprice = 5.80\n\n[[hardware]]\nname = \"screw\"\nprice = 0.12\n";

    fn typed(fields: &[(&str, &str)]) -> Typed {
        let form: Vec<(String, String)> =
            fields.iter().map(|(k, v)| (format!("{PREFIX}{k}"), (*v).to_owned())).collect();
        Typed::of(&form)
    }

    #[test]
    fn a_typed_value_changes_its_own_line_only() {
        for (fields, want) in [
            (&[("saw.kerf", "1/8\"")][..], TEXT.replace("\"3/32 in\"", "'1/8\"'")),
            (&[("saw.kerf", "2.4")], TEXT.replace("\"3/32 in\"", "2.4")),
            (&[("saw.kerf", "3/32 in")], TEXT.to_owned()),
            (&[("saw.kerf", "")], TEXT.replace("kerf = \"3/32 in\"\n", "")),
            (&[("shop.name", "1234")], TEXT.replace("\"Yard\"", "\"1234\"")),
            (&[("shop.hourly_rate", " 40 ")], TEXT.replace("38.50", "40")),
            (&[("wood.moisture_pct", "7.5 %")], format!("{TEXT}\n[wood]\nmoisture_pct = 7.5\n")),
            (&[("router.bits", "1/8 in; 6")], format!("{TEXT}\n[router]\nbits = [\"1/8 in\", 6]\n")),
            (&[("times.key slot", "2")], format!("{TEXT}\n[times]\n\"key slot\" = 2\n")),
            (
                &[("week.workdays", ""), ("week.workdays", "sat")],
                format!("{TEXT}\n[week]\nworkdays = [\"sat\"]\n"),
            ),
        ] {
            let changed = typed(fields).put_into(TEXT);
            assert!(changed.wrong.is_empty(), "{fields:?} {:?}", changed.wrong);
            assert_eq!(changed.text, want, "{fields:?}");
        }
    }

    #[test]
    fn rows_of_bought_things_come_and_go() {
        let rows = [
            ("hardware.1.name", ""),
            ("hardware.1.price", ""),
            ("hardware.2.name", "screw"),
            ("hardware.2.price", "0.15"),
        ];
        let changed = typed(&rows).put_into(TEXT);
        assert_eq!(Written::of(&changed.text).hardware(), [("screw".to_owned(), "0.15".to_owned())]);
        let more = [
            ("hardware.1.name", "hinge"),
            ("hardware.1.price", "5.80"),
            ("hardware.2.name", "screw"),
            ("hardware.2.price", "0.12"),
            ("hardware.3.name", "felt"),
            ("hardware.3.price", "7"),
        ];
        let changed = typed(&more).put_into(TEXT);
        assert_eq!(changed.text, format!("{TEXT}\n[[hardware]]\nname = \"felt\"\nprice = 7\n"));
        let none = [("hardware.1.name", ""), ("hardware.2.name", "")];
        assert!(!typed(&none).put_into(TEXT).text.contains("hardware"));
    }

    #[test]
    fn what_is_no_number_is_told_at_its_field() {
        for bad in ["forty", "38,50", "1e999", "--3", "1.2.3", "nan", "inf", "0x10", "."] {
            let changed = typed(&[("shop.hourly_rate", bad)]).put_into(TEXT);
            let says = &changed.wrong["shop.hourly_rate"];
            assert!(says.contains(bad) && changed.text == TEXT, "{bad}: {says}");
        }
        // Written in a way that TOML does not know, and yet a number.
        for (good, want) in [("007", "7"), ("+3", "+3"), (".5", "0.5"), ("5.", "5"), ("-0.05°", "-0.05")] {
            assert_eq!(number(good).as_deref(), Ok(want), "{good}");
        }
    }

    #[test]
    fn a_change_is_named_by_what_changed() {
        let changed = typed(&[("saw.kerf", "1/8 in"), ("shop.name", "")]).put_into(TEXT);
        assert_eq!(
            changed.name(),
            "name of the shop: Yard → not stated; kerf of the blade: 3/32 in → 1/8 in"
        );
    }
}
