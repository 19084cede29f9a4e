//! What fills a stretch of a strip best: one table for all stretches and all strip widths at once.
//!
//! Kinds enter by rising width, so the table after the last kind of a width answers for strips of that
//! width (narrower blanks may lie in a wider strip). Where the common divisor of the lengths is coarse
//! enough the table is exact; else a cell keeps the best filling whose length falls in it, with its true
//! length, so an answer is always true though perhaps not the best.

use super::blanks::Ground;
use super::ticks;

const MOST_CELLS: i64 = 3000;
const NOT_TAKEN: u16 = u16::MAX;
const UNREACHED: f64 = -1.0;

/// The table; kept between uses for its memory.
#[derive(Debug, Default)]
pub(super) struct Table {
    grid: i64,
    cells: usize,
    layers: Vec<Layer>,
    parents: Vec<u16>,
    value: Vec<f64>,
    exact: Vec<i64>,
    widths: Vec<Width>,
    spare: Vec<Width>,
}

#[derive(Clone, Copy, Debug)]
struct Layer {
    kind: usize,
    copies: u32,
}

/// The answers for one strip width.
#[derive(Debug, Default)]
struct Width {
    high: i64,
    layers: usize,
    value: Vec<f64>,
    exact: Vec<i64>,
    /// Best cell at or before this one.
    best: Vec<u32>,
}

impl Table {
    /// Fills the table for the kinds listed (by rising width), `left` copies of each, up to `longest`.
    pub(super) fn build(
        &mut self,
        ground: &Ground,
        kinds: &[usize],
        left: &[u32],
        worth: &[f64],
        longest: i64,
    ) {
        let common = kinds.iter().fold(0, |g, &k| ticks::common(g, ground.kinds[k].len)).max(1);
        let exact = longest / common < MOST_CELLS;
        self.grid = if exact { common } else { longest / MOST_CELLS + 1 };
        self.cells = usize::try_from(longest / self.grid + 1).unwrap_or(1);
        self.layers.clear();
        self.parents.clear();
        self.value.clear();
        self.value.resize(self.cells, UNREACHED);
        self.exact.clear();
        self.exact.resize(self.cells, 0);
        self.value[0] = 0.0;
        self.spare.append(&mut self.widths);
        for (n, &k) in kinds.iter().enumerate() {
            let kind = &ground.kinds[k];
            let most = longest / kind.len;
            let mut copies_left = i64::from(left[k]).min(most);
            let mut step = 1;
            while copies_left > 0 {
                let copies = step.min(copies_left);
                copies_left -= copies;
                step *= 2;
                let copies = u32::try_from(copies).unwrap_or(1);
                self.layers.push(Layer { kind: k, copies });
                let (len, worth) = (kind.len * i64::from(copies), worth[k] * f64::from(copies));
                if exact { self.lay_exact(len, worth) } else { self.lay_near(len, worth, longest) }
            }
            let last_of_width = kinds.get(n + 1).is_none_or(|&next| ground.kinds[next].high != kind.high);
            if last_of_width {
                self.close_width(kind.high);
            }
        }
    }

    fn lay_exact(&mut self, len: i64, worth: f64) {
        let from = self.parents.len();
        self.parents.resize(from + self.cells, NOT_TAKEN);
        let parents = &mut self.parents[from..];
        let Ok(step) = usize::try_from(len / self.grid) else {
            return;
        };
        for to in (step..self.cells).rev() {
            let at = to - step;
            let value = self.value[at] + worth;
            if self.value[at] >= 0.0 && value > self.value[to] {
                self.value[to] = value;
                self.exact[to] = self.exact[at] + len;
                parents[to] = u16::try_from(at).unwrap_or(NOT_TAKEN);
            }
        }
    }

    fn lay_near(&mut self, len: i64, worth: f64, longest: i64) {
        let from = self.parents.len();
        self.parents.resize(from + self.cells, NOT_TAKEN);
        let parents = &mut self.parents[from..];
        for at in (0..self.cells).rev() {
            if self.value[at] < 0.0 {
                continue;
            }
            let total = self.exact[at] + len;
            if total > longest {
                continue;
            }
            let Ok(to) = usize::try_from(total / self.grid) else {
                continue;
            };
            let value = self.value[at] + worth;
            if value > self.value[to] {
                self.value[to] = value;
                self.exact[to] = total;
                parents[to] = u16::try_from(at).unwrap_or(NOT_TAKEN);
            }
        }
    }

    fn close_width(&mut self, high: i64) {
        let mut width = self.spare.pop().unwrap_or_default();
        width.high = high;
        width.layers = self.layers.len();
        width.value.clone_from(&self.value);
        width.exact.clone_from(&self.exact);
        width.best.clear();
        let mut best = 0_usize;
        for at in 0..self.cells {
            if self.value[at] > self.value[best] {
                best = at;
            }
            width.best.push(u32::try_from(best).unwrap_or(0));
        }
        self.widths.push(width);
    }

    /// The strip widths answered for, rising.
    pub(super) fn widths(&self) -> impl Iterator<Item = i64> + '_ {
        self.widths.iter().map(|w| w.high)
    }

    fn cell(&self, width: &Width, stretch: i64) -> usize {
        let at = usize::try_from(stretch / self.grid).unwrap_or(0).min(self.cells - 1);
        let best = width.best[at] as usize;
        if width.exact[best] <= stretch || at == 0 { best } else { width.best[at - 1] as usize }
    }

    /// The most that a stretch of a strip of the numbered width can be worth.
    pub(super) fn worth(&self, width: usize, stretch: i64) -> f64 {
        let width = &self.widths[width];
        width.value[self.cell(width, stretch)]
    }

    /// The kinds and copies that give it.
    pub(super) fn filling(&self, width: usize, stretch: i64, out: &mut Vec<(usize, u32)>) {
        out.clear();
        let width = &self.widths[width];
        let mut at = self.cell(width, stretch);
        for n in (0..width.layers).rev() {
            let parent = self.parents[n * self.cells + at];
            if parent != NOT_TAKEN {
                out.push((self.layers[n].kind, self.layers[n].copies));
                at = usize::from(parent);
            }
        }
    }
}
