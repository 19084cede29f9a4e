//! Reading the shop file.

use super::page::Page;
use super::section::Section;
use super::value::Value;
use super::{Defaults, read_page, units, version};
use crate::design::problem::{Problem, quoted};
use crate::design::shop_file::{
    AllowancesPart, BandsawPart, ClampsPart, GluePart, HomePart, Measured, MoneyPart, OverheadPart,
    PlanerPart, RouterPart, SawPart, ShopFile, ShopPart, TiltSide, ToothForm, WeekPart, WoodPart,
};
use crate::units::Angle;
use crate::units::{
    Currency, Fineness, Force, Length, Minutes, MoistureContent, Money, RelativeHumidity, Temperature,
};
use std::collections::BTreeMap;
use toml::de::{DeTable, DeValue};

/// The dearest hour, in major units of any currency.
const DEAREST_HOUR: f64 = 1_000_000.0;
/// A week, the longest time that one operation or one glue takes.
const LONGEST_MINUTES: f64 = 10_080.0;
/// Angle of an alternate top bevel where none is stated: common practice.
const TOP_BEVEL_DEGREES: f64 = 15.0;

/// Reads a shop file; what it leaves out is that of an ordinary small shop ([`ShopFile::default`]).
///
/// # Errors
/// Every problem in the text, in the order in which they stand there; never an empty list.
pub fn read_shop(text: &str, settings: &Defaults) -> Result<ShopFile, Vec<Problem>> {
    read_page(text, settings.length_unit, &|_| Err(Vec::new()), shop_file)
}

fn shop_file<'p>(page: &'p Page<'p>, table: &'p DeTable<'p>) -> Option<ShopFile> {
    let root = page.root(table);
    version(&root, "keepwright")?;
    root.check_keys(&[
        "keepwright",
        "shop",
        "saw",
        "bandsaw",
        "planer",
        "router",
        "clamps",
        "glue",
        "home",
        "times",
        "allowances",
        "money",
        "week",
        "wood",
        "hardware",
    ]);
    let usual = ShopFile::default();
    // Units first: every length after it may be a bare number.
    let keys = ["name", "currency", "hourly_rate", "units", "fineness"];
    let shop = match root.section("shop", &keys) {
        None => ShopPart { length_unit: page.unit.get(), ..usual.shop },
        Some(section) => shop(&section, &usual.shop),
    };
    let currency = shop.currency;
    Some(ShopFile {
        money: money(&root, usual.money, currency),
        week: week(&root, usual.week),
        wood: wood(&root, usual.wood),
        hardware: hardware(&root, currency),
        shop,
        saw: saw(&root, usual.saw),
        bandsaw: bandsaw(&root, usual.bandsaw),
        planer: planer(&root, usual.planer),
        router: router(&root, usual.router),
        clamps: clamps(&root, usual.clamps),
        glue: glue(&root, usual.glue),
        home: home(&root, usual.home),
        times: times(&root),
        allowances: allowances(&root, usual.allowances),
    })
}

fn shop(section: &Section<'_>, usual: &ShopPart) -> ShopPart {
    units(section);
    let currency = section.value("currency").and_then(|v| currency(&v)).unwrap_or(usual.currency);
    let fineness = section.value("fineness").and_then(|v| fineness(&v)).unwrap_or(usual.fineness);
    ShopPart {
        name: section.text_or("name", 200, &usual.name),
        currency,
        hourly_rate: section
            .value("hourly_rate")
            .and_then(|v| v.number((0.0, DEAREST_HOUR), currency.code()))
            .map(|rate| Money::from_major(rate, currency)),
        length_unit: section.page.unit.get(),
        fineness,
    }
}

fn currency(value: &Value<'_>) -> Option<Currency> {
    let text = value.text(40)?;
    let known = Currency::from_code(&text);
    if known.is_none() {
        value.note(
            format!("`currency` cannot be `{}`", quoted(&text)),
            "write its ISO 4217 code in three capital letters, such as USD, EUR or GBP",
        );
    }
    known
}

fn fineness(value: &Value<'_>) -> Option<Fineness> {
    match value.count((1, 64))? {
        16 => Some(Fineness::Sixteenth),
        32 => Some(Fineness::ThirtySecond),
        64 => Some(Fineness::SixtyFourth),
        other => {
            value.note(
                format!("`fineness` is {other}, but inches are shown in 16ths, 32nds or 64ths"),
                "write 16, 32 or 64",
            );
            None
        }
    }
}

fn saw(root: &Section<'_>, usual: SawPart) -> SawPart {
    let keys = [
        "kerf",
        "teeth",
        "top_bevel_degrees",
        "tilts",
        "largest_height",
        "largest_tilt_degrees",
        "cradle_floor",
        "short_part",
        "very_short_part",
        "bevel_error",
        "square_error",
        "length_error",
    ];
    let Some(section) = root.section("saw", &keys) else {
        return usual;
    };
    let beveled = section.choice_or("teeth", &[("flat top", false), ("alternate top bevel", true)], false);
    if !beveled {
        section.no_use_for(
            &["top_bevel_degrees"],
            "alternate top bevel teeth",
            "these are flat-topped",
            "set teeth = \"alternate top bevel\"",
        );
    }
    SawPart {
        kerf: section.positive_or("kerf", usual.kerf),
        teeth: if beveled {
            let bevel = section.degrees_or("top_bevel_degrees", (1.0, 45.0), TOP_BEVEL_DEGREES);
            ToothForm::AlternateTopBevel(bevel)
        } else {
            ToothForm::FlatTop
        },
        tilts: section.choice_or(
            "tilts",
            &[("left", TiltSide::Left), ("right", TiltSide::Right)],
            usual.tilts,
        ),
        largest_height: section.positive_or("largest_height", usual.largest_height),
        largest_tilt: section.degrees_or("largest_tilt_degrees", (1.0, 60.0), 45.0),
        cradle_floor: section.positive_or("cradle_floor", usual.cradle_floor),
        short_part: section.positive_or("short_part", usual.short_part),
        very_short_part: section.positive_or("very_short_part", usual.very_short_part),
        bevel_error: angle_error(&section, "bevel_error", usual.bevel_error),
        square_error: angle_error(&section, "square_error", usual.square_error),
        length_error: length_error(&section, "length_error", usual.length_error),
    }
}

/// An error in degrees: `{ bias_degrees, spread_degrees }`.
fn angle_error(section: &Section<'_>, key: &str, usual: Measured<Angle>) -> Measured<Angle> {
    let Some(inner) = section.section(key, &["bias_degrees", "spread_degrees"]) else {
        return usual;
    };
    Measured {
        bias: inner.degrees_or("bias_degrees", (-5.0, 5.0), 0.0),
        spread: inner.degrees_or("spread_degrees", (0.0, 5.0), usual.spread.to_degrees()),
    }
}

/// An error in length: `{ bias, spread }`.
fn length_error(section: &Section<'_>, key: &str, usual: Measured<Length>) -> Measured<Length> {
    let Some(inner) = section.section(key, &["bias", "spread"]) else {
        return usual;
    };
    Measured { bias: inner.signed_or("bias", Length::ZERO), spread: inner.length_or("spread", usual.spread) }
}

fn bandsaw(root: &Section<'_>, usual: BandsawPart) -> BandsawPart {
    let Some(section) = root.section("bandsaw", &["kerf", "clean_up", "largest_height"]) else {
        return usual;
    };
    BandsawPart {
        kerf: section.positive_or("kerf", usual.kerf),
        clean_up: section.length_or("clean_up", usual.clean_up),
        largest_height: section.positive_or("largest_height", usual.largest_height),
    }
}

fn planer(root: &Section<'_>, usual: PlanerPart) -> PlanerPart {
    let Some(section) = root.section("planer", &["shortest", "thinnest"]) else {
        return usual;
    };
    PlanerPart {
        shortest: section.positive_or("shortest", usual.shortest),
        thinnest: section.positive_or("thinnest", usual.thinnest),
    }
}

fn router(root: &Section<'_>, usual: RouterPart) -> RouterPart {
    let Some(bits) = root.section("router", &["bits"]).and_then(|s| s.value("bits")) else {
        return usual;
    };
    let Some(list) = bits.list() else {
        return usual;
    };
    RouterPart { bits: list.iter().take(200).filter_map(Value::positive).collect() }
}

fn clamps(root: &Section<'_>, usual: ClampsPart) -> ClampsPart {
    let Some(section) = root.section("clamps", &["band_tension_n", "sets"]) else {
        return usual;
    };
    ClampsPart {
        band_tension: Force::newtons(section.number_or(
            "band_tension_n",
            (1.0, 50_000.0),
            "newtons",
            usual.band_tension.value(),
        )),
        sets: section.count_or("sets", (1, 1000), usual.sets),
    }
}

fn glue(root: &Section<'_>, usual: GluePart) -> GluePart {
    let keys = ["name", "open_minutes", "clamp_minutes", "cure_hours", "spread_g_m2"];
    let Some(section) = root.section("glue", &keys) else {
        return usual;
    };
    let minutes = |key, usual: Minutes| {
        Minutes::minutes(section.number_or(key, (0.1, LONGEST_MINUTES), "minutes", usual.value()))
    };
    GluePart {
        open: minutes("open_minutes", usual.open),
        clamp: minutes("clamp_minutes", usual.clamp),
        cure: Minutes::hours(section.number_or("cure_hours", (0.1, 1000.0), "hours", usual.cure.to_hours())),
        spread_g_m2: section.number_or("spread_g_m2", (1.0, 2000.0), "grams per m²", usual.spread_g_m2),
        name: section.text_or("name", 100, &usual.name),
    }
}

fn home(root: &Section<'_>, usual: HomePart) -> HomePart {
    let keys = [
        "site",
        "winter_celsius",
        "summer_celsius",
        "driest_rh_pct",
        "dampest_rh_pct",
        "monthly_rh_pct",
        "monthly_celsius",
    ];
    let Some(section) = root.section("home", &keys) else {
        return usual;
    };
    let percent = |key: &str| {
        let value = section.value(key)?.number((1.0, 99.0), "percent")?;
        Some(RelativeHumidity::percent(value))
    };
    let (driest, dampest) = (percent("driest_rh_pct"), percent("dampest_rh_pct"));
    if let (Some(dry), Some(damp)) = (driest, dampest)
        && dry > damp
    {
        section.note(
            "dampest_rh_pct",
            format!(
                "the dampest air ({} %) is drier than the driest ({} %)",
                damp.to_percent(),
                dry.to_percent()
            ),
            "swap the two",
        );
    }
    HomePart {
        site: section.text_or("site", 100, &usual.site),
        winter: Temperature::celsius(section.number_or(
            "winter_celsius",
            (0.0, 40.0),
            "degrees Celsius",
            usual.winter.value(),
        )),
        summer: section
            .value("summer_celsius")
            .and_then(|v| v.number((0.0, 45.0), "degrees Celsius"))
            .map(Temperature::celsius),
        driest,
        dampest,
        monthly: monthly(&section, usual.winter),
    }
}

/// Twelve humidities, and twelve temperatures or the winter temperature all year.
fn monthly(
    section: &Section<'_>,
    winter: Temperature,
) -> Option<([RelativeHumidity; 12], [Temperature; 12])> {
    let twelve = |key: &str, bounds: (f64, f64), unit: &str| -> Option<[f64; 12]> {
        let list = section.value(key)?.list()?;
        let numbers: Vec<f64> = list.iter().filter_map(|v| v.number(bounds, unit)).collect();
        if list.len() != 12 {
            section.note(
                key,
                format!("`{key}` has {} numbers", list.len()),
                "write twelve, January to December",
            );
        }
        numbers.try_into().ok()
    };
    let humidity = twelve("monthly_rh_pct", (1.0, 99.0), "percent")?.map(RelativeHumidity::percent);
    let temperature = twelve("monthly_celsius", (0.0, 45.0), "degrees Celsius")
        .map_or([winter; 12], |t| t.map(Temperature::celsius));
    Some((humidity, temperature))
}

/// The largest amount of money in one line, in major units of any currency.
const DEAREST: f64 = 1_000_000.0;

fn money(root: &Section<'_>, usual: MoneyPart, currency: Currency) -> MoneyPart {
    let keys = ["overhead_per_hour", "overhead_pct", "consumables", "waste_pct", "channel_cut_pct"];
    let Some(section) = root.section("money", &keys) else {
        return usual;
    };
    if section.has("overhead_per_hour") && section.has("overhead_pct") {
        section.note(
            "overhead_pct",
            "`overhead_per_hour` and `overhead_pct` both state the overhead",
            "keep one of them",
        );
    }
    let amount = |key: &str| {
        let value = section.value(key)?.number((0.0, DEAREST), currency.code())?;
        Some(Money::from_major(value, currency))
    };
    let share = |key: &str, most: f64| Some(section.value(key)?.number((0.0, most), "percent")? / 100.0);
    let overhead = match (amount("overhead_per_hour"), share("overhead_pct", 1000.0)) {
        (Some(hour), _) => OverheadPart::PerHour(hour),
        (None, Some(part)) => OverheadPart::Share(part),
        (None, None) => usual.overhead,
    };
    MoneyPart {
        overhead,
        consumables: amount("consumables"),
        waste: share("waste_pct", 500.0).unwrap_or(usual.waste),
        channel_cut: share("channel_cut_pct", 95.0).unwrap_or(usual.channel_cut),
    }
}

fn week(root: &Section<'_>, usual: WeekPart) -> WeekPart {
    let Some(section) = root.section("week", &["hours_per_day", "workdays", "rest_days"]) else {
        return usual;
    };
    let names = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"].map(|n| (n, n));
    let workdays = section.value("workdays").and_then(|v| v.list()).map(|list| {
        let days: Vec<&str> = list.iter().filter_map(|v| v.choice(&names)).collect();
        if list.is_empty() {
            section.note("workdays", "`workdays` is an empty list", "name at least one day, such as \"mon\"");
        }
        names.map(|(name, _)| days.contains(&name))
    });
    WeekPart {
        hours_per_day: section.number_or("hours_per_day", (0.25, 24.0), "hours", usual.hours_per_day),
        workdays: workdays.filter(|d| d.contains(&true)).unwrap_or(usual.workdays),
        rest_days: section.count_or("rest_days", (0, 365), usual.rest_days),
    }
}

fn wood(root: &Section<'_>, usual: WoodPart) -> WoodPart {
    let Some(section) = root.section("wood", &["moisture_pct"]) else {
        return usual;
    };
    let percent = section.number_or("moisture_pct", (1.0, 30.0), "percent", usual.moisture.to_percent());
    WoodPart { moisture: MoistureContent::percent(percent) }
}

fn hardware(root: &Section<'_>, currency: Currency) -> Vec<(String, Money)> {
    root.each("hardware", &["name", "price"])
        .iter()
        .map(|section| {
            if !section.has("name") {
                section.missing("name", "\"hinge\"");
            }
            if !section.has("price") {
                section.missing("price", "4.50");
            }
            let price = section
                .value("price")
                .and_then(|v| v.number((0.0, DEAREST), currency.code()))
                .map_or(Money::ZERO, |p| Money::from_major(p, currency));
            (section.text_or("name", 100, ""), price)
        })
        .collect()
}

/// Minutes by operation; the operations' names are judged where they are known.
fn times(root: &Section<'_>) -> BTreeMap<String, Minutes> {
    let Some(value) = root.value("times") else {
        return BTreeMap::new();
    };
    let DeValue::Table(table) = value.node.get_ref() else {
        // Says that a section is wanted.
        drop(value.section(&["miter"]));
        return BTreeMap::new();
    };
    let names: Vec<&str> = table.keys().map(|k| -> &str { k.get_ref() }).collect();
    let Some(section) = value.section(&names) else {
        return BTreeMap::new();
    };
    names
        .into_iter()
        .filter_map(|name| {
            let minutes = section.value(name)?.number((0.0, LONGEST_MINUTES), "minutes")?;
            Some((name.to_owned(), Minutes::minutes(minutes)))
        })
        .collect()
}

fn allowances(root: &Section<'_>, usual: AllowancesPart) -> AllowancesPart {
    let Some(section) = root.section("allowances", &["trim", "sanding", "milling"]) else {
        return usual;
    };
    AllowancesPart {
        trim: section.length_or("trim", usual.trim),
        sanding: section.length_or("sanding", usual.sanding),
        milling: section.length_or("milling", usual.milling),
    }
}
