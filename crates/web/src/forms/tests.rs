//! What forms make of a statement, whatever is chosen in them: it reads, and nothing is lost.

use super::apply::{RowStep, apply, settled};
use super::field::{Kind, at};
use super::values::Values;
use super::{applies, table};
use crate::demo::BOXES;
use keepwright_model::design::{Defaults, Problem, read_statement};
use keepwright_model::wood;

fn problems(text: &str) -> Vec<Problem> {
    read_statement(text, &Defaults::default(), &wood::named).err().unwrap_or_default()
}

/// A fixed sequence of numbers.
///
/// # Source
/// The 64-bit xorshift generator: G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 33).unwrap_or(0) % bound.max(1)
    }

    fn of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

/// What a maker may choose: every choice of every field that applies, with its words.
fn choices(values: &Values) -> Vec<(String, Vec<String>)> {
    let mut out = Vec::new();
    for (group, field) in table::all() {
        if field.key.contains('*') || !applies::applies(values, group, field, &[]) {
            continue;
        }
        let words: Vec<&str> = match field.kind {
            Kind::Choice(words) => words.iter().map(|(word, _)| *word).collect(),
            Kind::OneOf(one_of) => applies::open_ways(values, one_of).map(|way| way.word).collect(),
            Kind::Count if field.key == "shape.sides" => vec!["4", "6", "3"],
            _ => continue,
        };
        out.push((field.key.to_owned(), words.into_iter().map(str::to_owned).collect()));
    }
    out
}

/// Whatever is chosen, one after another, no key is left that belongs to another choice, and none is missing that the
/// new choice needs: the conditions of the fields are those of the reader.
#[test]
fn any_choice_leaves_a_statement_that_reads() {
    for (name, text) in BOXES {
        let mut numbers = Numbers(0x1234_5678_9abc_def1);
        for _ in 0..6 {
            let mut text = text.to_owned();
            let mut path = Vec::new();
            for _ in 0..14 {
                let values = Values::of(&text).unwrap();
                let all = choices(&values);
                let (key, words) = numbers.of(&all);
                let word = numbers.of(words).clone();
                text = apply(&text, &[(key.clone(), word.clone())], None).unwrap();
                path.push(format!("{key}={word}"));
                let found: Vec<Problem> = problems(&text)
                    .into_iter()
                    // What one maker's choice asks of another is told at its field; it is no left-over key.
                    .filter(|p| {
                        !p.says.contains("bookmatched pair wraps") && !p.says.contains("no corner is called")
                    })
                    .filter(|p| !p.says.contains("stand above the walls"))
                    .collect();
                assert!(found.is_empty(), "{name}: {path:?}\n{found:#?}\n{text}");
            }
        }
    }
}

/// Choosing another way and then the first one again gives the same statement back.
#[test]
fn going_there_and_back_loses_nothing() {
    for (name, text) in BOXES {
        let before = read_statement(text, &Defaults::default(), &wood::named).unwrap();
        let values = Values::of(text).unwrap();
        for (key, words) in choices(&values) {
            let now = words.iter().find(|word| **word == applies::in_force(&values, &key));
            // Stating what is usual is no change of the statement, but of its text; sides change sizes.
            let Some(now) = now.filter(|_| key.starts_with('@') || values.has(&key)) else { continue };
            // A lid that comes to need hinges or a lining gets them, and they stay when it needs them no more.
            let brings = |w: &String| key == "lid.registration" && matches!(w.as_str(), "lining" | "hinges");
            for word in words.iter().filter(|w| *w != now && !brings(w)) {
                let there = apply(text, &[(key.clone(), word.clone())], None).unwrap();
                let back = apply(&there, &[(key.clone(), now.clone())], None).unwrap();
                let read = read_statement(&back, &Defaults::default(), &wood::named);
                assert_eq!(
                    read.as_ref(),
                    Ok(&before),
                    "{name}: {key} {now} → {word} → {now}\n{there}\n{back}"
                );
            }
        }
    }
}

/// What fields may be given: right and wrong, usual and hostile.
const TYPED: [&str; 28] = [
    "",
    " ",
    "0",
    "-1",
    "12",
    "007",
    "1e400",
    "7 1/2\"",
    "7 1/",
    "3/8 in",
    "190 mm",
    "1,5",
    "1, 2, 3",
    "99999999999999999999",
    "nan",
    "true",
    "false",
    "cherry",
    "none",
    "back left",
    "quartersawn",
    "45",
    "<script>",
    "\"",
    "\\",
    "a\nb",
    "\u{0}\u{7f}",
    "ü = [1]",
];

/// Random values through every field, list and text edit: never a panic, and either a statement or problems.
#[test]
fn anything_typed_makes_a_statement_or_problems() {
    let mut numbers = Numbers(0x9e37_79b9_7f4a_7c15);
    let keys: Vec<&str> = table::all().map(|(_, field)| field.key).collect();
    let lists = [
        "size.contents.item",
        "corners.row",
        "corners.pattern",
        "corners.pattern.1.row",
        "lid.woods",
        "bottom.strips",
    ];
    let (mut read, mut refused) = (0, 0);
    for round in 0..400 {
        let mut text = numbers.of(&BOXES).1.to_owned();
        for _ in 0..=numbers.below(5) {
            let typed: Vec<(String, String)> = (0..=numbers.below(3))
                .map(|_| {
                    let key = numbers.of(&keys);
                    let at = at(key, &[1 + numbers.below(3), 1 + numbers.below(3)]);
                    (at, (*numbers.of(&TYPED)).to_owned())
                })
                .collect();
            let row = match numbers.below(4) {
                0 => {
                    let what = numbers.of(&["add", "remove", "up", "down"]);
                    let list = numbers.of(&lists);
                    RowStep::of(&if *what == "add" {
                        format!("add {list}")
                    } else {
                        format!("{what} {list}.{}", 1 + numbers.below(3))
                    })
                }
                _ => None,
            };
            if let Ok(made) = apply(&text, &typed, row.as_ref()) {
                assert!(Values::of(&made).is_some(), "{round}: {typed:?} made no TOML of\n{text}\n{made}");
                text = made;
            }
            let set = format!("{} = {}", numbers.of(&keys), numbers.of(&TYPED));
            if numbers.below(5) == 0
                && let Ok(made) = settled(&text, &[set])
            {
                text = made;
            }
        }
        if problems(&text).is_empty() { read += 1 } else { refused += 1 }
    }
    assert!(read > 50 && refused > 50, "{read} read, {refused} did not");
}

/// A value typed into any field is shown again as it was typed, also one that does not read.
#[test]
fn what_was_typed_is_shown_again() {
    for (_, text) in BOXES {
        let values = Values::of(text).unwrap();
        for (group, field) in table::all() {
            let typed = "7 1/2 <hands> \"";
            let takes = !matches!(field.kind, Kind::OneOf(_) | Kind::List(_) | Kind::Version | Kind::Lengths);
            // A choice that is no word leaves open what else applies.
            let decides = matches!(field.kind, Kind::Choice(_)) || field.key == "shape.sides";
            if !takes || decides || field.key.contains('*') || !applies::applies(&values, group, field, &[]) {
                continue;
            }
            let made = apply(text, &[(field.key.to_owned(), typed.to_owned())], None).unwrap();
            assert_eq!(Values::of(&made).unwrap().shown(field.key), typed, "{}\n{made}", field.key);
        }
    }
}
