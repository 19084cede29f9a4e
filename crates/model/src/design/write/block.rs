//! The lines of one section, and how values are written so that they read back the same.

use crate::design::read::moves;
use crate::design::statement::{Build, RingCut, WoodUse};
use crate::design::usual;
use crate::units::Angle;
use crate::units::{Fineness, Inches, Length, LengthUnit, parse_length};
use core::fmt::Write as _;

/// What a panel is made of where nothing is written.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Otherwise {
    SolidLikeWalls,
    Sheet,
}

/// One section as it grows.
pub(super) struct Block {
    header: &'static str,
    unit: LengthUnit,
    lines: Vec<String>,
}

impl Block {
    /// A section without lines yet; `header` with its brackets, empty for the head of the file.
    pub(super) fn new(header: &'static str, unit: LengthUnit) -> Self {
        Self { header, unit, lines: Vec::new() }
    }

    /// A key with its value as TOML text.
    pub(super) fn raw(&mut self, key: &str, value: &str) {
        self.lines.push(format!("{key} = {value}"));
    }

    /// A key with a text.
    pub(super) fn text(&mut self, key: &str, value: &str) {
        self.raw(key, &text(value));
    }

    /// A key with a text, unless it is the usual one.
    pub(super) fn text_unless(&mut self, key: &str, value: &str, usual: &str) {
        if value != usual {
            self.text(key, value);
        }
    }

    /// A key with a length.
    pub(super) fn length(&mut self, key: &str, value: Length) {
        let shown = length(value, self.unit);
        self.raw(key, &shown);
    }

    /// A key with a length, unless it is the usual one.
    pub(super) fn length_unless(&mut self, key: &str, value: Length, usual: Length) {
        if value != usual {
            self.length(key, value);
        }
    }

    /// A key with a length, if there is one.
    pub(super) fn length_if(&mut self, key: &str, value: Option<Length>) {
        if let Some(value) = value {
            self.length(key, value);
        }
    }

    /// A key with a whole number, unless it is the usual one.
    pub(super) fn count_unless(&mut self, key: &str, value: u32, usual: u32) {
        if value != usual {
            self.raw(key, &value.to_string());
        }
    }

    /// A key with true or false, unless it is the usual one.
    pub(super) fn flag_unless(&mut self, key: &str, value: bool, usual: bool) {
        if value != usual {
            self.raw(key, if value { "true" } else { "false" });
        }
    }

    /// The wood and its rings, unless they are those of `other`.
    pub(super) fn wood(&mut self, wood: &WoodUse, other: &WoodUse) {
        for (key, value) in wood_pairs(wood, other) {
            self.raw(key, &value);
        }
    }

    /// What a panel is made of.
    pub(super) fn build(&mut self, build: &Build, walls: &WoodUse, otherwise: Otherwise) {
        match build {
            Build::Solid(wood) if otherwise == Otherwise::SolidLikeWalls => self.wood(wood, walls),
            Build::Solid(wood) => self.needed_wood(wood),
            Build::Striped(strips) => {
                let list: Vec<String> = strips
                    .pattern
                    .iter()
                    .map(|(wood, width)| {
                        let mut pairs = wood_pairs(wood, walls);
                        pairs.push(("width", length(*width, self.unit)));
                        inline(&pairs)
                    })
                    .collect();
                self.raw("strips", &format!("[{}]", list.join(", ")));
            }
            Build::Sheet(id) if otherwise == Otherwise::Sheet => {
                self.text_unless("sheet", id, usual::SHEET);
            }
            Build::Sheet(id) => self.text("sheet", id),
            Build::Veneered { core, face, veneer } => {
                let mut pairs = Vec::new();
                if core != usual::SHEET {
                    pairs.push(("core", text(core)));
                }
                pairs.extend(wood_pairs(face, walls));
                if *veneer != usual::VENEER {
                    pairs.push(("veneer", length(*veneer, self.unit)));
                }
                self.raw("veneered", &inline(&pairs));
            }
        }
    }

    /// The wood and its rings, written even where they are the walls'.
    pub(super) fn needed_wood(&mut self, wood: &WoodUse) {
        self.text("wood", &wood.wood);
        if wood.rings != RingCut::FlatSawn {
            self.raw("rings", &rings(wood.rings));
        }
    }

    /// Ends the section: written if it has lines.
    pub(super) fn end(self, into: &mut String) {
        if !self.lines.is_empty() {
            self.end_even_empty(into);
        }
    }

    /// Ends the section: written even without lines, where the section alone means something.
    pub(super) fn end_even_empty(self, into: &mut String) {
        if !into.is_empty() {
            into.push('\n');
        }
        if !self.header.is_empty() {
            into.push_str(self.header);
            into.push('\n');
        }
        for line in self.lines {
            into.push_str(&line);
            into.push('\n');
        }
    }
}

/// Whether a panel floats unless told otherwise.
pub(super) fn floats(build: &Build) -> bool {
    moves(build)
}

/// The pairs that state a wood where `other` is meant if nothing is said.
pub(super) fn wood_pairs(wood: &WoodUse, other: &WoodUse) -> Vec<(&'static str, String)> {
    if wood == other {
        return Vec::new();
    }
    if wood.wood == other.wood {
        return vec![("rings", rings(wood.rings))];
    }
    let mut pairs = vec![("wood", text(&wood.wood))];
    if wood.rings != RingCut::FlatSawn {
        pairs.push(("rings", rings(wood.rings)));
    }
    pairs
}

/// An inline table.
pub(super) fn inline(pairs: &[(&str, String)]) -> String {
    if pairs.is_empty() {
        return "{}".to_owned();
    }
    let pairs: Vec<String> = pairs.iter().map(|(key, value)| format!("{key} = {value}")).collect();
    format!("{{ {} }}", pairs.join(", "))
}

/// A list of lengths.
pub(super) fn lengths(values: &[Length], unit: LengthUnit) -> String {
    let list: Vec<String> = values.iter().map(|v| length(*v, unit)).collect();
    format!("[{}]", list.join(", "))
}

fn rings(rings: RingCut) -> String {
    match rings {
        RingCut::FlatSawn => "\"flat-sawn\"".to_owned(),
        RingCut::Rift => "\"rift\"".to_owned(),
        RingCut::QuarterSawn => "\"quartersawn\"".to_owned(),
        RingCut::At(angle) => degrees(angle),
    }
}

/// A text as a TOML basic string.
pub(super) fn text(value: &str) -> String {
    let mut out = String::with_capacity(value.len() + 2);
    out.push('"');
    for c in value.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() => {
                // Writing into a string cannot fail.
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// A length as a quoted text that reads back to the very same number: in the file's unit if that is short,
/// in the other unit if that is, in millimeters to the last digit otherwise.
pub(super) fn length(value: Length, unit: LengthUnit) -> String {
    let negative = value < Length::ZERO;
    let size = value.abs();
    let sign = if negative { "-" } else { "" };
    let written = match unit {
        LengthUnit::Millimeter => short_mm(size).or_else(|| short_inches(size)),
        LengthUnit::Inch => short_inches(size).or_else(|| short_mm(size)),
    };
    let written = written.unwrap_or_else(|| format!("{} mm", number(size.to_mm())));
    format!("\"{sign}{written}\"")
}

/// Millimeters, if two decimals are enough.
fn short_mm(size: Length) -> Option<String> {
    let hundredths = (size.to_mm() * 100.0).round() / 100.0;
    let written = format!("{} mm", number(hundredths));
    reads_back(&written, size).then_some(written)
}

/// Inches as a fraction, if sixty-fourths are enough.
fn short_inches(size: Length) -> Option<String> {
    let inches = Inches::nearest(size, Fineness::SixtyFourth).to_string();
    // The mark of a rounded value and the sign of the inch are for people; the file says `in`.
    let written = format!("{} in", inches.split('"').next()?);
    reads_back(&written, size).then_some(written)
}

fn reads_back(written: &str, size: Length) -> bool {
    parse_length(written) == Ok(size)
}

/// A number with the fewest digits that read back to it, without a needless `.0`.
pub(super) fn number(value: f64) -> String {
    let digits = format!("{value:?}");
    digits.strip_suffix(".0").map_or(digits.clone(), str::to_owned)
}

/// Degrees with the fewest decimals that read back to the same angle.
pub(super) fn degrees(angle: Angle) -> String {
    let value = angle.to_degrees();
    let near = [value, value.next_up(), value.next_down()];
    for decimals in 0..=15 {
        for candidate in near {
            let written = format!("{candidate:.decimals$}");
            if written.parse().map(Angle::degrees) == Ok(angle) {
                return written;
            }
        }
    }
    for candidate in near {
        if Angle::degrees(candidate) == angle {
            return number(candidate);
        }
    }
    number(value)
}
