//! Stretches of a line: union, overlap and difference.

/// A stretch from the first to the second number.
pub(super) type Stretch = (f64, f64);

/// Sorts stretches and joins those that overlap or lie nearer than `gap`.
pub(super) fn unite(list: &mut Vec<Stretch>, gap: f64) {
    list.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    list.dedup_by(|next, kept| {
        let joined = next.0 <= kept.1 + gap;
        if joined {
            kept.1 = kept.1.max(next.1);
        }
        joined
    });
}

/// Draws out to 0 and to 1 what comes nearer to them than `gap`.
pub(super) fn reach_ends(list: &mut [Stretch], gap: f64) {
    if let Some(first) = list.first_mut().filter(|s| s.0 < gap) {
        first.0 = 0.0;
    }
    if let Some(last) = list.last_mut().filter(|s| s.1 > 1.0 - gap) {
        last.1 = 1.0;
    }
}

/// What two united lists have in common.
pub(super) fn common(a: &[Stretch], b: &[Stretch], out: &mut Vec<Stretch>) {
    out.clear();
    let (mut i, mut j) = (0, 0);
    while let (Some(x), Some(y)) = (a.get(i), b.get(j)) {
        let both = (x.0.max(y.0), x.1.min(y.1));
        if both.0 < both.1 {
            out.push(both);
        }
        if x.1 < y.1 {
            i += 1;
        } else {
            j += 1;
        }
    }
}

/// What is left of a stretch outside a united list, if longer than `least`.
pub(super) fn outside(whole: Stretch, list: &[Stretch], least: f64, out: &mut Vec<Stretch>) {
    out.clear();
    let mut from = whole.0;
    for &(lo, hi) in list {
        if hi <= from || lo >= whole.1 {
            continue;
        }
        if lo - from > least {
            out.push((from, lo));
        }
        from = from.max(hi);
    }
    if whole.1 - from > least {
        out.push((from, whole.1));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches() {
        let mut list = vec![(5.0, 6.0), (0.0, 1.0), (0.5, 2.0), (2.1, 3.0)];
        unite(&mut list, 0.2);
        assert_eq!(list, [(0.0, 3.0), (5.0, 6.0)]);
        let mut out = Vec::new();
        common(&list, &[(1.0, 5.5), (5.75, 9.0)], &mut out);
        assert_eq!(out, [(1.0, 3.0), (5.0, 5.5), (5.75, 6.0)]);
        outside((-1.0, 5.5), &list, 0.1, &mut out);
        assert_eq!(out, [(-1.0, 0.0), (3.0, 5.0)]);
        outside((0.5, 3.05), &list, 0.1, &mut out);
        assert!(out.is_empty());
    }
}
