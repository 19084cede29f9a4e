//! Values as the maker reads them: lengths in the shop's unit, money in its currency.

use keepwright_model::reason::Value;
use keepwright_model::units::{Currency, Fineness, Inches, Length, LengthUnit, Minutes, Money, ShownLength};

/// Below this a fraction of an inch says less than a decimal: gaps, plays, errors.
const FRACTIONS_END: Length = Length::mm(1.5);

/// How this shop reads numbers.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Show {
    /// Unit of lengths.
    pub(crate) unit: LengthUnit,
    /// Fineness of inches.
    pub(crate) fineness: Fineness,
    /// Currency of money.
    pub(crate) currency: Currency,
}

impl Show {
    /// A length in the shop's unit.
    pub(crate) fn length(&self, length: Length) -> String {
        self.in_unit(length, self.unit)
    }

    /// A length in both units, the shop's first.
    pub(crate) fn in_both(&self, length: Length) -> String {
        let other = match self.unit {
            LengthUnit::Millimeter => LengthUnit::Inch,
            LengthUnit::Inch => LengthUnit::Millimeter,
        };
        format!("{} ({})", self.length(length), self.in_unit(length, other))
    }

    fn in_unit(&self, length: Length, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Millimeter => ShownLength::Mm(length),
            LengthUnit::Inch => ShownLength::Inch(Inches::nearest(length, self.fineness)),
        }
        .to_string()
    }

    /// A gap, a play or another small length, to hundredths of a millimeter or thousandths of an inch.
    pub(crate) fn small(&self, length: Length) -> String {
        match self.unit {
            LengthUnit::Millimeter => format!("{} mm", plain(length.to_mm(), 2)),
            LengthUnit::Inch => format!("{}\"", plain(length.to_inches(), 3)),
        }
    }

    /// A length in both units, or as a small one where fractions of an inch say nothing.
    fn any_length(&self, length: Length) -> String {
        if length.abs() < FRACTIONS_END {
            format!("{} mm ({}\")", plain(length.to_mm(), 2), plain(length.to_inches(), 3))
        } else {
            self.in_both(length)
        }
    }

    /// Any value in as few letters as it takes: lengths in the shop's unit only.
    pub(crate) fn brief(&self, value: &Value) -> String {
        match value {
            Value::Length(l) if l.abs() < FRACTIONS_END => self.small(*l),
            Value::Length(l) => self.length(*l),
            Value::Stress(s) => format!("{} MPa", plain(s.value(), 2)),
            other => self.value(other),
        }
    }

    /// A size such as a box's or a board's, in the shop's unit.
    pub(crate) fn size(&self, sides: &[Length]) -> String {
        sides.iter().map(|l| self.length(*l)).collect::<Vec<_>>().join(" × ")
    }

    /// A size in the unit that is not the shop's.
    pub(crate) fn size_otherwise(&self, sides: &[Length]) -> String {
        let unit = match self.unit {
            LengthUnit::Millimeter => LengthUnit::Inch,
            LengthUnit::Inch => LengthUnit::Millimeter,
        };
        Self { unit, ..*self }.size(sides)
    }

    /// Money with its currency.
    pub(crate) fn money(&self, money: Money) -> String {
        money.show(self.currency).to_string()
    }

    /// Time as hours and minutes.
    pub(crate) fn time(minutes: Minutes) -> String {
        let all = minutes.value().round();
        if all.abs() < 60.0 {
            return format!("{:.0} min", all + 0.0);
        }
        let hours = (all / 60.0).trunc();
        let rest = all - hours * 60.0;
        if rest.abs() < 0.5 { format!("{hours:.0} h") } else { format!("{hours:.0} h {rest:.0} min") }
    }

    /// Any value.
    pub(crate) fn value(&self, value: &Value) -> String {
        match value {
            Value::Length(l) => self.any_length(*l),
            Value::Angle(a) => format!("{}°", plain(a.to_degrees(), 2)),
            Value::Percent(p) => format!("{} %", plain(p * 100.0, 1)),
            Value::Area(a) => match self.unit {
                LengthUnit::Millimeter => format!("{} cm²", plain(a.to_mm2() / 100.0, 1)),
                LengthUnit::Inch => {
                    format!("{} sq in", plain(a.to_mm2() / (Length::MM_PER_INCH * Length::MM_PER_INCH), 1))
                }
            },
            Value::Milliliters(v) => format!("{} ml", plain(*v, 1)),
            Value::Stress(s) => format!("{} MPa ({} psi)", plain(s.value(), 2), plain(s.to_psi(), 0)),
            Value::Force(f) => format!("{} N", plain(f.value(), 0)),
            Value::Mass(m) => format!("{} g", plain(m.value(), 0)),
            Value::Minutes(m) => Self::time(*m),
            Value::Money(m) => self.money(*m),
            Value::Count(n) => n.to_string(),
            Value::Number { value, decimals, unit: "" } => plain(*value, *decimals),
            Value::Number { value, decimals, unit } => format!("{} {unit}", plain(*value, *decimals)),
            Value::Text(text) => text.clone(),
        }
    }
}

/// A number with so many decimals, never "-0".
fn plain(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.trim_start_matches(['-', '0', '.']).is_empty() {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

/// Things in a row: "ash, walnut and padauk".
pub(crate) fn list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// A fraction as percent, for sentences.
pub(crate) fn percent(fraction: f64) -> String {
    format!("{} %", plain(fraction * 100.0, 0))
}

/// A count with its noun.
pub(crate) fn count_of(count: usize, word: &str) -> String {
    if count == 1 { format!("1 {word}") } else { format!("{count} {word}s") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_model::units::{Angle, Stress};

    const MM: Show =
        Show { unit: LengthUnit::Millimeter, fineness: Fineness::SixtyFourth, currency: Currency::USD };

    /// By hand: 1 inch is 25.4 mm; 1 `MPa` is 145.04 psi (NIST SP 811).
    #[test]
    fn values_are_shown_with_their_units() {
        let inches = Show { unit: LengthUnit::Inch, ..MM };
        for (show, value, want) in [
            (MM, Value::Length(Length::mm(190.5)), "190.5 mm (7 1/2\")"),
            (inches, Value::Length(Length::mm(190.5)), "7 1/2\" (190.5 mm)"),
            (MM, Value::Length(Length::mm(0.064)), "0.06 mm (0.003\")"),
            (MM, Value::Length(Length::mm(-0.001)), "0.00 mm (0.000\")"),
            (MM, Value::Angle(Angle::degrees(45.0)), "45.00°"),
            (MM, Value::Percent(0.081), "8.1 %"),
            (MM, Value::Percent(-0.0001), "0.0 %"),
            (MM, Value::Stress(Stress::mpa(1.0)), "1.00 MPa (145 psi)"),
            (MM, Value::Minutes(Minutes::minutes(59.6)), "1 h"),
            (MM, Value::Minutes(Minutes::minutes(95.0)), "1 h 35 min"),
            (MM, Value::Minutes(Minutes::minutes(12.0)), "12 min"),
            (MM, Value::Money(Money::minor(18_130)), "USD 181.30"),
            (MM, Value::Number { value: 0.5, decimals: 2, unit: "mm/m" }, "0.50 mm/m"),
        ] {
            assert_eq!(show.value(&value), want);
        }
    }

    #[test]
    fn things_in_a_row() {
        let words =
            |n: usize| ["ash", "elm", "oak"].iter().take(n).map(|&w| w.to_owned()).collect::<Vec<_>>();
        assert_eq!(list(&words(0)), "");
        assert_eq!(list(&words(1)), "ash");
        assert_eq!(list(&words(3)), "ash, elm and oak");
    }
}
