//! How values are read in this shop: lengths in its unit with the other one beside it, money, time, weight.

use keepwright_model::job::Plan;
use keepwright_model::reason::Value;
use keepwright_model::units::{
    Angle, Area, Currency, Inches, Length, LengthUnit, Mass, Minutes, MoistureContent, Money,
};

use crate::drawings::Shown;

/// A blank at which no line is broken.
const HOLD: &str = "\u{a0}";
/// Below this a rule says less than hundredths of a millimeter: gaps, plays, errors, films.
const FRACTIONS_END: Length = Length::mm(1.5);
/// Grams in an ounce, exact (international yard and pound agreement, 1959).
const GRAMS_PER_OUNCE: f64 = 28.349_523_125;
/// Square millimeters in a square inch, exact.
const MM2_PER_SQUARE_INCH: f64 = 25.4 * 25.4;

/// The shop's way of reading values.
#[derive(Clone, Copy, Debug)]
pub struct Showing {
    /// Unit and fineness of lengths.
    pub shown: Shown,
    /// The currency of all money.
    pub currency: Currency,
}

impl Showing {
    /// The way of the shop that a plan is for.
    pub const fn of(plan: &Plan) -> Self {
        let shown = Shown { unit: plan.shop.unit, fineness: plan.shop.fineness };
        Self { shown, currency: plan.shop.bench.currency }
    }

    /// A length in the shop's unit, unit and all, that is not broken over two lines.
    pub fn length(&self, length: Length) -> String {
        self.shown.length(length).replace(' ', HOLD)
    }

    /// A length in the unit that is not the shop's.
    pub fn other(&self, length: Length) -> String {
        self.other_shown().length(length).replace(' ', HOLD)
    }

    /// A length in both units, the shop's first: `260.0 mm (10 1/4" −)`.
    ///
    /// Less than half a millimeter stands in millimeters alone: no rule of inches shows it.
    pub fn both(&self, length: Length) -> String {
        if length.abs() < Length::mm(0.5) {
            return Self::gap(length);
        }
        format!("{} ({})", self.length(length), self.other(length))
    }

    /// A length without the word for its unit, for tables whose heading names it: `260.0`, `10 1/4"`.
    pub fn bare(&self, length: Length) -> String {
        match self.shown.unit {
            LengthUnit::Inch => self.length(length),
            LengthUnit::Millimeter => self.length(length).trim_end_matches(&format!("{HOLD}mm")).to_owned(),
        }
    }

    /// As [`Showing::bare`], in the unit that is not the shop's.
    pub fn bare_other(&self, length: Length) -> String {
        self.other(length).trim_end_matches(&format!("{HOLD}mm")).to_owned()
    }

    /// The heading word of a table's lengths: `mm` or `in`.
    pub const fn unit(&self) -> &'static str {
        match self.shown.unit {
            LengthUnit::Inch => "in",
            LengthUnit::Millimeter => "mm",
        }
    }

    /// The heading word of the unit that is not the shop's.
    pub const fn other_unit(&self) -> &'static str {
        match self.shown.unit {
            LengthUnit::Inch => "mm",
            LengthUnit::Millimeter => "in",
        }
    }

    /// Sizes with a cross between: `286.0 × 184.0 × 96.0 mm`, `about 11 1/4 × 7 1/4 × 3 25/32 in` where rounded.
    pub fn sizes(&self, sizes: &[Length]) -> String {
        Self::crossed(self.shown, sizes)
    }

    /// As [`Showing::sizes`], in the unit that is not the shop's.
    pub fn sizes_other(&self, sizes: &[Length]) -> String {
        Self::crossed(self.other_shown(), sizes)
    }

    fn crossed(shown: Shown, sizes: &[Length]) -> String {
        if shown.unit == LengthUnit::Millimeter {
            let each: Vec<String> = sizes.iter().map(|l| format!("{:.1}", tenths(l.to_mm()))).collect();
            return format!("{}{HOLD}mm", each.join(" × "));
        }
        // The mark of a rounded length would read as a sign of arithmetic between crosses.
        let each: Vec<Inches> = sizes.iter().map(|l| Inches::nearest(*l, shown.fineness)).collect();
        let about = if each.iter().any(|i| i.residual().to_mm().abs() > 5e-4) { "about " } else { "" };
        let bare: Vec<String> = each
            .iter()
            .map(|i| i.to_string().trim_end_matches([' ', '+', '−', '"']).replace(' ', HOLD))
            .collect();
        format!("{about}{}{HOLD}in", bare.join(" × "))
    }

    const fn other_shown(&self) -> Shown {
        let unit = match self.shown.unit {
            LengthUnit::Inch => LengthUnit::Millimeter,
            LengthUnit::Millimeter => LengthUnit::Inch,
        };
        Shown { unit, fineness: self.shown.fineness }
    }

    /// A small gap, to hundredths of a millimeter whatever the shop's unit: no rule shows it.
    pub fn gap(length: Length) -> String {
        format!("{:.2}{HOLD}mm", hundredths(length.to_mm()))
    }

    /// A change of length with its sign, to hundredths of a millimeter.
    pub fn change(length: Length) -> String {
        let mm = hundredths(length.to_mm());
        let sign = if mm > 0.0 {
            "+"
        } else if mm < 0.0 {
            "−"
        } else {
            ""
        };
        format!("{sign}{:.2}", mm.abs())
    }

    /// Money with its currency.
    pub fn money(&self, money: Money) -> String {
        money.show(self.currency).to_string().replace(' ', HOLD)
    }

    /// A weight: grams or kilograms, with ounces or pounds for a shop of inches.
    pub fn mass(&self, mass: Mass) -> String {
        let grams = mass.value();
        let metric = if grams < 1000.0 {
            format!("{grams:.0}{HOLD}g")
        } else {
            format!("{:.2}{HOLD}kg", grams / 1000.0)
        };
        if self.unit() == "mm" {
            return metric;
        }
        let ounces = grams / GRAMS_PER_OUNCE;
        if ounces < 16.0 {
            format!("{metric} ({ounces:.1}{HOLD}oz)")
        } else {
            format!("{metric} ({:.1}{HOLD}lb)", ounces / 16.0)
        }
    }

    /// An area: square centimeters, or square inches for a shop of inches.
    pub fn area(&self, area: Area) -> String {
        if self.unit() == "mm" {
            format!("{:.0}{HOLD}cm²", area.to_mm2() / 100.0)
        } else {
            format!("{:.0}{HOLD}sq{HOLD}in", area.to_mm2() / MM2_PER_SQUARE_INCH)
        }
    }

    /// A length as [`Showing::length`] has it, and one that it would round away to hundredths of a millimeter,
    /// with thousandths of an inch beside for a shop of inches.
    fn fine(&self, length: Length) -> String {
        if length.abs() >= FRACTIONS_END || length.to_mm().abs() < 1e-9 {
            return self.length(length);
        }
        match self.shown.unit {
            LengthUnit::Millimeter => Self::gap(length),
            LengthUnit::Inch => format!("{} ({:.3}\")", Self::gap(length), length.to_inches() + 0.0),
        }
    }

    /// Any value of a reason or a caution.
    pub fn value(&self, value: &Value) -> String {
        match value {
            Value::Length(l) => self.fine(*l),
            Value::Angle(a) => angle(*a),
            Value::Percent(p) => format!("{:.1}{HOLD}%", p * 100.0),
            Value::Area(a) => self.area(*a),
            Value::Milliliters(v) => milliliters(*v),
            Value::Stress(s) => format!("{:.2}{HOLD}MPa", s.value()),
            Value::Force(f) => format!("{:.0}{HOLD}N", f.value()),
            Value::Mass(m) => self.mass(*m),
            Value::Minutes(m) => minutes(*m),
            Value::Money(m) => self.money(*m),
            Value::Count(n) => n.to_string(),
            Value::Number { value, decimals, unit } => {
                let space = if unit.is_empty() { "" } else { HOLD };
                format!("{value:.decimals$}{space}{unit}")
            }
            Value::Text(text) => text.clone(),
        }
    }
}

/// An angle in degrees to a tenth, without `.0`.
pub fn angle(angle: Angle) -> String {
    Shown::angle(angle)
}

/// A moisture content in percent to a tenth.
pub fn moisture(moisture: MoistureContent) -> String {
    format!("{:.1}{HOLD}%", moisture.to_percent())
}

/// A volume of liquid: `24 mL`, and in tenths below ten.
fn milliliters(volume: f64) -> String {
    if volume > 0.0 && volume < 0.05 {
        return format!("under 0.1{HOLD}mL");
    }
    let decimals = usize::from(volume.abs() < 9.95 && volume.abs() > 0.0);
    format!("{volume:.decimals$}{HOLD}mL")
}

/// Time: `45 min`, `2 h 20 min`, `3 d`.
pub fn minutes(time: Minutes) -> String {
    let whole = time.value().max(0.0).round();
    if whole < 1.0 && time.value() > 0.0 {
        return format!("under 1{HOLD}min");
    }
    let (days, rest) = ((whole / 1440.0).floor(), whole % 1440.0);
    let (hours, minutes) = ((rest / 60.0).floor(), rest % 60.0);
    let mut said = Vec::new();
    // Waits of one and two days are spoken of in hours, longer ones in days.
    if days >= 3.0 {
        said.push(format!("{days:.0}{HOLD}d"));
        if hours > 0.0 {
            said.push(format!("{hours:.0}{HOLD}h"));
        }
        return said.join(HOLD);
    }
    let hours = hours + 24.0 * days;
    if hours > 0.0 {
        said.push(format!("{hours:.0}{HOLD}h"));
    }
    if minutes > 0.0 || hours <= 0.0 {
        said.push(format!("{minutes:.0}{HOLD}min"));
    }
    said.join(HOLD)
}

/// Time at the bench, never in days: `72 h 5 min`.
pub fn hours(time: Minutes) -> String {
    let whole = time.value().max(0.0).round();
    let (hours, rest) = ((whole / 60.0).floor(), whole % 60.0);
    if hours <= 0.0 {
        return minutes(time);
    }
    if rest > 0.0 {
        format!("{hours:.0}{HOLD}h{HOLD}{rest:.0}{HOLD}min")
    } else {
        format!("{hours:.0}{HOLD}h")
    }
}

/// A share in percent, whole.
pub fn percent(share: f64) -> String {
    format!("{:.0}{HOLD}%", share * 100.0)
}

/// Shares of one whole in whole percent: the last is what the others leave, so that they add up to 100.
pub fn shares<const N: usize>(of_whole: [f64; N]) -> [String; N] {
    let whole = of_whole.map(|share| (share * 100.0).round_ties_even());
    let others: f64 = whole.iter().take(N.saturating_sub(1)).sum();
    let mut shown = whole.map(|share| format!("{share:.0}{HOLD}%"));
    if let Some(last) = shown.last_mut() {
        *last = format!("{:.0}{HOLD}%", (100.0 - others).max(0.0));
    }
    shown
}

/// A count with its noun: `one wall`, `4 walls`.
pub fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("one {one}") } else { format!("{count} {many}") }
}

/// Names in a row: `a`, `a and b`, `a, b and c`.
pub fn and<S: AsRef<str>>(names: &[S]) -> String {
    match names {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

/// The words with a capital at the beginning.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Rounded to a tenth, never minus zero.
fn tenths(value: f64) -> f64 {
    (value * 10.0).round() / 10.0 + 0.0
}

/// Rounded to a hundredth, never minus zero.
fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_model::units::Fineness;

    fn showing(unit: LengthUnit) -> Showing {
        Showing { shown: Shown { unit, fineness: Fineness::SixtyFourth }, currency: Currency::USD }
    }

    /// 260.35 mm is 10 1/4 in exactly; FR-01: 19 mm is a little under 3/4 in. An ounce is 28.3495 g.
    #[test]
    fn both_units_stand_side_by_side() {
        let (mm, inch) = (showing(LengthUnit::Millimeter), showing(LengthUnit::Inch));
        assert_eq!(mm.both(Length::mm(19.0)), "19.0\u{a0}mm (3/4\"\u{a0}−)");
        assert_eq!(inch.both(Length::mm(260.35)), "10\u{a0}1/4\" (260.4\u{a0}mm)");
        assert_eq!(mm.sizes(&[Length::mm(30.0), Length::mm(20.0)]), "30.0 × 20.0\u{a0}mm");
        assert_eq!(inch.sizes_other(&[Length::mm(30.0)]), "30.0\u{a0}mm");
        let sizes = [Length::inches(3.5), Length::inches(0.25)];
        assert_eq!(inch.sizes(&sizes), "3\u{a0}1/2 × 1/4\u{a0}in");
        assert_eq!(mm.sizes_other(&[Length::mm(19.0), sizes[1]]), "about 3/4 × 1/4\u{a0}in");
        assert_eq!(inch.both(Length::mm(0.1)), "0.10\u{a0}mm");
        assert_eq!(inch.mass(Mass::grams(56.7)), "57\u{a0}g (2.0\u{a0}oz)");
        assert_eq!(Showing::change(Length::mm(-0.004)), "0.00");
    }

    /// 0.02 mm is 0.00079 in and 0.25 mm 0.00984 in; a shop of millimeters has no use for either.
    #[test]
    fn small_values_are_not_rounded_away() {
        let (mm, inch) = (showing(LengthUnit::Millimeter), showing(LengthUnit::Inch));
        for (given, in_mm, in_inches) in [
            (Value::Length(Length::mm(0.02)), "0.02 mm", "0.02 mm (0.001\")"),
            (Value::Length(Length::mm(-0.25)), "-0.25 mm", "-0.25 mm (-0.010\")"),
            (Value::Length(Length::mm(1.5)), "1.5 mm", "1/16\" −"),
            (Value::Length(Length::ZERO), "0.0 mm", "0\""),
            (Value::Milliliters(0.24), "0.2 mL", "0.2 mL"),
            (Value::Milliliters(9.97), "10 mL", "10 mL"),
            (Value::Milliliters(23.6), "24 mL", "24 mL"),
            (Value::Milliliters(0.02), "under 0.1 mL", "under 0.1 mL"),
            (Value::Milliliters(0.0), "0 mL", "0 mL"),
        ] {
            assert_eq!(mm.value(&given).replace('\u{a0}', " "), in_mm, "{given:?}");
            assert_eq!(inch.value(&given).replace('\u{a0}', " "), in_inches, "{given:?}");
        }
    }

    /// 64.6 + 21.7 + 13.7 would round to 65 + 22 + 14 = 101.
    #[test]
    fn shares_add_up() {
        let said = |of: [f64; 3]| shares(of).map(|s| s.replace('\u{a0}', " "));
        assert_eq!(said([0.646, 0.217, 0.137]), ["65 %", "22 %", "13 %"]);
        assert_eq!(said([0.5, 0.25, 0.25]), ["50 %", "25 %", "25 %"]);
        assert_eq!(said([0.505, 0.495, 0.0])[2], "0 %");
    }

    #[test]
    fn times_are_said_as_a_maker_says_them() {
        for (given, want) in [
            (0.0, "0 min"),
            (45.0, "45 min"),
            (140.0, "2 h 20 min"),
            (1440.0, "24 h"),
            (7.0 * 1440.0, "7 d"),
            (0.3, "under 1 min"),
        ] {
            assert_eq!(minutes(Minutes::minutes(given)).replace('\u{a0}', " "), want, "{given}");
        }
        assert_eq!(hours(Minutes::minutes(4325.0)).replace('\u{a0}', " "), "72 h 5 min");
        assert_eq!(and(&["a", "b", "c"]), "a, b and c");
        assert_eq!(capital("éclair"), "Éclair");
    }
}
