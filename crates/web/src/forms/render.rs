//! The fields of a chapter as HTML.

use super::applies::{applies, in_force, open_ways, plain, way_in_force};
use super::apply::Typed;
use super::field::{Field, Group, Kind, List, at};
use super::reference;
use super::table;
use super::values::Values;
use askama::Template;
use keepwright_model::design::Problem;
use keepwright_model::wood;
use std::sync::OnceLock;

/// A chapter that has fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Chapter {
    /// Its id, also its anchor on the page of a box.
    pub(crate) id: &'static str,
    /// Its title.
    pub(crate) title: &'static str,
}

/// The chapters that have fields, in the order of the work.
const CHAPTERS: [Chapter; 6] = [
    Chapter { id: "shape", title: "Shape" },
    Chapter { id: "woods", title: "Woods" },
    Chapter { id: "boards", title: "Boards" },
    Chapter { id: "joints", title: "Joints" },
    Chapter { id: "finish", title: "Finish" },
    Chapter { id: "money", title: "Money and time" },
];

/// The chapters that have fields.
pub(crate) const fn chapters() -> &'static [Chapter] {
    &CHAPTERS
}

/// A chapter by its id.
pub(crate) fn chapter(id: &str) -> Option<Chapter> {
    CHAPTERS.into_iter().find(|chapter| chapter.id == id)
}

/// Whose form it is, and what it was made from.
#[derive(Clone, Debug)]
pub(crate) struct Made<'a> {
    /// The box's address.
    pub(crate) slug: &'a str,
    /// The version that the form shows.
    pub(crate) base: i64,
    /// The draft that the form shows instead, if one.
    pub(crate) draft: Option<u64>,
    /// The token of forms.
    pub(crate) forgery: &'a str,
    /// The page that the form stands on: `box` or `edit`.
    pub(crate) from: &'static str,
}

/// What a form shows.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shown<'a> {
    /// The statement.
    pub(crate) text: &'a str,
    /// What is wrong in it.
    pub(crate) problems: &'a [Problem],
    /// What was typed and could not be put into it.
    pub(crate) typed: &'a [Typed],
}

#[derive(Template)]
#[template(path = "parts/form.html")]
struct FormView<'a> {
    made: &'a Made<'a>,
    chapter: Chapter,
    inner: String,
    lists: Vec<(&'static str, Vec<String>)>,
}

#[derive(Template)]
#[template(path = "parts/groups.html")]
struct Groups {
    groups: Vec<GroupView>,
}

struct GroupView {
    legend: &'static str,
    fields: String,
}

#[derive(Template)]
#[template(path = "parts/fields.html")]
struct Fields {
    fields: Vec<FieldView>,
}

struct FieldView {
    id: String,
    name: String,
    label: &'static str,
    hint: String,
    wrong: Vec<String>,
    value: String,
    usual: String,
    control: Control,
    described: String,
}

enum Control {
    /// One line; the list of proposals if there is one.
    Line { list: String, mode: &'static str },
    /// Several lines.
    Lines,
    /// One of several.
    Select(Vec<Choice>),
    /// Rows.
    List { rows: Vec<RowView>, add: String, one: &'static str },
}

struct Choice {
    value: String,
    label: String,
    chosen: bool,
}

struct RowView {
    legend: String,
    fields: String,
    key: String,
    up: bool,
    down: bool,
}

/// A whole form: the fields of a chapter with what must go with them.
///
/// # Errors
/// A template that cannot be filled in; none is expected.
pub(crate) fn form(made: &Made<'_>, chapter: Chapter, shown: Shown<'_>) -> Result<String, askama::Error> {
    FormView { made, chapter, inner: html(chapter.id, shown)?, lists: lists(chapter.id) }.render()
}

/// The fields of a chapter; empty for one that has none, or a text that is no TOML.
///
/// # Errors
/// A template that cannot be filled in; none is expected.
pub(crate) fn html(chapter: &str, shown: Shown<'_>) -> Result<String, askama::Error> {
    let (Some(values), Some(chapter)) = (Values::of(shown.text), self::chapter(chapter)) else {
        return Ok(String::new());
    };
    let page = Page { values: &values, shown, chapter: chapter.id };
    let mut groups = Vec::new();
    for group in table::groups().filter(|g| g.chapter == chapter.id) {
        let fields = page.fields(group, group.fields, &[])?;
        if !fields.is_empty() {
            groups.push(GroupView { legend: group.legend, fields });
        }
    }
    Groups { groups }.render()
}

/// A key as the id of its field.
pub(crate) fn field_id(key: &str) -> String {
    format!("f-{}", key.replace(['.', '@'], "-"))
}

/// The key of the field at which a problem is shown, and its chapter.
pub(crate) fn place_of(values: &Values, problem: &Problem) -> Option<(String, Chapter)> {
    table::all().find_map(|(group, field)| {
        let (_, numbers) = super::field::pattern(&problem.key);
        let key = at(field.key, &numbers);
        let here = belongs(field, &key, problem) && applies(values, group, field, &numbers);
        (here && !matches!(field.kind, Kind::Version)).then(|| Some((key, chapter(group.chapter)?)))?
    })
}

/// Whether a problem is shown at a field.
fn belongs(field: &Field, key: &str, problem: &Problem) -> bool {
    match field.kind {
        Kind::OneOf(one_of) => {
            problem.key == one_of.base && !one_of.base.is_empty()
                || one_of.ways.iter().any(|way| !way.key.is_empty() && way.key == problem.key)
                || key.strip_prefix('@').is_some_and(|k| k == problem.key)
        }
        _ => {
            problem.key == key
                || key.strip_suffix(".kind").is_some_and(|k| k.starts_with("finish.") && k == problem.key)
        }
    }
}

/// What a choice that nothing states shows as chosen, where it cannot be left open.
pub(super) fn preselected<'f>(values: &Values, field: &'f Field, key: &str) -> Option<&'f str> {
    let Kind::Choice(words) = field.kind else { return None };
    if reference::row(field).is_some_and(|row| !row.usual.is_empty()) {
        return None;
    }
    let in_force = in_force(values, key);
    words.iter().map(|(word, _)| *word).find(|word| *word == in_force)
}

/// One page of fields being made.
struct Page<'a> {
    values: &'a Values,
    shown: Shown<'a>,
    chapter: &'static str,
}

impl Page<'_> {
    fn fields(
        &self,
        group: &Group,
        fields: &'static [Field],
        numbers: &[usize],
    ) -> Result<String, askama::Error> {
        let mut views = Vec::new();
        for field in fields {
            if !matches!(field.kind, Kind::Version) && applies(self.values, group, field, numbers) {
                views.push(self.field(group, field, numbers)?);
            }
        }
        if views.is_empty() { Ok(String::new()) } else { Fields { fields: views }.render() }
    }

    fn field(
        &self,
        group: &Group,
        field: &'static Field,
        numbers: &[usize],
    ) -> Result<FieldView, askama::Error> {
        let key = at(field.key, numbers);
        let id = field_id(&key);
        let row = reference::row(field);
        let hint = if field.hint.is_empty() { row.map_or("", |r| &r.means) } else { field.hint };
        let hint = if repeats(hint, field.label) { "" } else { hint };
        let problems = self.shown.problems.iter().filter(|p| belongs(field, &key, p));
        let wrong: Vec<String> = problems.map(|p| format!("{}: {}", p.says, p.remedy)).collect();
        let typed = self.shown.typed.iter().rev().find(|(k, _)| *k == key).map(|(_, v)| v.clone());
        let mut described = Vec::new();
        if !hint.is_empty() {
            described.push(format!("{id}-hint"));
        }
        if !wrong.is_empty() {
            described.push(format!("{id}-wrong"));
        }
        Ok(FieldView {
            name: format!("f:{key}"),
            label: field.label,
            hint: hint.to_owned(),
            wrong,
            usual: row.map(|r| r.usual.clone()).unwrap_or_default(),
            control: self.control(group, field, &key, (numbers, typed.as_deref()))?,
            value: typed.unwrap_or_else(|| self.values.shown(&key)),
            described: described.join(" "),
            id,
        })
    }

    fn control(
        &self,
        group: &Group,
        field: &'static Field,
        key: &str,
        (numbers, typed): (&[usize], Option<&str>),
    ) -> Result<Control, askama::Error> {
        let line = |list: &str, mode| {
            let list = if list.is_empty() { String::new() } else { format!("{}-{list}", self.chapter) };
            Ok(Control::Line { list, mode })
        };
        match field.kind {
            Kind::Lines => Ok(Control::Lines),
            Kind::Count => line("", "numeric"),
            Kind::Wood => line("woods", "text"),
            Kind::Sheet => line("sheets", "text"),
            Kind::Rings => line("rings", "text"),
            Kind::Corner => line("corners", "text"),
            Kind::Choice(words) => Ok(Control::Select(self.choices(field, key, words, typed))),
            Kind::Flag => {
                Ok(Control::Select(self.choices(field, key, &[("true", "yes"), ("false", "no")], typed)))
            }
            Kind::OneOf(one_of) => {
                let now = one_of.ways.get(way_in_force(self.values, one_of)).map_or("", |way| way.word);
                let now = typed.unwrap_or(now);
                let choice = |way: &super::field::Way| Choice {
                    value: way.word.to_owned(),
                    label: way.label.to_owned(),
                    chosen: way.word == now,
                };
                Ok(Control::Select(open_ways(self.values, one_of).map(choice).collect()))
            }
            Kind::List(list) => self.rows(group, list, key, numbers),
            Kind::Version | Kind::Length | Kind::Lengths | Kind::Degrees | Kind::Text => line("", "text"),
        }
    }

    fn choices(&self, field: &Field, key: &str, words: &[(&str, &str)], typed: Option<&str>) -> Vec<Choice> {
        let stated = typed.map_or_else(|| self.values.shown(key), str::to_owned);
        let mut out = Vec::new();
        let before = preselected(self.values, field, key);
        if before.is_none() {
            out.push(Choice {
                value: String::new(),
                label: self.usual_words(field, key, words),
                chosen: stated.is_empty(),
            });
        }
        let now = if stated.is_empty() { before.unwrap_or_default().to_owned() } else { plain(&stated) };
        for (word, label) in words {
            let chosen = *word == now;
            // The word as it was written, so that an untouched field changes nothing.
            let value = if chosen && !stated.is_empty() { stated.clone() } else { (*word).to_owned() };
            out.push(Choice { value, label: (*label).to_owned(), chosen });
        }
        if !stated.is_empty() && out.iter().all(|c| !c.chosen) {
            out.push(Choice { value: stated.clone(), label: stated, chosen: true });
        }
        out
    }

    /// The words of leaving a choice open.
    fn usual_words(&self, field: &Field, key: &str, words: &[(&str, &str)]) -> String {
        let usual = reference::row(field).map_or("", |row| &row.usual);
        let label = |word: &str| words.iter().find(|(w, _)| *w == word).map(|(_, label)| *label);
        // What is in force is the usual only where nothing is stated.
        let in_force = if self.values.has(key) { String::new() } else { in_force(self.values, key) };
        match label(usual).or_else(|| label(&in_force)) {
            Some(label) => format!("usual: {label}"),
            None => format!("usual: {usual}"),
        }
    }

    fn rows(
        &self,
        group: &Group,
        list: &'static List,
        key: &str,
        numbers: &[usize],
    ) -> Result<Control, askama::Error> {
        let has = self.values.len(key);
        let mut rows = Vec::new();
        for number in 1..=has {
            let mut inner = numbers.to_vec();
            inner.push(number);
            rows.push(RowView {
                legend: format!("{} {number}", capital(list.one)),
                fields: self.fields(group, list.fields, &inner)?,
                key: format!("{key}.{number}"),
                up: number > 1,
                down: number < has,
            });
        }
        Ok(Control::List { rows, add: format!("add {key}"), one: list.one })
    }
}

/// Whether help says no more than the label above it.
fn repeats(hint: &str, label: &str) -> bool {
    let hint = hint.strip_prefix("the ").unwrap_or(hint);
    hint.eq_ignore_ascii_case(label)
}

fn capital(words: &str) -> String {
    keepwright_packet::shown::capital(words)
}

/// Proposals for the fields of a chapter.
fn lists(chapter: &str) -> Vec<(&'static str, Vec<String>)> {
    let owned = |words: &[&str]| words.iter().map(|w| (*w).to_owned()).collect();
    let mut out = Vec::new();
    if matches!(chapter, "shape" | "woods" | "joints") {
        out.push(("woods", woods().to_vec()));
        out.push(("rings", owned(&["flat-sawn", "rift", "quartersawn"])));
    }
    if matches!(chapter, "shape" | "woods") {
        out.push(("sheets", wood::sheets().iter().map(|sheet| sheet.name.to_owned()).collect()));
    }
    if matches!(chapter, "boards" | "joints") {
        out.push(("corners", owned(&["front right", "back right", "back left", "front left"])));
    }
    out
}

/// Every wood as it is said, and the trade's short names.
fn woods() -> &'static [String] {
    static WOODS: OnceLock<Vec<String>> = OnceLock::new();
    WOODS.get_or_init(|| {
        let said = wood::all().iter().map(|species| match species.common_name.split_once(", ") {
            Some((genus, kind)) => format!("{} {}", kind.to_lowercase(), genus.to_lowercase()),
            None => species.common_name.to_lowercase(),
        });
        let mut all: Vec<String> =
            said.chain(wood::aliases().iter().map(|alias| alias.name.to_owned())).collect();
        all.sort();
        all.dedup();
        all.retain(|name| wood::species(name).is_some());
        all
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "keepwright = 1\nname = \"<b>&\\\"'\"\nunits = 'in'\n[size]\noutside = { length = \"7 1/2\", depth = 5, height = 3 }\n[walls]\nwood = 'cherry'\n[corners]\njoint = 'Keyed-Miter'\n[[corners.row]]\n[[corners.row]]\n";

    fn shape(text: &str, problems: &[Problem]) -> String {
        html("shape", Shown { text, problems, typed: &[] }).unwrap()
    }

    #[test]
    fn a_value_stays_as_it_was_written_and_is_escaped() {
        let page = shape(TEXT, &[]);
        assert!(page.contains("value=\"7 1/2\""), "{page}");
        assert!(!page.contains("<b>"));
        assert!(page.contains("&#60;b&#62;&#38;&#34;&#39;"));
        // Across applies to polygons only.
        assert!(!page.contains("size.outside.across"));
    }

    #[test]
    fn every_label_and_description_has_its_element() {
        let problem = Problem {
            span: 0..0,
            key: "corners.row.2.thickness".into(),
            says: "is <0".into(),
            remedy: "more".into(),
        };
        for chapter in chapters() {
            let problems = [problem.clone()];
            let made = Made { slug: "box", base: 1, draft: Some(2), forgery: "x", from: "box" };
            let page = form(&made, *chapter, Shown { text: TEXT, problems: &problems, typed: &[] }).unwrap();
            for attribute in ["for=\"", "aria-describedby=\"", "list=\""] {
                for ids in page.split(attribute).skip(1) {
                    for id in ids.split('"').next().unwrap().split(' ') {
                        assert!(page.contains(&format!(" id=\"{id}\"")), "{attribute}{id} in {page}");
                    }
                }
            }
            let mut ids: Vec<&str> =
                page.split(" id=\"").skip(1).map(|i| i.split('"').next().unwrap()).collect();
            let all = ids.len();
            ids.sort_unstable();
            ids.dedup();
            assert_eq!(all, ids.len(), "an id twice in {}", chapter.id);
        }
        let problems = [problem];
        let joints = html("joints", Shown { text: TEXT, problems: &problems, typed: &[] }).unwrap();
        assert!(joints.contains("is &#60;0: more"), "{joints}");
        assert!(joints.contains("aria-invalid=\"true\""));
        assert!(joints.contains("value=\"remove corners.row.2\""));
        assert!(joints.contains("<option value=\"Keyed-Miter\" selected>"));
    }
}
