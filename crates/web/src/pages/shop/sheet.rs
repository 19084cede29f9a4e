//! The shop's page: every field with what stands in it, what is usual, and what is wrong with it.

use super::fields::{DAYS, Field, GROUPS, Kind, times_key};
use super::typed::{PREFIX, Typed};
use super::usual::Usual;
use super::written::Written;
use crate::pages::words::linked;
use keepwright_model::design::Problem;
use keepwright_model::job::Shop;
use keepwright_model::shop::time::operation_times;
use std::collections::BTreeMap;

/// Empty rows offered for bought things.
const SPARE_ROWS: usize = 2;

/// All fields of the page.
pub(crate) struct Sheet {
    /// Fields by group.
    pub(crate) groups: Vec<GroupView>,
    /// Minutes by operation.
    pub(crate) times: Vec<TimeView>,
    /// Bought things and their prices.
    pub(crate) hardware: Vec<HardwareView>,
    /// What is wrong and belongs to no field.
    pub(crate) elsewhere: Vec<String>,
    /// How many fields have something wrong.
    pub(crate) wrong: usize,
}

/// A group of fields.
pub(crate) struct GroupView {
    /// The anchor.
    pub(crate) id: &'static str,
    /// The heading.
    pub(crate) title: &'static str,
    /// The computed sentence that opens it; empty where there is none.
    pub(crate) say: String,
    /// The fields.
    pub(crate) fields: Vec<FieldView>,
    /// Words that stand in them, as links into the glossary.
    pub(crate) words: Vec<String>,
}

/// A field.
pub(crate) struct FieldView {
    /// The element's id.
    pub(crate) id: String,
    /// The form's name.
    pub(crate) name: String,
    /// The label.
    pub(crate) label: &'static str,
    /// The unit behind the label.
    pub(crate) unit: String,
    /// One sentence on what it is for.
    pub(crate) hint: &'static str,
    /// What stands in it.
    pub(crate) value: String,
    /// What holds while it is empty.
    pub(crate) usual: String,
    /// What is wrong with it; empty for nothing.
    pub(crate) wrong: String,
    /// How it is drawn.
    pub(crate) control: Control,
}

impl FieldView {
    /// Whether what stands in a choice is none of its words: it is shown all the same, so that it is not lost.
    pub(crate) fn is_no_word(&self) -> bool {
        match &self.control {
            Control::Choice(words) => !self.value.is_empty() && words.iter().all(|w| !w.chosen),
            Control::Line { .. } | Control::Ticks(_) => false,
        }
    }
}

/// How a field is drawn.
pub(crate) enum Control {
    /// A line, with the letters that a small keyboard should offer and the list of names to choose from.
    Line { keys: &'static str, list: &'static str },
    /// A list to choose from.
    Choice(Vec<Word>),
    /// Several ticks.
    Ticks(Vec<Word>),
}

/// One word to choose.
pub(crate) struct Word {
    /// As the file has it.
    pub(crate) value: &'static str,
    /// As the page says it.
    pub(crate) says: &'static str,
    /// Whether it is chosen.
    pub(crate) chosen: bool,
}

/// The minutes of an operation.
pub(crate) struct TimeView {
    /// The element's id.
    pub(crate) id: String,
    /// The form's name.
    pub(crate) name: String,
    /// The operation as the shop file names it.
    pub(crate) key: String,
    /// What is done.
    pub(crate) title: &'static str,
    /// What stands in the field.
    pub(crate) value: String,
    /// The program's own minutes for a piece.
    pub(crate) usual: String,
    /// Minutes to set up, once for each setting.
    pub(crate) setup: String,
    /// What is wrong; empty for nothing.
    pub(crate) wrong: String,
}

/// A bought thing.
pub(crate) struct HardwareView {
    /// Which row, from 1.
    pub(crate) row: usize,
    /// A word of its name.
    pub(crate) name: String,
    /// What one costs.
    pub(crate) price: String,
    /// What is wrong; empty for nothing.
    pub(crate) wrong: String,
}

/// What the page is made from.
pub(crate) struct Given<'a> {
    /// The shop file in force.
    pub(crate) text: &'a str,
    /// What was typed and not taken, if anything.
    pub(crate) typed: &'a Typed,
    /// What is wrong, by key.
    pub(crate) wrong: BTreeMap<String, String>,
    /// The shop as far as it can be read.
    pub(crate) shop: &'a Shop,
}

impl Sheet {
    /// The page's fields.
    pub(crate) fn of(mut given: Given<'_>) -> Self {
        let written = Written::of(given.text);
        let usual = Usual::of(given.shop);
        let mut sheet = Self {
            groups: Vec::new(),
            times: Vec::new(),
            hardware: Vec::new(),
            elsewhere: Vec::new(),
            wrong: 0,
        };
        sheet.wrong = given.wrong.len();
        for group in GROUPS {
            let fields = group.fields.iter().map(|f| field(f, &written, &usual, &mut given)).collect();
            let say = super::say::group(group.id, given.shop);
            let words = group.words.iter().map(|w| linked(w)).collect();
            sheet.groups.push(GroupView { id: group.id, title: group.title, say, fields, words });
        }
        for row in operation_times() {
            let key = times_key(&row.key);
            let stands = written.times_key(&row.key);
            let wrong = take(&mut given.wrong, &key).or_else(|| take(&mut given.wrong, &stands));
            sheet.times.push(TimeView {
                id: id(&key),
                name: format!("{PREFIX}{key}"),
                title: &row.title,
                value: given
                    .typed
                    .get(&key)
                    .map(str::to_owned)
                    .or_else(|| written.get(&stands))
                    .unwrap_or_default(),
                usual: Usual::number(row.each.value()),
                setup: Usual::number(row.setup.value()),
                wrong: wrong.unwrap_or_default(),
                key: row.key.replace('_', " "),
            });
        }
        sheet.hardware = hardware(&written, &mut given);
        sheet.elsewhere = given.wrong.into_values().collect();
        sheet
    }
}

fn field(field: &Field, written: &Written, usual: &Usual, given: &mut Given<'_>) -> FieldView {
    let typed = given.typed.get(field.key).map(str::to_owned);
    let value = typed.or_else(|| written.get(field.key)).unwrap_or_default();
    let control = match field.kind {
        Kind::Choice(words) | Kind::NumberChoice(words) => Control::Choice(
            words.iter().map(|(word, says)| Word { value: word, says, chosen: *word == value }).collect(),
        ),
        Kind::Days => {
            let days = given.typed.all(field.key).or_else(|| written.list(field.key));
            let works = |n: usize, day: &str| match &days {
                Some(days) => days.iter().any(|d| d == day),
                None => usual.file.week.workdays.get(n).copied().unwrap_or(false),
            };
            let ticks = DAYS.iter().enumerate();
            Control::Ticks(
                ticks.map(|(n, (day, says))| Word { value: day, says, chosen: works(n, day) }).collect(),
            )
        }
        Kind::Site => Control::Line { keys: "text", list: "sites" },
        Kind::Glue => Control::Line { keys: "text", list: "glues" },
        Kind::Number => Control::Line { keys: "decimal", list: "" },
        Kind::Text | Kind::Length | Kind::Lengths | Kind::Numbers => Control::Line { keys: "text", list: "" },
    };
    let unit = match (field.kind, field.key) {
        (Kind::Number, "shop.hourly_rate" | "money.overhead_per_hour" | "money.consumables") => {
            usual.currency()
        }
        _ => field.unit.to_owned(),
    };
    FieldView {
        id: id(field.key),
        name: format!("{PREFIX}{}", field.key),
        label: field.label,
        unit,
        hint: field.hint,
        value,
        usual: (field.usual)(usual),
        wrong: take(&mut given.wrong, field.key).unwrap_or_default(),
        control,
    }
}

fn hardware(written: &Written, given: &mut Given<'_>) -> Vec<HardwareView> {
    let mut rows = given.typed.hardware().unwrap_or_else(|| written.hardware());
    while rows.last().is_some_and(|(name, price)| name.is_empty() && price.is_empty()) {
        rows.pop();
    }
    rows.extend((0..SPARE_ROWS).map(|_| (String::new(), String::new())));
    rows.into_iter()
        .enumerate()
        .map(|(at, (name, price))| {
            let row = at + 1;
            let wrong = take(&mut given.wrong, &format!("hardware.{row}")).unwrap_or_default();
            HardwareView { row, name, price, wrong }
        })
        .collect()
}

/// Takes what is wrong with a key or with something inside it.
fn take(wrong: &mut BTreeMap<String, String>, key: &str) -> Option<String> {
    let found = wrong
        .keys()
        .find(|k| k.strip_prefix(key).is_some_and(|rest| rest.is_empty() || rest.starts_with('.')))?;
    let found = found.clone();
    wrong.remove(&found)
}

/// An id that a style sheet could name.
fn id(key: &str) -> String {
    key.replace(['.', ' ', '_'], "-")
}

/// What is wrong by key, as the fields say it.
pub(crate) fn by_key(problems: &[Problem]) -> BTreeMap<String, String> {
    let mut by_key: BTreeMap<String, String> = BTreeMap::new();
    for problem in problems {
        let says = format!("{}: {}", problem.says, problem.remedy);
        by_key
            .entry(problem.key.clone())
            .and_modify(|so_far| {
                so_far.push_str("; ");
                so_far.push_str(&says);
            })
            .or_insert(says);
    }
    by_key
}
