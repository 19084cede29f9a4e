//! The assignment problem over steps: a bound on every order, and duals that price each step.

use super::sop::{FORBIDDEN, Problem};

/// Duals of the assignment: step (i, j) costs at least `row[i] + column[j]`.
#[derive(Clone, Debug)]
pub(super) struct Duals {
    /// For each job left.
    pub(super) row: Vec<i64>,
    /// For each job entered.
    pub(super) column: Vec<i64>,
    /// Their sum: no order costs less.
    pub(super) bound: u64,
}

/// Solves the assignment of each job but the last to a follower, each job but the first entered once.
pub(super) fn duals(problem: &Problem) -> Duals {
    let n = problem.jobs();
    // Shortest augmenting paths over rows 1..=m (jobs 0..n−1) and columns 1..=m (jobs 1..n).
    let m = n - 1;
    let mut u = vec![0i64; m + 1];
    let mut v = vec![0i64; m + 1];
    let mut owner = vec![0usize; m + 1];
    let mut way = vec![0usize; m + 1];
    for row in 1..=m {
        owner[0] = row;
        let mut column = 0;
        let mut least = vec![i64::MAX; m + 1];
        let mut used = vec![false; m + 1];
        loop {
            used[column] = true;
            let here = owner[column];
            let mut delta = i64::MAX;
            let mut next = 0;
            for j in 1..=m {
                if used[j] {
                    continue;
                }
                let slack = i64::from(problem.step(here - 1, j)) - u[here] - v[j];
                if slack < least[j] {
                    least[j] = slack;
                    way[j] = column;
                }
                if least[j] < delta {
                    delta = least[j];
                    next = j;
                }
            }
            for j in 0..=m {
                if used[j] {
                    u[owner[j]] += delta;
                    v[j] -= delta;
                } else {
                    least[j] -= delta;
                }
            }
            column = next;
            if owner[column] == 0 {
                break;
            }
        }
        while column != 0 {
            let from = way[column];
            owner[column] = owner[from];
            column = from;
        }
    }
    let total: i64 = u.iter().skip(1).sum::<i64>() + v.iter().skip(1).sum::<i64>();
    let mut row: Vec<i64> = u[1..].to_vec();
    row.push(0);
    let mut column = vec![0i64];
    column.extend_from_slice(&v[1..]);
    Duals { row, column, bound: u64::try_from(total.clamp(0, i64::from(FORBIDDEN) * 1024)).unwrap_or(0) }
}
