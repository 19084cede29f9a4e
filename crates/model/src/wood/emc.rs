//! Equilibrium moisture content: what wood settles at in air of a given temperature and humidity.

use crate::units::{MoistureContent, RelativeHumidity, Temperature};

/// The moisture content that wood settles at; humidity is clamped to between nothing and saturation.
///
/// Approximate and the same for all species: show one decimal of percent, no more. Drying wood sits above it, wetting
/// wood below.
///
/// # Source
/// Wood Handbook ch. 4, Eq. 4-5 (Hailwood-Horrobin form, Simpson 1973), constants for degrees Celsius; Table 4-2 was
/// calculated from it for −1.1 to 132 °C and 5 to 95 percent. FPL-GTR-229 (2014) warns that the data are approximate.
pub fn emc(temperature: Temperature, humidity: RelativeHumidity) -> MoistureContent {
    let t = temperature.value();
    let h = humidity.value().clamp(0.0, 1.0);
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
    let k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
    let kh = k * h;
    let first = kh / (1.0 - kh);
    let second = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh);
    MoistureContent::percent(1800.0 / w * (first + second))
}

/// The humidity in which wood settles at a moisture content: the inverse of [`emc`], clamped to its range.
pub fn rh_for_emc(temperature: Temperature, moisture: MoistureContent) -> RelativeHumidity {
    let (mut low, mut high) = (0.0, 1.0);
    // Fifty halvings reach the last digit of a double; the law rises throughout.
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if emc(temperature, RelativeHumidity::fraction(middle)) < moisture {
            low = middle;
        } else {
            high = middle;
        }
    }
    RelativeHumidity::fraction(f64::midpoint(low, high))
}

#[cfg(test)]
mod tests {
    use super::super::Rows;
    use super::*;
    use proptest::prelude::*;

    fn at(t: f64, rh: f64) -> f64 {
        emc(Temperature::celsius(t), RelativeHumidity::percent(rh)).to_percent()
    }

    /// Every kept cell of Wood Handbook Table 4-2 (274 of them). Tolerance 0.07: the table is rounded to 0.1 and its
    /// Celsius labels to 0.1 °C.
    #[test]
    fn the_whole_table() {
        let cells = Rows::of(include_str!("../../tests/published/emc_table.csv")).map(|r| {
            let of = |column| r.number(column).unwrap();
            (of("temperature_c"), of("relative_humidity_pct"), of("emc_pct"))
        });
        assert_eq!(cells.len(), 274);
        for (t, rh, want) in cells {
            let got = at(t, rh);
            assert!((got - want).abs() < 0.07, "{t} °C {rh} %: {got}, table {want}");
        }
    }

    /// Rows WM-13 … WM-21 (equation values; table values in the row before), WE06, WE07, and the value that catches
    /// degrees Fahrenheit mixed up with Celsius.
    #[test]
    fn single_values() {
        let cases = [
            ("WM-13", 21.1, 30.0, 6.170, 0.001),
            ("WM-14", 21.1, 35.0, 6.943, 0.001),
            ("WM-15", 21.1, 45.0, 8.459, 0.001),
            ("WM-16", 21.1, 60.0, 10.965, 0.001),
            ("WM-17", 21.1, 70.0, 13.088, 0.001),
            ("WM-18", 21.1, 80.0, 15.990, 0.001),
            ("WM-19", 20.0, 35.0, 6.963, 0.001),
            ("WM-20", 24.0, 60.0, 10.868, 0.001),
            ("WM-21", 10.0, 75.0, 14.773, 0.001),
            ("WM-26: rule of thumb", 21.1, 30.0, 6.0, 0.5),
            ("WM-26: rule of thumb", 21.1, 50.0, 9.0, 0.5),
            ("WM-26: rule of thumb", 21.1, 65.0, 12.0, 0.5),
            ("WM-26: rule of thumb", 21.1, 80.0, 16.0, 0.5),
            ("WE06", 21.1, 40.0, 7.7, 0.07),
            ("WE07", -1.1, 75.0, 14.9, 0.07),
            ("WE07", -1.1, 95.0, 24.3, 0.07),
            ("WE07", 21.1, 85.0, 17.9, 0.07),
            ("WE07", 37.8, 50.0, 8.7, 0.07),
            ("WE07: 21.0 would be Celsius in the Fahrenheit constants", 37.8, 90.0, 19.5, 0.07),
        ];
        for (name, t, rh, want, tolerance) in cases {
            let got = at(t, rh);
            assert!((got - want).abs() < tolerance, "{name}: {got}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn wetter_air_wetter_wood(t in -10.0..50.0, rh in 1.0..97.0, step in 0.1..2.0) {
            prop_assert!(at(t, rh + step) > at(t, rh));
        }

        #[test]
        fn the_inverse_returns(t in -5.0..40.0, rh in 2.0..98.0) {
            let temperature = Temperature::celsius(t);
            let back = rh_for_emc(temperature, MoistureContent::percent(at(t, rh)));
            prop_assert!((back.to_percent() - rh).abs() < 1e-6);
        }
    }
}
