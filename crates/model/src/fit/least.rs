//! Least squares for a small dense system: factor once, solve for many right-hand sides.

/// Rows of a linear system `A x = b` in the sense of least squares, `A` kept by rows.
#[derive(Clone, Debug)]
pub(super) struct Least {
    unknowns: usize,
    rows: Vec<Vec<f64>>,
    /// Cholesky factor of `Aᵀ A`, lower triangle by rows.
    factor: Vec<Vec<f64>>,
}

impl Least {
    /// Factors a system; `None` if the rows do not fix every unknown.
    pub(super) fn factor(unknowns: usize, rows: Vec<Vec<f64>>) -> Option<Self> {
        let mut factor: Vec<Vec<f64>> = Vec::with_capacity(unknowns);
        for i in 0..unknowns {
            let mut line = Vec::with_capacity(i + 1);
            for j in 0..=i {
                let product: f64 = rows.iter().map(|r| at(r, i) * at(r, j)).sum();
                let above: &[f64] = if j == i { &line } else { factor.get(j)? };
                let known: f64 = line.iter().zip(above).take(j).map(|(a, b)| a * b).sum();
                let rest = product - known;
                if j < i {
                    line.push(rest / above.get(j)?);
                } else if rest > 1e-9 * product {
                    line.push(rest.sqrt());
                } else {
                    return None;
                }
            }
            factor.push(line);
        }
        Some(Self { unknowns, rows, factor })
    }

    /// The unknowns for a right-hand side.
    pub(super) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let mut x: Vec<f64> = Vec::with_capacity(self.unknowns);
        for (i, line) in self.factor.iter().enumerate() {
            let product: f64 = self.rows.iter().zip(right).map(|(r, b)| at(r, i) * b).sum();
            let known: f64 = line.iter().zip(&x).map(|(l, x)| l * x).sum();
            x.push((product - known) / at(line, i));
        }
        for i in (0..self.unknowns).rev() {
            let known: f64 = (i + 1..self.unknowns)
                .map(|k| self.factor.get(k).map_or(0.0, |l| at(l, i)) * at(&x, k))
                .sum();
            let pivot = self.factor.get(i).map_or(1.0, |l| at(l, i));
            if let Some(value) = x.get_mut(i) {
                *value = (*value - known) / pivot;
            }
        }
        x
    }

    /// `A x`, for the residuals.
    pub(super) fn apply(&self, x: &[f64]) -> Vec<f64> {
        self.rows.iter().map(|r| r.iter().zip(x).map(|(a, x)| a * x).sum()).collect()
    }
}

fn at(row: &[f64], i: usize) -> f64 {
    row.get(i).copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A straight line through (0, 6), (1, 0), (2, 0): 5 − 3 x (the textbook's example of a fitted line).
    #[test]
    fn a_fitted_line() {
        let rows = vec![vec![1.0, 0.0], vec![1.0, 1.0], vec![1.0, 2.0]];
        let least = Least::factor(2, rows).unwrap();
        let x = least.solve(&[6.0, 0.0, 0.0]);
        assert!((x[0] - 5.0).abs() < 1e-12 && (x[1] + 3.0).abs() < 1e-12, "{x:?}");
        assert!((least.apply(&x)[1] - 2.0).abs() < 1e-12);
        assert!(Least::factor(2, vec![vec![1.0, 1.0]]).is_none());
    }
}
