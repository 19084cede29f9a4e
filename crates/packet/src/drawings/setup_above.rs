//! The sketch of a miter cut with the gauge swung, seen from above.

use super::place::Taken;
use super::setup::{WORDS, extent};
use super::{Shown, wood};
use crate::drawing::{Anchor, Dimension, Drawing, Line, Pen, Point, Rise, Text};
use crate::faces::Face;
use crate::ink;
use keepwright_model::saw::{Cutter, Guide, Member, Pass, Setup, Side};

/// Length of work that is drawn along the gauge, millimeters on paper.
const LONG: f64 = 62.0;

/// The work against the swung gauge, the blade seen from above, the way it is fed; furniture and work in `unit`.
pub(super) fn from_above(setup: &Setup, member: &Member, pass: Pass, shown: Shown, unit: f64) -> Drawing {
    let mut drawing = Drawing::new();
    let sign = if setup.side == Side::Left { 1.0 } else { -1.0 };
    let wide = member.placement.map_or(30.0, |p| extent(member, p.pushed));
    let scale = (26.0 / wide.max(1.0)).min(1.2) * unit;
    let (w, g, long) = (wide * scale, setup.gauge.to_radians(), LONG * unit);
    let distance = pass.distance.to_mm();
    let d = if setup.guide == Guide::Stop { (distance * scale).min(long) } else { long };
    let broken = distance * scale > long || setup.guide == Guide::Mark;
    let (sin, cos) = g.sin_cos();
    // In the work's own axes the edge on the gauge is level; turned by the gauge angle the cut runs straight ahead.
    let at = |x: f64, y: f64| -> Point { [sign * (x * cos + y * sin), y * cos - x * sin] };
    let cut_far = -w * g.tan();
    let visible = Pen::new(Line::Visible);
    let (rest, over) = (20.0 * unit, 1.5 * unit);
    let waste = [at(0.0, 0.0), at(rest, 0.0), at(rest, w), at(cut_far, w)];
    drawing.polygon(waste, Some(ink::PAPER), Some(Pen::new(Line::Hidden)));
    let work = [at(-d, 0.0), at(0.0, 0.0), at(cut_far, w), at(-d, w)];
    drawing.polygon(work, Some(wood::color("").tint(0.55)), Some(visible));
    if broken {
        let x = if setup.guide == Guide::Stop { -d * 0.3 } else { -d };
        drawing.break_line(at(x, -over), at(x, w + over));
    }
    gauge(&mut drawing, &at, d, setup, unit);
    blade(&mut drawing, setup, [scale, unit], w * cos + 14.0 * unit, sign);
    if setup.guide == Guide::Stop {
        let below = -6.0 * unit - 1.0;
        let (a, b) = (at(-d, below), at(0.0, below));
        let (a, b) = if a[0] < b[0] { (a, b) } else { (b, a) };
        drawing.dimension(Dimension::aligned(a, b, -8.0, shown.dimension(pass.distance)).sized(4.2));
    }
    feed(&mut drawing, sign, unit);
    let names = member.placement.map_or(String::new(), |p| format!("{} up", p.down.opposite().words()));
    let name = Text::new(at(-d, w), names).sized(3.0).faced(Face::Bold).turned(-sign * g.to_degrees());
    // Centered on the middle of the work as far as it is square, then farther from the cut, then nearer to it.
    let taken = Taken::of(&drawing);
    let free = [0.5, 0.6, 0.7, 0.4, 0.3]
        .into_iter()
        .map(|share| Text { at: at(cut_far.min(0.0) * 0.5 - d * share, w / 2.0), ..name.clone() })
        .find(|text| taken.frees(text));
    let mut over = Vec::new();
    match free {
        Some(text) => drawing.text(text),
        None => over.push(name.turned(0.0)),
    }
    over.push(Text::new([0.0, 0.0], angles(setup)).sized(WORDS));
    for text in over {
        let Some(b) = drawing.bounds(1.0) else { continue };
        let at = [f64::midpoint(b.left, b.right), b.top + 1.4];
        drawing.text(Text { at, ..text }.hung(Anchor::Middle, Rise::Baseline));
    }
    if let (false, Some(b)) = (setup.guide == Guide::Stop, drawing.bounds(1.0)) {
        let at = [f64::midpoint(b.left, b.right), b.bottom - 1.4];
        let text = Text::new(at, "no stop: cut to the knife line").sized(WORDS);
        drawing.text(text.hung(Anchor::Middle, Rise::Top));
    }
    drawing
}

/// The gauge's fence behind the work, with its stop.
fn gauge(drawing: &mut Drawing, at: &impl Fn(f64, f64) -> Point, d: f64, setup: &Setup, unit: f64) {
    let color = wood::color("").tint(0.3);
    let pen = Pen::new(Line::Visible).wide(0.35);
    let [past, short, deep, side, tall] = [10.0, 1.5, 6.0, 7.0, 9.0].map(|l| l * unit);
    let fence = [at(-d - past, 0.0), at(-short, 0.0), at(-short, -deep), at(-d - past, -deep)];
    drawing.polygon(fence, Some(color), Some(pen));
    if setup.guide == Guide::Stop {
        let stop = [at(-d, 0.0), at(-d, tall), at(-d - side, tall), at(-d - side, 0.0)];
        drawing.polygon(stop, Some(color), Some(pen));
    }
}

/// The blade seen from above.
fn blade(drawing: &mut Drawing, setup: &Setup, [scale, unit]: [f64; 2], high: f64, sign: f64) {
    let kerf = match setup.cutter {
        Cutter::Blade { kerf, .. } | Cutter::Band(kerf) => kerf.to_mm() * scale,
        _ => unit,
    };
    let x = if sign > 0.0 { 0.0 } else { -kerf };
    let fill = Some(ink::INK.tint(0.6));
    drawing.rectangle([x, -4.0 * unit], kerf, high, fill, Some(Pen::new(Line::Visible).wide(0.25)));
}

/// The way of feeding, beside everything on the side of the offcut.
fn feed(drawing: &mut Drawing, sign: f64, unit: f64) {
    let Some(b) = drawing.bounds(1.0) else { return };
    // The word is wider than the arrow.
    let off = 2.0 + super::place::width("feed", 3.0) / 2.0;
    let x = if sign > 0.0 { b.right + off } else { b.left - off };
    let y = f64::midpoint(b.bottom, b.top) - 8.0 * unit;
    let [neck, line, tip, half] = [12.0, 13.0, 16.0, 1.2].map(|l| l * unit);
    drawing.line([x, y], [x, y + line], Pen::new(Line::Visible).wide(0.35));
    drawing.polygon([[x, y + tip], [x - half, y + neck], [x + half, y + neck]], Some(ink::INK), None);
    drawing.text(Text::new([x, y - 1.5], "feed").sized(3.0).hung(Anchor::Middle, Rise::Top));
}

/// The gauge's angle from square, and the blade's tilt where there is one.
fn angles(setup: &Setup) -> String {
    let gauge = format!("gauge {} from square", Shown::angle(setup.gauge.abs()));
    if setup.tilt.to_degrees() > 0.05 {
        format!("{gauge}, blade tilted {}", Shown::angle(setup.tilt))
    } else {
        gauge
    }
}
