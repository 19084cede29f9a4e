//! The home of a box: the air indoors through the year, and what wood settles at in it.

use super::Error;
use super::climate::Site;
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{MoistureContent, RelativeHumidity, Temperature};
use crate::wood::{Saturation, emc, relative_humidity, saturation_pressure};

/// Where a box (or the shop) lives.
#[derive(Clone, Debug, PartialEq)]
pub struct Home {
    /// What the maker calls it.
    pub name: String,
    /// Its air.
    pub air: IndoorAir,
}

/// How the air of a home is known.
#[derive(Clone, Debug, PartialEq)]
pub enum IndoorAir {
    /// Measured or guessed month by month, January to December.
    Stated {
        /// Relative humidity.
        humidity: [RelativeHumidity; 12],
        /// Temperature.
        temperature: [Temperature; 12],
    },
    /// Only the ends of the year are known.
    Range {
        /// In the driest month.
        driest: RelativeHumidity,
        /// In the wettest month.
        wettest: RelativeHumidity,
        /// All year.
        temperature: Temperature,
    },
    /// Outdoor air of a place, brought to room temperature.
    Heated(Heated),
}

/// Outdoor air brought indoors: no water is added or taken out except by a humidifier or dehumidifier.
///
/// People and kitchens add water, so without a humidifier this is the dry bound of winter; cooling takes water out, so
/// without a dehumidifier it is the damp bound of summer.
#[derive(Clone, Debug, PartialEq)]
pub struct Heated {
    /// The place.
    pub site: &'static Site,
    /// The room is never colder.
    pub heating: Temperature,
    /// The room is never warmer.
    pub summer: Temperature,
    /// A humidifier keeps the room at least so damp.
    pub humidify_to: Option<RelativeHumidity>,
    /// A dehumidifier or air conditioner keeps the room at most so damp.
    pub dehumidify_to: Option<RelativeHumidity>,
}

/// Indoor air of one month, and the moisture content that wood settles at in it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Month {
    /// Relative humidity.
    pub humidity: RelativeHumidity,
    /// Temperature.
    pub temperature: Temperature,
    /// Equilibrium moisture content.
    pub moisture: MoistureContent,
}

/// One end of the year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Season {
    /// The month in which wood is driest.
    Driest,
    /// The month in which wood is wettest.
    Wettest,
}

/// A year indoors.
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    /// The home's name.
    pub home: String,
    /// January to December.
    pub months: [Month; 12],
    /// How the air is known.
    basis: Basis,
    /// The same in words, for reasons.
    how: String,
}

/// Names of the months, January first.
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// No room is taken as damper: the moisture equation ends here and mold begins.
const DAMPEST: RelativeHumidity = RelativeHumidity::percent(95.0);

/// Dry in January, damp in July: where each month of a [`IndoorAir::Range`] stands between the ends, as a cosine.
const BETWEEN: [f64; 12] = [0.0, 0.067, 0.25, 0.5, 0.75, 0.933, 1.0, 0.933, 0.75, 0.5, 0.25, 0.067];

impl Home {
    /// The year indoors.
    ///
    /// # Errors
    /// [`Error::Humidity`], [`Error::Temperature`] for what no room has; [`Error::WrongWayRound`] where the driest is
    /// wetter than the wettest, the heating set point above the summer one, or the humidifier above the dehumidifier.
    /// # Source
    /// Heated air: constant humidity ratio, over water below freezing on both sides, at the station's pressure.
    pub fn year(&self) -> Result<Year, Error> {
        let (months, basis, how) = match &self.air {
            IndoorAir::Stated { humidity, temperature } => {
                let mut air = [(RelativeHumidity::ZERO, Temperature::ZERO); 12];
                for (a, (h, t)) in air.iter_mut().zip(humidity.iter().zip(temperature)) {
                    *a = (*h, *t);
                }
                (air, Basis::Stated, "humidity and temperature as stated by month".to_owned())
            }
            IndoorAir::Range { driest, wettest, temperature } => {
                let shown = |h: &RelativeHumidity| format!("{:.0} %", h.to_percent());
                self.in_order(
                    driest <= wettest,
                    "the driest humidity",
                    || shown(driest),
                    "the wettest",
                    || shown(wettest),
                )?;
                let air = BETWEEN.map(|x| (*driest + (*wettest - *driest) * x, *temperature));
                (air, Basis::Stated, "humidity between the stated ends of the year".to_owned())
            }
            IndoorAir::Heated(heated) => {
                let air = self.heated(heated)?;
                let how = format!("outdoor air of {} brought to room temperature", heated.site.full_name());
                (
                    air,
                    Basis::Derived(
                        "constant humidity ratio (ASHRAE formulas; over water below freezing), monthly means of a typical year",
                    ),
                    how,
                )
            }
        };
        let mut year = [Month::default(); 12];
        for (m, (humidity, temperature)) in year.iter_mut().zip(months) {
            self.check(humidity, temperature)?;
            *m = Month { humidity, temperature, moisture: emc(temperature, humidity) };
        }
        Ok(Year { home: self.name.clone(), months: year, basis, how })
    }

    fn heated(&self, heated: &Heated) -> Result<[(RelativeHumidity, Temperature); 12], Error> {
        let celsius = |t: Temperature| format!("{:.1} °C", t.value());
        self.in_order(
            heated.heating <= heated.summer,
            "the heating temperature",
            || celsius(heated.heating),
            "the summer temperature",
            || celsius(heated.summer),
        )?;
        let least = heated.humidify_to.unwrap_or(RelativeHumidity::ZERO);
        let most = heated.dehumidify_to.unwrap_or(DAMPEST);
        let percent = |h: RelativeHumidity| format!("{:.0} %", h.to_percent());
        self.in_order(
            least <= most,
            "the humidifier's limit",
            || percent(least),
            "the dehumidifier's limit",
            || percent(most),
        )?;
        self.check(most, heated.heating)?;
        self.check(most, heated.summer)?;
        Ok(heated.site.months.map(|out| {
            let room = out.temperature.max(heated.heating).min(heated.summer);
            let free = relative_humidity(out.water, room, out.pressure, Saturation::OverWaterBelowFreezing);
            (free.max(least).min(most), room)
        }))
    }

    fn check(&self, humidity: RelativeHumidity, temperature: Temperature) -> Result<(), Error> {
        let home = || self.name.clone();
        if !(humidity.value() > 0.0 && humidity.value() <= 1.0) {
            return Err(Error::Humidity { home: home(), humidity });
        }
        if !(-20.0..=60.0).contains(&temperature.value()) {
            return Err(Error::Temperature { home: home(), temperature });
        }
        Ok(())
    }

    fn in_order(
        &self,
        ordered: bool,
        low: &'static str,
        low_value: impl Fn() -> String,
        high: &'static str,
        high_value: impl Fn() -> String,
    ) -> Result<(), Error> {
        if ordered {
            return Ok(());
        }
        Err(Error::WrongWayRound {
            home: self.name.clone(),
            low,
            low_value: low_value(),
            high,
            high_value: high_value(),
        })
    }
}

impl Year {
    /// The month in which wood is driest (the first of equals).
    pub fn driest(&self) -> Month {
        self.end(Season::Driest).1
    }

    /// The month in which wood is wettest (the first of equals).
    pub fn wettest(&self) -> Month {
        self.end(Season::Wettest).1
    }

    /// An end of the year, with the month's name.
    pub fn end(&self, season: Season) -> (&'static str, Month) {
        let mut best = ("January", self.months.first().copied().unwrap_or_default());
        for (name, month) in MONTHS.into_iter().zip(self.months) {
            let further = match season {
                Season::Driest => month.moisture < best.1.moisture,
                Season::Wettest => month.moisture > best.1.moisture,
            };
            if further {
                best = (name, month);
            }
        }
        best
    }

    /// Mean of the twelve months: what to bring the wood to before it is worked.
    pub fn mean(&self) -> MoistureContent {
        self.months.iter().map(|m| m.moisture).sum::<MoistureContent>() / 12.0
    }

    /// Driest and wettest moisture content of this home and others together: of all places where a box will be.
    pub fn extremes<'a>(
        years: impl IntoIterator<Item = &'a Self>,
    ) -> Option<(MoistureContent, MoistureContent)> {
        years.into_iter().fold(None, |so_far, year| {
            let (low, high) = (year.driest().moisture, year.wettest().moisture);
            Some(
                so_far.map_or((low, high), |(l, h): (MoistureContent, MoistureContent)| {
                    (l.min(low), h.max(high))
                }),
            )
        })
    }

    /// Why the moisture content at an end of the year is what it is.
    pub fn reason(&self, key: &str, season: Season) -> Reason {
        let (name, month) = self.end(season);
        let word = match season {
            Season::Driest => "driest",
            Season::Wettest => "wettest",
        };
        Reason {
            key: key.to_owned(),
            title: format!("moisture content of wood in the {word} month ({name}) at {}", self.home),
            formula: format!(
                "equilibrium moisture content (Wood Handbook Eq. 4-5) of the room's air; {}",
                self.how
            ),
            given: vec![
                Given::new("relative humidity", Value::Percent(month.humidity.value())),
                Given::new(
                    "temperature",
                    Value::Number { value: month.temperature.value(), decimals: 1, unit: "°C" },
                ),
            ],
            result: Value::Percent(month.moisture.value()),
            basis: self.basis.clone(),
        }
    }
}

impl Month {
    /// How damp the same air is at another temperature.
    #[must_use]
    pub fn humidity_at(self, temperature: Temperature) -> RelativeHumidity {
        let over = Saturation::OverWaterBelowFreezing;
        let ratio = saturation_pressure(self.temperature, over) / saturation_pressure(temperature, over);
        (self.humidity * ratio).min(RelativeHumidity::fraction(1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::super::site;
    use super::*;

    fn house(place: &str, humidify: Option<f64>, dehumidify: Option<f64>) -> Home {
        Home {
            name: "house".into(),
            air: IndoorAir::Heated(Heated {
                site: site(place).unwrap(),
                heating: Temperature::celsius(21.0),
                summer: Temperature::celsius(25.0),
                humidify_to: humidify.map(RelativeHumidity::percent),
                dehumidify_to: dehumidify.map(RelativeHumidity::percent),
            }),
        }
    }

    /// Duluth in January by hand: 1.396 g/kg (climate table) at its 96 620-odd Pa; vapor pressure p W/(0.621945 + W),
    /// over 2487.67 Pa (`PsychroLib`, 21 °C).
    #[test]
    fn a_heated_room_in_january() {
        let year = house("Duluth", None, None).year().unwrap();
        let january = year.months[0];
        let out = site("Duluth").unwrap().months[0];
        assert!((out.water.to_grams_per_kg() - 1.396).abs() < 1e-9);
        let pascal = out.pressure.value() * 1e6;
        let want = pascal * 0.001396 / (0.621945 + 0.001396) / 2487.67;
        assert!((january.humidity.value() - want).abs() < 1e-5, "{january:?}");
        assert!((january.temperature.value() - 21.0).abs() < 1e-12);
        assert_eq!(year.end(Season::Driest).1, year.driest());
        assert!(year.driest().moisture.to_percent() < 3.0);
        assert!(year.driest().moisture < year.mean() && year.mean() < year.wettest().moisture);
    }

    /// Wood Handbook ch. 13 (row WM-27): interiors average 8 percent over most of the United States, 6 in the dry
    /// southwest, 11 on the damp south coast. A plain heated room is drier in winter and damper in summer than a lived-in
    /// one; with a humidifier at 30 and cooling at 55 percent its mean is near the book's.
    #[test]
    fn means_are_near_the_handbook() {
        for (place, want, tolerance) in
            [("Chicago", 8.0, 1.0), ("Phoenix", 6.0, 1.5), ("New Orleans", 11.0, 2.0)]
        {
            let mean = house(place, Some(30.0), Some(55.0)).year().unwrap().mean().to_percent();
            assert!((mean - want).abs() < tolerance, "{place}: {mean}");
        }
    }

    #[test]
    fn a_humidifier_lifts_the_winter_and_a_dehumidifier_lowers_the_summer() {
        let plain = house("Minneapolis", None, None).year().unwrap();
        let kept = house("Minneapolis", Some(35.0), Some(50.0)).year().unwrap();
        assert!((kept.driest().humidity.to_percent() - 35.0).abs() < 1e-9);
        assert!((kept.wettest().humidity.to_percent() - 50.0).abs() < 1e-9);
        assert!(plain.driest().moisture < kept.driest().moisture);
        assert!(plain.wettest().moisture > kept.wettest().moisture);
        let both = Year::extremes([&plain, &kept]).unwrap();
        assert_eq!(both, (plain.driest().moisture, plain.wettest().moisture));
    }

    /// Row WM-19 and the table beside it: 35 percent at 20 °C gives 6.963 percent, 65 percent gives 11.996.
    #[test]
    fn a_stated_range() {
        let home = |low, high| Home {
            name: "flat".into(),
            air: IndoorAir::Range {
                driest: RelativeHumidity::percent(low),
                wettest: RelativeHumidity::percent(high),
                temperature: Temperature::celsius(20.0),
            },
        };
        let year = home(35.0, 65.0).year().unwrap();
        assert!((year.driest().moisture.to_percent() - 6.9632).abs() < 1e-3);
        assert!((year.wettest().moisture.to_percent() - 11.9963).abs() < 1e-3);
        assert_eq!(year.end(Season::Wettest).0, "July");
        let error = home(65.0, 35.0).year().unwrap_err().to_string();
        assert!(error.contains("65 %") && error.contains("35 %"), "{error}");
        assert!(home(0.0, 35.0).year().is_err());
        assert!(home(30.0, 130.0).year().is_err());
        assert!(home(30.0, f64::NAN).year().is_err());
    }

    #[test]
    fn stated_months_are_kept() {
        let mut humidity = [RelativeHumidity::percent(45.0); 12];
        humidity[1] = RelativeHumidity::percent(25.0);
        humidity[7] = RelativeHumidity::percent(60.0);
        let air = IndoorAir::Stated { humidity, temperature: [Temperature::celsius(21.1); 12] };
        let year = Home { name: "shop".into(), air }.year().unwrap();
        assert_eq!((year.end(Season::Driest).0, year.end(Season::Wettest).0), ("February", "August"));
        assert!((year.wettest().moisture.to_percent() - 10.965).abs() < 1e-3, "WM-16");
        let reason = year.reason("home.wettest", Season::Wettest);
        assert_eq!(reason.result, Value::Percent(year.wettest().moisture.value()));
    }
}
