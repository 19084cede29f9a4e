//! The search: starts by several strategies, then tries cheaper and cheaper sets of boards.
//!
//! A complete plan comes first, then least cost of the boards used, then the largest kept offcut.
//! For a set of boards cheaper than the best plan's, two or three boards at a time are emptied and
//! refilled ([`super::fill`]) until nothing is left over or the patience for this set is spent.
//! Blanks that stay over weigh more from trial to trial.

use super::blanks::{Ground, items_of_blank};
use super::bound::{Bound, bound_of, capacities};
use super::demand::{Demand, DemandError, Order};
use super::fill::{Filler, Region};
use super::layout::{Plan, ShortWhy, Shortage};
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
    /// Most fillings of a board to try; 2000 suits one box on a handful of boards.
    pub steps: u64,
}

impl Default for Settings {
    fn default() -> Self {
        Self { seed: 1, steps: 2000 }
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

struct Search<'a> {
    demand: &'a Demand,
    ground: &'a Ground,
    settings: Settings,
    stop: &'a mut dyn Terminator,
    listener: &'a mut dyn Listener,
    filler: Filler<'a>,
    random: Random,
    /// Most blank area that each board can give.
    capacity: Vec<f64>,
    /// Area of all blanks.
    area: f64,
    plain: Vec<f64>,
    steps: u64,
    stopped: bool,
    best: State,
    best_rank: u64,
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
            plain: vec![1.0; ground.kinds.len()],
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
            patience = if better { 1 } else { (patience + 1).min(12) };
        }
        self.gather_offcuts();
    }

    fn is_proved(&self, least: u64) -> bool {
        self.best.is_complete() && self.best_rank <= least
    }

    fn is_over(&mut self) -> bool {
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
        let worth = self.worth(&self.plain.clone());
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

    fn refill(&mut self, state: &mut State, board: usize, worth: &[f64]) {
        self.steps += 1;
        let regions = regions(self.ground, state, board, self.demand.rules.order, &mut self.random);
        refill(&mut self.filler, self.ground, state, board, &regions, worth, &mut self.random);
    }

    /// What each kind is worth in this trial: its area, weighted, with some chance in it.
    fn worth(&mut self, weight: &[f64]) -> Vec<f64> {
        let longest = self.ground.kinds.iter().map(|k| k.len).max().unwrap_or(1) as f64;
        let (noise, for_length) = match self.random.below(4) {
            0 => (0.0, 0.0),
            1 => (0.03, 0.0),
            2 => (0.03, 0.1),
            _ => (0.1, 0.2),
        };
        let mut out = Vec::with_capacity(weight.len());
        for (kind, w) in self.ground.kinds.iter().zip(weight) {
            let chance = 1.0 + noise * self.random.unit();
            let length = 1.0 + for_length * kind.len as f64 / longest;
            out.push(kind.area() as f64 * w * chance * length);
        }
        out
    }

    /// Takes a state as the best if it is better; says whether it was.
    fn offer(&mut self, state: &State) -> bool {
        let rank = state.open_rank(self.ground);
        let first = self.best.open.iter().all(|open| !open);
        let better = match (state.is_complete(), self.best.is_complete()) {
            (true, true) => rank < self.best_rank,
            (true, false) => true,
            (false, true) => false,
            (false, false) => {
                first
                    || state.shortfall(self.ground, &self.plain)
                        < self.best.shortfall(self.ground, &self.plain)
            }
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

    /// Tries to complete an incomplete plan with all boards.
    fn complete(&mut self) -> bool {
        let mut state = self.best.clone();
        state.open.fill(true);
        self.rework(state, None, 400)
    }

    /// Tries one cheaper set of boards.
    fn cheaper(&mut self, patience: u64) -> bool {
        let Some(state) = self.cheaper_set() else {
            // No cheaper set has room by area; spend a step so that the search ends.
            self.steps += 1;
            return false;
        };
        let boards = state.open.iter().filter(|o| **o).count() as u64;
        self.rework(state, Some(self.best_rank), (20 + 6 * boards) * patience)
    }

    /// The best plan with some boards exchanged for cheaper ones, chosen with chance by the room it leaves.
    fn cheaper_set(&mut self) -> Option<State> {
        let mut best: Option<(f64, Vec<bool>)> = None;
        let tries = 4 + self.random.below(60);
        for _ in 0..tries {
            let mut open = self.best.open.clone();
            self.flip(&mut open, true);
            if self.random.below(3) == 0 {
                self.flip(&mut open, true);
            }
            for _ in 0..self.random.below(3) {
                self.flip(&mut open, false);
            }
            let (mut rank, mut room) = (0_u64, 0.0);
            for (b, slab) in self.ground.slabs.iter().enumerate() {
                if open[b] {
                    rank = rank.saturating_add(slab.rank);
                    room += self.capacity[b];
                }
            }
            if rank < self.best_rank && room >= self.area && best.as_ref().is_none_or(|t| room > t.0) {
                best = Some((room, open));
            }
        }
        let (_, open) = best?;
        let mut state = self.best.clone();
        for (b, &wanted) in open.iter().enumerate() {
            if wanted {
                state.open[b] = true;
            } else if state.open[b] {
                state.close(b);
            }
        }
        Some(state)
    }

    fn flip(&mut self, open: &mut [bool], from: bool) {
        let count = open.iter().filter(|o| **o == from).count();
        let pick = self.random.below(count);
        if let Some(o) = open.iter_mut().filter(|o| **o == from).nth(pick) {
            *o = !from;
        }
    }

    /// Empties and refills boards until all have their place or `trials` are spent; says whether that
    /// gave a better plan.
    fn rework(&mut self, mut state: State, below: Option<u64>, trials: u64) -> bool {
        let mut weight = self.plain.clone();
        let mean = self.area / self.ground.kinds.iter().map(|k| k.blanks.len() as f64).sum::<f64>().max(1.0);
        for trial in 0..trials {
            if self.is_over() {
                break;
            }
            let heat = 0.3 * mean * (1.0 - trial as f64 / trials as f64);
            let mut next = state.clone();
            self.trial(&mut next, below, &weight);
            if next.is_complete() {
                return self.offer(&next);
            }
            if below.is_none() && self.offer(&next) {
                return true;
            }
            let (now, then) = (next.shortfall(self.ground, &weight), state.shortfall(self.ground, &weight));
            if now <= then + heat * self.random.unit() {
                state = next;
            }
            for (w, &n) in weight.iter_mut().zip(&state.left) {
                *w += if n > 0 { 0.01 } else { 0.0 };
            }
        }
        false
    }

    /// One trial: a few boards emptied (one perhaps exchanged) and refilled in chance order.
    fn trial(&mut self, state: &mut State, below: Option<u64>, weight: &[f64]) {
        let open: Vec<usize> = (0..state.open.len()).filter(|&b| state.open[b]).collect();
        let mut chosen = Vec::new();
        if let Some(empty) = open.iter().copied().find(|&b| state.spots[b].is_empty()) {
            chosen.push(empty);
        }
        let count = 2 + self.random.below(2);
        for _ in 0..count * 2 {
            let b = open.get(self.random.below(open.len())).copied();
            if let Some(b) = b
                && chosen.len() < count
                && !chosen.contains(&b)
                && self.of_use(b, state)
            {
                chosen.push(b);
            }
        }
        if let Some(limit) = below
            && self.random.below(6) == 0
        {
            self.exchange(state, &mut chosen, limit);
        }
        for &b in &chosen {
            state.clear(b);
        }
        self.random.shuffle(&mut chosen);
        let worth = self.worth(weight);
        for b in chosen {
            self.refill(state, b, &worth);
        }
    }

    /// Whether a board can take anything that has no place (or there is nothing such).
    fn of_use(&self, board: usize, state: &State) -> bool {
        let fits = &self.ground.slabs[board].fits;
        state.left.iter().zip(fits).any(|(&n, &fits)| n > 0 && fits) || state.is_complete()
    }

    /// Exchanges one of the chosen boards for one outside the set if the set stays below the limit.
    fn exchange(&mut self, state: &mut State, chosen: &mut [usize], limit: u64) {
        let pick = self.random.below(chosen.len());
        let Some(out) = chosen.get_mut(pick) else { return };
        let closed: Vec<usize> = (0..state.open.len()).filter(|&b| !state.open[b]).collect();
        let Some(&into) = closed.get(self.random.below(closed.len())) else {
            return;
        };
        let rank = state.open_rank(self.ground);
        let slabs = &self.ground.slabs;
        let after = rank.saturating_sub(slabs[*out].rank).saturating_add(slabs[into].rank);
        if after < limit {
            state.close(*out);
            state.open[into] = true;
            *out = into;
        }
    }

    /// Pushes what lies on each board to the left where that leaves a larger offcut.
    fn gather_offcuts(&mut self) {
        if self.demand.rules.order == Order::RipFirst {
            return;
        }
        for b in 0..self.best.spots.len() {
            let count = self.best.spots[b].len();
            if count == 0 {
                continue;
            }
            let slab = &self.ground.slabs[b];
            let kinds = &self.ground.kinds;
            let used: i64 = self.best.spots[b].iter().map(|s| kinds[s.kind].area()).sum();
            let reach = self.best.spots[b].iter().map(|s| s.x + kinds[s.kind].len).max().unwrap_or(0);
            let (mut low, mut high) = (used / slab.high.max(1), reach);
            for _ in 0..6 {
                let middle = low.midpoint(high);
                let mut trial = self.best.clone();
                trial.clear(b);
                let worth: Vec<f64> = kinds.iter().map(|k| k.area() as f64).collect();
                let region = Region { span: (0, middle), rows: (0, slab.high) };
                let filled = self.filler.fill(slab, &[region], &mut trial.left, &worth, &mut self.random);
                if filled.len() == count {
                    trial.spots[b] = filled;
                    self.best = trial;
                    high = middle;
                } else {
                    low = middle;
                }
            }
        }
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
