//! The sentences that open the shop's page and its parts.

use keepwright_model::job::Shop;
use keepwright_model::seasons::Season;
use keepwright_packet::drawings::Shown;
use keepwright_packet::shown::{self, Showing, counted, moisture, percent};

/// How a shop reads its own values.
pub(crate) fn showing(shop: &Shop) -> Showing {
    Showing { shown: Shown { unit: shop.unit, fineness: shop.fineness }, currency: shop.bench.currency }
}

/// The sentence over the whole page.
pub(crate) fn whole(shop: &Shop) -> String {
    let show = showing(shop);
    format!(
        "{} saws with a kerf of {}, glues with {}, and asks {} for an hour.",
        shop.name,
        show.both(shop.saw.table_saw.kerf),
        shop.bench.gluing.glue.name,
        show.money(shop.bench.rate),
    )
}

/// The sentence that opens a group of fields; empty where the fields say all.
pub(crate) fn group(id: &str, shop: &Shop) -> String {
    match id {
        "home" => home(shop),
        "glue" => {
            let glue = &shop.bench.gluing.glue;
            format!(
                "Once spread, {} leaves {} to close a joint; it stays in clamps for {}.",
                glue.name,
                shown::minutes(glue.open),
                shown::minutes(glue.clamp),
            )
        }
        "week" => {
            let days = shop.bench.week.days.iter().filter(|works| **works).count();
            let hours = shown::hours(shop.bench.week.minutes());
            let days = counted(days, "working day", "working days");
            format!(
                "A week has {days} with {hours} at the bench; new wood rests for {}.",
                counted(usize::try_from(shop.bench.rest_days).unwrap_or(usize::MAX), "day", "days",)
            )
        }
        _ => String::new(),
    }
}

fn home(shop: &Shop) -> String {
    match shop.home.year() {
        Ok(year) => {
            let (dry, driest) = year.end(Season::Driest);
            let (wet, wettest) = year.end(Season::Wettest);
            format!(
                "In {}, wood settles at {} in {dry} (air of {} humidity) and at {} in {wet} ({}).",
                year.home,
                moisture(driest.moisture),
                percent(driest.humidity.value()),
                moisture(wettest.moisture),
                percent(wettest.humidity.value()),
            )
        }
        Err(error) => format!("The year indoors cannot be reckoned: {error}."),
    }
}
