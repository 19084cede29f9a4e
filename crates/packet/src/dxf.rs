//! A drawing as DXF release 12, the exchange that the most programs read. Full scale, in millimeters.
//!
//! Lines go on a layer by their meaning. Release 12 has no variable for the unit, so the unit is said in
//! a comment and in the name of a layer that holds nothing else. Fills and clips do not exist there:
//! outlines are written, and lines are cut to the clip.

use std::fmt::Write as _;

use crate::drawing::flat::{self, Mark};
use crate::drawing::{Anchor, Bounds, Drawing, Line, Pen, Point, hatch, pen};
use crate::faces;
use crate::number::plain;

/// Decimals of a coordinate.
const DECIMALS: usize = 6;
/// The layer that says the unit.
const UNIT_LAYER: &str = "UNIT_IS_MM";
/// The layer of text.
const TEXT_LAYER: &str = "TEXT";
/// The layer of filled outlines without a line of their own.
const FILL_LAYER: &str = "FILL";

/// The drawing as one DXF document; lines end in CR LF.
pub fn write(drawing: &Drawing) -> String {
    let marks = flat::flatten(drawing, 1.0);
    let bounds = crate::drawing::bounds::of(&marks).unwrap_or(Bounds::at([0.0, 0.0]));
    let mut out = Writer { out: String::new() };
    out.pair(999, "All lengths in millimeters, full scale");
    out.header(bounds);
    out.tables();
    out.section("BLOCKS");
    out.pair(0, "ENDSEC");
    out.section("ENTITIES");
    out.marks(&marks, None);
    out.pair(0, "ENDSEC");
    out.pair(0, "EOF");
    out.out
}

/// Text in the plain signs that release 12 promises; the rest as `\U+XXXX`, degrees, plus-minus and
/// diameter by their old codes.
fn old_text(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for sign in words.chars() {
        match sign {
            '°' => out.push_str("%%d"),
            '±' => out.push_str("%%p"),
            '∅' | '⌀' => out.push_str("%%c"),
            '−' | '–' | '—' => out.push('-'),
            '×' => out.push('x'),
            '″' | '“' | '”' => out.push('"'),
            '′' | '‘' | '’' => out.push('\''),
            '\u{a0}' | '\u{202f}' | '\u{2009}' => out.push(' '),
            ' '..='~' => out.push(sign),
            c if c.is_control() => out.push(' '),
            c => {
                let _ = write!(out, "\\U+{:04X}", u32::from(c));
            }
        }
    }
    out
}

/// The document so far.
struct Writer {
    out: String,
}

impl Writer {
    fn pair(&mut self, code: u16, value: &str) {
        let _ = write!(self.out, "{code:>3}\r\n{value}\r\n");
    }

    fn number(&mut self, code: u16, value: f64) {
        let mut text = plain(value, DECIMALS);
        if !text.contains('.') {
            text.push_str(".0");
        }
        self.pair(code, &text);
    }

    fn point(&mut self, code: u16, point: Point) {
        self.number(code, point[0]);
        self.number(code + 10, point[1]);
        self.number(code + 20, 0.0);
    }

    fn section(&mut self, name: &str) {
        self.pair(0, "SECTION");
        self.pair(2, name);
    }

    fn header(&mut self, bounds: Bounds) {
        self.section("HEADER");
        self.pair(9, "$ACADVER");
        self.pair(1, "AC1009");
        self.pair(9, "$EXTMIN");
        self.point(10, [bounds.left, bounds.bottom]);
        self.pair(9, "$EXTMAX");
        self.point(10, [bounds.right, bounds.top]);
        self.pair(0, "ENDSEC");
    }

    fn tables(&mut self) {
        self.section("TABLES");
        self.table("LTYPE", pen::ALL.len() + 1);
        self.line_type("CONTINUOUS", "Solid line", &[]);
        for line in pen::ALL.into_iter().filter(|line| !line.dashes().is_empty()) {
            self.line_type(line.layer(), "Dashes by meaning", line.dashes());
        }
        self.pair(0, "ENDTAB");
        self.table("LAYER", pen::ALL.len() + 4);
        for name in ["0", UNIT_LAYER, TEXT_LAYER, FILL_LAYER] {
            self.layer(name, 7, "CONTINUOUS");
        }
        for line in pen::ALL {
            let (color, kind) = match line {
                Line::Visible => (7, "CONTINUOUS"),
                Line::Dimension => (8, "CONTINUOUS"),
                Line::Figure => (9, "CONTINUOUS"),
                Line::Break => (3, "CONTINUOUS"),
                Line::Hidden => (5, line.layer()),
                Line::Center => (1, line.layer()),
                Line::CuttingPlane => (6, line.layer()),
                Line::CutOut => (2, line.layer()),
            };
            self.layer(line.layer(), color, kind);
        }
        self.pair(0, "ENDTAB");
        self.pair(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, most: usize) {
        self.pair(0, "TABLE");
        self.pair(2, name);
        self.pair(70, &most.to_string());
    }

    fn line_type(&mut self, name: &str, says: &str, dashes: &[f64]) {
        self.pair(0, "LTYPE");
        self.pair(2, name);
        self.pair(70, "0");
        self.pair(3, says);
        self.pair(72, "65");
        self.pair(73, &dashes.len().to_string());
        self.number(40, dashes.iter().sum());
        for (index, dash) in dashes.iter().enumerate() {
            self.number(49, if index % 2 == 0 { *dash } else { -*dash });
        }
    }

    fn layer(&mut self, name: &str, color: u8, line_type: &str) {
        self.pair(0, "LAYER");
        self.pair(2, name);
        self.pair(70, "0");
        self.pair(62, &color.to_string());
        self.pair(6, line_type);
    }

    fn entity(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.pair(8, layer);
    }

    fn marks(&mut self, marks: &[Mark], clip: Option<&[Point]>) {
        for mark in marks {
            match (mark, clip) {
                (Mark::Clip { outline, marks }, _) => self.clipped(marks, outline, clip),
                (Mark::Text { .. }, _) => self.text(mark, clip),
                (Mark::Path { points, closed, stroke, .. }, None) => {
                    self.path(points, *closed, stroke.map_or(FILL_LAYER, |pen| pen.line.layer()));
                }
                (Mark::Arc { center, radius, start, end, pen }, None) => {
                    self.entity("ARC", pen.line.layer());
                    self.point(10, *center);
                    self.number(40, *radius);
                    self.number(50, start.rem_euclid(360.0));
                    self.number(51, end.rem_euclid(360.0));
                }
                (Mark::Circle { center, radius, stroke, .. }, None) => {
                    self.entity("CIRCLE", stroke.map_or(FILL_LAYER, |pen| pen.line.layer()));
                    self.point(10, *center);
                    self.number(40, *radius);
                }
                (mark, Some(outline)) => self.cut(mark, outline),
            }
        }
    }

    /// Marks inside a clip: cut to it, and to the clip around it if there is one.
    fn clipped(&mut self, marks: &[Mark], outline: &[Point], around: Option<&[Point]>) {
        match around {
            None => self.marks(marks, Some(outline)),
            Some(around) => {
                let mut inner = Self { out: String::new() };
                inner.marks(&cut_marks(marks, outline), Some(around));
                self.out.push_str(&inner.out);
            }
        }
    }

    fn cut(&mut self, mark: &Mark, outline: &[Point]) {
        for piece in cut_marks(std::slice::from_ref(mark), outline) {
            if let Mark::Path { points, stroke, .. } = piece {
                self.path(&points, false, stroke.map_or(FILL_LAYER, |pen| pen.line.layer()));
            }
        }
    }

    fn path(&mut self, points: &[Point], closed: bool, layer: &str) {
        if let ([from, to], false) = (points, closed) {
            self.entity("LINE", layer);
            self.point(10, *from);
            self.point(11, *to);
            return;
        }
        self.entity("POLYLINE", layer);
        self.pair(66, "1");
        self.point(10, [0.0, 0.0]);
        self.pair(70, if closed { "1" } else { "0" });
        for point in points {
            self.entity("VERTEX", layer);
            self.point(10, *point);
        }
        self.pair(0, "SEQEND");
        self.pair(8, layer);
    }

    fn text(&mut self, mark: &Mark, clip: Option<&[Point]>) {
        let Mark::Text { at, words, size, anchor, rotation, .. } = mark else {
            return;
        };
        if clip.is_some_and(|outline| !hatch::inside(*at, outline)) {
            return;
        }
        self.entity("TEXT", TEXT_LAYER);
        self.point(10, *at);
        // Text height in DXF is that of a capital.
        self.number(40, size * faces::CAPITAL);
        self.pair(1, &old_text(words));
        self.number(50, rotation.rem_euclid(360.0));
        let hang = match anchor {
            Anchor::Start => return,
            Anchor::Middle => "1",
            Anchor::End => "2",
        };
        self.pair(72, hang);
        self.point(11, *at);
    }
}

/// The lines of marks cut to an outline; text stays if its point lies inside.
fn cut_marks(marks: &[Mark], outline: &[Point]) -> Vec<Mark> {
    let mut out = Vec::new();
    let mut lines = |mut points: Vec<Point>, closed: bool, pen: Option<Pen>| {
        if closed {
            points.extend(points.first().copied());
        }
        for pair in points.windows(2) {
            if let [from, to] = *pair {
                for [from, to] in hatch::clipped(from, to, outline) {
                    out.push(Mark::Path { points: vec![from, to], closed: false, fill: None, stroke: pen });
                }
            }
        }
    };
    let mut whole = Vec::new();
    for mark in marks {
        match mark {
            Mark::Path { points, closed, stroke, .. } => lines(points.clone(), *closed, *stroke),
            Mark::Arc { center, radius, start, end, pen } => {
                lines(flat::arc_points(*center, *radius, *start, *end), false, Some(*pen));
            }
            Mark::Circle { center, radius, stroke, .. } => {
                lines(flat::arc_points(*center, *radius, 0.0, 360.0), false, *stroke);
            }
            Mark::Text { at, .. } if hatch::inside(*at, outline) => whole.push(mark.clone()),
            Mark::Text { .. } => {}
            Mark::Clip { outline: inner, marks } => {
                whole.extend(cut_marks(&cut_marks(marks, inner), outline));
            }
        }
    }
    out.extend(whole);
    out
}

#[cfg(test)]
mod tests {
    use super::old_text;

    #[test]
    fn text_keeps_to_the_old_signs() {
        assert_eq!(old_text("45° ±0.1 × 7 1/2″"), "45%%d %%p0.1 x 7 1/2\"");
        assert_eq!(old_text("é→"), "\\U+00E9\\U+2192");
    }
}
