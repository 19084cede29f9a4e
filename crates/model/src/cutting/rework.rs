//! Work on a plan that is there: complete it, or find a cheaper set of boards that holds it all.

use super::search::Search;
use super::state::State;

/// How much worse, as a part of a mean blank, a trial may leave a state at first. Tuned by hand on the
/// planted box-shop problems of the bench, as are the numbers of trials.
const HEAT: f64 = 0.05;

impl Search<'_> {
    /// Tries to complete an incomplete plan with all boards.
    pub(super) fn complete(&mut self) -> bool {
        let mut state = self.best.clone();
        state.open.fill(true);
        self.rework(state, None, 400)
    }

    /// Tries one cheaper set of boards.
    pub(super) fn cheaper(&mut self, patience: u64) -> bool {
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
        let mean = self.area / self.ground.kinds.iter().map(|k| k.blanks.len() as f64).sum::<f64>().max(1.0);
        for trial in 0..trials {
            if self.is_over() {
                break;
            }
            let heat = HEAT * mean * (1.0 - trial as f64 / trials as f64);
            let mut next = state.clone();
            self.trial(&mut next, below);
            if next.is_complete() {
                return self.offer(&next);
            }
            if below.is_none() && self.offer(&next) {
                return true;
            }
            let (now, then) = (next.shortfall(self.ground), state.shortfall(self.ground));
            if now <= then + heat * self.random.unit() {
                state = next;
            }
        }
        false
    }

    /// One trial: one or two boards emptied (one perhaps exchanged) and refilled in chance order.
    fn trial(&mut self, state: &mut State, below: Option<u64>) {
        let open: Vec<usize> = (0..state.open.len()).filter(|&b| state.open[b]).collect();
        let mut chosen = Vec::new();
        if let Some(empty) = open.iter().copied().find(|&b| state.spots[b].is_empty()) {
            chosen.push(empty);
        }
        let count = 1 + self.random.below(2);
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
        if chosen.is_empty() {
            // No board of this set can take what is left over; spend a step so that the search ends.
            self.steps += 1;
        }
        for &b in &chosen {
            state.clear(b);
        }
        self.random.shuffle(&mut chosen);
        let worth = self.worth();
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
}
