//! Where words go so that none lies on another: labels in columns beside a drawing, figures along a scale.

use super::outline::cross;
use crate::drawing::dimension::{Leader, Tip};
use crate::drawing::flat::{self, Mark};
use crate::drawing::{Anchor, Bounds, Drawing, Line, Pen, Point, Rise, Text, bounds};
use crate::faces::Face;

/// Size of a label's words on paper, millimeters.
pub(super) const WORDS: f64 = 3.2;
/// Clear space between neighboring labels, millimeters.
const BETWEEN: f64 = 2.4;
/// From the drawing to the knee of a leader, millimeters.
const OFF: f64 = 6.0;

/// Something to be named: the point and its words.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Named {
    /// Where the leader points.
    pub(super) tip: Point,
    /// The words, line by line.
    pub(super) lines: Vec<String>,
}

/// On which sides of a drawing labels may stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sides {
    /// Left only.
    Left,
    /// Where it is nearer.
    Both,
}

/// Adds leaders whose words stand in columns beside `around`, none over another and no two leaders crossing.
pub(super) fn beside(drawing: &mut Drawing, around: Bounds, named: Vec<Named>, sides: Sides) {
    let (mut left, mut right) = (Vec::new(), Vec::new());
    let middle = f64::midpoint(around.left, around.right);
    let total = named.len();
    let mut sorted = named;
    sorted.sort_by(|a, b| a.tip[0].total_cmp(&b.tip[0]).then(a.lines.cmp(&b.lines)));
    for (index, one) in sorted.into_iter().enumerate() {
        let to_left = match sides {
            Sides::Left => true,
            // The middle decides, but neither column takes more than two thirds.
            Sides::Both => {
                let most = (total * 2).div_ceil(3);
                (one.tip[0] < middle && index < most) || index < total.saturating_sub(most)
            }
        };
        if to_left { left.push(one) } else { right.push(one) }
    }
    column(drawing, around, left, -1.0);
    column(drawing, around, right, 1.0);
}

/// One column of labels; `side` is −1 at the left, 1 at the right.
fn column(drawing: &mut Drawing, around: Bounds, mut named: Vec<Named>, side: f64) {
    named.sort_by(|a, b| a.tip[1].total_cmp(&b.tip[1]).then(a.lines.cmp(&b.lines)));
    let wanted: Vec<f64> = named.iter().map(|n| n.tip[1]).collect();
    let most = named.iter().map(|n| n.lines.len()).max().unwrap_or(1);
    let levels = spread(&wanted, WORDS * 1.3 * most as f64 + BETWEEN);
    let knee_x = if side < 0.0 { around.left - OFF } else { around.right + OFF };
    let mut order: Vec<usize> = (0..named.len()).collect();
    uncross(&mut order, &named, &levels, knee_x);
    for (slot, &index) in order.iter().enumerate() {
        let (Some(one), Some(&level)) = (named.get(index), levels.get(slot)) else { continue };
        drawing.leader(Leader {
            tip: one.tip,
            knee: [knee_x - one.tip[0], level - one.tip[1]],
            lines: one.lines.clone(),
            end: Tip::Dot,
            size: WORDS,
        });
    }
}

/// Exchanges labels whose leaders cross; each exchange shortens the leaders, so it ends.
fn uncross(order: &mut [usize], named: &[Named], levels: &[f64], knee_x: f64) {
    for _ in 0..64 {
        let mut crossed = false;
        for i in 0..order.len() {
            for j in i + 1..order.len() {
                let ends = |slot: usize| {
                    let tip = named.get(*order.get(slot)?)?.tip;
                    Some((tip, [knee_x, *levels.get(slot)?]))
                };
                if let (Some((a, b)), Some((c, d))) = (ends(i), ends(j))
                    && cross(a, b, c, d)
                {
                    order.swap(i, j);
                    crossed = true;
                }
            }
        }
        if !crossed {
            break;
        }
    }
}

/// Levels as near to the wanted ones as their least distance allows, in the same (rising) order.
///
/// Neighbors that would come too near are moved as one block to their common middle, until no block touches
/// another (pool adjacent violators).
pub(super) fn spread(wanted: &[f64], least: f64) -> Vec<f64> {
    struct Block {
        sum: f64,
        count: usize,
    }
    let mut blocks: Vec<Block> = Vec::new();
    for (index, wish) in wanted.iter().enumerate() {
        // In coordinates where every level is shifted down by its rank, levels need only not fall.
        blocks.push(Block { sum: wish - least * index as f64, count: 1 });
        while let [.., a, b] = blocks.as_slice() {
            if a.sum / a.count as f64 <= b.sum / b.count as f64 {
                break;
            }
            let (sum, count) = (a.sum + b.sum, a.count + b.count);
            blocks.truncate(blocks.len() - 2);
            blocks.push(Block { sum, count });
        }
    }
    let mut levels = Vec::with_capacity(wanted.len());
    for block in &blocks {
        for _ in 0..block.count {
            levels.push(block.sum / block.count as f64 + least * levels.len() as f64);
        }
    }
    levels
}

/// Which way a scale of figures runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Scale {
    /// Figures stand in a column to the right of a line at this x; marks are heights.
    Right(f64),
    /// Figures stand above a line at this y, turned to be read from the right; marks are along x.
    Above(f64),
}

/// Adds running dimensions from one origin: a thin line from each mark to its figure, the figures spread so
/// that none lies on another. `marks` are (place on the drawing, words), rising.
pub(super) fn running(drawing: &mut Drawing, marks: &[(f64, String)], feet: &[f64], scale: Scale, size: f64) {
    let wanted: Vec<f64> = marks.iter().map(|m| m.0).collect();
    let levels = spread(&wanted, size * 1.25);
    let pen = Pen::new(Line::Dimension);
    for (index, ((place, words), level)) in marks.iter().zip(&levels).enumerate() {
        let foot = feet.get(index).copied();
        match scale {
            Scale::Right(x) => {
                let start = foot.unwrap_or(x - 6.0);
                drawing.polyline([[start, *place], [x, *place], [x + 3.0, *level], [x + 5.0, *level]], pen);
                drawing.text(
                    Text::new([x + 5.8, *level], words.clone()).sized(size).hung(Anchor::Start, Rise::Middle),
                );
            }
            Scale::Above(y) => {
                let start = foot.unwrap_or(y - 6.0);
                drawing.polyline([[*place, start], [*place, y], [*level, y + 3.0], [*level, y + 5.0]], pen);
                let text = Text::new([*level, y + 5.8], words.clone()).sized(size);
                drawing.text(text.hung(Anchor::Start, Rise::Middle).turned(90.0));
            }
        }
    }
}

/// Width of words set at a size, millimeters.
pub(super) fn width(words: &str, size: f64) -> f64 {
    Face::Plain.advance(words) * size
}

/// Clear space round words that stand among lines, millimeters.
const ROUND: f64 = 0.6;

/// What a drawing shown at scale 1 has on its paper, so that words can be put where nothing is.
#[derive(Clone, Debug, Default)]
pub(super) struct Taken {
    /// Every line drawn, the letters' own rectangles among them.
    lines: Vec<[Point; 2]>,
}

impl Taken {
    /// The lines and words of a drawing so far.
    pub(super) fn of(drawing: &Drawing) -> Self {
        let mut taken = Self::default();
        for mark in flat::flatten(drawing, 1.0) {
            taken.mark(&mark);
        }
        taken
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Path { points, closed, stroke: Some(_), .. } => self.path(points, *closed),
            Mark::Path { stroke: None, .. } => {}
            Mark::Arc { center, radius, start, end, .. } => {
                self.path(&flat::arc_points(*center, *radius, *start, *end), false);
            }
            Mark::Circle { center, radius, .. } => {
                self.path(&flat::arc_points(*center, *radius, 0.0, 360.0), true);
            }
            Mark::Text { .. } => {
                let corners = bounds::corners(mark).unwrap_or_default();
                self.path(&corners, true);
                // Words within words cross no line of theirs, so their diagonal counts, too.
                self.lines.push([corners[0], corners[2]]);
            }
            Mark::Clip { marks, .. } => marks.iter().for_each(|m| self.mark(m)),
        }
    }

    fn path(&mut self, points: &[Point], closed: bool) {
        self.lines.extend(points.windows(2).filter_map(|p| Some([*p.first()?, *p.last()?])));
        if let (true, Some(first), Some(last)) = (closed, points.first(), points.last()) {
            self.lines.push([*last, *first]);
        }
    }

    /// Whether no line comes near these words.
    pub(super) fn frees(&self, text: &Text) -> bool {
        let Some(corners) = bounds::corners(&flat::words(text)) else { return true };
        !self.lines.iter().any(|line| near(&corners, *line))
    }

    /// The words raised until they stand free.
    pub(super) fn raised(&self, mut text: Text) -> Text {
        // No sketch is taller than these steps reach.
        for _ in 0..200 {
            if self.frees(&text) {
                break;
            }
            text.at[1] += 0.5;
        }
        text
    }
}

/// Whether a line comes within [`ROUND`] of a rectangle: no axis of the two parts them.
fn near(corners: &[Point; 4], [from, to]: [Point; 2]) -> bool {
    let [a, b, _, d] = *corners;
    let along = [b[0] - a[0], b[1] - a[1]];
    let up = [d[0] - a[0], d[1] - a[1]];
    let square = [from[1] - to[1], to[0] - from[0]];
    [along, up, square].into_iter().all(|axis| {
        let length = axis[0].hypot(axis[1]);
        if length < 1e-9 {
            return true;
        }
        let span = |points: &[Point]| {
            points
                .iter()
                .map(|p| (p[0] * axis[0] + p[1] * axis[1]) / length)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |s, d| (s.0.min(d), s.1.max(d)))
        };
        let (words, line) = (span(corners), span(&[from, to]));
        line.0 < words.1 + ROUND && line.1 > words.0 - ROUND
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn levels_move_as_little_as_they_must() {
        struct Case {
            name: &'static str,
            given: &'static [f64],
            want: &'static [f64],
        }
        // By hand: two equal wishes part by the least distance about their place.
        for case in [
            Case { name: "free", given: &[0.0, 10.0], want: &[0.0, 10.0] },
            Case { name: "equal", given: &[5.0, 5.0], want: &[3.0, 7.0] },
            Case { name: "three", given: &[0.0, 1.0, 2.0], want: &[-3.0, 1.0, 5.0] },
            Case { name: "chain", given: &[0.0, 0.0, 3.0], want: &[-3.0, 1.0, 5.0] },
        ] {
            let got = spread(case.given, 4.0);
            let near = got.iter().zip(case.want).all(|(a, b)| (a - b).abs() < 1e-9);
            assert!(near && got.len() == case.want.len(), "{}: {got:?}", case.name);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn levels_keep_their_order_and_distance(mut wanted in prop::collection::vec(-50.0..50.0f64, 0..12)) {
            wanted.sort_by(f64::total_cmp);
            let got = spread(&wanted, 4.8);
            prop_assert_eq!(got.len(), wanted.len());
            for pair in got.windows(2) {
                prop_assert!(pair[1] - pair[0] >= 4.8 - 1e-9);
            }
        }

        #[test]
        fn no_two_leaders_of_a_column_cross(tips in prop::collection::vec((0.0..60.0f64, 0.0..60.0f64), 1..9)) {
            let named = tips
                .iter()
                .enumerate()
                .map(|(i, (x, y))| Named { tip: [*x, *y], lines: vec![format!("part {i}")] })
                .collect();
            let mut drawing = Drawing::new();
            let around = Bounds { left: 0.0, bottom: 0.0, right: 60.0, top: 60.0 };
            beside(&mut drawing, around, named, Sides::Left);
            let lines: Vec<(Point, Point)> = drawing
                .items
                .iter()
                .filter_map(|item| match item {
                    crate::drawing::Item::Leader(l) => {
                        Some((l.tip, [l.tip[0] + l.knee[0], l.tip[1] + l.knee[1]]))
                    }
                    _ => None,
                })
                .collect();
            for (i, a) in lines.iter().enumerate() {
                for b in &lines[i + 1..] {
                    prop_assert!(!cross(a.0, a.1, b.0, b.1));
                }
            }
        }
    }
}
