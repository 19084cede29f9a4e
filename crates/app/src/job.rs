//! What a job is made of, as the flags name it, and the plan that comes of it.

use crate::cli::new::Unit;
use crate::failure::Failure;
use crate::input::{self, Source};
use crate::report;
use crate::show::Show;
use clap::{Args, ValueEnum};
use keepwright_model::caution::{Caution, Change, Weight};
use keepwright_model::cutting::NeverStop;
use keepwright_model::design::{Defaults, MOST_IN_BATCH, ShopFile, Statement};
use keepwright_model::job::{
    Order, Plan, PlanError, Shop, ShopError, When, home_at, plan, rack_from, unpriced,
};
use keepwright_model::parts::DeriveError;
use keepwright_model::reason::Basis;
use keepwright_model::saw::Effort;
use keepwright_model::shop::schedule::Day;
use std::path::PathBuf;

/// Most steps of the search for a cutting plan when there is no hurry.
const THOROUGH_STEPS: u64 = 60_000;

/// What every command about a box takes.
#[derive(Clone, Debug, Args)]
pub(crate) struct JobArgs {
    /// The statement of the box, or - for standard input
    #[arg(value_name = "BOX.toml")]
    file: PathBuf,
    /// The rack: the boards at hand; without it there is a shopping list and no cutting plan
    #[arg(long, value_name = "RACK.toml")]
    rack: Option<PathBuf>,
    /// The shop: machines, glue, climate, prices; without it an ordinary small shop
    #[arg(long, value_name = "SHOP.toml")]
    shop: Option<PathBuf>,
    /// How many boxes, instead of the statement's count
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_IN_BATCH)))]
    count: Option<u32>,
    /// Where the box will live: a place of the list of climates, such as Duluth
    #[arg(long, value_name = "PLACE")]
    home: Option<String>,
    /// The day the plan is made, on which the work may begin; the real date if not given
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = day)]
    today: Option<Day>,
    /// The day it must be ready: the work is dated backward from it
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = day)]
    due: Option<Day>,
    /// Unit of the lengths shown, instead of the shop's
    #[arg(long, value_enum)]
    units: Option<Unit>,
    /// Seed of the search for a cutting plan: the same seed gives the same plan
    #[arg(long, value_name = "N")]
    seed: Option<u64>,
    /// Take more time over the cutting plan and the order of set-ups
    #[arg(long)]
    thorough: bool,
    /// End with exit code 1 if there is a caution of this weight or a graver one
    #[arg(long, value_enum, value_name = "WEIGHT")]
    fail_on: Option<FailOn>,
}

/// Weights of cautions as the command line names them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum FailOn {
    /// Worth knowing, or graver
    Knowing,
    /// Likely to fail, or graver
    Fail,
    /// Cannot be made, or not safely
    Cannot,
}

impl FailOn {
    const fn weight(self) -> Weight {
        match self {
            Self::Knowing => Weight::WorthKnowing,
            Self::Fail => Weight::LikelyToFail,
            Self::Cannot => Weight::Cannot,
        }
    }
}

/// A planned job.
#[derive(Debug)]
pub(crate) struct Job {
    /// The plan.
    pub(crate) plan: Plan,
    /// How to show its numbers.
    pub(crate) show: Show,
    /// The day it is planned on.
    pub(crate) today: Day,
}

fn day(text: &str) -> Result<Day, String> {
    Day::parse(text).map_err(|error| error.to_string())
}

/// The real date, on the clock of this machine.
fn real_today() -> Result<Day, Failure> {
    let date = jiff::ZonedDateTime::now().date();
    let (year, month, day) = (i32::from(date.year()), date.month(), date.day());
    let unsigned = |n: i8| u32::try_from(n).unwrap_or(0);
    Day::civil(year, unsigned(month), unsigned(day)).map_err(|error| {
        Failure::input(format!("this machine's clock says {date}: {error}"), "give --today YYYY-MM-DD")
    })
}

impl JobArgs {
    /// The weight to fail on.
    pub(crate) fn fail_on(&self) -> Option<Weight> {
        self.fail_on.map(FailOn::weight)
    }

    /// Reads everything and plans the job.
    ///
    /// # Errors
    /// Whatever is wrong in a file or a flag, with its place.
    pub(crate) fn plan(&self) -> Result<Job, Failure> {
        let today = match self.today {
            Some(today) => today,
            None => real_today()?,
        };
        let shop_read = input::shop(self.shop.as_ref())?;
        let shop = self.shop(shop_read.as_ref())?;
        let defaults = Defaults { length_unit: shop.unit };
        let (source, mut statement) = input::statement(&self.file, defaults)?;
        if let Some(count) = self.count {
            statement.count = count;
        }
        let rack = input::rack(self.rack.as_ref(), defaults, shop.bench.currency)?;
        let boards = rack.as_ref().map(rack_from);
        let mut shown = shop.clone();
        if let Some(unit) = self.units {
            shown.unit = unit.length_unit();
        }
        let show = Show { unit: shown.unit, fineness: shown.fineness, currency: shown.bench.currency };
        let when = self.due.map_or(When::From(today), |due| When::Due { due, today });
        let effort = if self.thorough { Effort::Thorough } else { Effort::Fast };
        let order =
            Order { statement: &statement, rack: boards.as_deref(), shop: &shown, when: Some(when), effort };
        let mut plan = plan(&order, &mut NeverStop)
            .map_err(|errors| refused(&source, shop_read.as_ref().map(|(s, _)| s), &errors))?;
        if let Some(rack) = &rack {
            plan.cautions.extend(without_price(&unpriced(rack)));
        }
        Ok(Job { plan, show, today })
    }

    /// The shop, with what the flags say about it.
    fn shop(&self, read: Option<&(Source, ShopFile)>) -> Result<Shop, Failure> {
        let mut shop = match read {
            None => Shop::small_shop(),
            Some((source, file)) => Shop::from_file(file).map_err(|error| {
                let text = error.to_string();
                let (says, remedy) = match &error {
                    ShopError::Site(_) => (
                        text.as_str(),
                        "write a place of the list, or driest_rh_pct and dampest_rh_pct instead",
                    ),
                    ShopError::Operation { .. } => {
                        text.split_once("; ").unwrap_or((&text, "see the shop file's reference"))
                    }
                };
                report::at_key(source, &[(error.key(), says.to_owned(), remedy.to_owned())])
            })?,
        };
        if let Some(place) = &self.home {
            shop.home = home_at(place).map_err(|error| {
                Failure::input(format!("--home: {error}"), "give a place of the list of climates")
            })?;
        }
        if let Some(seed) = self.seed {
            shop.search.seed = seed;
        }
        if self.thorough {
            shop.search.steps = shop.search.steps.max(THOROUGH_STEPS);
        }
        Ok(shop)
    }
}

/// Whether a statement as read can become a box, in an ordinary small shop and whatever is on its rack.
///
/// # Errors
/// What contradicts itself, at its place, as every command about the box would say it.
pub(crate) fn plannable(source: &Source, statement: &Statement) -> Result<(), Failure> {
    let shop = Shop::small_shop();
    let order = Order { statement, rack: None, shop: &shop, when: None, effort: Effort::Fast };
    plan(&order, &mut NeverStop).map(|_| ()).map_err(|errors| refused(source, None, &errors))
}

/// Boards that count as free because nobody priced them.
fn without_price(names: &[&str]) -> Option<Caution> {
    if names.is_empty() {
        return None;
    }
    Some(Caution {
        code: "board-not-priced",
        weight: Weight::WorthKnowing,
        place: "rack".into(),
        says: format!(
            "The rack file has no price for {}, so the plan takes it for free and the box's price leaves it out.",
            names.join(", ")
        ),
        numbers: Vec::new(),
        basis: Basis::Stated,
        change: Some(Change::words("Add price or price_per_board_foot to the board in the rack file")),
    })
}

/// Why there is no plan, each reason at its place in the file that states it.
fn refused(source: &Source, shop: Option<&Source>, errors: &[PlanError]) -> Failure {
    let mut in_box = Vec::new();
    let mut in_shop = Vec::new();
    for error in errors {
        let text = error.to_string();
        // The rooms write "what is wrong; what to do".
        let (says, remedy) = text.split_once("; ").unwrap_or((&text, "change one of the two"));
        let found = |key: &str| (key.to_owned(), says.to_owned(), remedy.to_owned());
        match error {
            // The statement gives a depth or the skin behind it; whichever stands there is the place.
            PlanError::Derive(DeriveError::KeyTooDeep { .. }) => in_box.push(found("corners.depth")),
            PlanError::Derive(error) => in_box.push(found(error.key())),
            PlanError::Home(_) => in_shop.push(found("home")),
            PlanError::Price(_) => in_shop.push(found("money.channel_cut_pct")),
            PlanError::Schedule(_) => in_shop.push(found("week.workdays")),
        }
    }
    match (in_box.as_slice(), in_shop.as_slice(), shop) {
        ([], [(_, says, remedy), ..], None) => Failure::input(says.as_str(), remedy.as_str()),
        ([], found, Some(shop)) => report::at_key(shop, found),
        (found, ..) => report::at_key(source, found),
    }
}
