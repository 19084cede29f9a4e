//! What stands on a card beside the saw, as data for the page.

use crate::secret;
use keepwright_model::caution::{Caution, Weight};
use keepwright_model::units::Minutes;
use keepwright_packet::flow::Setting;
use keepwright_packet::shown::{self, Showing, capital};

/// The longest key of a part that is kept as it reads, in bytes; a longer one is cut and told apart by its digest.
const MOST_KEY: usize = 120;

/// One card: a set-up, or a step of the work between set-ups.
#[derive(Clone, Debug)]
pub(crate) struct Card {
    /// Its place in the order of the work, from 1.
    pub(crate) number: usize,
    /// What the card is for; stays the same when only its numbers change.
    pub(crate) key: String,
    /// Digest of all that is set, and of the pieces: ticks belong to this.
    pub(crate) plan: String,
    /// What is done.
    pub(crate) title: String,
    /// Machine and cutter, or what else it is done with.
    pub(crate) under: String,
    /// What parts it from others of its title, in a line of the list.
    pub(crate) brief: String,
    /// What is set, in big figures.
    pub(crate) settings: Vec<Setting>,
    /// The sketch.
    pub(crate) sketch: Option<Sketch>,
    /// How the work lies, what holds it, where the offcut goes.
    pub(crate) facts: Vec<Fact>,
    /// Further positions of the guide.
    pub(crate) passes: Vec<Passes>,
    /// Clocks that this card may start.
    pub(crate) timers: Vec<Timer>,
    /// What is ticked off.
    pub(crate) ticks: Vec<Tick>,
    /// This very step's cautions, gravest first.
    pub(crate) cautions: Vec<Mind>,
    /// Ticks made when the settings were others, in words; empty where there are none.
    pub(crate) earlier: String,
}

impl Card {
    /// How many cautions it has, and the gravest one's weight.
    pub(crate) fn minds(&self) -> String {
        let count = shown::counted(self.cautions.len(), "caution", "cautions");
        let weight = self.cautions.first().map_or("", Mind::weighs);
        format!("{}: {weight}", capital(&count))
    }

    /// How many of its ticks are set.
    pub(crate) fn ticked(&self) -> usize {
        self.ticks.iter().filter(|t| t.on).count()
    }

    /// Whether everything on it is ticked.
    pub(crate) fn is_done(&self) -> bool {
        !self.ticks.is_empty() && self.ticks.iter().all(|t| t.on)
    }
}

/// A drawing, ready for the page.
#[derive(Clone, Debug)]
pub(crate) struct Sketch {
    /// The SVG element.
    pub(crate) svg: String,
}

/// A named fact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Fact {
    /// What it is about.
    pub(crate) name: String,
    /// The rest of the sentence.
    pub(crate) says: String,
}

impl Fact {
    pub(crate) fn new(name: &str, says: impl Into<String>) -> Self {
        Self { name: name.to_owned(), says: says.into() }
    }
}

/// A list of passes.
#[derive(Clone, Debug)]
pub(crate) struct Passes {
    /// What they are for.
    pub(crate) lead: String,
    /// Headings of the columns after the number.
    pub(crate) heads: Vec<String>,
    /// The cells after the number, a row for each pass.
    pub(crate) rows: Vec<Vec<Cell>>,
}

/// A length in both units.
#[derive(Clone, Debug)]
pub(crate) struct Cell {
    /// In the shop's unit.
    pub(crate) value: String,
    /// In the other.
    pub(crate) other: String,
}

/// Whether more time than said does harm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Runs {
    /// It must be done before the time is up: the open time.
    Limit,
    /// It must not be touched before: clamps, cure, drying.
    Wait,
}

/// A clock that a card may start.
#[derive(Clone, Debug)]
pub(crate) struct Timer {
    /// Its key, one of its own within the box's cards and plan.
    pub(crate) key: String,
    /// Such as `open time`.
    pub(crate) name: String,
    /// How long, in seconds.
    pub(crate) seconds: u64,
    /// The same in words.
    pub(crate) length: String,
    /// Which way it counts.
    pub(crate) runs: Runs,
}

impl Timer {
    /// A clock, where there is a time to wait.
    pub(crate) fn new(key: &str, name: impl Into<String>, time: Minutes, runs: Runs) -> Option<Self> {
        let seconds = (time.value() * 60.0).round();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "positive, and clamped to ten years"
        )]
        let whole = seconds.clamp(0.0, 315_360_000.0) as u64;
        (whole > 0).then(|| Self {
            key: key.to_owned(),
            name: name.into(),
            seconds: whole,
            length: shown::minutes(time),
            runs,
        })
    }

    /// As the page's data say it.
    pub(crate) fn kind(&self) -> &'static str {
        match self.runs {
            Runs::Limit => "limit",
            Runs::Wait => "wait",
        }
    }
}

/// Something to tick off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Tick {
    /// Its key on the card.
    pub(crate) key: String,
    /// As shown.
    pub(crate) label: String,
    /// Whether it is ticked for the present settings.
    pub(crate) on: bool,
    /// By whom and when, for a tick that is set.
    pub(crate) by: String,
}

impl Tick {
    /// Whether the label is a sentence that wants a line of its own.
    pub(crate) fn is_long(&self) -> bool {
        self.label.chars().count() > 44
    }
}

/// Ticks for labels, each with a key of its own: alike labels are numbered.
pub(crate) fn ticks(labels: Vec<String>) -> Vec<Tick> {
    let mut out: Vec<Tick> = Vec::with_capacity(labels.len());
    for label in labels {
        let plain = short(&label.replace('\u{a0}', " "));
        let alike = out.iter().filter(|t| t.key == plain || t.key.starts_with(&format!("{plain} #"))).count();
        let key = if alike == 0 { plain } else { format!("{plain} #{}", alike + 1) };
        out.push(Tick { key, label: capital(&label), on: false, by: String::new() });
    }
    out
}

fn short(label: &str) -> String {
    if label.len() <= MOST_KEY {
        return label.to_owned();
    }
    let end = (0..=MOST_KEY - 13).rev().find(|at| label.is_char_boundary(*at)).unwrap_or(0);
    let tail = secret::digest(&[label]);
    format!("{}…{}", label.get(..end).unwrap_or(""), tail.get(..8).unwrap_or(""))
}

/// A caution as a card says it.
#[derive(Clone, Debug)]
pub(crate) struct Mind {
    /// The weight, whose words and class the page shows.
    pub(crate) weight: Weight,
    /// Where.
    pub(crate) place: String,
    /// What.
    pub(crate) says: String,
    /// The numbers, named.
    pub(crate) numbers: String,
    /// What to do.
    pub(crate) change: String,
}

impl Mind {
    /// The caution in the shop's numbers.
    pub(crate) fn of(show: &Showing, caution: &Caution) -> Self {
        let numbers: Vec<String> =
            caution.numbers.iter().map(|n| format!("{} {}", n.name, show.value(&n.value))).collect();
        Self {
            weight: caution.weight,
            place: caution.place.clone(),
            says: caution.says.clone(),
            numbers: capital(&numbers.join(", ")),
            change: caution
                .change
                .as_ref()
                .map(|c| c.says.trim_end_matches('.').to_owned())
                .unwrap_or_default(),
        }
    }

    /// The weight's class.
    pub(crate) fn class(&self) -> &'static str {
        match self.weight {
            Weight::WorthKnowing => "know",
            Weight::LikelyToFail => "fail",
            Weight::Cannot => "cannot",
        }
    }

    /// The weight's words.
    pub(crate) fn weighs(&self) -> &'static str {
        self.weight.words()
    }
}

/// Cautions gravest first, each saying once.
pub(crate) fn minds<'c>(show: &Showing, cautions: impl Iterator<Item = &'c Caution>) -> Vec<Mind> {
    let mut all: Vec<Mind> = Vec::new();
    for caution in cautions {
        let mind = Mind::of(show, caution);
        if !all.iter().any(|have| have.says == mind.says && have.place == mind.place) {
            all.push(mind);
        }
    }
    all.sort_by_key(|m| core::cmp::Reverse(m.weight));
    all
}

/// Settings, ticks and times of a card, which its digest is made of; and its words.
#[derive(Clone, Debug, Default)]
pub(crate) struct Draft {
    /// What the card is for, as words that stay when numbers change.
    pub(crate) key: Vec<String>,
    /// All that is set, as text.
    pub(crate) set: Vec<String>,
    /// See [`Card`].
    pub(crate) title: String,
    pub(crate) under: String,
    /// Names of what is worked on, for the list.
    pub(crate) pieces: Vec<String>,
    pub(crate) settings: Vec<Setting>,
    pub(crate) sketch: Option<Sketch>,
    pub(crate) facts: Vec<Fact>,
    pub(crate) passes: Vec<Passes>,
    pub(crate) timers: Vec<Timer>,
    pub(crate) ticks: Vec<String>,
    pub(crate) cautions: Vec<Mind>,
}

impl Draft {
    /// The card, with its keys; the place in the order and the ticks that stand are put in afterwards.
    pub(crate) fn card(self) -> Card {
        let parts = |texts: &[String]| secret::digest(&texts.iter().map(String::as_str).collect::<Vec<_>>());
        let ticks = ticks(self.ticks);
        let mut set = self.set;
        set.extend(ticks.iter().map(|t| t.key.clone()));
        set.extend(self.timers.iter().map(|t| format!("{} {}", t.key, t.seconds)));
        Card {
            number: 0,
            key: head(&parts(&self.key)),
            plan: head(&parts(&set)),
            brief: brief(&self.settings, &self.pieces, &self.under),
            title: self.title,
            under: self.under,
            settings: self.settings,
            sketch: self.sketch,
            facts: self.facts,
            passes: self.passes,
            timers: self.timers,
            ticks,
            cautions: self.cautions,
            earlier: String::new(),
        }
    }
}

/// So many names stand in a line of the list.
const MOST_NAMES: usize = 3;

/// The first setting and the pieces; what it is done with, where neither is there.
fn brief(settings: &[Setting], pieces: &[String], under: &str) -> String {
    let mut names: Vec<&str> = Vec::new();
    for piece in pieces {
        if !names.contains(&piece.as_str()) {
            names.push(piece);
        }
    }
    if names.is_empty() {
        return under.to_owned();
    }
    let more = names.len().saturating_sub(MOST_NAMES);
    names.truncate(MOST_NAMES);
    let said = if more == 0 { shown::and(&names) } else { format!("{} and {more} more", names.join(", ")) };
    settings.first().map_or_else(|| said.clone(), |s| format!("{} {} · {said}", s.name, s.value))
}

/// Enough of a digest to tell the cards of one box apart.
fn head(digest: &str) -> String {
    digest.get(..16).unwrap_or(digest).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn alike_labels_get_keys_of_their_own() {
        let long = "a".repeat(300);
        let given = ["front, flat", "front, flat", "back × 2", "front, flat", &long];
        let keys: Vec<String> = ticks(given.map(str::to_owned).to_vec()).into_iter().map(|t| t.key).collect();
        assert_eq!(keys[..4], ["front, flat", "front, flat #2", "back × 2", "front, flat #3"]);
        assert!(keys[4].len() <= MOST_KEY && keys[4].starts_with("aaaa"), "{}", keys[4]);
    }

    #[test]
    fn a_card_s_keys_part_what_it_is_for_from_what_is_set() {
        let draft = |set: &str| Draft {
            key: vec!["rabbet".to_owned()],
            set: vec![set.to_owned()],
            ticks: vec!["front".to_owned()],
            ..Draft::default()
        };
        let (one, two) = (draft("12.00").card(), draft("12.10").card());
        assert_eq!(one.key, two.key);
        assert_ne!(one.plan, two.plan);
        assert_eq!(one.plan, draft("12.00").card().plan);
    }
}
