//! From what was typed into a form to the text of a statement, and from a problem in it back to its field.

use super::ROWS;
use crate::edit::typed;
use keepwright_model::design::Problem;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// What was typed, by field, and what is wrong with it.
#[derive(Clone, Debug, Default)]
pub(super) struct Typed {
    values: BTreeMap<String, String>,
    wrong: BTreeMap<String, String>,
}

/// A field as the template shows it.
#[derive(Clone, Debug)]
pub(super) struct Field<'a> {
    /// What was typed.
    pub(super) value: &'a str,
    /// What is wrong with it; empty if nothing is.
    pub(super) wrong: &'a str,
}

impl Typed {
    pub(super) fn of(fields: Vec<(String, String)>) -> Self {
        Self { values: fields.into_iter().filter(|(k, _)| k != "forgery").collect(), wrong: BTreeMap::new() }
    }

    /// What was typed into a field, without blanks around it.
    pub(super) fn get(&self, field: &str) -> &str {
        self.values.get(field).map_or("", |v| v.trim())
    }

    /// A field by its name.
    pub(super) fn field(&self, name: &str) -> Field<'_> {
        Field {
            value: self.values.get(name).map_or("", String::as_str),
            wrong: self.wrong.get(name).map_or("", String::as_str),
        }
    }

    /// A field of one row of things.
    pub(super) fn cell(&self, name: &str, row: &usize) -> Field<'_> {
        self.field(&format!("{name}{row}"))
    }

    /// Whether a choice is the one that was made, or the usual one where none was.
    pub(super) fn chose(&self, field: &str, choice: &str, usual: &str) -> bool {
        let made = self.get(field);
        if made.is_empty() { choice == usual } else { made == choice }
    }

    /// Notes a problem at its field; `false` if it belongs to none.
    pub(super) fn note(&mut self, problem: &Problem) -> bool {
        let Some(field) = self.place(&problem.key) else { return false };
        let lid = field == "lid";
        let says = self.wrong.entry(field).or_default();
        if !says.is_empty() {
            says.push_str(" · ");
        }
        // The form has names of its own for its fields: the key of the statement is no help here.
        let key = problem.key.rsplit('.').next().unwrap_or_default();
        let said = problem.says.strip_prefix(&format!("`{key}`: ")).unwrap_or(&problem.says);
        if said.contains("is missing") || said.contains("``") {
            says.push_str("fill this in");
        } else {
            let _ = write!(says, "{said}; {}", problem.remedy);
        }
        if lid {
            says.push_str(", or choose another lid here");
        }
        true
    }

    /// The field that a key of the statement came from.
    fn place(&self, key: &str) -> Option<String> {
        if let Some(rest) = key.strip_prefix("size.contents.item") {
            let number: String =
                rest.trim_start_matches(['[', '.']).chars().take_while(char::is_ascii_digit).collect();
            let row = self.rows().into_iter().nth(number.parse::<usize>().ok()?.checked_sub(1)?)?;
            let name = rest.rsplit('.').next().filter(|n| THING.contains(n)).unwrap_or("length");
            return Some(format!("{name}{row}"));
        }
        let field = match key {
            "size.contents" | "size.contents.item" => "length1",
            "size.outside" | "size.inside" | "size" => "length",
            _ => key.rsplit('.').next().unwrap_or(key),
        };
        let known = match key {
            "corners.wood" => "joint_wood",
            _ if key == "lid" || key.starts_with("lid.") => "lid",
            _ if FIELDS.contains(&field) => field,
            _ => return None,
        };
        Some(known.to_owned())
    }

    /// The rows in which something was typed.
    fn rows(&self) -> Vec<usize> {
        (1..=ROWS)
            .filter(|row| THING.iter().any(|name| !self.get(&format!("{name}{row}")).is_empty()))
            .collect()
    }
}

/// The cells of a thing that must fit in, as the statement names them.
const THING: [&str; 5] = ["name", "length", "depth", "height", "count"];
/// Fields that have the same name in the statement.
const FIELDS: [&str; 10] =
    ["name", "length", "depth", "height", "wood", "thickness", "joint", "slack", "above", "lid"];

fn head(form: &Typed) -> String {
    let name = if form.get("name").is_empty() { "Box" } else { form.get("name") };
    format!("keepwright = 1\nname = {}\n", quoted(name))
}

/// A text value, whatever it looks like.
fn quoted(text: &str) -> String {
    toml_edit::Value::from(text).to_string()
}

/// A line, if something was typed.
fn line(out: &mut String, key: &str, value: &str) {
    if !value.is_empty() {
        let _ = writeln!(out, "{key} = {}", typed(value));
    }
}

/// Walls, corners, lid.
fn rest(form: &Typed) -> String {
    let mut out = String::from("\n[walls]\n");
    let _ = writeln!(out, "wood = {}", quoted(form.get("wood")));
    line(&mut out, "thickness", form.get("thickness"));
    if !form.get("joint").is_empty() {
        let _ = writeln!(out, "\n[corners]\njoint = {}", quoted(form.get("joint")));
        if matches!(form.get("joint"), "keyed miter" | "loose tongue") && !form.get("joint_wood").is_empty() {
            let _ = writeln!(out, "wood = {}", quoted(form.get("joint_wood")));
        }
    }
    if !matches!(form.get("lid"), "" | "none") {
        let _ = writeln!(out, "\n[lid]\nkind = {}", quoted(form.get("lid")));
    }
    out
}

/// The statement of a box of a size.
pub(super) fn of_size(form: &Typed) -> String {
    let mut out = head(form);
    let side = if form.get("of") == "inside" { "inside" } else { "outside" };
    let _ = writeln!(out, "\n[size.{side}]");
    for name in ["length", "depth", "height"] {
        line(&mut out, name, form.get(name));
    }
    out + &rest(form)
}

/// The statement of a box for things.
pub(super) fn of_contents(form: &Typed) -> String {
    let mut out = head(form);
    out.push_str("\n[size.contents]\n");
    line(&mut out, "slack", form.get("slack"));
    line(&mut out, "above", form.get("above"));
    for row in form.rows() {
        out.push_str("\n[[size.contents.item]]\n");
        for name in THING {
            let value = form.get(&format!("{name}{row}"));
            match name {
                "name" if !value.is_empty() => {
                    let _ = writeln!(out, "name = {}", quoted(value));
                }
                _ => line(&mut out, name, value),
            }
        }
    }
    out + &rest(form)
}
