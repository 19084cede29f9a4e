//! The glossary: every trade word in one line, and links to it from where a word is used.

use super::frame::{Frame, page};
use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Query, State};
use axum::response::Response;
use axum::routing::get;
use axum::{Extension, Router};
use keepwright_model::shop::words::{Word, nearest, word, words};
use serde::Deserialize;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new().route("/words", get(list))
}

/// A trade word as a page shows it where it is used: a link into the glossary that brings its meaning along.
///
/// In a template: `{{ crate::pages::words::linked("rabbet")|safe }}`; the word is also found by its other names and in the
/// plural. A word that the glossary does not have is shown as it is.
pub(crate) fn linked(shown: &str) -> String {
    let link = Linked { shown, found: word(shown).map(|w| (anchor(&w.word), w.says.as_str())) };
    // A template of two lines; what cannot be filled in would be the bare word.
    link.render().unwrap_or_default()
}

#[derive(Template)]
#[template(path = "parts/word.html")]
struct Linked<'a> {
    shown: &'a str,
    found: Option<(String, &'static str)>,
}

/// The anchor of a word on the page of words.
pub(crate) fn anchor(word: &str) -> String {
    let mut anchor = String::from("word-");
    for c in word.chars() {
        match c {
            c if c.is_ascii_alphanumeric() => anchor.push(c.to_ascii_lowercase()),
            '/' => anchor.push_str("-over-"),
            _ => anchor.push('-'),
        }
    }
    anchor
}

#[derive(Template)]
#[template(path = "pages/words.html")]
struct WordsPage {
    frame: Frame,
    asked: String,
    /// What the search came to, in a sentence.
    say: String,
    letters: Vec<Letter>,
}

/// The words that begin with a letter.
struct Letter {
    letter: char,
    words: Vec<Entry>,
}

struct Entry {
    anchor: String,
    word: &'static str,
    also: String,
    says: &'static str,
}

#[derive(Deserialize)]
struct Asked {
    #[serde(default)]
    word: String,
}

async fn list(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let asked: String = asked.word.trim().chars().take(80).collect();
    let (say, found) = found(&asked);
    let frame = bench.work(move |bench| Frame::of(bench, &who, "words")).await?;
    page(&WordsPage { frame, asked, say, letters: by_letter(&found) })
}

/// The words that were asked for, and what to say about them.
fn found(asked: &str) -> (String, Vec<&'static Word>) {
    if asked.is_empty() {
        let all = words();
        return (
            format!("The {} trade words that this program uses, one line each.", all.len()),
            all.iter().collect(),
        );
    }
    if let Some(exact) = word(asked) {
        return (format!("{}: {}", exact.word, exact.says), vec![exact]);
    }
    let small = asked.to_lowercase();
    let has = |text: &str| text.to_lowercase().contains(&small);
    let near: Vec<&Word> =
        words().iter().filter(|w| has(&w.word) || w.also.iter().any(|a| has(a)) || has(&w.says)).collect();
    if !near.is_empty() {
        return (format!("“{asked}” stands in these entries."), near);
    }
    let near = nearest(asked, 5);
    if near.is_empty() {
        (format!("“{asked}” is not in the glossary; all of it is below."), words().iter().collect())
    } else {
        (format!("“{asked}” is not in the glossary. These are near:"), near)
    }
}

fn by_letter(found: &[&'static Word]) -> Vec<Letter> {
    let mut letters: Vec<Letter> = Vec::new();
    for w in found {
        let letter = w.word.chars().next().map_or('#', |c| c.to_ascii_uppercase());
        let letter = if letter.is_ascii_alphabetic() { letter } else { '#' };
        let entry = Entry { anchor: anchor(&w.word), word: &w.word, also: w.also.join(", "), says: &w.says };
        match letters.last_mut() {
            Some(last) if last.letter == letter => last.words.push(entry),
            _ => letters.push(Letter { letter, words: vec![entry] }),
        }
    }
    letters
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_has_an_anchor_of_its_own() {
        let anchors: std::collections::BTreeSet<String> = words().iter().map(|w| anchor(&w.word)).collect();
        assert_eq!(anchors.len(), words().len());
    }

    #[test]
    fn a_word_in_a_text_is_a_link_with_its_meaning() {
        let link = linked("Rabbets");
        assert!(link.contains("href=\"/words#word-rabbet\"") && link.contains(">Rabbets</a>"), "{link}");
        assert!(link.contains(&word("rabbet").unwrap().says), "{link}");
        assert_eq!(linked("<b>x</b>"), "&#60;b&#62;x&#60;/b&#62;");
    }
}
