//! The sketch of a miter cut with the gauge swung, seen from above.

use super::setup::{WORDS, extent};
use super::{Shown, wood};
use crate::drawing::{Anchor, Dimension, Drawing, Line, Pen, Point, Rise, Text};
use crate::faces::Face;
use crate::ink;
use keepwright_model::saw::{Cutter, Guide, Member, Pass, Setup, Side};

/// Length of work that is drawn along the gauge, millimeters on paper.
const LONG: f64 = 62.0;

/// The work against the swung gauge, the blade seen from above, the way it is fed.
pub(super) fn from_above(setup: &Setup, member: &Member, pass: Pass, shown: Shown) -> Drawing {
    let mut drawing = Drawing::new();
    let sign = if setup.side == Side::Left { 1.0 } else { -1.0 };
    let wide = member.placement.map_or(30.0, |p| extent(member, p.pushed));
    let scale = (26.0 / wide.max(1.0)).min(1.2);
    let (w, g) = (wide * scale, setup.gauge.to_radians());
    let distance = pass.distance.to_mm();
    let d = if setup.guide == Guide::Stop { (distance * scale).min(LONG) } else { LONG };
    let broken = distance * scale > LONG || setup.guide == Guide::Mark;
    let (sin, cos) = g.sin_cos();
    // In the work's own axes the edge on the gauge is level; turned by the gauge angle the cut runs straight ahead.
    let at = |x: f64, y: f64| -> Point { [sign * (x * cos + y * sin), y * cos - x * sin] };
    let cut_far = -w * g.tan();
    let visible = Pen::new(Line::Visible);
    let waste = [at(0.0, 0.0), at(20.0, 0.0), at(20.0, w), at(cut_far, w)];
    drawing.polygon(waste, Some(ink::PAPER), Some(Pen::new(Line::Hidden)));
    let work = [at(-d, 0.0), at(0.0, 0.0), at(cut_far, w), at(-d, w)];
    drawing.polygon(work, Some(wood::color("").tint(0.55)), Some(visible));
    if broken {
        let x = if setup.guide == Guide::Stop { -d * 0.3 } else { -d };
        drawing.break_line(at(x, -1.5), at(x, w + 1.5));
    }
    gauge(&mut drawing, &at, d, setup);
    blade(&mut drawing, setup, scale, w * cos + 14.0, sign);
    let names = member.placement.map_or(String::new(), |p| format!("{} up", p.down.opposite().words()));
    let middle = at(-d * 0.66 + cut_far.min(0.0) * 0.1, w / 2.0);
    let turn = -sign * g.to_degrees();
    drawing.text(Text::new(middle, names).sized(3.0).faced(Face::Bold).turned(turn));
    if setup.guide == Guide::Stop {
        let (a, b) = (at(-d, -7.0), at(0.0, -7.0));
        let (a, b) = if a[0] < b[0] { (a, b) } else { (b, a) };
        drawing.dimension(Dimension::aligned(a, b, -8.0, shown.dimension(pass.distance)).sized(4.2));
    } else {
        let text = Text::new(at(-d * 0.5, -10.0), "no stop: cut to the knife line").sized(WORDS);
        drawing.text(text.turned(turn));
    }
    feed(&mut drawing, sign);
    angles(&mut drawing, setup);
    drawing
}

/// The gauge's fence behind the work, with its stop.
fn gauge(drawing: &mut Drawing, at: &impl Fn(f64, f64) -> Point, d: f64, setup: &Setup) {
    let color = wood::color("").tint(0.3);
    let pen = Pen::new(Line::Visible).wide(0.35);
    let fence = [at(-d - 10.0, 0.0), at(-1.5, 0.0), at(-1.5, -6.0), at(-d - 10.0, -6.0)];
    drawing.polygon(fence, Some(color), Some(pen));
    if setup.guide == Guide::Stop {
        let stop = [at(-d, 0.0), at(-d, 9.0), at(-d - 7.0, 9.0), at(-d - 7.0, 0.0)];
        drawing.polygon(stop, Some(color), Some(pen));
    }
}

/// The blade seen from above.
fn blade(drawing: &mut Drawing, setup: &Setup, scale: f64, high: f64, sign: f64) {
    let kerf = match setup.cutter {
        Cutter::Blade { kerf, .. } | Cutter::Band(kerf) => kerf.to_mm() * scale,
        _ => 1.0,
    };
    let x = if sign > 0.0 { 0.0 } else { -kerf };
    let fill = Some(ink::INK.tint(0.6));
    drawing.rectangle([x, -4.0], kerf, high, fill, Some(Pen::new(Line::Visible).wide(0.25)));
}

/// The way of feeding, beside everything on the side of the offcut.
fn feed(drawing: &mut Drawing, sign: f64) {
    let Some(b) = drawing.bounds(1.0) else { return };
    let x = if sign > 0.0 { b.right + 8.0 } else { b.left - 8.0 };
    let y = f64::midpoint(b.bottom, b.top) - 8.0;
    drawing.line([x, y], [x, y + 13.0], Pen::new(Line::Visible).wide(0.35));
    drawing.polygon([[x, y + 16.0], [x - 1.2, y + 12.0], [x + 1.2, y + 12.0]], Some(ink::INK), None);
    drawing.text(Text::new([x, y - 1.5], "feed").sized(3.0).hung(Anchor::Middle, Rise::Top));
}

/// The gauge's angle from square, and the blade's tilt where there is one, above everything.
fn angles(drawing: &mut Drawing, setup: &Setup) {
    let gauge = format!("gauge {} from square", Shown::angle(setup.gauge.abs()));
    let words = if setup.tilt.to_degrees() > 0.05 {
        format!("{gauge}, blade tilted {}", Shown::angle(setup.tilt))
    } else {
        gauge
    };
    let Some(b) = drawing.bounds(1.0) else { return };
    let at = [f64::midpoint(b.left, b.right), b.top + 4.0];
    drawing.text(Text::new(at, words).sized(WORDS));
}
