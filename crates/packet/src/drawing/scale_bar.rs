//! The check bar of a full-scale sheet: 100 mm and 4 in, to be laid against a rule before wood is cut.

use super::{Anchor, Drawing, Line, Pen, Rise, Text};
use crate::faces::Face;
use crate::ink;

/// Height of the bar's drawing, millimeters.
const HEIGHT: f64 = 17.0;
/// Millimeters in an inch, by definition.
const INCH: f64 = 25.4;

/// A bar of 100 mm over a bar of 4 in, lower left corner near the origin. Draw it at
/// scale 1 only, on paper at least 175 mm wide.
pub fn scale_bar() -> Drawing {
    let mut drawing = Drawing::new();
    let pen = Pen::new(Line::Dimension).colored(ink::INK);
    let left = 1.0;
    let small = |at, words: &str| Text::new(at, words).sized(2.8).hung(Anchor::Middle, Rise::Baseline);
    let middle = HEIGHT / 2.0;

    let line = middle + 1.2;
    drawing.line([left, line], [left + 100.0, line], pen.wide(0.35));
    for tick in 0..=10_u32 {
        let x = left + 10.0 * f64::from(tick);
        let long = tick % 5 == 0;
        drawing.line([x, line], [x, line + if long { 3.0 } else { 1.8 }], pen);
        if long {
            drawing.text(small([x, line + 3.6], &(10 * tick).to_string()));
        }
    }
    drawing.text(
        Text::new([left + 104.0, line + 1.5], "mm")
            .sized(2.8)
            .hung(Anchor::Start, Rise::Middle)
            .faced(Face::Bold),
    );

    let line = middle - 1.2;
    drawing.line([left, line], [left + 4.0 * INCH, line], pen.wide(0.35));
    for tick in 0..=16_u32 {
        let x = left + INCH * f64::from(tick) / 4.0;
        let length = if tick % 4 == 0 { 3.0 } else { 1.8 };
        drawing.line([x, line], [x, line - length], pen);
        if tick % 4 == 0 {
            drawing.text(small([x, line - 6.0], &(tick / 4).to_string()));
        }
    }
    drawing.text(
        Text::new([left + 104.0, line - 1.5], "in")
            .sized(2.8)
            .hung(Anchor::Start, Rise::Middle)
            .faced(Face::Bold),
    );

    let note =
        |at, words| Text::new(at, words).sized(2.8).hung(Anchor::Start, Rise::Middle).colored(ink::SOFT);
    drawing.text(note([left + 113.0, middle + 2.0], "Lay a rule on the bars first."));
    drawing.text(note([left + 113.0, middle - 2.0], "If they are off, print at 100 %, not fitted."));
    drawing
}
