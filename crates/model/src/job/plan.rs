//! Statement + rack + shop → the whole plan.

use super::gather::{
    close, face_groups, hardware_cost, harms, not_priced, part_reasons, screws, stock_cautions, time,
};
use super::living::{HomeSwing, Living, live};
use super::measure::{self, Faces, PartMeasure};
use super::shop::Shop;
use super::stock::{StockPlan, plan_stock};
use crate::boards::Board;
use crate::caution::{Caution, Weight};
use crate::cutting::Terminator;
use crate::design::{LidKind, Statement};
use crate::fit;
use crate::parts::{BoxParts, DeriveError, derive};
use crate::reason::Reason;
use crate::saw::{self, CradleCard, Effort, LidCard, Lot, SawPlan};
use crate::seasons;
use crate::shop::finish::{FinishPlan, Finishing, finish_plan};
use crate::shop::glue::{GlueUp, Gluing, glue_ups};
use crate::shop::hardware::{Screws, chest};
use crate::shop::keys::{KeyStock, key_stocks};
use crate::shop::price::{Costs, Price, PriceError, WoodCost, price};
use crate::shop::sanding::{Sanding, sanding};
use crate::shop::schedule::{self, Day, Schedule, ScheduleError, Task};
use crate::shop::tasks::{Job, tasks};
use crate::shop::time::Timing;
use crate::solids::{Solid, finished};
use crate::units::{Mass, Money};
use crate::wood;
use thiserror::Error;

/// When the work begins, or when it must be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// Begin on this day.
    From(Day),
    /// Be done by a day; today is for the caution when that means having begun in the past.
    Due {
        /// The day.
        due: Day,
        /// Today.
        today: Day,
    },
}

/// What is asked.
#[derive(Debug)]
pub struct Order<'a> {
    /// The box.
    pub statement: &'a Statement,
    /// The boards on the rack; `None` plans the shopping list only.
    pub rack: Option<&'a [Board]>,
    /// The shop.
    pub shop: &'a Shop,
    /// When to begin, or when it is due.
    pub when: Option<When>,
    /// How much thought to give the order of set-ups.
    pub effort: Effort,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PlanError {
    /// The statement contradicts itself or its geometry.
    #[error(transparent)]
    Derive(#[from] DeriveError),
    /// The home's air is impossible.
    #[error(transparent)]
    Home(#[from] seasons::Error),
    /// The price has no end.
    #[error(transparent)]
    Price(#[from] PriceError),
    /// The calendar has no working day.
    #[error(transparent)]
    Schedule(#[from] ScheduleError),
}

/// How the walls (and the lid's frame) close.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The ring of walls.
    pub walls: Option<fit::Ring>,
    /// The ring of the lid's frame.
    pub frame: Option<fit::Ring>,
}

/// Everything that packet, page and command line show.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The box as stated.
    pub statement: Statement,
    /// The shop it was planned for.
    pub shop: Shop,
    /// The parts of one box.
    pub parts: BoxParts,
    /// Their finished solids in the box frame, in the same order.
    pub solids: Vec<Solid>,
    /// Volume and weight of each.
    pub measures: Vec<PartMeasure>,
    /// Faces to sand and finish.
    pub faces: Faces,
    /// Woods by id and name, the one with most wood first.
    pub woods: Vec<(String, String)>,
    /// The boards of the rack.
    pub rack: Vec<Board>,
    /// Stock, layouts, shopping.
    pub stock: StockPlan,
    /// Machine set-ups in order.
    pub saw: SawPlan,
    /// The V cradle.
    pub cradle: Vec<CradleCard>,
    /// Sawing the lid off.
    pub lid_card: Option<LidCard>,
    /// Will it close.
    pub fit: Fit,
    /// Will it live.
    pub living: Living,
    /// Glue-ups.
    pub glue: Vec<GlueUp>,
    /// Key stock.
    pub keys: Vec<KeyStock>,
    /// Sanding, group by group.
    pub sanding: Vec<Sanding>,
    /// Finish.
    pub finish: FinishPlan,
    /// Hinge screws by seat.
    pub screws: Vec<Screws>,
    /// The time sheet of the batch.
    pub timing: Timing,
    /// The time sheet of a single box, for comparison.
    pub timing_single: Timing,
    /// Price of one box of the batch.
    pub price: Price,
    /// Price of one box made alone.
    pub price_single: Price,
    /// The tasks of the batch in order.
    pub tasks: Vec<Task>,
    /// The tasks on a calendar; `None` when no date was given.
    pub schedule: Option<Schedule>,
    /// What to know, gravest first.
    pub cautions: Vec<Caution>,
    /// Where the numbers come from.
    pub reasons: Vec<Reason>,
}

impl Plan {
    /// Weight of one box; `None` if a wood's density is not known.
    pub fn mass(&self) -> Option<Mass> {
        self.measures.iter().map(|m| m.mass).sum::<Option<Mass>>()
    }

    /// The weight of the gravest caution, those that stand with a set-up at the saw among them.
    pub fn worst(&self) -> Option<Weight> {
        let at_the_saw = self.saw.setups.iter().flat_map(|s| &s.cautions);
        self.cautions.iter().chain(at_the_saw).map(|c| c.weight).max()
    }

    /// A reason by its key.
    pub fn reason(&self, key: &str) -> Option<&Reason> {
        self.reasons.iter().find(|r| r.key == key)
    }
}

/// Plans a job.
///
/// # Errors
/// Every contradiction in the statement, or the home's impossible air.
#[expect(
    clippy::too_many_lines,
    reason = "a line for each room in the order of the job; dividing it would hide the order"
)]
pub fn plan(order: &Order<'_>, stop: &mut dyn Terminator) -> Result<Plan, Vec<PlanError>> {
    let (s, shop) = (order.statement, order.shop);
    let year = shop.home.year().map_err(|e| vec![PlanError::Home(e)])?;
    let today = shop.moisture;
    let swing = HomeSwing::of(&year, today);
    let derived = derive(s, &shop.part_settings(&swing))
        .map_err(|e| e.into_iter().map(PlanError::Derive).collect::<Vec<_>>())?;
    let (parts, mut cautions, mut reasons) = (derived.parts, derived.cautions, derived.reasons);
    let solids = finished(&parts);
    let measures = measure::measures(&parts, &solids, today);
    let faces = measure::faces(&parts, &solids);
    let saw = saw::plan(&[Lot { parts: &parts, count: s.count }], &shop.saw, order.effort);
    let cradle = saw::cradle_cards(&parts, &shop.saw);
    let lid_card = saw::lid_card(&parts, &shop.saw);
    let fit = close(&parts, shop, &mut reasons, &mut cautions);
    let living = live(s, &parts, &year, today, &mut reasons, &mut cautions);
    let stock = plan_stock(&parts, s.count, order.rack, &shop.stock, shop.search, stop);
    stock_cautions(&stock, order.rack.is_some(), &mut cautions);
    let gravity = |id: &str| wood::species(id)?.specific_gravity_12.map(|g| g.value);
    let glue = glue_ups(&Gluing {
        parts: &parts,
        finish: &s.finish,
        settings: &shop.bench.gluing,
        gravity: &gravity,
    });
    cautions.extend(glue.cautions);
    let glue = glue.value;
    let keys = key_stocks(&parts, s.count, shop.saw.table_saw.kerf, &shop.bench);
    cautions.extend(keys.cautions);
    let keys = keys.value;
    let sanding = sanding(&face_groups(s, shop, faces, &parts));
    cautions.extend(sanding.cautions);
    let sanding = sanding.value;
    let floating: Vec<String> = parts.floats.iter().map(|f| f.name.clone()).collect();
    let finish = finish_plan(&Finishing {
        finish: &s.finish,
        outside: faces.outside + faces.edges,
        inside: faces.inside,
        floating: &floating,
        shellac_cut: shop.bench.shellac_cut,
    });
    cautions.extend(finish.cautions);
    if s.lid.kind == LidKind::None {
        // An open box shuts no smell in.
        cautions.retain(|c| c.code != "smell-shut-in");
    }
    let finish = finish.value;
    let screws = screws(s, &parts, &mut cautions);
    cautions.extend(chest(parts.inside));
    let (timing, timing_single) = time(&parts, &glue, &sanding, &finish, s.count, &shop.bench);
    let hardware = hardware_cost(&parts, shop, &mut cautions);
    let whole = s.count.max(1);
    // What the boards cost is shared by the boxes laid out on them.
    let wood_cost = match order.rack {
        Some(_) => WoodCost::Bought(stock.cost.times(1.0 / f64::from(stock.laid_out.max(1)))),
        None => WoodCost::Net(Money::ZERO),
    };
    if order.rack.is_none() || !stock.shopping.is_empty() {
        cautions.push(not_priced(&stock, order.rack.is_some()));
    }
    let costs = Costs { wood: wood_cost, hardware, consumables: shop.consumables };
    let failed = |e: PriceError| vec![PlanError::Price(e)];
    let price_each = price(&costs, timing.per_box, &shop.bench).map_err(failed)?;
    let price_single = if whole == 1 {
        price_each.clone()
    } else {
        price(&costs, timing_single.per_box, &shop.bench).map_err(failed)?
    };
    // Wood that lies on the rack has rested; only bought wood must.
    let rest_days = if stock.shopping.is_empty() { 0 } else { shop.bench.rest_days };
    let resting = crate::shop::Settings { rest_days, ..shop.bench.clone() };
    let tasks = tasks(&Job {
        parts: &parts,
        glue_ups: &glue,
        finish: &s.finish,
        coats: &finish,
        timing: &timing,
        settings: &resting,
    });
    let booked = match order.when {
        None => None,
        Some(When::From(day)) => Some(schedule::forward(&tasks, &shop.bench.week, day)),
        Some(When::Due { due, today }) => {
            Some(schedule::backward(&tasks, &shop.bench.week, due, Some(today)))
        }
    };
    let booked = booked.transpose().map_err(|e| vec![PlanError::Schedule(e)])?;
    let schedule = booked.map(|b| {
        cautions.extend(b.cautions);
        b.value
    });
    harms(&parts, &mut cautions);
    for stage in glue.iter().flat_map(|g| &g.stages) {
        reasons.extend(stage.reasons.iter().cloned());
    }
    reasons.extend(keys.iter().flat_map(|k| k.reasons.iter().cloned()));
    reasons.extend(sanding.iter().flat_map(|k| k.reasons.iter().cloned()));
    reasons.extend(screws.iter().flat_map(|k| k.reasons.iter().cloned()));
    reasons.extend(finish.reasons.iter().cloned());
    reasons.extend(timing.reasons.iter().cloned());
    reasons.extend(price_each.reasons.iter().cloned());
    reasons.extend(schedule.iter().flat_map(|s: &Schedule| s.reasons.iter().cloned()));
    reasons.extend(shop.bench.reasons());
    for card in &cradle {
        reasons.extend(card.reasons.iter().cloned());
    }
    reasons.extend(lid_card.iter().flat_map(|c| c.reasons.iter().cloned()));
    reasons.push(saw.reason());
    for (i, setup) in saw.setups.iter().enumerate() {
        cautions.extend(setup.cautions.iter().filter(|c| c.weight == Weight::Cannot).cloned());
        reasons.extend(setup.reasons.iter().cloned().map(|mut r| {
            r.key = format!("setup.{}.{}", i + 1, r.key);
            r
        }));
    }
    part_reasons(&parts, &mut reasons);
    let mut seen: Vec<(&str, String)> = Vec::new();
    cautions.retain(|c| {
        let new = !seen.iter().any(|(code, says)| *code == c.code && *says == c.says);
        if new {
            seen.push((c.code, c.says.clone()));
        }
        new
    });
    cautions.sort_by_key(|c| core::cmp::Reverse(c.weight));
    let woods = measure::woods(&parts, &measures);
    Ok(Plan {
        statement: s.clone(),
        shop: shop.clone(),
        parts,
        solids,
        measures,
        faces,
        woods,
        rack: order.rack.unwrap_or_default().to_vec(),
        stock,
        saw,
        cradle,
        lid_card,
        fit,
        living,
        glue,
        keys,
        sanding,
        finish,
        screws,
        timing,
        timing_single,
        price: price_each,
        price_single,
        tasks,
        schedule,
        cautions,
        reasons,
    })
}
