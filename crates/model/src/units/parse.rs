//! Reading a length as a maker writes it.
//!
//! | written | read as |
//! |---|---|
//! | `7 1/2 in`, `7-1/2"`, `7.5in`, `7½ inches` | 190.5 mm |
//! | `190 mm`, `19 cm`, `0.19 m` | 190 mm |
//! | `2' 3 1/4"`, `2 ft 3 1/4 in` | 692.15 mm |
//! | `7' 6` | 2286 mm |
//! | `190` | 190 of the shop's unit |

use super::Length;
use thiserror::Error;

/// The unit of a number that names none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LengthUnit {
    /// Millimeters.
    #[default]
    Millimeter,
    /// Inches.
    Inch,
}

impl LengthUnit {
    /// This many of the unit.
    pub const fn of(self, value: f64) -> Length {
        match self {
            Self::Millimeter => Length::mm(value),
            Self::Inch => Length::inches(value),
        }
    }
}

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LengthError {
    /// Nothing was written.
    #[error("there is no length here; write one such as 190 mm, 7 1/2 in or 2' 3 1/4\"")]
    Empty,
    /// A text that is no number where one is due.
    #[error("`{text}` is not a length; write one such as 190 mm, 7 1/2 in or 2' 3 1/4\"")]
    NotALength {
        /// What was written.
        text: String,
    },
    /// A unit that is not known.
    #[error("`{unit}` is not a unit of length here; use mm, cm, m, in (or \") or ft (or ')")]
    UnknownUnit {
        /// The unit as written.
        unit: String,
    },
    /// Division by zero.
    #[error("the fraction in `{text}` divides by zero")]
    ZeroDenominator {
        /// What was written.
        text: String,
    },
    /// Below zero.
    #[error("`{text}` is below zero; a length is zero or more")]
    Negative {
        /// What was written.
        text: String,
    },
    /// Absurdly long, or infinite.
    #[error("`{text}` is longer than 10 m; no part of a box is: check the number and its unit")]
    TooLong {
        /// What was written.
        text: String,
    },
}

/// What stands for a minus, or between a whole number and its fraction: hyphen, minus sign, en dash.
const DASHES: [char; 3] = ['-', '\u{2212}', '\u{2013}'];

/// Reads a length; a number without a unit is in `unit`.
///
/// # Errors
/// [`LengthError`] says what was written and what is possible.
///
/// # Example
/// ```
/// use keepwright_model::units::{parse_length_in, LengthUnit};
/// let l = parse_length_in("7-1/2\"", LengthUnit::Millimeter).unwrap();
/// assert!((l.to_mm() - 190.5).abs() < 1e-12);
/// ```
pub fn parse_length_in(text: &str, unit: LengthUnit) -> Result<Length, LengthError> {
    let shown = || shorten(text);
    let tokens = tokenize(text)?;
    if tokens.is_empty() {
        return Err(LengthError::Empty);
    }
    let mut total = 0.0;
    let mut pending: Option<f64> = None;
    let mut named = false;
    let mut smallest = f64::INFINITY;
    for (at, token) in tokens.iter().enumerate() {
        match token {
            Token::Minus if at == 0 => {
                // No length is as much below zero as above: -0 is 0.
                let rest = text.trim_start_matches(|c: char| DASHES.contains(&c) || c.is_whitespace());
                return match parse_length_in(rest, unit) {
                    Ok(zero) if zero <= Length::ZERO => Ok(Length::ZERO),
                    _ => Err(LengthError::Negative { text: shown() }),
                };
            }
            // A dash between whole and fraction (7-1/2) only joins them; anything else is no length.
            Token::Minus => {
                let joins = matches!(tokens.get(at + 1), Some(Token::Fraction(_)))
                    && matches!(tokens.get(at - 1), Some(Token::Number { whole: true, .. }));
                if !joins {
                    return Err(LengthError::NotALength { text: shown() });
                }
            }
            Token::Number { value, .. } => {
                if pending.is_some() {
                    return Err(LengthError::NotALength { text: shown() });
                }
                pending = Some(*value);
            }
            Token::Fraction(value) => {
                let before_is_whole = match at.checked_sub(1).map(|i| &tokens[i]) {
                    None | Some(Token::Unit(_) | Token::Minus) => true,
                    Some(Token::Number { whole, .. }) => *whole,
                    Some(Token::Fraction(_)) => false,
                };
                if !before_is_whole {
                    return Err(LengthError::NotALength { text: shown() });
                }
                pending = Some(pending.unwrap_or(0.0) + value);
            }
            Token::Unit(mm) => {
                let Some(value) = pending.take() else {
                    return Err(LengthError::NotALength { text: shown() });
                };
                // Feet then inches, meters then centimetres: each unit smaller than the last.
                if *mm >= smallest {
                    return Err(LengthError::NotALength { text: shown() });
                }
                smallest = *mm;
                named = true;
                total += value * mm;
            }
        }
    }
    if let Some(value) = pending {
        // After feet a bare number is inches: 7' 6 reads as 7' 6".
        let feet = (smallest - 12.0 * Length::MM_PER_INCH).abs() < 1e-9;
        total += match (named, feet) {
            (false, _) => unit.of(value).to_mm(),
            (true, true) => Length::inches(value).to_mm(),
            (true, false) => return Err(LengthError::NotALength { text: shown() }),
        };
    }
    if !total.is_finite() || total > Length::LONGEST.to_mm() {
        return Err(LengthError::TooLong { text: shown() });
    }
    Ok(Length::mm(total))
}

/// Reads a length that must name its unit or is in millimeters.
///
/// # Errors
/// As [`parse_length_in`].
pub fn parse_length(text: &str) -> Result<Length, LengthError> {
    parse_length_in(text, LengthUnit::Millimeter)
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Number {
        value: f64,
        whole: bool,
    },
    Fraction(f64),
    Minus,
    /// Millimeters in one of the unit.
    Unit(f64),
}

/// At most forty characters of what was written, for messages.
fn shorten(text: &str) -> String {
    let trimmed = text.trim();
    let mut out: String = trimmed.chars().take(40).collect();
    if trimmed.chars().count() > 40 {
        out.push('…');
    }
    out
}

fn tokenize(text: &str) -> Result<Vec<Token>, LengthError> {
    let shown = || LengthError::NotALength { text: shorten(text) };
    let chars: Vec<char> = text.chars().collect();
    // A length is short; a whole paragraph is not read to the end.
    if chars.len() > 200 {
        return Err(shown());
    }
    let mut tokens = Vec::new();
    let mut i = 0;
    while let Some(&c) = chars.get(i) {
        if c.is_whitespace() {
            i += 1;
        } else if let Some(value) = vulgar_fraction(c) {
            tokens.push(Token::Fraction(value));
            i += 1;
        } else if c.is_ascii_digit() || c == '.' {
            let (token, next) = number(&chars, i, text)?;
            tokens.push(token);
            i = next;
        } else if DASHES.contains(&c) {
            tokens.push(Token::Minus);
            i += 1;
        } else if matches!(c, '"' | '\u{2033}' | '\u{201d}') {
            tokens.push(Token::Unit(Length::MM_PER_INCH));
            i += 1;
        } else if matches!(c, '\'' | '\u{2032}' | '\u{2019}') {
            tokens.push(Token::Unit(12.0 * Length::MM_PER_INCH));
            i += 1;
        } else if c.is_alphabetic() {
            let start = i;
            while chars.get(i).is_some_and(|c| c.is_alphabetic()) {
                i += 1;
            }
            let word: String = chars[start..i].iter().collect();
            tokens.push(Token::Unit(unit_word(&word)?));
        } else {
            return Err(shown());
        }
    }
    Ok(tokens)
}

/// A decimal number or a fraction `n/d`, starting at `i`; gives the token and where the text goes on.
fn number(chars: &[char], i: usize, text: &str) -> Result<(Token, usize), LengthError> {
    let not_a_length = || LengthError::NotALength { text: shorten(text) };
    let mut end = i;
    while chars.get(end).is_some_and(|c| c.is_ascii_digit() || *c == '.') {
        end += 1;
    }
    // An exponent (1e3) belongs to the number: "e" followed by digits, with or without a sign.
    if matches!(chars.get(end), Some('e' | 'E')) {
        let mut k = end + 1;
        if matches!(chars.get(k), Some('+' | '-')) {
            k += 1;
        }
        if chars.get(k).is_some_and(char::is_ascii_digit) {
            while chars.get(k).is_some_and(char::is_ascii_digit) {
                k += 1;
            }
            end = k;
        }
    }
    let digits: String = chars[i..end].iter().collect();
    let value: f64 = digits.parse().map_err(|_| not_a_length())?;
    let whole = digits.chars().all(|c| c.is_ascii_digit());
    let mut k = end;
    while chars.get(k) == Some(&' ') {
        k += 1;
    }
    if !matches!(chars.get(k), Some('/' | '\u{2044}')) {
        return Ok((Token::Number { value, whole }, end));
    }
    k += 1;
    while chars.get(k) == Some(&' ') {
        k += 1;
    }
    let start = k;
    while chars.get(k).is_some_and(char::is_ascii_digit) {
        k += 1;
    }
    let below: String = chars[start..k].iter().collect();
    let denominator: f64 = below.parse().map_err(|_| not_a_length())?;
    if !whole {
        return Err(not_a_length());
    }
    if denominator == 0.0 {
        return Err(LengthError::ZeroDenominator { text: shorten(text) });
    }
    Ok((Token::Fraction(value / denominator), k))
}

fn unit_word(word: &str) -> Result<f64, LengthError> {
    match word.to_lowercase().as_str() {
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Ok(1.0),
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Ok(10.0),
        "m" | "metre" | "metres" | "meter" | "meters" => Ok(1000.0),
        "in" | "inch" | "inches" => Ok(Length::MM_PER_INCH),
        "ft" | "foot" | "feet" => Ok(12.0 * Length::MM_PER_INCH),
        _ => Err(LengthError::UnknownUnit { unit: shorten(word) }),
    }
}

fn vulgar_fraction(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅕' => 0.2,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_makers_write() {
        let cases = [
            ("7 1/2 in", 190.5),
            ("7-1/2\"", 190.5),
            ("7.5in", 190.5),
            ("7½ inches", 190.5),
            ("190 mm", 190.0),
            ("19 cm", 190.0),
            ("0.19 m", 190.0),
            ("2' 3 1/4\"", 692.15),
            ("3' 2 1/2\"", 977.9),
            ("7' 6", 2286.0),
            ("3/8", 0.375),
            ("3 3/8", 3.375),
            ("3.375", 3.375),
            ("  12 ", 12.0),
            ("1e2 mm", 100.0),
            ("0", 0.0),
            ("-0", 0.0),
            ("\u{2212}0 mm", 0.0),
            ("1 m 20 cm", 1200.0),
        ];
        for (text, want) in cases {
            let got = parse_length(text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((got.to_mm() - want).abs() < 1e-9, "{text}: {got:?}");
        }
        let shop = parse_length_in("3/8", LengthUnit::Inch).unwrap();
        assert!((shop.to_mm() - 9.525).abs() < 1e-12);
    }

    #[test]
    fn refuses_with_the_remedy() {
        let cases = [
            ("", "there is no length here"),
            ("-3 mm", "below zero"),
            ("-0 mm 1 in", "below zero"),
            ("--", "below zero"),
            ("1e300", "longer than 10 m"),
            ("1e999", "longer than 10 m"),
            ("NaN", "is not a unit of length"),
            ("inf", "is not a unit of length"),
            ("3/0 in", "divides by zero"),
            ("3 furlongs", "is not a unit of length"),
            ("3 4 mm", "is not a length"),
            ("1.5 1/2 in", "is not a length"),
            ("3 in 2 ft", "is not a length"),
            ("3 mm 4", "is not a length"),
            ("1..2", "is not a length"),
            ("twelve", "is not a unit of length"),
            ("3#", "is not a length"),
            ("5-3", "is not a length"),
        ];
        for (text, want) in cases {
            let error = parse_length(text).expect_err(text).to_string();
            assert!(error.contains(want), "{text}: {error}");
        }
    }
}
