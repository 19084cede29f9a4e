//! Moist air: how much water it holds and how damp it is once warmed.

use crate::units::{RelativeHumidity, Stress, Temperature};

/// Standard pressure at sea level, 101 325 Pa.
pub const STANDARD_PRESSURE: Stress = Stress::mpa(0.101_325);

/// Ratio of the molar masses of water and dry air (ASHRAE Fundamentals).
const MASS_RATIO: f64 = 0.621_945;

/// Degrees Celsius at the triple point of water, where the ASHRAE formulas change over.
const TRIPLE_POINT_C: f64 = 0.01;

/// What below-freezing air is measured against. Use one on both sides of a comparison.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Saturation {
    /// ASHRAE formulas: over water above freezing, over ice below, as simulation programs have it.
    OverIceBelowFreezing,
    /// ASHRAE above freezing; below, over supercooled water by the Magnus form, as weather stations report dew points.
    #[default]
    OverWaterBelowFreezing,
    /// The Magnus form over water at every temperature.
    Magnus,
}

/// Water in air: mass of vapor over mass of dry air.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct HumidityRatio(f64);

impl HumidityRatio {
    /// From grams of water per kilogram of dry air.
    pub const fn grams_per_kg(value: f64) -> Self {
        Self(value / 1000.0)
    }

    /// As grams of water per kilogram of dry air.
    pub const fn to_grams_per_kg(self) -> f64 {
        self.0 * 1000.0
    }
}

/// Pressure of water vapor at saturation.
///
/// # Source
/// ASHRAE Fundamentals (2017) ch. 1, Eq. 5 (ice) and 6 (water), −100 to 200 °C; Magnus form with the constants of
/// Sonntag (1990) as WMO states them, 611.2 Pa, 17.62, 243.12 °C, −45 to 60 °C.
pub fn saturation_pressure(temperature: Temperature, over: Saturation) -> Stress {
    let c = temperature.value();
    let pascal = match over {
        Saturation::Magnus => magnus(c),
        Saturation::OverWaterBelowFreezing if c < 0.0 => magnus(c),
        Saturation::OverIceBelowFreezing if c <= TRIPLE_POINT_C => over_ice(c),
        Saturation::OverIceBelowFreezing | Saturation::OverWaterBelowFreezing => over_water(c),
    };
    Stress::mpa(pascal * 1e-6)
}

fn magnus(c: f64) -> f64 {
    611.2 * (17.62 * c / (243.12 + c)).exp()
}

fn over_ice(c: f64) -> f64 {
    let t = c + 273.15;
    let ln =
        -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t.powi(2) + 2.0747825e-9 * t.powi(3)
            - 9.484024e-13 * t.powi(4)
            + 4.1635019 * t.ln();
    ln.exp()
}

fn over_water(c: f64) -> f64 {
    let t = c + 273.15;
    let ln = -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t.powi(2)
        - 1.4452093e-8 * t.powi(3)
        + 6.5459673 * t.ln();
    ln.exp()
}

/// The water in air of a given temperature and relative humidity.
pub fn humidity_ratio(
    temperature: Temperature,
    humidity: RelativeHumidity,
    pressure: Stress,
    over: Saturation,
) -> HumidityRatio {
    let vapor = saturation_pressure(temperature, over) * humidity.value().clamp(0.0, 1.0);
    let dry = (pressure - vapor).max(Stress::mpa(1e-9));
    HumidityRatio(MASS_RATIO * (vapor / dry))
}

/// How damp air with this much water is at a temperature: what heating or cooling a room's air does. At most saturated.
pub fn relative_humidity(
    water: HumidityRatio,
    temperature: Temperature,
    pressure: Stress,
    over: Saturation,
) -> RelativeHumidity {
    let vapor = pressure * (water.0 / (MASS_RATIO + water.0));
    RelativeHumidity::fraction((vapor / saturation_pressure(temperature, over)).clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::super::emc;
    use super::*;

    struct Case {
        row: &'static str,
        outdoor: (f64, f64),
        indoor: f64,
        grams: f64,
        humidity: f64,
        moisture: f64,
    }

    /// Rows PS-01 … PS-08: the `PsychroLib` implementation of the ASHRAE formulas, 101 325 Pa.
    #[test]
    fn outdoor_air_heated() {
        let cases = [
            Case {
                row: "PS-01",
                outdoor: (-10.0, 80.0),
                indoor: 21.0,
                grams: 1.2789,
                humidity: 8.358,
                moisture: 2.11,
            },
            Case {
                row: "PS-03",
                outdoor: (5.0, 80.0),
                indoor: 21.0,
                grams: 4.3141,
                humidity: 28.058,
                moisture: 5.86,
            },
            Case {
                row: "PS-04",
                outdoor: (-20.0, 70.0),
                indoor: 22.0,
                grams: 0.4440,
                humidity: 2.733,
                moisture: 0.72,
            },
            Case {
                row: "PS-05",
                outdoor: (10.0, 75.0),
                indoor: 21.0,
                grams: 5.7050,
                humidity: 37.022,
                moisture: 7.25,
            },
            Case {
                row: "PS-07",
                outdoor: (30.0, 60.0),
                indoor: 24.0,
                grams: 16.0409,
                humidity: 85.344,
                moisture: 17.96,
            },
            Case {
                row: "PS-08",
                outdoor: (2.0, 70.0),
                indoor: 19.0,
                grams: 3.0481,
                humidity: 22.485,
                moisture: 4.96,
            },
        ];
        for c in cases {
            let over = Saturation::OverIceBelowFreezing;
            let (t, rh) = (Temperature::celsius(c.outdoor.0), RelativeHumidity::percent(c.outdoor.1));
            let w = humidity_ratio(t, rh, STANDARD_PRESSURE, over);
            assert!((w.to_grams_per_kg() - c.grams).abs() < 0.001, "{}", c.row);
            let room = Temperature::celsius(c.indoor);
            let inside = relative_humidity(w, room, STANDARD_PRESSURE, over);
            assert!((inside.to_percent() - c.humidity).abs() < 0.01, "{}: {inside:?}", c.row);
            assert!((emc(room, inside).to_percent() - c.moisture).abs() < 0.01, "{}", c.row);
        }
    }

    /// Row PS-09: the Magnus form on both sides reads about a tenth higher than ice.
    #[test]
    fn over_water_throughout() {
        let over = Saturation::Magnus;
        let (t, rh) = (Temperature::celsius(-10.0), RelativeHumidity::percent(80.0));
        let w = humidity_ratio(t, rh, STANDARD_PRESSURE, over);
        let inside = relative_humidity(w, Temperature::celsius(21.0), STANDARD_PRESSURE, over);
        assert!((inside.to_percent() - 9.256).abs() < 0.001, "{inside:?}");
    }

    /// Row PS-10: `PsychroLib`.
    #[test]
    fn saturation() {
        for (c, want) in [(-10.0, 259.90), (0.0, 611.15), (21.0, 2487.67)] {
            let got =
                saturation_pressure(Temperature::celsius(c), Saturation::OverIceBelowFreezing).value() * 1e6;
            assert!((got - want).abs() < 0.05, "{c}: {got}");
        }
    }

    /// The conventions meet: ASHRAE over water and Magnus differ by less than 0.5 percent between 0 and 40 °C
    /// (both are fits to the same vapor pressure).
    #[test]
    fn conventions_meet_above_freezing() {
        for c in [0.5, 10.0, 20.0, 30.0, 40.0] {
            let t = Temperature::celsius(c);
            let ratio = saturation_pressure(t, Saturation::Magnus)
                / saturation_pressure(t, Saturation::OverWaterBelowFreezing);
            assert!((ratio - 1.0).abs() < 5e-3, "{c}: {ratio}");
        }
    }
}
