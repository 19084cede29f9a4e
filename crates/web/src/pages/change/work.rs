//! A change at work: from what was sent to a version, a draft, or a version beside.

use super::sent::Sent;
use crate::clock;
use crate::drafts::{self, Draft};
use crate::edit::EditError;
use crate::error::PageError;
use crate::forms;
use crate::forms::apply::{Typed, apply, settled};
use crate::pages::one_box::{by, same_name, says, version};
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use keepwright_model::design::{Problem, locate};
use keepwright_model::job::Shop;
use keepwright_store::{Document, Saved, Version, VersionId};

/// What became of a change.
#[derive(Debug)]
pub(crate) enum Outcome {
    /// It is the version in force, or nothing changed.
    Kept {
        /// The version in force.
        head: Version,
        /// The version that it was made from.
        before: Version,
    },
    /// Another save came first: this one is kept beside.
    Beside {
        /// What was saved now.
        mine: Version,
        /// What is in force.
        head: Version,
    },
    /// It does not read as a statement: nothing was saved.
    Wrong(Box<Wrong>),
}

/// A text that does not read as a statement.
#[derive(Debug)]
pub(crate) struct Wrong {
    /// The version that it was made from.
    pub(crate) base: Version,
    /// The text.
    pub(crate) text: String,
    /// What is wrong in it.
    pub(crate) problems: Vec<Problem>,
    /// What was typed and could not be put into the text.
    pub(crate) typed: Vec<Typed>,
    /// Where the text is kept; none if it is too long for that.
    pub(crate) draft: Option<Draft>,
}

/// The text that a change asks for, read or not.
pub(crate) struct Asked {
    /// The version that it was made from.
    pub(crate) base: Version,
    /// The text.
    pub(crate) text: String,
    /// What could not be put into it.
    pub(crate) problem: Option<Problem>,
}

/// Makes the text that was asked for.
///
/// # Errors
/// Of the store; [`PageError::NoSuch`] for a version that is not this box's.
pub(crate) fn asked(bench: &Bench, document: &Document, sent: &Sent) -> Result<Asked, PageError> {
    let base = version(bench, document, sent.base)?;
    let draft = match sent.draft {
        Some(number) => drafts::numbered(bench, document.id, number)?.filter(|d| d.base == base.id.get()),
        None => None,
    };
    let start = draft.map_or_else(|| base.text.clone(), |draft| draft.text);
    if let Some(text) = &sent.text {
        return Ok(Asked { text: text.clone(), base, problem: None });
    }
    let made = apply(&start, &sent.typed, sent.row.as_ref()).and_then(|text| settled(&text, &sent.sets));
    Ok(match made {
        Ok(text) => Asked { base, text, problem: None },
        Err(error) => Asked { problem: Some(problem_of(&start, &error)), base, text: start },
    })
}

/// Reads a text as a statement.
///
/// # Errors
/// Every problem, one that came before reading first.
pub(crate) fn read(asked: &Asked, shop: &Shop) -> Result<(), Vec<Problem>> {
    let mut problems: Vec<Problem> = asked.problem.iter().cloned().collect();
    if let Err(more) = planner::statement(&asked.text, shop) {
        problems.extend(more);
    }
    if problems.is_empty() { Ok(()) } else { Err(problems) }
}

fn problem_of(text: &str, error: &EditError) -> Problem {
    let key = match error {
        EditError::Text(_) => String::new(),
        EditError::Value { key, .. } | EditError::NoSection { key, .. } | EditError::NoItem { key, .. } => {
            key.clone()
        }
    };
    let remedy = match error {
        EditError::Text(_) => "mend the whole text first",
        EditError::Value { .. } => "write another value",
        EditError::NoSection { .. } | EditError::NoItem { .. } => "mend that line in the whole text",
    };
    Problem { span: locate(text, &key), key, says: error.to_string(), remedy: remedy.to_owned() }
}

/// Makes a change.
///
/// # Errors
/// Of the store; [`PageError::NoSuch`] for a box or a version that is not there.
pub(crate) fn changed(
    bench: &Bench,
    who: &Who,
    slug: &str,
    sent: &Sent,
) -> Result<(Document, Outcome), PageError> {
    let document = bench.find_box(slug)?;
    let shop = bench.shop()?;
    let asked = asked(bench, &document, sent)?;
    if let Err(problems) = read(&asked, &shop) {
        let wrong = kept_as_draft(bench, who, &document, (sent, asked, problems))?;
        return Ok((document, Outcome::Wrong(Box::new(wrong))));
    }
    let Asked { base, text, .. } = asked;
    let name = if sent.says.is_empty() { says(&base.text, &text, &shop) } else { sent.says.clone() };
    let saved = bench.store().save(document.id, base.id, &text, &name, by(who))?;
    if let Some(number) = sent.draft {
        drafts::drop(bench, document.id, number)?;
    }
    let outcome = match saved {
        Saved::Kept(head) => {
            same_name(bench, &document, &head.text, by(who))?;
            Outcome::Kept { head, before: base }
        }
        Saved::Same(head) => Outcome::Kept { head, before: base },
        Saved::Beside { version, head } => Outcome::Beside { mine: version, head },
    };
    Ok((bench.find_box(slug)?, outcome))
}

fn kept_as_draft(
    bench: &Bench,
    who: &Who,
    document: &Document,
    (sent, asked, problems): (&Sent, Asked, Vec<Problem>),
) -> Result<Wrong, PageError> {
    let Asked { base, text, problem } = asked;
    let origin: (VersionId, &str) = (base.id, &text);
    let draft = drafts::keep(bench, document.id, sent.draft, origin, (&who.name, clock::now()))?;
    // What is in the text is shown from there.
    let typed = if problem.is_some() { sent.typed.clone() } else { Vec::new() };
    Ok(Wrong { base, text, problems, typed, draft })
}

/// The chapter whose fields a change belongs to; the first if it names none.
pub(crate) fn chapter_of(sent: &Sent) -> forms::Chapter {
    forms::chapter(&sent.chapter).unwrap_or(forms::chapters()[0])
}
