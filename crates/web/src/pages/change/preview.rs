//! What a statement looks like while it is typed: everything computed from it, or what is wrong with it.

use crate::chapters::{Changes, ChapterContext, fragments};
use crate::error::PageError;
use crate::forms;
use crate::forms::values::Values;
use crate::pages::one_box::due;
use crate::pages::shop::worth_knowing;
use crate::planner::{self, Boards, Ground};
use crate::policy::forgery;
use crate::policy::who::Who;
use crate::scene::{self, Scene};
use crate::state::Bench;
use keepwright_model::caution::Weight;
use keepwright_model::design::Problem;
use keepwright_model::job::Plan;
use keepwright_packet::shown::{Showing, counted, hours};
use keepwright_store::{Document, Version};
use serde::Serialize;
use std::collections::BTreeMap;

/// A problem with its place and its field.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Spot {
    /// Key path; empty where no key is meant.
    pub(crate) key: String,
    /// The id of the field at which it is shown; empty if there is none.
    pub(crate) field: String,
    /// The chapter of that field.
    pub(crate) chapter: &'static str,
    /// What is wrong.
    pub(crate) says: String,
    /// What to do.
    pub(crate) remedy: String,
    /// Line of the text, from 1.
    pub(crate) line: usize,
    /// Column, from 1.
    pub(crate) column: usize,
}

/// Everything that a change shows.
#[derive(Clone, Debug, Default, Serialize)]
pub(crate) struct Preview {
    /// What is wrong.
    pub(crate) problems: Vec<Spot>,
    /// The same as the forms take it.
    #[serde(skip)]
    pub(crate) read: Vec<Problem>,
    /// The computed part of each chapter.
    pub(crate) chapters: BTreeMap<&'static str, String>,
    /// The box in space.
    pub(crate) scene: Option<Scene>,
    /// The box in one sentence, to be read out.
    pub(crate) sentence: String,
}

/// Problems with their places.
pub(crate) fn spots(text: &str, problems: &[Problem]) -> Vec<Spot> {
    let values = Values::of(text);
    problems
        .iter()
        .map(|problem| {
            let place = problem.place(text);
            let field = values.as_ref().and_then(|values| forms::place_of(values, problem));
            let (field, chapter) = field
                .map_or_else(|| (String::new(), ""), |(key, chapter)| (forms::field_id(&key), chapter.id));
            Spot {
                key: problem.key.clone(),
                field,
                chapter,
                says: problem.says.clone(),
                remedy: problem.remedy.clone(),
                line: place.line,
                column: place.column,
            }
        })
        .collect()
}

/// Plans a text and shows what comes of it; `head` is the version that its forms are made from.
///
/// # Errors
/// When the store cannot be read, or the shop's text has problems.
pub(crate) fn of(
    bench: &Bench,
    who: &Who,
    document: &Document,
    (head, text): (&Version, &str),
    boards: Boards,
) -> Result<Preview, PageError> {
    let ground = match boards {
        Boards::Rack => bench.ground(document.id)?,
        // No board is read for a plan that uses none.
        Boards::Unplanned => Ground { shop: bench.shop()?, rack: Vec::new() },
    };
    match planner::planned(text, &ground, boards, due(bench, document)?) {
        Ok(plan) => shown(bench, who, document, (head, boards), &plan),
        Err(problems) => {
            Ok(Preview { problems: spots(text, &problems), read: problems, ..Preview::default() })
        }
    }
}

fn shown(
    bench: &Bench,
    who: &Who,
    document: &Document,
    (head, boards): (&Version, Boards),
    plan: &Plan,
) -> Result<Preview, PageError> {
    let context = ChapterContext {
        slug: document.slug.clone(),
        forgery: forgery::token(bench, &who.cookie),
        base: head.id.get(),
        version: head.id.get(),
        boards,
        changes: Changes::Offered,
        worth_knowing: worth_knowing(bench)?,
    };
    Ok(Preview {
        chapters: fragments(plan, &context)?,
        scene: Some(scene::scene(plan)),
        sentence: sentence(plan),
        ..Preview::default()
    })
}

/// The box in one sentence: its size, what it costs and weighs, what is to be known.
pub(crate) fn sentence(plan: &Plan) -> String {
    let show = Showing::of(plan);
    let mass = plan.mass().map_or_else(String::new, |m| format!(", {}", show.mass(m)));
    let grave = plan.cautions.iter().filter(|c| c.weight != Weight::WorthKnowing).count();
    let cautions = if grave == 0 {
        String::new()
    } else {
        format!("; {}", counted(grave, "grave caution", "grave cautions"))
    };
    format!(
        "{} outside{mass}, {}, {} of work{cautions}.",
        show.sizes(&plan.parts.outside),
        show.money(plan.price.price),
        hours(plan.timing.per_box),
    )
}
