//! Fills one board: strips by dynamic programming over the width, stretches by the knapsack table.

use super::blanks::{Ground, Slab, Spot, clear_intervals};
use super::demand::Order;
use super::knapsack::Table;
use super::random::Random;
use super::ticks;

const MOST_ROWS: i64 = 600;

/// A part of a board, in ticks from the corner of the usable face.
#[derive(Clone, Copy, Debug)]
pub(super) struct Region {
    pub(super) span: (i64, i64),
    pub(super) rows: (i64, i64),
}

/// A strip chosen: lower edge, number of its width in the table, what it is worth.
#[derive(Clone, Copy, Debug)]
struct Strip {
    y: i64,
    high: i64,
    width: usize,
    worth: f64,
}

/// One board being filled.
struct Job<'a> {
    slab: &'a Slab,
    left: &'a mut [u32],
    worth: &'a [f64],
    random: &'a mut Random,
    holes: bool,
    spots: Vec<Spot>,
}

/// The filler of boards; holds the memory it works in.
#[derive(Debug)]
pub(super) struct Filler<'a> {
    ground: &'a Ground,
    /// Whether what strips leave is ripped again after the crosscuts.
    holes: bool,
    /// Kinds by rising width.
    rising: Vec<usize>,
    table: Table,
    small: Table,
    listed: Vec<usize>,
    clear: Vec<(i64, i64)>,
    filling: Vec<(usize, u32)>,
    rows: Vec<i64>,
    best: Vec<(f64, usize, Option<Strip>)>,
    /// Per row and width, the worth of the strips of that width on the best path.
    spent: Vec<f64>,
}

impl<'a> Filler<'a> {
    pub(super) fn new(ground: &'a Ground, order: Order) -> Self {
        let mut rising: Vec<usize> = (0..ground.kinds.len()).collect();
        rising.sort_by_key(|&k| (ground.kinds[k].high, k));
        Self {
            ground,
            holes: order != Order::RipFirst,
            rising,
            table: Table::default(),
            small: Table::default(),
            listed: Vec::new(),
            clear: Vec::new(),
            filling: Vec::new(),
            rows: Vec::new(),
            best: Vec::new(),
            spent: Vec::new(),
        }
    }

    /// Fills a board from what is `left`, region by region; takes what it lays from `left`.
    pub(super) fn fill(
        &mut self,
        slab: &Slab,
        regions: &[Region],
        left: &mut [u32],
        worth: &[f64],
        random: &mut Random,
    ) -> Vec<Spot> {
        let mut job = Job { slab, left, worth, random, holes: self.holes, spots: Vec::new() };
        for region in regions {
            self.section(&mut job, region.span, region.rows);
        }
        job.spots
    }

    /// Fills one section: strips first, then what the strips leave free beside and above their blanks.
    fn section(&mut self, job: &mut Job<'_>, span: (i64, i64), rows: (i64, i64)) {
        let mut free = vec![rows];
        let mut laid = Vec::new();
        loop {
            let tallest = free.iter().map(|&(a, b)| b - a).max().unwrap_or(0);
            self.list(job.slab, job.left, span.1 - span.0, tallest);
            if self.listed.is_empty() {
                break;
            }
            self.table.build(self.ground, &self.listed, job.left, job.worth, span.1 - span.0);
            let mut strips = Vec::new();
            for &rows in &free {
                self.strips(job, span, rows, &mut strips);
            }
            if strips.is_empty() {
                break;
            }
            let by_density = job.random.below(4) == 0;
            let rank = |s: &Strip| if by_density { s.worth / s.high as f64 } else { s.worth };
            strips.sort_by(|a, b| rank(b).total_cmp(&rank(a)).then(a.y.cmp(&b.y)));
            for (n, strip) in strips.iter().enumerate() {
                if n > 0 && !self.still_there(job.slab, span, strip, job.left) {
                    continue;
                }
                let from = job.spots.len();
                self.lay(job, span, strip);
                laid.push((*strip, from..job.spots.len()));
                occupy(&mut free, strip.y, strip.y + strip.high);
            }
        }
        if job.holes {
            for (strip, spots) in laid {
                self.holes(job, span, &strip, spots);
            }
        }
    }

    /// Fills what a strip leaves free: between its blanks, and above those narrower than the strip.
    fn holes(&mut self, job: &mut Job<'_>, span: (i64, i64), strip: &Strip, spots: core::ops::Range<usize>) {
        let kinds = &self.ground.kinds;
        let mut laid: Vec<Spot> = job.spots.get(spots).map_or_else(Vec::new, <[Spot]>::to_vec);
        laid.sort_by_key(|s| s.x);
        let top = strip.y + strip.high;
        let mut at = span.0;
        for s in &laid {
            self.hole(job, (at, s.x), (strip.y, top));
            at = s.x + kinds[s.kind].len;
            self.hole(job, (s.x, at), (strip.y + kinds[s.kind].high, top));
        }
        self.hole(job, (at, span.1), (strip.y, top));
    }

    fn hole(&mut self, job: &mut Job<'_>, span: (i64, i64), rows: (i64, i64)) {
        self.list(job.slab, job.left, span.1 - span.0, rows.1 - rows.0);
        if !self.listed.is_empty() {
            self.section(job, span, rows);
        }
    }

    fn list(&mut self, slab: &Slab, left: &[u32], longest: i64, tallest: i64) {
        self.listed.clear();
        let kinds = &self.ground.kinds;
        self.listed.extend(
            self.rising.iter().copied().filter(|&k| {
                left[k] > 0 && slab.fits[k] && kinds[k].len <= longest && kinds[k].high <= tallest
            }),
        );
    }

    /// The strips worth most together within `rows`.
    ///
    /// Strips of one width together count for no more than all that is left for strips of that width, so a
    /// filling is not counted again and again; one path of strips is remembered per row.
    fn strips(&mut self, job: &Job<'_>, span: (i64, i64), rows: (i64, i64), out: &mut Vec<Strip>) {
        let highs: Vec<i64> = self.table.widths().collect();
        let all = self.all_left(job, &highs);
        self.set_rows(job.slab, rows, &highs);
        self.best.clear();
        self.best.resize(self.rows.len(), (0.0, 0, None));
        self.spent.clear();
        self.spent.resize(self.rows.len() * highs.len(), 0.0);
        for at in 0..self.rows.len() {
            let y = self.rows[at];
            if let Some(before) = at.checked_sub(1)
                && self.best[before].0 >= self.best[at].0
            {
                self.best[at] = (self.best[before].0, before, None);
                self.follow(before, at, highs.len());
            }
            let base = self.best[at].0;
            for (width, &high) in highs.iter().enumerate() {
                if y + high > rows.1 {
                    break;
                }
                let to = self.rows.partition_point(|&r| r < y + high);
                if to >= self.rows.len() {
                    continue;
                }
                let free = all[width] - self.spent[at * highs.len() + width];
                if base + free <= self.best[to].0 {
                    continue;
                }
                clear_intervals(&job.slab.faults, (y, y + high), span, &mut self.clear);
                let full: f64 = self.clear.iter().map(|&(a, b)| self.table.worth(width, b - a)).sum();
                let worth = full.min(free);
                if base + worth > self.best[to].0 && worth > 0.0 {
                    self.best[to] = (base + worth, at, Some(Strip { y, high, width, worth }));
                    self.follow(at, to, highs.len());
                    self.spent[to * highs.len() + width] += worth;
                }
            }
        }
        let mut at = self.rows.len().saturating_sub(1);
        while at > 0 {
            let (_, before, strip) = self.best[at];
            out.extend(strip);
            at = before;
        }
    }

    /// What row `to` has spent so far is what row `from` had.
    fn follow(&mut self, from: usize, to: usize, widths: usize) {
        self.spent.copy_within(from * widths..(from + 1) * widths, to * widths);
    }

    /// Worth of all that is left for strips of each width.
    fn all_left(&self, job: &Job<'_>, highs: &[i64]) -> Vec<f64> {
        let mut all = vec![0.0; highs.len()];
        for &k in &self.listed {
            let high = self.ground.kinds[k].high;
            for (sum, _) in all.iter_mut().zip(highs).filter(|(_, h)| **h >= high) {
                *sum += job.worth[k] * f64::from(job.left[k]);
            }
        }
        all
    }

    /// Lower edges that a strip can have: sums of widths from the bottom and from each fault's upper edge.
    fn set_rows(&mut self, slab: &Slab, rows: (i64, i64), highs: &[i64]) {
        let edges = || slab.faults.iter().map(|f| f.y1).filter(|&y| y > rows.0 && y < rows.1);
        let common = highs.iter().copied().chain(edges().map(|y| y - rows.0)).fold(0, ticks::common).max(1);
        let whole = rows.1 - rows.0;
        let bucket = common.max(whole / MOST_ROWS + 1);
        let count = usize::try_from(whole / bucket + 1).unwrap_or(1);
        let mut last: Vec<Option<i64>> = vec![None; count];
        let place = |last: &mut Vec<Option<i64>>, y: i64| {
            let at = usize::try_from((y - rows.0) / bucket).unwrap_or(0);
            if let Some(slot) = last.get_mut(at) {
                *slot = (*slot).max(Some(y));
            }
        };
        place(&mut last, rows.0);
        edges().for_each(|y| place(&mut last, y));
        for at in 0..count {
            if let Some(y) = last[at] {
                highs.iter().filter(|&&h| y + h <= rows.1).for_each(|h| place(&mut last, y + h));
            }
        }
        self.rows.clear();
        self.rows.extend(last.into_iter().flatten());
        if self.rows.last() != Some(&rows.1) {
            self.rows.push(rows.1);
        }
    }

    /// Whether the strip's filling in the table can still be had whole.
    fn still_there(&mut self, slab: &Slab, span: (i64, i64), strip: &Strip, left: &[u32]) -> bool {
        clear_intervals(&slab.faults, (strip.y, strip.y + strip.high), span, &mut self.clear);
        let mut wanted: Vec<(usize, u32)> = Vec::new();
        for &(a, b) in &self.clear {
            self.table.filling(strip.width, b - a, &mut self.filling);
            for &(kind, copies) in &self.filling {
                match wanted.iter_mut().find(|w| w.0 == kind) {
                    Some(w) => w.1 += copies,
                    None => wanted.push((kind, copies)),
                }
            }
        }
        wanted.iter().all(|&(kind, copies)| left[kind] >= copies)
    }

    fn lay(&mut self, job: &mut Job<'_>, span: (i64, i64), strip: &Strip) {
        clear_intervals(&job.slab.faults, (strip.y, strip.y + strip.high), span, &mut self.clear);
        let mut clear = core::mem::take(&mut self.clear);
        clear.sort_by_key(|&(a, b)| (a - b, a));
        for &(a, b) in &clear {
            self.table.filling(strip.width, b - a, &mut self.filling);
            if sum_exceeds(&self.filling, job.left) {
                self.refill(job.slab, b - a, strip.high, job.left, job.worth);
            }
            let mut x = a;
            for &(kind, copies) in &self.filling {
                job.left[kind] -= copies;
                for _ in 0..copies {
                    job.spots.push(Spot { kind, x, y: strip.y });
                    x += self.ground.kinds[kind].len;
                }
            }
        }
        self.clear = clear;
    }

    /// The best filling of one stretch from what is left now.
    fn refill(&mut self, slab: &Slab, stretch: i64, high: i64, left: &[u32], worth: &[f64]) {
        self.filling.clear();
        self.list(slab, left, stretch, high);
        if self.listed.is_empty() {
            return;
        }
        self.small.build(self.ground, &self.listed, left, worth, stretch);
        let widest = self.small.widths().count() - 1;
        self.small.filling(widest, stretch, &mut self.filling);
    }
}

fn sum_exceeds(filling: &[(usize, u32)], left: &[u32]) -> bool {
    // Copies of one kind stand in several layers next to each other.
    filling.chunk_by(|a, b| a.0 == b.0).any(|same| {
        let sum: u32 = same.iter().map(|s| s.1).sum();
        same.first().is_some_and(|s| left[s.0] < sum)
    })
}

/// Takes the rows from `y0` to `y1` out of the free rows.
fn occupy(free: &mut Vec<(i64, i64)>, y0: i64, y1: i64) {
    let mut out = Vec::with_capacity(free.len() + 1);
    for &(a, b) in free.iter() {
        if y0 >= b || y1 <= a {
            out.push((a, b));
            continue;
        }
        if a < y0 {
            out.push((a, y0));
        }
        if y1 < b {
            out.push((y1, b));
        }
    }
    *free = out;
}
