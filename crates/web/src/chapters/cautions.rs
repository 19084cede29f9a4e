//! A chapter's cautions, each with its weight in a word, its place, its numbers, its source and its change.

use super::{Changes, ChapterContext, PartNames, Stands};
use keepwright_model::caution::Weight;
use keepwright_model::job::Plan;
use keepwright_packet::chapters::{Chapter, cautions};
use keepwright_packet::html::Names as _;
use keepwright_packet::shown::{Showing, capital};

/// More places than this are counted, not named.
const MOST_PLACES: usize = 6;

/// A caution as the page shows it.
#[derive(Clone, Debug)]
pub(crate) struct CautionLine {
    /// The class that colors its bar.
    pub(crate) class: &'static str,
    /// How much it weighs, in words.
    pub(crate) weight: String,
    /// Whether it stands folded to its heading.
    pub(crate) folded: bool,
    /// Where.
    pub(crate) places: Vec<PlaceWord>,
    /// What.
    pub(crate) says: String,
    /// With which numbers; may be empty.
    pub(crate) numbers: String,
    /// Why it is so.
    pub(crate) basis: String,
    /// What cures it; may be empty.
    pub(crate) cure: String,
    /// The cure as edits of the statement; none where it is not in the statement or may not be made here.
    pub(crate) sets: Vec<String>,
}

/// A place in words, with the ids of the parts that it names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct PlaceWord {
    /// The words.
    pub(crate) words: String,
    /// Ids with blanks between; empty for what is no part.
    pub(crate) parts: String,
}

/// The cautions of a chapter, gravest first.
pub(super) fn lines(
    plan: &Plan,
    chapter: Chapter,
    names: &PartNames,
    context: &ChapterContext,
) -> Vec<CautionLine> {
    let show = Showing::of(plan);
    cautions(plan, chapter)
        .into_iter()
        .map(|said| {
            let caution = said.caution;
            let numbers: Vec<String> =
                caution.numbers.iter().map(|n| format!("{} {}", n.name, show.value(&n.value))).collect();
            let change = caution.change.as_ref();
            let offered = change.filter(|_| context.changes == Changes::Offered);
            CautionLine {
                class: match caution.weight {
                    Weight::WorthKnowing => "know",
                    Weight::LikelyToFail => "fail",
                    Weight::Cannot => "cannot",
                },
                weight: capital(caution.weight.words()),
                folded: caution.weight == Weight::WorthKnowing && context.worth_knowing == Stands::Folded,
                places: places(&said.places, names),
                says: caution.says.clone(),
                numbers: capital(&numbers.join(", ")),
                basis: caution.basis.to_string(),
                cure: change.map_or_else(String::new, |c| c.says.trim_end_matches('.').to_owned()),
                sets: offered.map_or_else(Vec::new, |c| {
                    c.sets.iter().map(|s| format!("{} = {}", s.key, s.value)).collect()
                }),
            }
        })
        .collect()
}

fn places(places: &[&str], names: &PartNames) -> Vec<PlaceWord> {
    let named = places.iter().filter(|p| !p.is_empty()).take(MOST_PLACES);
    let mut out: Vec<PlaceWord> = named
        .map(|place| {
            // "lid frame, miters": the part comes first, then what of it.
            let first = place.split(", ").next().unwrap_or(place);
            let parts = names.ids(place).or_else(|| names.ids(first)).unwrap_or_default();
            PlaceWord { words: (*place).to_owned(), parts }
        })
        .collect();
    if places.len() > MOST_PLACES {
        let words = format!("and {} more", places.len() - MOST_PLACES);
        out.push(PlaceWord { words, parts: String::new() });
    }
    out
}
