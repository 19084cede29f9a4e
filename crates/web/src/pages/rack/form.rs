//! The form of a board: every key of the rack file as it is typed, and a row to each fault.

use super::keys::{FACES, FAULT_KEYS, KEYS, KINDS, Key, Takes};
use crate::edit::{self, EditError};
use keepwright_model::design::Problem;
use std::collections::BTreeMap;
use toml_edit::{DocumentMut, Item, TableLike, Value};

/// Rows of faults that one form takes.
const MOST_ROWS: usize = 500;
/// Empty rows offered below those that are there.
const SPARE_ROWS: usize = 2;
/// The head of a board's text that has none yet.
const NEW: &str = "keepwright = 1\n\n[[board]]\n";

/// A field with what stands in it and what is wrong with that.
#[derive(Clone, Debug)]
pub(super) struct Field {
    /// Which.
    pub(super) key: &'static Key,
    /// As typed.
    pub(super) value: String,
    /// What is wrong, and the remedy.
    pub(super) wrong: Option<String>,
}

impl Field {
    /// The choices, of a field that is no free text.
    pub(super) fn choices(&self) -> &'static [&'static str] {
        match self.key.takes {
            Takes::OneOf(choices) => choices,
            _ => &[],
        }
    }

    /// Whether a value stands there.
    pub(super) fn is(&self, value: &str) -> bool {
        self.value == value
    }

    /// The list of suggestions that the field has.
    pub(super) fn list(&self) -> &'static str {
        match self.key.takes {
            Takes::Wood => "woods",
            Takes::Rings => "rings",
            _ => "",
        }
    }

    /// Whether it says no more than an old one: the same, or the usual choice where nothing was said.
    fn says_what(&self, old: &Self) -> bool {
        let (new, old) = (self.value.trim(), old.value.trim());
        new == old || (old.is_empty() && self.choices().first() == Some(&new))
    }
}

/// A row of the table of faults.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    /// Its number in the form, from 1.
    pub(super) number: usize,
    /// `x`, `y`, `length`, `width` as typed.
    pub(super) sizes: [String; 4],
    /// The word of its kind.
    pub(super) kind: String,
    /// The word of the face.
    pub(super) face: String,
    /// Whether it is to be taken away.
    pub(super) gone: bool,
    /// What is wrong with it.
    pub(super) wrong: Vec<(&'static str, String)>,
    /// Where it lies, in millimeters, once the text reads.
    pub(super) mm: Option<[f64; 4]>,
}

impl Row {
    fn is_blank(&self) -> bool {
        self.sizes.iter().all(|s| s.trim().is_empty())
    }

    /// The four measures with their names and what is wrong with each.
    pub(super) fn measures(&self) -> Vec<(&'static str, &'static str, &str, Option<&str>)> {
        let words = ["from the left end", "from the lower edge", "along", "across"];
        (0..4)
            .map(|i| (FAULT_KEYS[i], words[i], self.sizes[i].as_str(), self.wrong_of(FAULT_KEYS[i])))
            .collect()
    }

    fn wrong_of(&self, key: &str) -> Option<&str> {
        self.wrong.iter().find(|w| w.0 == key).map(|w| w.1.as_str())
    }

    /// What is wrong with the kind or the face, which only a hand-made form can get wrong.
    pub(super) fn other_wrong(&self) -> Option<&str> {
        self.wrong_of("kind").or_else(|| self.wrong_of("face")).or_else(|| self.wrong_of(""))
    }

    pub(super) fn kinds(&self) -> Vec<(&'static str, bool)> {
        KINDS.iter().map(|k| (*k, *k == self.kind || (self.kind.is_empty() && *k == "other"))).collect()
    }

    pub(super) fn faces(&self) -> Vec<(&'static str, bool)> {
        FACES.iter().map(|f| (*f, *f == self.face || (self.face.is_empty() && *f == "both"))).collect()
    }

    /// `x y length width` in millimeters, for the script that draws.
    pub(super) fn mm_words(&self) -> String {
        self.mm.map_or_else(String::new, |mm| mm.map(|v| format!("{v:.3}")).join(" "))
    }
}

/// The whole form.
#[derive(Clone, Debug)]
pub(super) struct Form {
    /// One to each key.
    pub(super) fields: Vec<Field>,
    /// One to each fault, and spare ones.
    pub(super) rows: Vec<Row>,
    /// What is wrong and belongs to no field.
    pub(super) wrong: Vec<String>,
}

impl Form {
    /// The form of a new board.
    pub(super) fn new_board() -> Self {
        Self::of_text(NEW)
    }

    /// The form that shows a text.
    pub(super) fn of_text(text: &str) -> Self {
        let document: DocumentMut = text.parse().unwrap_or_default();
        let board = document
            .get("board")
            .and_then(Item::as_array_of_tables)
            .and_then(|boards| boards.get(0))
            .map(|table| -> &dyn TableLike { table });
        let fields = KEYS
            .iter()
            .map(|key| Field {
                key,
                value: board.and_then(|b| written(b, key.name)).unwrap_or_default(),
                wrong: None,
            })
            .collect();
        let rows = board.map(faults).unwrap_or_default();
        Self { fields, rows, wrong: Vec::new() }
    }

    /// The form as it was sent.
    pub(super) fn of_sent(sent: &[(String, String)]) -> Self {
        let value = |name: &str| sent.iter().find(|(n, _)| n == name).map(|(_, v)| v.clone());
        let fields = KEYS
            .iter()
            .map(|key| Field { key, value: value(key.name).unwrap_or_default(), wrong: None })
            .collect();
        let mut rows: BTreeMap<usize, Row> = BTreeMap::new();
        for (name, value) in sent {
            let Some((number, part)) = name.strip_prefix("fault.").and_then(|rest| rest.split_once('.'))
            else {
                continue;
            };
            let Some(number) = number.parse().ok().filter(|n| (1..=MOST_ROWS).contains(n)) else { continue };
            let row = rows.entry(number).or_insert_with(|| Row { number, ..Row::default() });
            match part {
                "kind" => row.kind.clone_from(value),
                "face" => row.face.clone_from(value),
                "gone" => row.gone = true,
                _ => {
                    if let Some(i) = FAULT_KEYS.iter().position(|k| *k == part) {
                        row.sizes[i].clone_from(value);
                    }
                }
            }
        }
        let rows = rows.into_values().filter(|row| !row.is_blank()).collect();
        Self { fields, rows, wrong: Vec::new() }
    }

    /// What stands in a field.
    pub(super) fn value(&self, key: &str) -> &str {
        self.fields.iter().find(|f| f.key.name == key).map_or("", |f| f.value.trim())
    }

    /// Writes into a field.
    pub(super) fn put(&mut self, key: &str, value: String) {
        if let Some(field) = self.fields.iter_mut().find(|f| f.key.name == key) {
            field.value = value;
        }
    }

    /// Keeps the faults for which there are new measures, counted from 0, with these.
    pub(super) fn keep_faults(&mut self, mut measures: impl FnMut(usize) -> Option<[String; 4]>) {
        let rows = std::mem::take(&mut self.rows).into_iter().enumerate();
        self.rows = rows.filter_map(|(number, row)| Some(Row { sizes: measures(number)?, ..row })).collect();
    }

    /// The text with what the form says, its other lines as they were.
    ///
    /// # Errors
    /// When the text cannot be changed.
    pub(super) fn put_into(&self, text: &str) -> Result<String, EditError> {
        let mut text = text.to_owned();
        let before = Self::of_text(&text);
        for (field, old) in self.fields.iter().zip(&before.fields) {
            if !field.says_what(old) {
                let key = format!("board.1.{}", field.key.name);
                text = edit::set(&text, &key, as_toml(field.key.takes, &field.value).as_deref())?;
            }
        }
        let kept: Vec<&Row> = self.rows.iter().filter(|r| !r.gone).collect();
        for (number, row) in (1_usize..).zip(&kept) {
            let old = before.rows.get(number - 1);
            for (i, name) in FAULT_KEYS.iter().enumerate() {
                if old.is_none_or(|o| o.sizes[i].trim() != row.sizes[i].trim()) {
                    let key = format!("board.1.defect.{number}.{name}");
                    text = edit::set(&text, &key, as_toml(Takes::Measure, &row.sizes[i]).as_deref())?;
                }
            }
            for (name, new, usual, old) in [
                ("kind", &row.kind, "other", old.map_or("", |o| o.kind.as_str())),
                ("face", &row.face, "both", old.map_or("", |o| o.face.as_str())),
            ] {
                let same = new == old || (old.is_empty() && new == usual);
                if !same {
                    let key = format!("board.1.defect.{number}.{name}");
                    text = edit::set(&text, &key, as_toml(Takes::Words, new).as_deref())?;
                }
            }
        }
        for number in (kept.len() + 1..=before.rows.len()).rev() {
            text = edit::set(&text, &format!("board.1.defect.{number}"), None)?;
        }
        Ok(text)
    }

    /// A new board's text, with the shop's unit for bare numbers, so that it means the same if the shop's changes.
    ///
    /// # Errors
    /// When a value cannot be written.
    pub(super) fn new_text(&self, unit: &str) -> Result<String, EditError> {
        self.put_into(&edit::set(NEW, "units", Some(&format!("\"{unit}\"")))?)
    }

    /// Puts each problem at its field.
    pub(super) fn mark(&mut self, problems: &[Problem]) {
        let kept: Vec<usize> = (0..self.rows.len()).filter(|r| !self.rows[*r].gone).collect();
        for problem in problems {
            let says = format!("{}: {}.", problem.says, problem.remedy);
            let key = problem.key.strip_prefix("board.1.").unwrap_or(&problem.key);
            if let Some(field) = self.fields.iter_mut().find(|f| f.key.name == key) {
                field.wrong.get_or_insert(says);
                continue;
            }
            let row = fault_key(key).and_then(|(number, part)| {
                let row = kept.get(number.checked_sub(1)?)?;
                Some((self.rows.get_mut(*row)?, part))
            });
            match row {
                Some((row, part)) => row.wrong.push((part, says)),
                None => self.wrong.push(says),
            }
        }
    }

    /// Adds empty rows and numbers all of them.
    pub(super) fn with_spare_rows(mut self) -> Self {
        self.rows.extend((0..SPARE_ROWS).map(|_| Row::default()));
        for (number, row) in (1..).zip(&mut self.rows) {
            row.number = number;
        }
        self
    }

    /// How many places are wrong.
    pub(super) fn wrongs(&self) -> usize {
        let fields = self.fields.iter().filter(|f| f.wrong.is_some()).count();
        fields + self.rows.iter().map(|r| r.wrong.len()).sum::<usize>() + self.wrong.len()
    }
}

/// What changed from one text to another, for the list of versions: `length and faults`.
pub(super) fn changed(from: &str, to: &str) -> String {
    let (old, new) = (Form::of_text(from), Form::of_text(to));
    let mut names: Vec<&str> = old
        .fields
        .iter()
        .zip(&new.fields)
        .filter(|(a, b)| a.value != b.value)
        .map(|(a, _)| a.key.label)
        .collect();
    let plain = |form: &Form| -> Vec<([String; 4], String, String)> {
        form.rows.iter().map(|r| (r.sizes.clone(), r.kind.clone(), r.face.clone())).collect()
    };
    if plain(&old) != plain(&new) {
        names.push("Faults");
    }
    if names.is_empty() {
        "written anew".to_owned()
    } else {
        keepwright_packet::shown::and(&names).to_lowercase()
    }
}

/// `defect.2.x` as the fault's number and the name of its key.
fn fault_key(key: &str) -> Option<(usize, &'static str)> {
    let (number, part) = key.strip_prefix("defect.")?.split_once('.')?;
    let names = FAULT_KEYS.iter().chain(&["kind", "face"]);
    Some((number.parse().ok()?, names.copied().find(|n| *n == part).unwrap_or("")))
}

/// A field's text as a TOML value; `None` for an empty one.
fn as_toml(takes: Takes, typed: &str) -> Option<String> {
    let typed = typed.trim();
    if typed.is_empty() {
        return None;
    }
    Some(match takes {
        Takes::Measure | Takes::Number => edit::typed(typed),
        Takes::Rings if typed.parse::<f64>().is_ok() => edit::typed(typed),
        Takes::Words | Takes::Wood | Takes::Rings | Takes::OneOf(_) => Value::from(typed).to_string(),
    })
}

/// A value as it was written, a text without its quotes.
fn written(table: &dyn TableLike, key: &str) -> Option<String> {
    Some(match table.get(key)?.as_value()? {
        Value::String(text) => text.value().clone(),
        other => other.clone().decorated("", "").to_string(),
    })
}

fn faults(board: &dyn TableLike) -> Vec<Row> {
    let tables: Vec<&dyn TableLike> = match board.get("defect") {
        Some(Item::ArrayOfTables(list)) => list.iter().map(|t| -> &dyn TableLike { t }).collect(),
        Some(Item::Value(Value::Array(list))) => {
            list.iter().filter_map(Value::as_inline_table).map(|t| -> &dyn TableLike { t }).collect()
        }
        _ => Vec::new(),
    };
    (1..)
        .zip(tables)
        .map(|(number, table)| Row {
            number,
            sizes: FAULT_KEYS.map(|key| written(table, key).unwrap_or_default()),
            kind: written(table, "kind").unwrap_or_default(),
            face: written(table, "face").unwrap_or_default(),
            ..Row::default()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# mine\nkeepwright = 1\nunits = \"in\"\n\n[[board]]\nname = \"B1\" # by the door\nwood = \"cherry\"\n\
        length = \"8'\"\nwidth = \"6 1/4\"\nquarters = \"4/4\"\nprice = 14.50\n\n[[board.defect]]\nx = 31\ny = 2\n\
        length = \"1 1/2\"\nwidth = \"3/4\"\nkind = \"knot\"\n\n[[board.defect]]\nx = 50\ny = 0\nlength = 1\nwidth = 1\n";

    fn sent(form: &Form) -> Vec<(String, String)> {
        let mut out: Vec<(String, String)> =
            form.fields.iter().map(|f| (f.key.name.to_owned(), f.value.clone())).collect();
        // A menu always sends one of its words.
        for (name, value) in &mut out {
            if name == "surface" && value.is_empty() {
                "rough".clone_into(value);
            }
        }
        for row in &form.rows {
            let part = |name: &str| format!("fault.{}.{name}", row.number);
            for (key, value) in FAULT_KEYS.iter().zip(&row.sizes) {
                out.push((part(key), value.clone()));
            }
            out.push((part("kind"), if row.kind.is_empty() { "other".into() } else { row.kind.clone() }));
            out.push((part("face"), if row.face.is_empty() { "both".into() } else { row.face.clone() }));
        }
        out
    }

    #[test]
    fn a_form_sent_back_unchanged_changes_no_byte() {
        let shown = Form::of_text(TEXT).with_spare_rows();
        assert_eq!(shown.rows.len(), 4);
        assert_eq!(shown.value("length"), "8'");
        assert_eq!(Form::of_sent(&sent(&shown)).put_into(TEXT).unwrap(), TEXT);
    }

    #[test]
    fn a_change_keeps_the_other_lines() {
        let mut all = sent(&Form::of_text(TEXT));
        for (name, value) in &mut all {
            match name.as_str() {
                "width" => "5 7/8".clone_into(value),
                "price" => value.clear(),
                "rings" => "30".clone_into(value),
                _ => {}
            }
        }
        all.push(("fault.1.gone".to_owned(), "yes".to_owned()));
        let text = Form::of_sent(&all).put_into(TEXT).unwrap();
        assert!(text.contains("# by the door") && text.contains("width = \"5 7/8\""), "{text}");
        assert!(!text.contains("price") && !text.contains("x = 31") && text.contains("x = 50"), "{text}");
        assert!(text.contains("rings = 30") && !text.contains("knot"), "{text}");
        assert_eq!(changed(TEXT, &text), "width, growth rings, price of the board and faults");
    }

    #[test]
    fn a_problem_lands_at_its_row_though_one_before_is_taken_away() {
        let mut all = sent(&Form::of_text(TEXT));
        all.push(("fault.1.gone".to_owned(), "yes".to_owned()));
        let mut form = Form::of_sent(&all);
        let problem = |key: &str| Problem {
            span: 0..0,
            key: key.to_owned(),
            says: "it is wrong".to_owned(),
            remedy: "mend it".to_owned(),
        };
        form.mark(&[problem("board.1.defect.1.x"), problem("board.1.wood"), problem("board")]);
        assert!(form.rows[0].wrong.is_empty());
        assert_eq!(form.rows[1].wrong, [("x", "it is wrong: mend it.".to_owned())]);
        assert_eq!(form.wrong.len(), 1);
        assert_eq!(form.wrongs(), 3);
    }
}
