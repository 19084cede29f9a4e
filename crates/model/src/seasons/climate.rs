//! Outdoor air by month at known places.

use crate::units::{Angle, Length, Stress, Temperature};
use crate::wood::{HumidityRatio, Rows, nearest_of, plain};
use std::sync::OnceLock;
use thiserror::Error;

/// Outdoor air of one month.
///
/// # Source
/// Computed from hourly typical-year files; see `data/climate/TERMS.md`. The humidity ratio is over water below
/// freezing ([`crate::wood::Saturation::OverWaterBelowFreezing`]).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Outdoor {
    /// Mean dry bulb.
    pub temperature: Temperature,
    /// Mean station pressure.
    pub pressure: Stress,
    /// Mean water in the air.
    pub water: HumidityRatio,
    /// Exceeded in all but the driest twentieth of the hours.
    pub water_low: HumidityRatio,
    /// Exceeded in the wettest twentieth of the hours.
    pub water_high: HumidityRatio,
}

/// A place with a known outdoor year.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// The key, such as `us-727450`.
    pub id: &'static str,
    /// The station's name as its file gives it.
    pub name: &'static str,
    /// State or province code.
    pub region: &'static str,
    /// Country code.
    pub country: &'static str,
    /// North positive.
    pub latitude: Angle,
    /// East positive.
    pub longitude: Angle,
    /// Above the sea.
    pub elevation: Length,
    /// `typical year`, or `one actual year`.
    pub kind: &'static str,
    /// Key of the data's source in `data/climate/TERMS.md`.
    pub source: &'static str,
    /// January to December.
    pub months: [Outdoor; 12],
}

/// Why no place is meant by a name.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SiteError {
    /// No place begins so.
    #[error("no place called `{written}` is known{}", did_you_mean(nearest))]
    Unknown {
        /// What was written.
        written: String,
        /// The nearest names.
        nearest: Vec<String>,
    },
    /// More than one does.
    #[error("`{written}` may be {}; add the state, as in `Portland, OR`, or write the id", among.join(" or "))]
    Ambiguous {
        /// What was written.
        written: String,
        /// The places that it may be: name, state and id.
        among: Vec<String>,
    },
}

fn did_you_mean(nearest: &[String]) -> String {
    if nearest.is_empty() {
        "; state the room's humidity by month instead".to_owned()
    } else {
        format!("; did you mean {}?", nearest.join(" or "))
    }
}

/// All places, sorted by id.
pub fn sites() -> &'static [Site] {
    static SITES: OnceLock<Vec<Site>> = OnceLock::new();
    SITES.get_or_init(|| {
        let months = Rows::of(include_str!("../../data/climate/monthly.csv")).map(|row| {
            let of = |column: &str| row.number(column).unwrap_or_default();
            let outdoor = Outdoor {
                temperature: Temperature::celsius(of("t_mean_c")),
                pressure: Stress::mpa(of("p_mean_pa") * 1e-6),
                water: HumidityRatio::grams_per_kg(of("w_mean_gkg")),
                water_low: HumidityRatio::grams_per_kg(of("w_p5_gkg")),
                water_high: HumidityRatio::grams_per_kg(of("w_p95_gkg")),
            };
            (row.text("site"), outdoor)
        });
        Rows::of(include_str!("../../data/climate/sites.csv")).map(|row| {
            let of = |column: &str| row.number(column).unwrap_or_default();
            let id = row.text("id");
            let mut year = [Outdoor::default(); 12];
            // Sorted by site, then month; a test proves that every site has twelve.
            let first = months.partition_point(|(site, _)| *site < id);
            for (month, (_, outdoor)) in year.iter_mut().zip(months.iter().skip(first)) {
                *month = *outdoor;
            }
            Site {
                id,
                name: row.text("name"),
                region: row.text("region"),
                country: row.text("country"),
                latitude: Angle::degrees(of("lat")),
                longitude: Angle::degrees(of("lon")),
                elevation: Length::mm(of("elev_m") * 1000.0),
                kind: row.text("kind"),
                source: row.text("source"),
                months: year,
            }
        })
    })
}

impl Site {
    /// Name and region: `Duluth International Arpt, MN`.
    pub fn full_name(&self) -> String {
        format!("{}, {}", self.name, self.region)
    }

    /// Whether the words written begin this place's name (and, after a comma, name its region).
    fn answers_to(&self, written: &str) -> bool {
        let begins = |place: &str| {
            let (name, place) = (plain(self.name), plain(place));
            !place.is_empty()
                && name.strip_prefix(&place).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        };
        match written.rsplit_once(',') {
            Some((place, region)) if plain(region) == plain(self.region) => begins(place),
            _ => begins(written),
        }
    }
}

/// A place by id, or by the first words of its name, with the state after a comma where needed: `Duluth`, `Portland, OR`.
///
/// # Errors
/// [`SiteError::Unknown`] with the nearest names; [`SiteError::Ambiguous`] with the places that it may be.
pub fn site(written: &str) -> Result<&'static Site, SiteError> {
    if let Some(exact) = sites().iter().find(|s| s.id == written.trim()) {
        return Ok(exact);
    }
    let mut found = sites().iter().filter(|s| s.answers_to(written));
    match (found.next(), found.next()) {
        (Some(only), None) => Ok(only),
        (Some(first), Some(second)) => {
            let among =
                [first, second].into_iter().chain(found).map(|s| format!("{} ({})", s.full_name(), s.id));
            Err(SiteError::Ambiguous { written: written.to_owned(), among: among.collect() })
        }
        (None, _) => {
            let nearest = nearest_of(written, sites().iter().map(|s| s.name), 3);
            Err(SiteError::Unknown { written: written.to_owned(), nearest })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::RelativeHumidity;
    use crate::wood::{STANDARD_PRESSURE, Saturation, humidity_ratio};

    #[test]
    fn every_site_has_its_own_twelve_months() {
        let rows = Rows::of(include_str!("../../data/climate/monthly.csv"))
            .map(|r| (r.text("site"), r.text("month").parse::<u8>().unwrap()));
        assert!(rows.is_sorted());
        assert_eq!(sites().len(), 130);
        assert!(sites().is_sorted_by(|a, b| a.id < b.id));
        for s in sites() {
            let months: Vec<_> = rows.iter().filter(|(id, _)| *id == s.id).map(|(_, m)| *m).collect();
            assert_eq!(months, (1..=12).collect::<Vec<_>>(), "{}", s.id);
            for m in &s.months {
                assert!((-35.0..40.0).contains(&m.temperature.value()), "{}", s.id);
                assert!(m.water_low <= m.water && m.water <= m.water_high, "{}", s.id);
                // Air holds no more than it can: the mean is below saturation at 8 K above the mean temperature.
                let warm = m.temperature + Temperature::celsius(8.0);
                let most =
                    humidity_ratio(warm, RelativeHumidity::fraction(1.0), m.pressure, Saturation::default());
                assert!(m.water < most, "{}", s.id);
                assert!((m.pressure / STANDARD_PRESSURE - 1.0).abs() < 0.25, "{}", s.id);
            }
        }
    }

    #[test]
    fn places_by_name() {
        let cases = [
            ("us-727450", "us-727450"),
            ("Duluth", "us-727450"),
            ("duluth, mn", "us-727450"),
            ("Portland, OR", "us-726980"),
            ("portland, me", "us-726060"),
            ("New York", "us-725033"),
            ("St. Louis", "us-724340"),
            ("Minneapolis", "us-726580"),
        ];
        for (written, id) in cases {
            assert_eq!(site(written).map(|s| s.id), Ok(id), "{written}");
        }
        let message = site("Portland").unwrap_err().to_string();
        assert!(message.contains("ME") && message.contains("OR"), "{message}");
        let message = site("Dulut").unwrap_err().to_string();
        assert!(message.contains("Duluth"), "{message}");
        assert!(site("").is_err() && site(",").is_err());
    }
}
