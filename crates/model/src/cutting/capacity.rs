//! The most blank area that one board can give, whatever the plan.

use super::blanks::{Fault, Kind, Slab, clear_intervals};
use super::ticks;

const MOST_FAULTS: usize = 48;
const MOST_SUMS: i64 = 200_000;
const MOST_ROWS: i64 = 2_000;

/// A clear rectangle of a face.
#[derive(Clone, Copy, Debug)]
struct Clear {
    x0: i64,
    x1: i64,
    y0: i64,
    y1: i64,
}

/// An upper bound on the area (kerf folded in) of blanks of these kinds on one board, for any cuts.
///
/// What it proves: along any line across the board the widths of the blanks that the line meets, each
/// between two faults, are a sum of given widths that fits there, so the rest of the line is lost; the same
/// along the board with lengths. A blank lies in a clear rectangle large enough for it, so a spot in none
/// is lost too. Both losses are summed over all lines of one direction, and the better direction counts.
/// On a board without faults blanks can be pushed into a corner, so both losses count at once.
pub(super) fn capacity(slab: &Slab, kinds: &[&Kind]) -> i64 {
    let mut sizes: Vec<(i64, i64)> = kinds.iter().map(|k| (k.high, k.len)).collect();
    sizes.retain(|s| s.0 <= slab.high && s.1 <= slab.len);
    if sizes.is_empty() {
        return 0;
    }
    sizes.sort_unstable();
    let highs: Vec<i64> = sizes.iter().map(|s| s.0).collect();
    let lens: Vec<i64> = sizes.iter().map(|s| s.1).collect();
    let (across, along) = (Sums::of(&highs, slab.high), Sums::of(&lens, slab.len));
    let plain = along.most(slab.len) * across.most(slab.high);
    if slab.faults.is_empty() {
        return plain;
    }
    // Leaving faults out can only raise the bound: keep it quick on a board full of them.
    let mut faults = slab.faults.clone();
    if faults.len() > MOST_FAULTS {
        faults.sort_by_key(|f| (f.x0 - f.x1) * (f.y1 - f.y0));
        faults.truncate(MOST_FAULTS);
        faults.sort_by_key(|f| f.x0);
    }
    // Per width the least length.
    let mut classes: Vec<(i64, i64)> = Vec::new();
    for &(high, len) in &sizes {
        if classes.last().is_none_or(|c| c.0 != high) {
            classes.push((high, len));
        }
    }
    let clear = clear_rectangles(slab, &faults, &classes);
    plain.min(over_columns(&clear, &classes, &across)).min(over_rows(&clear, &along))
}

/// Clear rectangles between fault edges that hold some class; every placement of a blank lies in one.
fn clear_rectangles(slab: &Slab, faults: &[Fault], classes: &[(i64, i64)]) -> Vec<Clear> {
    let mut bottoms: Vec<i64> = core::iter::once(0).chain(faults.iter().map(|f| f.y1)).collect();
    let mut tops: Vec<i64> = core::iter::once(slab.high).chain(faults.iter().map(|f| f.y0)).collect();
    bottoms.sort_unstable();
    bottoms.dedup();
    tops.sort_unstable();
    tops.dedup();
    let mut out = Vec::new();
    let mut stretches = Vec::new();
    for &y0 in &bottoms {
        for &y1 in &tops {
            let fitting = classes.iter().filter(|c| c.0 <= y1 - y0);
            let Some(least) = fitting.map(|c| c.1).min() else { continue };
            clear_intervals(faults, (y0, y1), (0, slab.len), &mut stretches);
            let wide = stretches.iter().filter(|(a, b)| b - a >= least);
            out.extend(wide.map(|&(x0, x1)| Clear { x0, x1, y0, y1 }));
        }
    }
    out
}

/// The sum over lines across the board.
fn over_columns(clear: &[Clear], classes: &[(i64, i64)], across: &Sums) -> i64 {
    let mut edges: Vec<i64> = clear.iter().flat_map(|c| [c.x0, c.x1]).collect();
    edges.sort_unstable();
    edges.dedup();
    let mut total = 0;
    let mut line: Vec<Clear> = Vec::new();
    for pair in edges.windows(2) {
        if let [x0, x1] = *pair {
            line.clear();
            line.extend(clear.iter().filter(|c| c.x0 <= x0 && c.x1 >= x1));
            let most = most_on_line(&line, classes)
                .unwrap_or_else(|| union(&mut line.iter().map(|c| (c.y0, c.y1)).collect::<Vec<_>>(), across));
            total += most * (x1 - x0);
        }
    }
    total
}

/// The sum over lines along the board.
fn over_rows(clear: &[Clear], along: &Sums) -> i64 {
    let mut edges: Vec<i64> = clear.iter().flat_map(|c| [c.y0, c.y1]).collect();
    edges.sort_unstable();
    edges.dedup();
    let mut total = 0;
    for pair in edges.windows(2) {
        if let [y0, y1] = *pair {
            let row = clear.iter().filter(|c| c.y0 <= y0 && c.y1 >= y1);
            total += union(&mut row.map(|c| (c.x0, c.x1)).collect::<Vec<_>>(), along) * (y1 - y0);
        }
    }
    total
}

/// Sums that fit in the separate stretches of a line.
fn union(stretches: &mut [(i64, i64)], sums: &Sums) -> i64 {
    stretches.sort_unstable();
    let mut total = 0;
    let mut current: Option<(i64, i64)> = None;
    for &(a, b) in stretches.iter() {
        match &mut current {
            Some(c) if a <= c.1 => c.1 = c.1.max(b),
            _ => {
                total += current.map_or(0, |c| sums.most(c.1 - c.0));
                current = Some((a, b));
            }
        }
    }
    total + current.map_or(0, |c| sums.most(c.1 - c.0))
}

/// The most width on one line when each blank lies in a clear rectangle that holds its class.
/// `None` when the measures are too odd for a table.
fn most_on_line(line: &[Clear], classes: &[(i64, i64)]) -> Option<i64> {
    let top = line.iter().map(|c| c.y1).max().unwrap_or(0);
    let sizes = line.iter().map(|c| c.y0).chain(classes.iter().map(|c| c.0));
    let grid = sizes.fold(0, ticks::common).max(1);
    if top / grid > MOST_ROWS {
        return None;
    }
    let rows = usize::try_from(top / grid).ok()? + 1;
    let mut best = vec![0_i64; rows];
    // Blanks can be pushed down to the one below or to the rectangle's edge: all rows are on the grid.
    let mut holds: Vec<Vec<(i64, i64)>> = Vec::with_capacity(classes.len());
    for &(high, len) in classes {
        let fitting = line.iter().filter(|c| c.x1 - c.x0 >= len && c.y1 - c.y0 >= high);
        let mut list: Vec<(i64, i64)> = fitting.map(|c| (c.y0, c.y1 - high)).collect();
        list.sort_unstable();
        list.dedup_by(|later, kept| {
            let joins = later.0 <= kept.1;
            kept.1 = if joins { kept.1.max(later.1) } else { kept.1 };
            joins
        });
        holds.push(list);
    }
    for row in 0..rows {
        let y = i64::try_from(row).ok()? * grid;
        if let Some(before) = row.checked_sub(1).map(|r| best[r]) {
            best[row] = best[row].max(before);
        }
        for (&(high, _), holds) in classes.iter().zip(&holds) {
            let next = holds.partition_point(|h| h.1 < y);
            if holds.get(next).is_some_and(|h| h.0 <= y)
                && let Some(to) = usize::try_from((y + high) / grid).ok().filter(|&to| to < rows)
            {
                best[to] = best[to].max(best[row] + high);
            }
        }
    }
    best.last().copied()
}

/// What sums of given sizes can come to.
struct Sums {
    grid: i64,
    /// Per multiple of the grid the greatest sum that is no more; empty when there are too many.
    most: Vec<i64>,
    least: i64,
}

impl Sums {
    fn of(sizes: &[i64], up_to: i64) -> Self {
        let grid = sizes.iter().copied().fold(0, ticks::common).max(1);
        let least = sizes.iter().copied().min().unwrap_or(i64::MAX);
        if up_to / grid > MOST_SUMS {
            return Self { grid, most: Vec::new(), least };
        }
        let cells = usize::try_from(up_to / grid).unwrap_or(0) + 1;
        let mut reached = vec![false; cells];
        reached[0] = true;
        let mut steps: Vec<usize> = sizes.iter().filter_map(|s| usize::try_from(s / grid).ok()).collect();
        steps.sort_unstable();
        steps.dedup();
        for step in steps {
            for to in step..cells {
                reached[to] = reached[to] || reached[to - step];
            }
        }
        let mut last = 0;
        let mut most = Vec::with_capacity(cells);
        for (at, &reached) in reached.iter().enumerate() {
            if reached {
                last = i64::try_from(at).unwrap_or(0) * grid;
            }
            most.push(last);
        }
        Self { grid, most, least }
    }

    fn most(&self, within: i64) -> i64 {
        if within < self.least {
            return 0;
        }
        let at = usize::try_from(within / self.grid).unwrap_or(0);
        self.most.get(at).copied().unwrap_or(within)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(len: i64, high: i64) -> Kind {
        Kind { len, high, blanks: Vec::new(), wood: String::new(), thick: 0 }
    }

    fn slab(len: i64, high: i64, faults: Vec<Fault>) -> Slab {
        Slab { len, high, corner: (0, 0), faults, cost: 0, rank: 0, fits: Vec::new() }
    }

    /// Source: counted by hand.
    #[test]
    fn loses_what_no_sum_fills() {
        let kinds = [kind(30, 7), kind(40, 5)];
        let kinds: Vec<&Kind> = kinds.iter().collect();
        // Widths 5 and 7 in 11: 7 at most (5 + 5 = 10 is more): 10. Lengths 30 and 40 in 95: 90.
        assert_eq!(capacity(&slab(95, 11, vec![]), &kinds), 90 * 10);
        // A fault over the whole width at 40..45 leaves 40 and 50 along the board: 40 + 40.
        let wall = Fault { x0: 40, x1: 45, y0: 0, y1: 11 };
        assert_eq!(capacity(&slab(95, 11, vec![wall]), &kinds), 80 * 10 + 80);
        // Where the fault leaves 6 rows only the width of 5 fits beside it; that kind is 40 long.
        let knot = Fault { x0: 40, x1: 45, y0: 6, y1: 11 };
        assert!(capacity(&slab(95, 11, vec![knot]), &kinds) <= 90 * 10 + 5 * 5);
    }
}
