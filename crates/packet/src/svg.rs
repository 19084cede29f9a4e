//! A drawing as SVG: physical size in millimeters, presentation attributes only, same bytes every time.

use std::fmt::Write as _;

use crate::drawing::flat::{self, Mark};
use crate::drawing::{Anchor, Bounds, Drawing, Pen, Point};
use crate::faces::Face;
use crate::ink::Color;
use crate::number::plain;

/// Decimals of a coordinate: a thousandth of a millimeter.
const DECIMALS: usize = 3;

/// The drawing as one SVG document, one drawing unit shown as `scale` millimeters, `margin` millimeters
/// of clear space around it. `title` names it for a reader who cannot see it.
///
/// `width` and `height` are in mm and the view box counts mm, so that printing at 100 % keeps the scale.
pub fn write(drawing: &Drawing, scale: f64, margin: f64, title: &str) -> String {
    let marks = flat::flatten(drawing, scale);
    let bounds = crate::drawing::bounds::of(&marks).unwrap_or(Bounds::at([0.0, 0.0])).grown(margin.max(0.0));
    let mut writer =
        Writer { out: String::with_capacity(256 + marks.len() * 96), clips: 0, id: String::new() };
    let n = |v| plain(v, DECIMALS);
    let (width, height) = (n(bounds.width()), n(bounds.height()));
    let view = format!("{} {} {width} {height}", n(bounds.left), n(-bounds.top));
    let _ = writeln!(
        writer.out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"{view}\" role=\"img\" fill=\"none\" stroke-linejoin=\"round\">"
    );
    let _ = writeln!(writer.out, "<title>{}</title>", escape(title));
    writer.marks(&marks);
    writer.out.push_str("</svg>\n");
    writer.out
}

/// The drawing as an element of a page, at scale 1, `pixels` wide for each millimeter; `prefix` keeps its ids apart
/// from those of other drawings on the page.
pub fn inline(drawing: &Drawing, pixels: f64, title: &str, prefix: &str) -> String {
    let marks = flat::flatten(drawing, 1.0);
    let bounds = crate::drawing::bounds::of(&marks).unwrap_or(Bounds::at([0.0, 0.0])).grown(INLINE_EDGE);
    let mut writer =
        Writer { out: String::with_capacity(256 + marks.len() * 96), clips: 0, id: prefix.to_owned() };
    let n = |v| plain(v, DECIMALS);
    let (width, height) = (bounds.width(), bounds.height());
    let _ = writeln!(
        writer.out,
        "<svg width=\"{:.0}\" height=\"{:.0}\" viewBox=\"{} {} {} {}\" role=\"img\" aria-label=\"{}\" fill=\"none\" \
         stroke-linejoin=\"round\">",
        width * pixels,
        height * pixels,
        n(bounds.left),
        n(-bounds.top),
        n(width),
        n(height),
        escape(title)
    );
    writer.marks(&marks);
    writer.out.push_str("</svg>\n");
    writer.out
}

/// Clear space around a drawing in a page, so that no stroke lies on its edge; millimeters.
const INLINE_EDGE: f64 = 0.6;

/// Text made safe for XML; control characters that XML forbids are dropped.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

/// The document so far.
pub(crate) struct Writer {
    pub(crate) out: String,
    pub(crate) clips: usize,
    /// Before the names of clips: several drawings may stand in one page.
    pub(crate) id: String,
}

impl Writer {
    pub(crate) fn marks(&mut self, marks: &[Mark]) {
        for mark in marks {
            match mark {
                Mark::Path { points, closed, fill, stroke } => self.path(points, *closed, *fill, *stroke),
                Mark::Arc { center, radius, start, end, pen } => {
                    self.arc(*center, *radius, [*start, *end], *pen);
                }
                Mark::Circle { center, radius, fill, stroke } => {
                    let [x, y] = paper(*center);
                    let radius = plain(*radius, DECIMALS);
                    let _ = write!(self.out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"");
                    self.paint(*fill, *stroke);
                }
                Mark::Text { .. } => self.text(mark),
                Mark::Clip { outline, marks } => self.clip(outline, marks),
            }
        }
    }

    fn path(&mut self, points: &[Point], closed: bool, fill: Option<Color>, stroke: Option<Pen>) {
        if let ([from, to], false) = (points, closed) {
            let ([x1, y1], [x2, y2]) = (paper(*from), paper(*to));
            let _ = write!(self.out, "<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"");
        } else {
            let name = if closed { "polygon" } else { "polyline" };
            let _ = write!(self.out, "<{name} points=\"{}\"", list(points));
        }
        self.paint(fill, stroke);
    }

    fn arc(&mut self, center: Point, radius: f64, [start, end]: [f64; 2], pen: Pen) {
        let at = |degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            paper([center[0] + radius * cos, center[1] + radius * sin])
        };
        let sweep = end - start;
        if sweep >= 360.0 {
            return self.marks(&[Mark::Circle { center, radius, fill: None, stroke: Some(pen) }]);
        }
        let large = u8::from(sweep > 180.0);
        let r = plain(radius, DECIMALS);
        let ([x1, y1], [x2, y2]) = (at(start), at(end));
        // Counter-clockwise with y up is sweep 0 with y down.
        let _ = write!(self.out, "<path d=\"M{x1} {y1}A{r} {r} 0 {large} 0 {x2} {y2}\"");
        self.paint(None, Some(pen));
    }

    /// Ends an element with its colors.
    fn paint(&mut self, fill: Option<Color>, stroke: Option<Pen>) {
        if let Some(color) = fill {
            let _ = write!(self.out, " fill=\"{}\"", color.hex());
        }
        if let Some(pen) = stroke {
            let width = plain(pen.width, DECIMALS);
            let _ = write!(self.out, " stroke=\"{}\" stroke-width=\"{width}\"", pen.color.hex());
            let dashes: Vec<String> = pen.line.dashes().iter().map(|d| plain(*d, DECIMALS)).collect();
            if !dashes.is_empty() {
                let _ = write!(self.out, " stroke-dasharray=\"{}\"", dashes.join(" "));
            }
        }
        self.out.push_str("/>\n");
    }

    fn text(&mut self, mark: &Mark) {
        let Mark::Text { at, words, size, anchor, rotation, face, color } = mark else {
            return;
        };
        let [x, y] = paper(*at);
        let _ = write!(self.out, "<text x=\"{x}\" y=\"{y}\"");
        style(&mut self.out, *face, *size);
        match anchor {
            Anchor::Start => {}
            Anchor::Middle => self.out.push_str(" text-anchor=\"middle\""),
            Anchor::End => self.out.push_str(" text-anchor=\"end\""),
        }
        let turn = plain(-rotation, DECIMALS);
        if turn != "0" {
            let _ = write!(self.out, " transform=\"rotate({turn} {x} {y})\"");
        }
        let _ = writeln!(self.out, " fill=\"{}\">{}</text>", color.hex(), escape(words));
    }

    fn clip(&mut self, outline: &[Point], marks: &[Mark]) {
        self.clips += 1;
        let name = format!("{}clip{}", self.id, self.clips);
        let _ = writeln!(
            self.out,
            "<clipPath id=\"{name}\"><polygon points=\"{}\"/></clipPath>\n<g clip-path=\"url(#{name})\">",
            list(outline)
        );
        self.marks(marks);
        self.out.push_str("</g>\n");
    }
}

/// The face of a text by name, and its size.
pub(crate) fn style(out: &mut String, face: Face, size: f64) {
    let kind = if face.family().contains("Serif") { "serif" } else { "sans-serif" };
    let _ =
        write!(out, " font-size=\"{}\" font-family=\"'{}', {kind}\"", plain(size, DECIMALS), face.family());
    if face.weight() != 400 {
        let _ = write!(out, " font-weight=\"{}\"", face.weight());
    }
}

/// A point as written, y down.
fn paper(point: Point) -> [String; 2] {
    [plain(point[0], DECIMALS), plain(-point[1], DECIMALS)]
}

fn list(points: &[Point]) -> String {
    let pairs: Vec<String> = points.iter().map(|p| paper(*p).join(",")).collect();
    pairs.join(" ")
}
