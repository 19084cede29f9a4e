//! One value of a file, read as what is wanted; anything else becomes a problem.

use super::page::{Page, choose};
use super::section::Section;
use crate::design::problem::quoted;
use crate::units::Angle;
use crate::units::{Length, LengthError, parse_length_in};
use core::ops::Range;
use toml::Spanned;
use toml::de::DeValue;

/// The least of anything that takes wood or room: a hundredth of a millimeter.
const LEAST: Length = Length::mm(0.01);
/// What a length may look like.
const LENGTH_EXAMPLE: &str = "write a length such as \"3/8 in\" or \"9.5 mm\"";

/// One value with its place.
pub(crate) struct Value<'p> {
    /// The file.
    pub(crate) page: &'p Page<'p>,
    /// The value.
    pub(crate) node: &'p Spanned<DeValue<'p>>,
    /// The key alone.
    pub(crate) name: String,
    /// The key path.
    pub(crate) path: String,
}

impl<'p> Value<'p> {
    /// Where it stands.
    pub(crate) fn span(&self) -> Range<usize> {
        self.node.span()
    }

    /// Notes a problem here.
    pub(crate) fn note(&self, says: impl Into<String>, remedy: impl Into<String>) {
        self.page.note(self.span(), &self.path, says.into(), remedy.into());
    }

    /// Notes that something else was expected.
    fn wrong_type(&self, expected: &str, remedy: &str) {
        let found = match self.node.get_ref() {
            DeValue::String(s) => format!("the text `{}`", quoted(s)),
            DeValue::Integer(_) | DeValue::Float(_) => format!("the number {}", self.written()),
            DeValue::Boolean(b) => format!("{b}"),
            DeValue::Datetime(_) => "a date".to_owned(),
            DeValue::Array(_) => "a list".to_owned(),
            DeValue::Table(_) => "a section".to_owned(),
        };
        self.note(format!("`{}` must be {expected}, not {found}", self.name), remedy);
    }

    /// The value as written in the file.
    pub(crate) fn written(&self) -> String {
        quoted(self.page.text.get(self.span()).unwrap_or(""))
    }

    /// As a section with these keys.
    pub(crate) fn section(&self, keys: &[&str]) -> Option<Section<'p>> {
        match self.node.get_ref() {
            DeValue::Table(table) => {
                Some(Section::new(self.page, table, self.path.clone(), self.span(), keys))
            }
            DeValue::Array(_) => {
                self.wrong_type("one section", &format!("write [{}] with single brackets", self.path));
                None
            }
            _ => {
                let first = keys.first().unwrap_or(&"key");
                self.wrong_type("a section", &format!("write [{}] and under it {first} = …", self.path));
                None
            }
        }
    }

    /// As a list of values.
    pub(crate) fn list(&self) -> Option<Vec<Value<'p>>> {
        let DeValue::Array(list) = self.node.get_ref() else {
            let remedy = match self.node.get_ref() {
                DeValue::Table(_) => format!("write [[{}]] with double brackets", self.path),
                _ => format!("write {} = [ … ]", self.name),
            };
            self.wrong_type("a list", &remedy);
            return None;
        };
        let entries = list.iter().enumerate().map(|(i, node)| Value {
            page: self.page,
            node,
            name: format!("{} {}", self.name, i + 1),
            path: format!("{}.{}", self.path, i + 1),
        });
        Some(entries.collect())
    }

    /// Whether it is a list without entries.
    pub(crate) fn list_is_empty(&self) -> bool {
        matches!(self.node.get_ref(), DeValue::Array(list) if list.is_empty())
    }

    /// Whether it is the whole number zero.
    pub(crate) fn is_zero(&self) -> bool {
        matches!(self.node.get_ref(), DeValue::Integer(i) if i.as_str() == "0")
    }

    /// A length of zero or more.
    pub(crate) fn length(&self) -> Option<Length> {
        let text = self.length_text()?;
        self.parsed(&text)
    }

    /// A length above zero.
    pub(crate) fn positive(&self) -> Option<Length> {
        let length = self.length()?;
        if length < LEAST {
            let bound = if length > Length::ZERO { "at least 0.01 mm" } else { "more than 0" };
            self.note(
                format!("`{}` is {}, but it must be {bound}", self.name, self.written()),
                LENGTH_EXAMPLE,
            );
            return None;
        }
        Some(length)
    }

    /// A length of either sign.
    pub(crate) fn signed(&self) -> Option<Length> {
        let text = self.length_text()?;
        let trimmed = text.trim();
        match trimmed.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => Some(-self.parsed(rest)?),
            None => self.parsed(trimmed),
        }
    }

    /// The text of a length: a string, or a number as written.
    fn length_text(&self) -> Option<String> {
        match self.node.get_ref() {
            DeValue::String(s) => Some(s.to_string()),
            DeValue::Integer(_) | DeValue::Float(_) => {
                let number = self.finite()?;
                // Shortest digits that read back to the same number.
                Some(format!("{number:?}"))
            }
            _ => {
                self.wrong_type("a length", LENGTH_EXAMPLE);
                None
            }
        }
    }

    fn parsed(&self, text: &str) -> Option<Length> {
        match parse_length_in(text, self.page.unit.get()) {
            Ok(length) => Some(length),
            Err(error) => {
                let (says, remedy) = match &error {
                    LengthError::Empty => ("there is no length here".to_owned(), LENGTH_EXAMPLE),
                    LengthError::NotALength { .. } => {
                        (format!("{} is not a length", self.tick()), LENGTH_EXAMPLE)
                    }
                    LengthError::UnknownUnit { unit } => (
                        format!("`{unit}` in {} is not a unit of length", self.tick()),
                        "use mm, cm, m, in (or \") or ft (or ')",
                    ),
                    LengthError::ZeroDenominator { .. } => {
                        (format!("the fraction in {} divides by zero", self.tick()), LENGTH_EXAMPLE)
                    }
                    LengthError::Negative { .. } => {
                        (format!("{} is below zero", self.tick()), LENGTH_EXAMPLE)
                    }
                    LengthError::TooLong { .. } => (
                        format!("{} is longer than 10 m", self.tick()),
                        "no part of a box is: check the number and its unit",
                    ),
                };
                self.note(format!("`{}`: {says}", self.name), remedy);
                None
            }
        }
    }

    /// The value as written, in ticks, without its own quotes.
    fn tick(&self) -> String {
        match self.node.get_ref() {
            DeValue::String(s) => format!("`{}`", quoted(s.trim())),
            _ => format!("`{}`", self.written()),
        }
    }

    /// A finite number; `None` with a problem for NaN, infinities and numbers past all bounds.
    fn finite(&self) -> Option<f64> {
        let number = match self.node.get_ref() {
            DeValue::Integer(i) => match i.radix() {
                10 => i.as_str().parse().unwrap_or(f64::NAN),
                radix => i128::from_str_radix(i.as_str(), radix).map_or(f64::NAN, |n| n as f64),
            },
            DeValue::Float(f) => f.as_str().parse().unwrap_or(f64::NAN),
            _ => {
                self.wrong_type("a number", "write a number without quotes");
                return None;
            }
        };
        if number.is_finite() {
            Some(number)
        } else {
            self.note(
                format!("`{}` is {}, which is no finite number", self.name, self.written()),
                "write a plain number",
            );
            None
        }
    }

    /// A number between two bounds; `unit` is its unit in words, or empty.
    pub(crate) fn number(&self, bounds: (f64, f64), unit: &str) -> Option<f64> {
        let number = self.finite()?;
        if (bounds.0..=bounds.1).contains(&number) {
            return Some(number);
        }
        let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
        self.note(
            format!("`{}` is {}, out of bounds", self.name, self.written()),
            format!("write a number from {} to {}{unit}", bounds.0, bounds.1),
        );
        None
    }

    /// Whether it is a whole number above a bound.
    pub(crate) fn is_above(&self, most: u32) -> bool {
        match self.node.get_ref() {
            DeValue::Integer(i) if i.radix() == 10 => {
                i.as_str().parse::<f64>().is_ok_and(|n| n > f64::from(most))
            }
            _ => false,
        }
    }

    /// A whole number between two bounds.
    pub(crate) fn count(&self, (least, most): (u32, u32)) -> Option<u32> {
        let DeValue::Integer(_) = self.node.get_ref() else {
            self.wrong_type(
                "a whole number",
                &format!("write a whole number from {least} to {most}, without quotes"),
            );
            return None;
        };
        let number = self.finite()?;
        if number < f64::from(least) || number > f64::from(most) {
            let bound = if number < f64::from(least) {
                format!("at least {least}")
            } else {
                format!("at most {most}")
            };
            self.note(
                format!("`{}` is {}, but it must be {bound}", self.name, self.written()),
                format!("write a whole number from {least} to {most}"),
            );
            return None;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number between two u32"
        )]
        Some(number as u32)
    }

    /// A text of at most so many characters.
    pub(crate) fn text(&self, most: usize) -> Option<String> {
        let DeValue::String(text) = self.node.get_ref() else {
            self.wrong_type("a text", &format!("write it in quotes: {} = \"…\"", self.name));
            return None;
        };
        let length = text.chars().count();
        if length > most {
            self.note(
                format!("`{}` has {length} characters, but it can have at most {most}", self.name),
                "shorten it",
            );
            return None;
        }
        Some(text.to_string())
    }

    /// True or false.
    pub(crate) fn flag(&self) -> Option<bool> {
        if let DeValue::Boolean(flag) = self.node.get_ref() {
            return Some(*flag);
        }
        self.wrong_type("true or false", "write true or false, without quotes");
        None
    }

    /// One of several words; capitals do not count, and dashes and underscores are as good as blanks.
    pub(crate) fn choice<T: Copy>(&self, choices: &[(&str, T)]) -> Option<T> {
        let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
        let DeValue::String(text) = self.node.get_ref() else {
            self.wrong_type("a word in quotes", &format!("choose one of: {}", words.join(", ")));
            return None;
        };
        let plain = plain(text);
        if let Some((_, choice)) = choices.iter().find(|(word, _)| *word == plain) {
            return Some(*choice);
        }
        self.note(format!("`{}` cannot be `{}`", self.name, quoted(text)), choose(&plain, &words));
        None
    }

    /// An angle in degrees between two bounds: a number, or a text such as `8°` or `8 deg`.
    pub(crate) fn degrees(&self, (least, most): (f64, f64)) -> Option<Angle> {
        let number = match self.node.get_ref() {
            DeValue::String(text) => {
                let number = text.trim().trim_end_matches(|c: char| !c.is_ascii_digit() && c != '.');
                let unit = plain(text.trim().get(number.len()..).unwrap_or(""));
                let known = matches!(unit.as_str(), "" | "°" | "deg" | "degree" | "degrees");
                let number = number.parse::<f64>().ok().filter(|n| n.is_finite() && known);
                let Some(number) = number else {
                    self.wrong_type("an angle in degrees", "write a number of degrees such as 8");
                    return None;
                };
                number
            }
            DeValue::Integer(_) | DeValue::Float(_) => self.finite()?,
            _ => {
                self.wrong_type("an angle in degrees", "write a number of degrees such as 8");
                return None;
            }
        };
        if (least..=most).contains(&number) {
            return Some(Angle::degrees(number));
        }
        self.note(
            format!("`{}` is {} degrees, out of bounds", self.name, self.tick().trim_matches('`')),
            format!("write an angle from {least} to {most} degrees"),
        );
        None
    }

    /// A wood or sheet by its name.
    pub(crate) fn wood(&self) -> Option<String> {
        let written = self.text(80)?;
        self.page.wood(self.span(), &self.path, &written)
    }
}

/// A word as the choices spell it: small letters, blanks for dashes and underscores.
pub(crate) fn plain(text: &str) -> String {
    let spaced = text.to_lowercase().replace(['-', '_'], " ");
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}
