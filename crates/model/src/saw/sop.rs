//! The sequential ordering problem: the cheapest order of jobs under precedences, with a bound.
//!
//! Local search by exchange of neighboring segments gives the order; the assignment problem gives a
//! bound; dynamic programming over (visited set, last job), pruned with the assignment's duals, closes
//! the gap when the budget allows, and otherwise lifts the bound.
//!
//! # Source
//! Problem and segment exchange: L. M. Gambardella, M. Dorigo, INFORMS Journal on Computing 12 (2000)
//! 237–255 (from memory). Assignment: R. Jonker, A. Volgenant, Computing 38 (1987) 325–340 (from memory).

use super::sop_assign;
use super::sop_dynamic;

/// A cost that forbids a step.
pub const FORBIDDEN: u32 = u32::MAX / 4;

/// Jobs 0..n; job 0 comes first and job n − 1 last.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    n: usize,
    cost: Vec<u32>,
    words: usize,
    /// For each job the set of jobs that must come before it, closed.
    earlier: Vec<u64>,
    /// For each job the set of jobs that must come after it, closed.
    later: Vec<u64>,
}

/// How hard to work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Restarts of the local search from a shaken order.
    pub shakes: u32,
    /// States kept for each number of jobs done; zero leaves the dynamic programming out.
    pub states: usize,
    /// Seed of the shaking, so that the same order comes out again.
    pub seed: u64,
}

/// An order and how good it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// The jobs, first to last.
    pub order: Vec<usize>,
    /// Its cost.
    pub cost: u64,
    /// No order costs less.
    pub bound: u64,
}

/// Why a problem cannot be solved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SopError {
    /// The cost table is not n × n.
    #[error("the cost table has {entries} entries; {jobs} jobs need {jobs} × {jobs}")]
    NotSquare {
        /// Entries given.
        entries: usize,
        /// Jobs.
        jobs: usize,
    },
    /// A precedence names a job that does not exist.
    #[error("a precedence names job {job}, but there are only {jobs}")]
    NoSuchJob {
        /// The job named.
        job: usize,
        /// Jobs.
        jobs: usize,
    },
    /// The precedences run in a circle.
    #[error("the precedences run in a circle through job {job}")]
    Circle {
        /// A job on the circle.
        job: usize,
    },
}

impl Problem {
    /// From a row-major cost table (`cost[i·n + j]` from i to j) and direct precedences (first, then).
    ///
    /// # Errors
    /// When the table is not square, a job does not exist, or the precedences run in a circle.
    pub fn new(n: usize, cost: Vec<u32>, before: &[(usize, usize)]) -> Result<Self, SopError> {
        if cost.len() != n * n {
            return Err(SopError::NotSquare { entries: cost.len(), jobs: n });
        }
        let words = n.div_ceil(64).max(1);
        let mut p = Self { n, cost, words, earlier: vec![0; n * words], later: vec![0; n * words] };
        let ends = (1..n).map(|j| (0, j)).chain((0..n.saturating_sub(1)).map(|i| (i, n - 1)));
        for (a, b) in before.iter().copied().chain(ends) {
            if a >= n || b >= n {
                return Err(SopError::NoSuchJob { job: a.max(b), jobs: n });
            }
            if a != b {
                p.earlier[b * words + a / 64] |= 1 << (a % 64);
            }
        }
        p.close()?;
        p.forbid();
        Ok(p)
    }

    /// Closes the precedences (Warshall) and mirrors them.
    fn close(&mut self) -> Result<(), SopError> {
        let w = self.words;
        for k in 0..self.n {
            let row: Vec<u64> = self.earlier[k * w..(k + 1) * w].to_vec();
            for j in 0..self.n {
                if self.earlier[j * w + k / 64] >> (k % 64) & 1 == 1 {
                    for (a, b) in self.earlier[j * w..(j + 1) * w].iter_mut().zip(&row) {
                        *a |= *b;
                    }
                }
            }
        }
        for j in 0..self.n {
            if self.must_precede(j, j) {
                return Err(SopError::Circle { job: j });
            }
            for i in 0..self.n {
                if self.must_precede(i, j) {
                    self.later[i * w + j / 64] |= 1 << (j % 64);
                }
            }
        }
        Ok(())
    }

    /// Forbids steps that no order takes: backward ones, and those that skip a job in between.
    fn forbid(&mut self) {
        for i in 0..self.n {
            for j in 0..self.n {
                let between = self.after(i).iter().zip(self.before(j)).any(|(a, b)| a & b != 0);
                if i == j || self.must_precede(j, i) || between {
                    self.cost[i * self.n + j] = FORBIDDEN;
                }
            }
        }
    }

    /// Number of jobs.
    pub const fn jobs(&self) -> usize {
        self.n
    }

    pub(super) const fn words(&self) -> usize {
        self.words
    }

    pub(super) fn step(&self, i: usize, j: usize) -> u32 {
        self.cost[i * self.n + j]
    }

    pub(super) fn before(&self, j: usize) -> &[u64] {
        &self.earlier[j * self.words..(j + 1) * self.words]
    }

    fn after(&self, i: usize) -> &[u64] {
        &self.later[i * self.words..(i + 1) * self.words]
    }

    /// Whether `i` must come before `j`.
    pub fn must_precede(&self, i: usize, j: usize) -> bool {
        self.earlier[j * self.words + i / 64] >> (i % 64) & 1 == 1
    }

    /// Cost of an order, or `None` when it is not one or breaks a precedence.
    pub fn cost_of(&self, order: &[usize]) -> Option<u64> {
        if order.len() != self.n {
            return None;
        }
        let mut seen = vec![0u64; self.words];
        for j in order.iter().copied() {
            if j >= self.n || seen[j / 64] >> (j % 64) & 1 == 1 {
                return None;
            }
            if self.before(j).iter().zip(&seen).any(|(need, has)| need & !has != 0) {
                return None;
            }
            seen[j / 64] |= 1 << (j % 64);
        }
        Some(self.sum(order))
    }

    fn sum(&self, order: &[usize]) -> u64 {
        order.windows(2).map(|p| u64::from(self.step(p[0], p[1]))).sum()
    }
}

/// Solves a problem within a budget.
pub fn solve(problem: &Problem, budget: Budget) -> Solution {
    let n = problem.jobs();
    if n <= 2 {
        let order: Vec<usize> = (0..n).collect();
        let cost = problem.sum(&order);
        return Solution { order, cost, bound: cost };
    }
    let duals = sop_assign::duals(problem);
    let mut best = greedy(problem);
    improve(problem, &mut best);
    let mut cost = problem.sum(&best);
    let mut dice = Dice(budget.seed | 1);
    let mut current = best.clone();
    let mut current_cost = cost;
    for _ in 0..budget.shakes {
        if cost <= duals.bound {
            break;
        }
        let mut trial = current.clone();
        for _ in 0..=dice.below(2) {
            shake(problem, &mut trial, &mut dice);
        }
        improve(problem, &mut trial);
        let c = problem.sum(&trial);
        if c <= current_cost {
            current = trial;
            current_cost = c;
            if c < cost {
                cost = c;
                best.clone_from(&current);
            }
        }
    }
    let mut solution = Solution { order: best, cost, bound: duals.bound.min(cost) };
    if budget.states > 0 && solution.bound < cost {
        sop_dynamic::tighten(problem, &duals, budget.states, &mut solution);
    }
    solution
}

/// The nearest job whose predecessors are done, again and again.
fn greedy(problem: &Problem) -> Vec<usize> {
    let n = problem.jobs();
    let mut seen = vec![0u64; problem.words()];
    let mut order = Vec::with_capacity(n);
    let mut last = 0;
    let mut left: Vec<usize> = (1..n).collect();
    seen[0] |= 1;
    order.push(0);
    while !left.is_empty() {
        let ready = left
            .iter()
            .enumerate()
            .filter(|(_, j)| problem.before(**j).iter().zip(&seen).all(|(need, has)| need & !has == 0));
        let Some((at, j)) = ready.map(|(at, j)| (at, *j)).min_by_key(|(_, j)| problem.step(last, *j)) else {
            break;
        };
        left.remove(at);
        order.push(j);
        seen[j / 64] |= 1 << (j % 64);
        last = j;
    }
    order
}

/// Exchanges neighboring segments while that pays.
fn improve(problem: &Problem, order: &mut [usize]) {
    let n = order.len();
    let step = |a: usize, b: usize| i64::from(problem.step(a, b));
    let mut later = vec![0u64; problem.words()];
    let mut again = true;
    while again {
        again = false;
        for i in 1..n.saturating_sub(2) {
            later.fill(0);
            let mut j = i + 1;
            while j < n - 1 {
                for (a, b) in later.iter_mut().zip(problem.after(order[j - 1])) {
                    *a |= *b;
                }
                let mut best = (0i64, 0usize);
                let gone_left = step(order[i - 1], order[i]) + step(order[j - 1], order[j]);
                let joins = step(order[i - 1], order[j]);
                for k in j + 1..n {
                    let last = order[k - 1];
                    if later[last / 64] >> (last % 64) & 1 == 1 {
                        break;
                    }
                    let gain = gone_left + step(last, order[k])
                        - joins
                        - step(last, order[i])
                        - step(order[j - 1], order[k]);
                    if gain > best.0 {
                        best = (gain, k);
                    }
                }
                if best.0 > 0 {
                    order[i..best.1].rotate_left(j - i);
                    again = true;
                    later.fill(0);
                    j = i + 1;
                    continue;
                }
                j += 1;
            }
        }
    }
}

/// A random exchange of neighboring segments that keeps the precedences.
fn shake(problem: &Problem, order: &mut [usize], dice: &mut Dice) {
    let n = order.len();
    if n < 5 {
        return;
    }
    for _ in 0..40 {
        let i = 1 + dice.below(n - 3);
        let j = i + 1 + dice.below((n - 2 - i).min(n / 3 + 1));
        let mut later = vec![0u64; problem.words()];
        for a in &order[i..j] {
            for (x, y) in later.iter_mut().zip(problem.after(*a)) {
                *x |= *y;
            }
        }
        let free = order[j..n - 1].iter().take_while(|b| later[**b / 64] >> (**b % 64) & 1 == 0).count();
        if free > 0 {
            let k = j + 1 + dice.below(free.min(n / 3 + 1));
            order[i..k].rotate_left(j - i);
            return;
        }
    }
}

/// A small generator (xorshift), so that results repeat.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let r = (self.0 >> 11) % (n.max(1) as u64);
        usize::try_from(r).unwrap_or(0)
    }
}
