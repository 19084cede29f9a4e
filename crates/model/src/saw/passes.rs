//! Rabbets and grooves by repeated passes of one blade: how many, and where the fence stands for each.

use crate::units::Length;

/// Slack below which a further pass would remove nothing a rule can see, millimeters.
const NOTHING: f64 = 1e-9;

/// How many passes of a cutter `kerf` wide clear a trench `width` wide when neighbors overlap by at
/// least `overlap`: ⌈(width − overlap) / (kerf − overlap)⌉, at least one; `None` when the overlap is
/// not smaller than the kerf.
pub fn count(width: Length, kerf: Length, overlap: Length) -> Option<u32> {
    let (w, k, o) = (width.to_mm(), kerf.to_mm(), overlap.to_mm().max(0.0));
    let step = k - o;
    if step <= 0.0 || !(w / step).is_finite() || w / step > 1e4 {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 10 001")]
    let n = ((w - o) / step - NOTHING).ceil().max(1.0) as u32;
    Some(n)
}

/// Distances from the guide to the near side of the cutter for a trench that begins `from` the guide:
/// its near side first, its far side last, the others evenly between. `None` when the trench is
/// narrower than the kerf.
pub fn trench(from: Length, width: Length, kerf: Length, overlap: Length) -> Option<Vec<Length>> {
    let room = (width - kerf).to_mm();
    if room < -NOTHING {
        return None;
    }
    let n = count(width, kerf, overlap)?;
    Some(spread(from.to_mm(), from.to_mm() + room.max(0.0), n))
}

/// Distances for a rabbet whose own edge runs on the guide: the shoulder first, then toward the edge,
/// so that the work keeps its support to the end. A rabbet narrower than the kerf gives a negative
/// distance: the blade runs that far inside an auxiliary fence. A leaning blade must start `beyond` the
/// edge at the table to clear the wood that it leans over.
pub fn rabbet(width: Length, beyond: Length, kerf: Length, overlap: Length) -> Option<Vec<Length>> {
    let n = count(width + beyond, kerf, overlap)?;
    let shoulder = (width - kerf).to_mm();
    Some(spread(shoulder, if n == 1 { shoulder } else { -beyond.to_mm() }, n))
}

fn spread(first: f64, last: f64, n: u32) -> Vec<Length> {
    if n < 2 {
        return vec![Length::mm(first)];
    }
    (0..n).map(|i| Length::mm(first + (last - first) * f64::from(i) / f64::from(n - 1))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    struct Case {
        name: &'static str,
        given: [f64; 3],
        want: u32,
    }

    /// Sources: the trade check rows named (repeated-pass rabbets).
    #[test]
    fn counts_of_the_check_rows() {
        let cases = [
            Case { name: "GW-12", given: [9.0, 3.2, 0.5], want: 4 },
            Case { name: "GW-13", given: [6.35, 3.175, 0.0], want: 2 },
            Case { name: "GW-14", given: [12.7, 3.2, 0.4], want: 5 },
        ];
        for c in cases {
            let [w, k, o] = c.given.map(Length::mm);
            assert_eq!(count(w, k, o), Some(c.want), "{}", c.name);
            assert_eq!(rabbet(w, Length::ZERO, k, o).unwrap().len(), c.want as usize, "{}", c.name);
        }
        assert_eq!(count(Length::mm(9.0), Length::mm(3.0), Length::mm(3.0)), None);
        assert_eq!(trench(Length::ZERO, Length::mm(2.0), Length::mm(3.2), Length::ZERO), None);
        let buried = rabbet(Length::mm(2.0), Length::ZERO, Length::mm(3.2), Length::mm(0.5)).unwrap();
        assert!((buried[0].to_mm() + 1.2).abs() < 1e-12);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        /// The passes cover the trench from side to side, overlap as asked, and cut nothing beside it.
        #[test]
        fn passes_cover_exactly(w in 3.3f64..40.0, k in 1.0f64..3.3, o in 0.0f64..0.6, from in 0.0f64..50.0) {
            let at = trench(Length::mm(from), Length::mm(w), Length::mm(k), Length::mm(o)).unwrap();
            let at: Vec<f64> = at.iter().map(|l| l.to_mm()).collect();
            prop_assert!((at[0] - from).abs() < 1e-9);
            prop_assert!((at[at.len() - 1] + k - from - w).abs() < 1e-9);
            prop_assert!(at.windows(2).all(|p| p[1] - p[0] <= k - o + 1e-6));
            let fewer = (at.len() - 1) as f64;
            prop_assert!(fewer < 1.0 || fewer * (k - o) + o < w + 1e-6, "one pass fewer would not do");
        }
    }
}
