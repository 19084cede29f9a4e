//! The shop's own numbers: rates, glue, clamps, working week.

use super::glue::Glue;
use super::say::reason;
use super::schedule::Week;
use crate::reason::{Basis, Reason, Value};
use crate::units::{Currency, Force, Length, Minutes, Money};

/// A part of a whole, stored as a fraction: 0.35 is 35 percent.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Share(f64);

impl Share {
    /// Nothing of it.
    pub const ZERO: Self = Self(0.0);
    /// All of it.
    pub const WHOLE: Self = Self(1.0);

    /// From a fraction.
    pub const fn fraction(value: f64) -> Self {
        Self(value)
    }

    /// From percent.
    pub const fn percent(value: f64) -> Self {
        Self(value / 100.0)
    }

    /// As a fraction.
    pub const fn value(self) -> f64 {
        self.0
    }

    /// In percent.
    pub const fn to_percent(self) -> f64 {
        self.0 * 100.0
    }
}

/// How the shop counts what is neither wood, hardware nor hands: rent, power, blades.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Overhead {
    /// So much on every box.
    PerBox(Money),
    /// So much for every working hour.
    PerHour(Money),
    /// A share of the labor.
    OfLabor(Share),
}

/// What a band or clamp bears on at the corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bearing {
    /// The band runs round the eased corner itself.
    Bare,
    /// Shoes at the corners, bearing on both faces.
    Shoes,
}

/// How the shop glues.
#[derive(Clone, Debug, PartialEq)]
pub struct GlueSettings {
    /// The glue with its times; start from a row of [`super::glue::glues`] and edit.
    pub glue: Glue,
    /// Time to spread one surface of a joint.
    pub per_surface: Minutes,
    /// Time to fold or close the joints and put the band on, after the last surface is spread.
    pub closing: Minutes,
    /// Glue bought beyond what the joints need: squeeze-out, brush, cup.
    pub waste: Share,
    /// Tension of the band.
    pub tension: Force,
    /// What it bears on.
    pub bearing: Bearing,
    /// Friction coefficient between band and corners.
    pub friction: f64,
    /// Most that the two diagonals may differ.
    pub diagonals: Length,
}

/// A line of the time table that the shop has edited.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeOverride {
    /// The operation's key in the time table.
    pub operation: String,
    /// Minutes to set up, if not the table's.
    pub setup: Option<Minutes>,
    /// Minutes for each piece, if not the table's.
    pub each: Option<Minutes>,
}

/// Everything the shop says about itself for gluing, time, money and the calendar.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// The currency of all money.
    pub currency: Currency,
    /// Price of a working hour.
    pub rate: Money,
    /// Rent, power, blades.
    pub overhead: Overhead,
    /// Wood bought beyond what the parts need, where the cutting plan does not say.
    pub waste: Share,
    /// What the gallery or market keeps of the price.
    pub channel: Share,
    /// Gluing.
    pub gluing: GlueSettings,
    /// How many glue-ups can be in clamps at once.
    pub clamp_sets: u32,
    /// Working days and hours.
    pub week: Week,
    /// Days that bought wood rests in the shop before milling.
    pub rest_days: u32,
    /// Lines of the time table that the shop has edited.
    pub times: Vec<TimeOverride>,
    /// Time of the 2n-th box over time of the n-th, where the shop has seen itself learn.
    pub learning: Option<Share>,
    /// Pounds of flakes per US gallon of alcohol, for shellac.
    pub shellac_cut: f64,
    /// Keys made beyond those that the batch needs.
    pub spare_keys: Share,
}

impl Settings {
    /// A start for a shop that has written nothing down.
    ///
    /// # Source
    /// Common practice throughout; the maker's own numbers replace them one by one.
    pub fn usual() -> Self {
        Self {
            currency: Currency::USD,
            rate: Money::minor(30_00),
            overhead: Overhead::PerHour(Money::minor(5_00)),
            waste: Share::percent(35.0),
            channel: Share::ZERO,
            gluing: GlueSettings {
                glue: Glue::usual(),
                per_surface: Minutes::minutes(0.25),
                closing: Minutes::minutes(1.5),
                waste: Share::percent(20.0),
                tension: Force::newtons(500.0),
                bearing: Bearing::Shoes,
                friction: 0.3,
                diagonals: Length::mm(0.5),
            },
            clamp_sets: 2,
            week: Week::usual(),
            rest_days: 14,
            times: Vec::new(),
            learning: None,
            shellac_cut: 1.5,
            spare_keys: Share::percent(10.0),
        }
    }

    /// The shop's main numbers with where each comes from: the maker's, or our start.
    pub fn reasons(&self) -> Vec<Reason> {
        let usual = Self::usual();
        let line = |key: &str, title: &str, same: bool, value: Value| {
            let basis = if same { Basis::CommonPractice } else { Basis::Stated };
            reason(format!("shop.{key}"), title, "a number of the shop file", [], (value, basis))
        };
        let (g, u) = (&self.gluing, &usual.gluing);
        vec![
            line("rate", "price of a working hour", self.rate == usual.rate, Value::Money(self.rate)),
            line(
                "waste",
                "wood bought beyond the parts",
                self.waste == usual.waste,
                Value::Percent(self.waste.value()),
            ),
            line(
                "channel",
                "what the channel keeps",
                self.channel == usual.channel,
                Value::Percent(self.channel.value()),
            ),
            line("glue", "the glue", g.glue.id == u.glue.id, Value::Text(g.glue.name.clone())),
            line(
                "glue.open",
                "open time",
                g.glue.open == u.glue.open && g.glue.id == u.glue.id,
                Value::Minutes(g.glue.open),
            ),
            line(
                "glue.surface",
                "time to spread one surface",
                g.per_surface == u.per_surface,
                Value::Minutes(g.per_surface),
            ),
            line("band.tension", "tension of the band", g.tension == u.tension, Value::Force(g.tension)),
            line(
                "clamps.sets",
                "glue-ups in clamps at once",
                self.clamp_sets == usual.clamp_sets,
                Value::Count(u64::from(self.clamp_sets)),
            ),
            line(
                "week.hours",
                "working hours in a day",
                self.week == usual.week,
                Value::Minutes(self.week.minutes()),
            ),
            line(
                "rest",
                "days that bought wood rests",
                self.rest_days == usual.rest_days,
                Value::Count(u64::from(self.rest_days)),
            ),
        ]
    }
}
