//! Quantities as JSON numbers: unit in the field's name, no more digits than mean something.

#![expect(clippy::struct_field_names, reason = "the unit stands in every field's name")]

use keepwright_model::reason::{Given, Value};
use keepwright_model::units::{Angle, Area, Currency, Length, Mass, Minutes, Volume};
use serde::Serialize;

/// A number to so many decimals; what is no number becomes null when it is written.
pub(super) fn rounded(value: f64, decimals: i32) -> f64 {
    let scale = 10f64.powi(decimals);
    let scaled = (value * scale).round();
    // Adding zero turns -0 into 0.
    if scaled.abs() < 9e15 { scaled / scale + 0.0 } else { value }
}

/// Millimeters to a ten-thousandth.
pub(super) fn mm(length: Length) -> f64 {
    rounded(length.to_mm(), 4)
}

/// Degrees to a ten-thousandth.
pub(super) fn degrees(angle: Angle) -> f64 {
    rounded(angle.to_degrees(), 4)
}

/// Square millimeters.
pub(super) fn mm2(area: Area) -> f64 {
    rounded(area.to_mm2(), 2)
}

/// Cubic millimeters.
pub(super) fn mm3(volume: Volume) -> f64 {
    rounded(volume.to_mm3(), 1)
}

/// Grams.
pub(super) fn mass(mass: Mass) -> f64 {
    rounded(mass.value(), 2)
}

/// Minutes.
pub(super) fn minutes(minutes: Minutes) -> f64 {
    rounded(minutes.value(), 2)
}

/// A fraction in percent.
pub(super) fn percent(fraction: f64) -> f64 {
    rounded(fraction * 100.0, 4)
}

/// A size by the box's own names.
#[derive(Serialize)]
pub(super) struct Size {
    length_mm: f64,
    depth_mm: f64,
    height_mm: f64,
}

/// Length, depth and height.
pub(super) fn named_size([length, depth, height]: [Length; 3]) -> Size {
    Size { length_mm: mm(length), depth_mm: mm(depth), height_mm: mm(height) }
}

/// A value of any kind: exactly one field, whose name tells kind and unit.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Any<'a> {
    Length { length_mm: f64 },
    Angle { angle_deg: f64 },
    Percent { percent: f64 },
    Area { area_mm2: f64 },
    Volume { volume_ml: f64 },
    Stress { stress_mpa: f64 },
    Force { force_n: f64 },
    Mass { mass_g: f64 },
    Minutes { time_min: f64 },
    Money { amount_minor: i64, currency: String },
    Count { count: u64 },
    Number { number: f64, unit: &'a str },
    Text { text: &'a str },
}

/// Any value.
pub(super) fn any(value: &Value, currency: Currency) -> Any<'_> {
    match value {
        Value::Length(l) => Any::Length { length_mm: mm(*l) },
        Value::Angle(a) => Any::Angle { angle_deg: degrees(*a) },
        Value::Percent(p) => Any::Percent { percent: percent(*p) },
        Value::Area(a) => Any::Area { area_mm2: mm2(*a) },
        Value::Milliliters(v) => Any::Volume { volume_ml: rounded(*v, 3) },
        Value::Stress(s) => Any::Stress { stress_mpa: rounded(s.value(), 5) },
        Value::Force(f) => Any::Force { force_n: rounded(f.value(), 2) },
        Value::Mass(m) => Any::Mass { mass_g: mass(*m) },
        Value::Minutes(m) => Any::Minutes { time_min: minutes(*m) },
        Value::Money(m) => Any::Money { amount_minor: m.to_minor(), currency: currency.code().to_owned() },
        Value::Count(n) => Any::Count { count: *n },
        Value::Number { value, decimals, unit } => {
            Any::Number { number: rounded(*value, i32::try_from(decimals + 3).unwrap_or(9).min(12)), unit }
        }
        Value::Text(text) => Any::Text { text },
    }
}

/// A named value.
#[derive(Serialize)]
pub(super) struct GivenLine<'a> {
    name: &'a str,
    #[serde(flatten)]
    value: Any<'a>,
}

/// Named values.
pub(super) fn givens(given: &[Given], currency: Currency) -> Vec<GivenLine<'_>> {
    given.iter().map(|g| GivenLine { name: &g.name, value: any(&g.value, currency) }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_what_means_something() {
        assert_eq!(serde_json::to_string(&mm(Length::inches(1.0 / 3.0))).unwrap(), "8.4667");
        assert_eq!(serde_json::to_string(&mm(Length::mm(-0.00001))).unwrap(), "0.0");
        assert_eq!(serde_json::to_string(&mm(Length::mm(f64::NAN))).unwrap(), "null");
        assert_eq!(serde_json::to_string(&percent(0.3333333)).unwrap(), "33.3333");
    }

    #[test]
    fn a_value_names_its_unit() {
        let given = [
            Given::new("depth", Value::Length(Length::mm(3.2))),
            Given::new("price", Value::Money(keepwright_model::units::Money::minor(1250))),
            Given::new("n", Value::Count(3)),
        ];
        assert_eq!(
            serde_json::to_string(&givens(&given, Currency::USD)).unwrap(),
            r#"[{"name":"depth","length_mm":3.2},{"name":"price","amount_minor":1250,"currency":"USD"},{"name":"n","count":3}]"#
        );
    }
}
