//! What a field of a form is: data only. The tables under [`table`](super::table) are made of these.
//!
//! A key is the path of `docs/statement.md`; a `*` in it stands for the number of an item of a list. A key that begins
//! with `@` stands in no statement: it is a choice between keys of which one is stated (see [`OneOf`]).

/// One legend with its fields, in one chapter of a box.
#[derive(Debug)]
pub(crate) struct Group {
    /// The chapter's id.
    pub(crate) chapter: &'static str,
    /// What the maker reads above the fields.
    pub(crate) legend: &'static str,
    /// The noun in front of a label where a change is named: `wall` in "wall thickness".
    pub(crate) called: &'static str,
    /// When it applies.
    pub(crate) when: &'static [Cond],
    /// The fields.
    pub(crate) fields: &'static [Field],
}

/// One field.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Field {
    /// Key path.
    pub(crate) key: &'static str,
    /// What the maker reads.
    pub(crate) label: &'static str,
    /// What it takes.
    pub(crate) kind: Kind,
    /// When it applies, beside its group's own conditions.
    pub(crate) when: &'static [Cond],
    /// A line of help; empty for the meaning that the reference gives.
    pub(crate) hint: &'static str,
    /// Its row in the reference where that has another name than the key; empty otherwise.
    pub(crate) row: &'static str,
    /// What it starts with when it comes to apply and the statement needs it.
    pub(crate) start: Start,
}

/// What a field takes.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Kind {
    /// The format's version: in the text only.
    Version,
    /// A length, as typed.
    Length,
    /// Several lengths with commas between.
    Lengths,
    /// Degrees.
    Degrees,
    /// A whole number.
    Count,
    /// One of several words: the word, and how it reads.
    Choice(&'static [(&'static str, &'static str)]),
    /// A wood.
    Wood,
    /// A sheet.
    Sheet,
    /// How the growth rings lie.
    Rings,
    /// A corner of the box.
    Corner,
    /// Yes or no.
    Flag,
    /// One line of text.
    Text,
    /// Several lines of text.
    Lines,
    /// Sections one after another, each with fields of its own.
    List(&'static List),
    /// Exactly one of several keys is stated.
    OneOf(&'static OneOf),
}

/// A list of sections.
#[derive(Debug)]
pub(crate) struct List {
    /// One of them in words.
    pub(crate) one: &'static str,
    /// Several in words.
    pub(crate) many: &'static str,
    /// What a fresh one holds, as an inline table.
    pub(crate) fresh: &'static str,
    /// The fields of each.
    pub(crate) fields: &'static [Field],
}

/// A choice of which key is stated.
#[derive(Debug)]
pub(crate) struct OneOf {
    /// The section that holds nothing but these keys; empty if there is none.
    pub(crate) base: &'static str,
    /// What can be stated; the first whose key stands in the text is the one in force.
    pub(crate) ways: &'static [Way],
    /// Which of them holds where none is stated.
    pub(crate) usual: usize,
    /// When the first way is out of the question.
    pub(crate) needed: &'static [Cond],
}

/// One way to state something.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Way {
    /// Its word in the form.
    pub(crate) word: &'static str,
    /// How it reads.
    pub(crate) label: &'static str,
    /// The key that states it; empty for stating nothing.
    pub(crate) key: &'static str,
    /// What the key starts with.
    pub(crate) start: Start,
}

/// What a key starts with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Start {
    /// Nothing: left out, the usual holds.
    Nothing,
    /// This TOML value.
    Value(&'static str),
    /// What another key has, else this TOML value.
    Like(&'static str, &'static str),
}

/// A condition on what is in force in the statement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cond {
    /// The choice, usual where nothing is stated, is one of these words.
    Is(&'static str, &'static [&'static str]),
    /// The choice is none of these words.
    Not(&'static str, &'static [&'static str]),
    /// The key is stated.
    Has(&'static str),
    /// The key is not stated.
    Lacks(&'static str),
}

/// A group.
pub(crate) const fn group(
    chapter: &'static str,
    legend: &'static str,
    called: &'static str,
    when: &'static [Cond],
    fields: &'static [Field],
) -> Group {
    Group { chapter, legend, called, when, fields }
}

/// A field.
pub(crate) const fn field(key: &'static str, label: &'static str, kind: Kind) -> Field {
    Field { key, label, kind, when: &[], hint: "", row: "", start: Start::Nothing }
}

/// A length.
pub(crate) const fn length(key: &'static str, label: &'static str) -> Field {
    field(key, label, Kind::Length)
}

/// A whole number.
pub(crate) const fn count(key: &'static str, label: &'static str) -> Field {
    field(key, label, Kind::Count)
}

/// A wood and beside it, as the reference has it, its rings.
pub(crate) const fn wood(key: &'static str, label: &'static str) -> Field {
    field(key, label, Kind::Wood)
}

/// The rings of the wood before it.
pub(crate) const fn rings(key: &'static str, label: &'static str) -> Field {
    field(key, label, Kind::Rings)
        .hint("growth rings at the wide face: flat-sawn, rift, quartersawn, or degrees")
}

/// One of several words.
pub(crate) const fn choice(
    key: &'static str,
    label: &'static str,
    words: &'static [(&'static str, &'static str)],
) -> Field {
    field(key, label, Kind::Choice(words))
}

impl Field {
    /// Only when all of these hold.
    pub(crate) const fn when(mut self, when: &'static [Cond]) -> Self {
        self.when = when;
        self
    }

    /// With help of its own.
    pub(crate) const fn hint(mut self, hint: &'static str) -> Self {
        self.hint = hint;
        self
    }

    /// Found in the reference under another name.
    pub(crate) const fn row(mut self, row: &'static str) -> Self {
        self.row = row;
        self
    }

    /// Needed: starts with a value when it comes to apply.
    pub(crate) const fn start(mut self, start: Start) -> Self {
        self.start = start;
        self
    }
}

/// A way that states a key.
pub(crate) const fn way(word: &'static str, label: &'static str, key: &'static str, start: Start) -> Way {
    Way { word, label, key, start }
}

/// A choice between keys.
pub(crate) const fn one_of(base: &'static str, ways: &'static [Way], usual: usize) -> OneOf {
    OneOf { base, ways, usual, needed: &[] }
}

/// A key with the numbers of list items put in for its stars, the first number for the first star.
pub(crate) fn at(key: &str, numbers: &[usize]) -> String {
    let mut out = String::with_capacity(key.len() + 2);
    let mut numbers = numbers.iter();
    for (i, piece) in key.split('*').enumerate() {
        if i > 0 {
            match numbers.next() {
                Some(number) => out.push_str(&number.to_string()),
                None => out.push('*'),
            }
        }
        out.push_str(piece);
    }
    out
}

/// A key with stars for its numbers, and the numbers.
pub(crate) fn pattern(key: &str) -> (String, Vec<usize>) {
    let mut numbers = Vec::new();
    let words: Vec<&str> = key
        .split('.')
        .map(|word| match word.parse() {
            Ok(number) => {
                numbers.push(number);
                "*"
            }
            Err(_) => word,
        })
        .collect();
    (words.join("."), numbers)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_go_in_and_come_out() {
        for (key, numbers, want) in [
            ("walls.wood", &[][..], "walls.wood"),
            ("corners.pattern.*.row.*.wood", &[2, 3], "corners.pattern.2.row.3.wood"),
            ("corners.pattern.*.row", &[2, 3], "corners.pattern.2.row"),
            ("corners.pattern.*.row.*.wood", &[2], "corners.pattern.2.row.*.wood"),
        ] {
            assert_eq!(at(key, numbers), want);
        }
        assert_eq!(
            pattern("corners.pattern.2.row.3.wood"),
            ("corners.pattern.*.row.*.wood".to_owned(), vec![2, 3])
        );
    }
}
