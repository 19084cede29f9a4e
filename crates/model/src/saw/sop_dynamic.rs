//! Dynamic programming over (visited jobs, last job), layer by layer, pruned with the assignment's duals.

use super::sop::{FORBIDDEN, Problem, Solution};
use super::sop_assign::Duals;

/// One partial order: which jobs are done, the last of them, its cost above the duals, where it came from.
#[derive(Clone, Debug)]
struct State {
    done: Box<[u64]>,
    last: u32,
    over: u64,
    parent: u32,
}

/// Lowers the solution's cost or lifts its bound: exactly when no layer outgrows `width`, otherwise by
/// keeping the best states and taking the least of what was dropped as the bound.
pub(super) fn tighten(problem: &Problem, duals: &Duals, width: usize, solution: &mut Solution) {
    let n = problem.jobs();
    let room = |cost: u64| cost.saturating_sub(duals.bound);
    let mut first = vec![0u64; problem.words()];
    first[0] = 1;
    let mut layer = vec![State { done: first.into_boxed_slice(), last: 0, over: 0, parent: 0 }];
    // (last, parent) of every layer, to walk the order back.
    let mut trail: Vec<Vec<(u32, u32)>> = vec![vec![(0, 0)]];
    let mut dropped = u64::MAX;
    for _ in 1..n {
        let limit = room(solution.cost);
        let mut next = Vec::new();
        for (at, state) in layer.iter().enumerate() {
            expand(problem, duals, state, at, limit, &mut next);
        }
        next.sort_unstable_by(|a: &State, b| (&a.done, a.last, a.over).cmp(&(&b.done, b.last, b.over)));
        next.dedup_by(|b, a| a.done == b.done && a.last == b.last);
        if next.len() > width {
            next.sort_unstable_by_key(|s| s.over);
            for s in next.drain(width..) {
                dropped = dropped.min(s.over);
            }
        }
        trail.push(next.iter().map(|s| (s.last, s.parent)).collect());
        layer = next;
        if layer.is_empty() {
            break;
        }
    }
    if let (Some(state), true) = (layer.first(), trail.len() == n) {
        let cost = duals.bound + state.over;
        if cost < solution.cost {
            solution.cost = cost;
            solution.order = walk_back(&trail);
        }
    }
    let bound = duals.bound.saturating_add(dropped);
    solution.bound = solution.bound.max(bound.min(solution.cost));
}

/// Appends every allowed next job of a state that can still beat the limit.
fn expand(problem: &Problem, duals: &Duals, state: &State, at: usize, limit: u64, next: &mut Vec<State>) {
    let last = state.last as usize;
    for j in 1..problem.jobs() {
        if state.done[j / 64] >> (j % 64) & 1 == 1 {
            continue;
        }
        let step = problem.step(last, j);
        if step >= FORBIDDEN {
            continue;
        }
        let ready = problem.before(j).iter().zip(&*state.done).all(|(need, has)| need & !has == 0);
        if !ready {
            continue;
        }
        let reduced = i64::from(step) - duals.row[last] - duals.column[j];
        let over = state.over + u64::try_from(reduced).unwrap_or(0);
        if over >= limit {
            continue;
        }
        let mut done = state.done.clone();
        done[j / 64] |= 1 << (j % 64);
        next.push(State {
            done,
            last: u32::try_from(j).unwrap_or(u32::MAX),
            over,
            parent: u32::try_from(at).unwrap_or(u32::MAX),
        });
    }
}

fn walk_back(trail: &[Vec<(u32, u32)>]) -> Vec<usize> {
    let mut order = Vec::with_capacity(trail.len());
    let mut at = 0usize;
    for layer in trail.iter().rev() {
        let Some((job, parent)) = layer.get(at) else { break };
        order.push(*job as usize);
        at = *parent as usize;
    }
    order.reverse();
    order
}
