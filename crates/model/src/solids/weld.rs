//! Many near-equal corners made one, and straight edges split at corners that lie on them.

use super::WELD;
use crate::space::Vec3;

/// A direction that no machine cut is square to: along it, distinct corners of a part have distinct
/// coordinates, so sorting by it keeps searches short.
const SKEW: Vec3 = Vec3::new(0.537_281, 0.723_615, 0.432_927);

/// Distinct points, in order along [`SKEW`].
#[derive(Debug, Default)]
pub(super) struct Weld {
    points: Vec<Vec3>,
}

impl Weld {
    /// Welds points nearer than [`WELD`]; also gives the index of each given point among the distinct ones.
    pub(super) fn new(given: &[Vec3]) -> (Self, Vec<u32>) {
        let mut order: Vec<(f64, u32)> = given.iter().zip(0..).map(|(p, i)| (SKEW.dot(*p), i)).collect();
        order.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut index = vec![u32::MAX; given.len()];
        let mut points: Vec<Vec3> = Vec::with_capacity(given.len() / 3);
        for (k, &(key, i)) in order.iter().enumerate() {
            if index[i as usize] != u32::MAX {
                continue;
            }
            let here = given[i as usize];
            let id = u32::try_from(points.len()).unwrap_or(u32::MAX);
            points.push(here);
            index[i as usize] = id;
            for &(other_key, j) in order.iter().skip(k + 1) {
                if other_key - key > WELD {
                    break;
                }
                let step = given[j as usize] - here;
                if index[j as usize] == u32::MAX && step.dot(step) < WELD * WELD {
                    index[j as usize] = id;
                }
            }
        }
        (Self { points }, index)
    }

    /// The distinct points.
    pub(super) fn points(&self) -> &[Vec3] {
        &self.points
    }

    /// Adds to `path` the points that lie strictly between two others on their straight line, from a to b.
    pub(super) fn between(&self, a: u32, b: u32, path: &mut Vec<u32>) {
        // Indices run along SKEW, so whatever lies between a and b has an index between theirs.
        let (lo, hi) = (a.min(b), a.max(b));
        let (p, q) = (self.points[lo as usize], self.points[hi as usize]);
        let along = q - p;
        let square = along.dot(along);
        let first = path.len();
        for id in lo + 1..hi {
            let step = self.points[id as usize] - p;
            let t = step.dot(along) / square;
            if t > 0.0 && t < 1.0 {
                let off = step - along * t;
                if off.dot(off) < WELD * WELD {
                    path.push(id);
                }
            }
        }
        if a > b
            && let Some(added) = path.get_mut(first..)
        {
            added.reverse();
        }
    }
}
