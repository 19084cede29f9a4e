//! From the texts of the store to a plan: reads statement, shop and rack as the command line does.

use crate::clock;
use keepwright_model::boards::Board;
use keepwright_model::cutting::{NeverStop, Terminator};
use keepwright_model::design::{
    Defaults, Problem, RackFile, Statement, locate, read_rack, read_shop, read_statement,
};
use keepwright_model::job::{HomeSwing, Order, Plan, PlanError, Shop, When, plan, rack_from};
use keepwright_model::parts::{BoxParts, DeriveError, derive};
use keepwright_model::saw::Effort;
use keepwright_model::shop::schedule::Day;
use keepwright_model::wood;

/// The shop and its rack, read.
#[derive(Clone, Debug)]
pub(crate) struct Ground {
    /// The shop.
    pub(crate) shop: Shop,
    /// Boards that the asked box may use.
    pub(crate) rack: Vec<Board>,
}

/// Which boards a plan may use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Boards {
    /// Those on the rack, laid out.
    Rack,
    /// None: the quick plan while a value is being typed.
    Unplanned,
}

/// Reads the shop's text.
///
/// # Errors
/// Every problem in it, at its place.
pub(crate) fn shop(text: &str) -> Result<Shop, Vec<Problem>> {
    let file = read_shop(text, &Defaults::default())?;
    Shop::from_file(&file).map_err(|error| {
        let said = error.to_string();
        let (says, remedy) = halves(&said);
        vec![problem(text, error.key(), says, remedy)]
    })
}

/// Reads boards: a text of `[[board]]` tables as in a rack file.
///
/// # Errors
/// Every problem in it, at its place.
pub(crate) fn boards(text: &str, shop: &Shop) -> Result<Vec<Board>, Vec<Problem>> {
    rack_file(text, shop).map(|file| rack_from(&file))
}

/// Reads the same text as it was stated: kinds of faults and what has no price are still in it.
///
/// # Errors
/// As [`boards`].
pub(crate) fn rack_file(text: &str, shop: &Shop) -> Result<RackFile, Vec<Problem>> {
    let defaults = Defaults { length_unit: shop.unit };
    read_rack(text, &defaults, shop.bench.currency, &wood::named)
}

/// The parts of a box, and how many such boxes its statement asks for.
///
/// # Errors
/// Every problem in the text, or what contradicts itself in it, at its key.
pub(crate) fn parts(text: &str, shop: &Shop) -> Result<(BoxParts, u32), Vec<Problem>> {
    let statement = statement(text, shop)?;
    let refused = |error: PlanError| refused(text, &error);
    let year = shop.home.year().map_err(|e| vec![refused(PlanError::Home(e))])?;
    let swing = HomeSwing::of(&year, shop.moisture);
    let derived = derive(&statement, &shop.part_settings(&swing)).map_err(|errors| -> Vec<Problem> {
        errors.into_iter().map(|e| refused(PlanError::Derive(e))).collect()
    })?;
    Ok((derived.parts, statement.count))
}

/// Reads a statement.
///
/// # Errors
/// Every problem in it, at its place.
pub(crate) fn statement(text: &str, shop: &Shop) -> Result<Statement, Vec<Problem>> {
    read_statement(text, &Defaults { length_unit: shop.unit }, &wood::named)
}

/// Plans a box from its text; `due` is the day it must be done by.
///
/// # Errors
/// Every problem in the text, or what contradicts itself in it, at its key.
pub(crate) fn planned(
    text: &str,
    ground: &Ground,
    boards: Boards,
    due: Option<Day>,
) -> Result<Plan, Vec<Problem>> {
    planned_until(text, ground, boards, due, &mut NeverStop)
}

/// As [`planned`], with a stop rule for the search.
///
/// # Errors
/// As [`planned`].
pub(crate) fn planned_until(
    text: &str,
    ground: &Ground,
    boards: Boards,
    due: Option<Day>,
    stop: &mut dyn Terminator,
) -> Result<Plan, Vec<Problem>> {
    let statement = statement(text, &ground.shop)?;
    // A clock that is beyond the calendar leaves the plan without dates.
    let when = clock::today().ok().map(|today| due.map_or(When::From(today), |due| When::Due { due, today }));
    let order = Order {
        statement: &statement,
        rack: (boards == Boards::Rack && !ground.rack.is_empty()).then_some(ground.rack.as_slice()),
        shop: &ground.shop,
        when,
        effort: Effort::Fast,
    };
    plan(&order, stop).map_err(|errors| errors.iter().map(|e| refused(text, e)).collect())
}

/// Why there is no plan, at the key of the statement that it belongs to; what belongs to the shop says so.
fn refused(text: &str, error: &PlanError) -> Problem {
    let said = error.to_string();
    let (says, remedy) = halves(&said);
    let key = match error {
        // The statement gives a depth or the skin behind it; whichever stands there is the place.
        PlanError::Derive(DeriveError::KeyTooDeep { .. }) => "corners.depth".to_owned(),
        PlanError::Derive(error) => error.key().to_owned(),
        PlanError::Home(_) | PlanError::Price(_) | PlanError::Schedule(_) => String::new(),
    };
    problem(text, key, says, remedy)
}

/// The rooms write "what is wrong; what to do".
fn halves(said: &str) -> (&str, &str) {
    said.split_once("; ").unwrap_or((said, "change one of the two"))
}

fn problem(text: &str, key: String, says: &str, remedy: &str) -> Problem {
    Problem { span: locate(text, &key), key, says: says.to_owned(), remedy: remedy.to_owned() }
}
