//! The search: starts by several strategies, then tries cheaper and cheaper sets of boards.
//!
//! A complete plan comes first, then least cost of the boards used, then the largest kept offcut.
//! For a set of boards cheaper than the best plan's, one or two boards at a time are emptied and
//! refilled ([`super::fill`]) until nothing is left over or the patience for this set is spent.

use super::blanks::{Ground, items_of_blank};
use super::bound::{Bound, bound_of, capacities};
use super::demand::{Demand, DemandError};
use super::fill::Filler;
use super::layout::{Plan, ShortWhy, Shortage};
use super::offcuts;
use super::random::Random;
use super::state::{State, refill, regions};
use super::tree;

/// Ends the search early; asked often, so it should answer fast.
pub trait Terminator {
    /// Whether to stop now.
    fn stop(&mut self) -> bool;
}

/// Hears of every better plan while the search goes on.
pub trait Listener {
    /// A better plan than any before.
    fn improved(&mut self, plan: &Plan);
}

/// Lets the search take all its steps.
#[derive(Clone, Copy, Debug, Default)]
pub struct NeverStop;

impl Terminator for NeverStop {
    fn stop(&mut self) -> bool {
        false
    }
}

/// Hears nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Listener for Silent {
    fn improved(&mut self, _: &Plan) {}
}

/// How long to search and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Settings {
    /// The same demand, seed and steps give the same plan.
    pub seed: u64,
    /// Most fillings of a board to try; 1500 suit one box on a handful of boards.
    pub steps: u64,
}

impl Default for Settings {
    fn default() -> Self {
        Self { seed: 1, steps: 1500 }
    }
}

/// Plans the cutting; ends when its steps are spent, when told to stop, or when the plan is proved cheapest.
///
/// If not everything found a place, the plan's `short` says exactly what is left out.
///
/// # Errors
/// [`DemandError`] if the demand makes no sense.
pub fn plan(
    demand: &Demand,
    settings: Settings,
    stop: &mut dyn Terminator,
    listener: &mut dyn Listener,
) -> Result<Plan, DemandError> {
    demand.check()?;
    let ground = Ground::of(demand);
    let mut search = Search::new(demand, &ground, settings, stop, listener);
    search.run();
    Ok(search.into_plan())
}

const STARTS: usize = 16;

pub(super) struct Search<'a> {
    pub(super) demand: &'a Demand,
    pub(super) ground: &'a Ground,
    settings: Settings,
    stop: &'a mut dyn Terminator,
    listener: &'a mut dyn Listener,
    filler: Filler<'a>,
    pub(super) random: Random,
    /// Most blank area that each board can give.
    pub(super) capacity: Vec<f64>,
    /// Area of all blanks.
    pub(super) area: f64,
    pub(super) steps: u64,
    stopped: bool,
    pub(super) best: State,
    pub(super) best_rank: u64,
}

impl<'a> Search<'a> {
    fn new(
        demand: &'a Demand,
        ground: &'a Ground,
        settings: Settings,
        stop: &'a mut dyn Terminator,
        listener: &'a mut dyn Listener,
    ) -> Self {
        let area = ground.kinds.iter().map(|k| k.area() as f64 * k.blanks.len() as f64).sum();
        Self {
            demand,
            ground,
            settings,
            stop,
            listener,
            filler: Filler::new(ground, demand.rules.order),
            random: Random::new(settings.seed),
            capacity: capacities(ground),
            area,
            steps: 0,
            stopped: false,
            best: State::empty(ground),
            best_rank: 0,
        }
    }

    fn run(&mut self) {
        if self.ground.kinds.is_empty() {
            return;
        }
        for n in 0..STARTS {
            self.start(n);
            if self.is_over() {
                break;
            }
        }
        let least = match bound_of(self.ground, |s| s.rank) {
            Bound::Cost(least) => least,
            Bound::Impossible => 0,
        };
        let mut patience = 1;
        while !self.is_over() && !self.is_proved(least) {
            let better = if self.best.is_complete() { self.cheaper(patience) } else { self.complete() };
            patience = if better { 1 } else { (patience + 1).min(3) };
        }
        offcuts::gather(self.demand, self.ground, &mut self.filler, &mut self.best, &mut self.random);
    }

    fn is_proved(&self, least: u64) -> bool {
        self.best.is_complete() && self.best_rank <= least
    }

    pub(super) fn is_over(&mut self) -> bool {
        self.stopped = self.stopped || self.steps >= self.settings.steps || self.stop.stop();
        self.stopped
    }

    /// A start: boards in some order until nothing is left over.
    fn start(&mut self, n: usize) {
        let mut order: Vec<(f64, usize)> = Vec::new();
        for (b, slab) in self.ground.slabs.iter().enumerate() {
            let price = (slab.rank as f64) / (self.capacity[b] + 1.0);
            let key = match n {
                0 => price,
                1 => -self.capacity[b],
                2 => self.capacity[b],
                _ => price * (1.0 + 0.3 * self.random.unit()),
            };
            order.push((key, b));
        }
        order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut state = State::empty(self.ground);
        let worth = self.worth();
        for (_, b) in order {
            if state.is_complete() || (self.steps > 0 && self.is_over()) {
                break;
            }
            state.open[b] = true;
            self.refill(&mut state, b, &worth);
        }
        state.close_unused();
        self.offer(&state);
    }

    pub(super) fn refill(&mut self, state: &mut State, board: usize, worth: &[f64]) {
        self.steps += 1;
        let regions = regions(self.ground, state, board, self.demand.rules.order, &mut self.random);
        refill(&mut self.filler, self.ground, state, board, &regions, worth, &mut self.random);
    }

    /// What each kind is worth in this trial: its area, with some chance in it.
    pub(super) fn worth(&mut self) -> Vec<f64> {
        let longest = self.ground.kinds.iter().map(|k| k.len).max().unwrap_or(1) as f64;
        let (noise, for_length) = match self.random.below(4) {
            0 => (0.0, 0.0),
            1 => (0.03, 0.0),
            2 => (0.03, 0.1),
            _ => (0.1, 0.2),
        };
        let mut out = Vec::with_capacity(self.ground.kinds.len());
        for kind in &self.ground.kinds {
            let chance = 1.0 + noise * self.random.unit();
            let length = 1.0 + for_length * kind.len as f64 / longest;
            out.push(kind.area() as f64 * chance * length);
        }
        out
    }

    /// Takes a state as the best if it is better; says whether it was.
    pub(super) fn offer(&mut self, state: &State) -> bool {
        let rank = state.open_rank(self.ground);
        let first = self.best.open.iter().all(|open| !open);
        let better = match (state.is_complete(), self.best.is_complete()) {
            (true, true) => rank < self.best_rank,
            (true, false) => true,
            (false, true) => false,
            (false, false) => first || state.shortfall(self.ground) < self.best.shortfall(self.ground),
        };
        if better {
            self.best = state.clone();
            self.best.close_unused();
            self.best_rank = self.best.open_rank(self.ground);
            let plan = self.assemble();
            self.listener.improved(&plan);
        }
        better
    }

    fn assemble(&self) -> Plan {
        let mut taken = vec![0; self.ground.kinds.len()];
        let mut layouts = Vec::new();
        let mut cost = 0_u64;
        for (b, spots) in self.best.spots.iter().enumerate() {
            if let (Some(stock), false) = (self.demand.stock.get(b), spots.is_empty()) {
                let laid = tree::lay_blanks(self.demand, self.ground, b, spots, &mut taken);
                layouts.push(tree::layout(self.demand, b, stock, &laid));
                cost = cost.saturating_add(stock.cost);
            }
        }
        let mut short = self.ground.short.clone();
        for (kind, &given) in self.ground.kinds.iter().zip(&taken) {
            for &blank in kind.blanks.iter().skip(given) {
                let items = items_of_blank(blank, self.demand).into_iter();
                short.extend(items.map(|item| Shortage { item, why: ShortWhy::NoRoomLeft }));
            }
        }
        short.sort();
        Plan { layouts, short, cost, seed: self.settings.seed, steps: self.steps }
    }

    fn into_plan(self) -> Plan {
        self.assemble()
    }
}
