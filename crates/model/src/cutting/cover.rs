//! The least cost of boards whose capacities cover a demand, from below.

const PARTS: i64 = 1 << 16;

/// No choice of boards whose capacities add up to `need` costs less; `None` if all of them fall short.
///
/// Capacities are measured in units of about `need` / 65536, boards rounded up and the need down: the
/// answer can only be too low.
pub(super) fn least_cost(boards: &[(i64, u64)], need: i64) -> Option<u64> {
    if need <= 0 {
        return Some(0);
    }
    let all = boards.iter().fold(0_i64, |sum, b| sum.saturating_add(b.0.max(0)));
    if all < need {
        return None;
    }
    let unit = (need / PARTS).max(1);
    let cells = usize::try_from(need / unit).unwrap_or(0);
    let mut least = vec![u64::MAX; cells + 1];
    least[0] = 0;
    for &(capacity, cost) in boards {
        let gives = usize::try_from((capacity.max(0) + unit - 1) / unit).unwrap_or(usize::MAX);
        if gives == 0 {
            continue;
        }
        for have in (0..cells).rev() {
            if least[have] != u64::MAX {
                let to = have.saturating_add(gives).min(cells);
                least[to] = least[to].min(least[have].saturating_add(cost));
            }
        }
    }
    least.last().copied().filter(|&c| c != u64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: all choices of boards tried one by one.
    #[test]
    fn agrees_with_trying_all_choices() {
        let mut random = super::super::random::Random::new(7);
        for _ in 0..200 {
            let count = 1 + random.below(8);
            let mut up_to = |most: usize| u32::try_from(random.below(most)).unwrap();
            let boards: Vec<(i64, u64)> =
                (0..count).map(|_| (1 + i64::from(up_to(50)), 1 + u64::from(up_to(90)))).collect();
            let need = i64::from(up_to(200));
            let mut want = None;
            for choice in 0..1_u32 << count {
                let chosen = boards.iter().enumerate().filter(|(b, _)| choice >> b & 1 == 1);
                let (room, cost) = chosen.fold((0, 0), |s, (_, b)| (s.0 + b.0, s.1 + b.1));
                if room >= need && want.is_none_or(|w| cost < w) {
                    want = Some(cost);
                }
            }
            assert_eq!(least_cost(&boards, need), want, "{boards:?} for {need}");
        }
    }
}
