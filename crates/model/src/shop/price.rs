//! The price of a box: wood, hardware, consumables, hands, overhead, and what the channel keeps.

use super::say::reason;
use super::settings::{Overhead, Settings};
use super::time::Timing;
use crate::reason::{Basis, Reason, Value};
use crate::units::{Minutes, Money};

/// The wood of one box in money.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WoodCost {
    /// Of the parts alone: waste is added.
    Net(Money),
    /// Of the boards that the cutting plan takes: waste is in it.
    Bought(Money),
}

/// What one box costs besides hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Costs {
    /// Wood and sheet goods.
    pub wood: WoodCost,
    /// Hinges, locks, stays.
    pub hardware: Money,
    /// Glue, abrasives, finish, cloth, packing.
    pub consumables: Money,
}

/// Why there is no price.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum PriceError {
    /// The channel keeps everything.
    #[error("the channel keeps {percent:.0} percent: at 100 or more no price pays for the box")]
    ChannelKeepsAll {
        /// What it keeps.
        percent: f64,
    },
}

/// One line of the price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PriceLine {
    /// In words.
    pub title: String,
    /// The amount.
    pub amount: Money,
}

/// The price of one box.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// The lines that make the cost, and the channel's cut last.
    pub lines: Vec<PriceLine>,
    /// All lines but the channel's.
    pub cost: Money,
    /// What the buyer pays.
    pub price: Money,
    /// How each line came about.
    pub reasons: Vec<Reason>,
}

/// Prices one box: (wood × (1 + waste) + hours × rate + hardware + consumables + overhead) / (1 − channel).
///
/// # Errors
/// [`PriceError::ChannelKeepsAll`] where the channel keeps all or more.
pub fn price(costs: &Costs, per_box: Minutes, settings: &Settings) -> Result<Price, PriceError> {
    let keeps = settings.channel.value();
    if !(0.0..1.0).contains(&keeps) {
        return Err(PriceError::ChannelKeepsAll { percent: settings.channel.to_percent() });
    }
    let mut sheet = Sheet::default();
    wood(&mut sheet, costs.wood, settings);
    let labor = settings.rate.times(per_box.to_hours());
    sheet.line(
        "labor",
        labor,
        reason(
            "price.labor",
            "labor",
            "hands-on hours for one box × price of an hour",
            [("hands-on", Value::Minutes(per_box)), ("price of an hour", Value::Money(settings.rate))],
            (Value::Money(labor), Basis::Stated),
        ),
    );
    for (key, title, amount) in [
        ("hardware", "hardware", costs.hardware),
        ("consumables", "glue, abrasives, finish", costs.consumables),
    ] {
        let why =
            reason(format!("price.{key}"), title, "as bought", [], (Value::Money(amount), Basis::Stated));
        sheet.line(title, amount, why);
    }
    overhead(&mut sheet, labor, per_box, settings.overhead);
    let cost: Money = sheet.lines.iter().map(|l| l.amount).sum();
    let price = cost.times(1.0 / (1.0 - keeps));
    sheet.lines.push(PriceLine { title: "what the channel keeps".into(), amount: price - cost });
    sheet.reasons.push(reason(
        "price",
        "price of one box",
        "(wood × (1 + waste) + hours × rate + hardware + consumables + overhead) / (1 − channel's share)",
        [("cost", Value::Money(cost)), ("channel keeps", Value::Percent(keeps))],
        (Value::Money(price), Basis::CommonPractice),
    ));
    Ok(Price { lines: sheet.lines, cost, price, reasons: sheet.reasons })
}

/// The price of one box in a batch whose time sheet is given.
///
/// # Errors
/// As [`price`].
pub fn price_in_batch(costs: &Costs, timing: &Timing, settings: &Settings) -> Result<Price, PriceError> {
    price(costs, timing.per_box, settings)
}

#[derive(Default)]
struct Sheet {
    lines: Vec<PriceLine>,
    reasons: Vec<Reason>,
}

impl Sheet {
    fn line(&mut self, title: &str, amount: Money, why: Reason) {
        self.lines.push(PriceLine { title: title.into(), amount });
        self.reasons.push(why);
    }
}

fn wood(sheet: &mut Sheet, wood: WoodCost, settings: &Settings) {
    let (amount, why) = match wood {
        WoodCost::Net(net) => {
            let amount = net.times(1.0 + settings.waste.value());
            let why = reason(
                "price.wood",
                "wood",
                "wood in the parts × (1 + waste)",
                [("wood in the parts", Value::Money(net)), ("waste", Value::Percent(settings.waste.value()))],
                (Value::Money(amount), Basis::CommonPractice),
            );
            (amount, why)
        }
        WoodCost::Bought(amount) => (
            amount,
            reason(
                "price.wood",
                "wood",
                "the boards that the cutting plan takes, offcuts paid for",
                [],
                (Value::Money(amount), Basis::Derived("the cutting plan and the rack's prices")),
            ),
        ),
    };
    sheet.line("wood", amount, why);
}

fn overhead(sheet: &mut Sheet, labor: Money, per_box: Minutes, overhead: Overhead) {
    let (amount, formula, given) = match overhead {
        Overhead::PerBox(m) => (m, "as stated for one box", [("for one box", Value::Money(m))]),
        Overhead::PerHour(m) => {
            (m.times(per_box.to_hours()), "hours × overhead of an hour", [("of an hour", Value::Money(m))])
        }
        Overhead::OfLabor(share) => (
            labor.times(share.value()),
            "labor × share",
            [("share of the labor", Value::Percent(share.value()))],
        ),
    };
    let why = reason("price.overhead", "overhead", formula, given, (Value::Money(amount), Basis::Stated));
    sheet.line("overhead", amount, why);
}

#[cfg(test)]
mod tests {
    use super::super::Share;
    use super::*;
    use proptest::prelude::*;

    fn dollars(v: i64) -> Money {
        Money::minor(v * 100)
    }

    fn settings(channel: f64) -> Settings {
        Settings {
            rate: dollars(30),
            overhead: Overhead::PerBox(dollars(10)),
            waste: Share::percent(35.0),
            channel: Share::percent(channel),
            ..Settings::usual()
        }
    }

    fn costs() -> Costs {
        Costs { wood: WoodCost::Net(dollars(18)), hardware: dollars(12), consumables: Money::ZERO }
    }

    /// Rows SH-01 and SH-02: materials 18, waste 35 %, 4.5 h at 30, hardware 12, overhead 10; the gallery keeps
    /// nothing, then half.
    #[test]
    fn with_and_without_a_gallery() {
        let hours = Minutes::hours(4.5);
        for (row, channel, want) in [("SH-01", 0.0, 18_130), ("SH-02", 50.0, 36_260)] {
            let got = price(&costs(), hours, &settings(channel)).unwrap();
            assert_eq!(got.price, Money::minor(want), "{row}");
            assert_eq!(got.cost, Money::minor(18_130), "{row}");
            assert_eq!(got.lines.iter().map(|l| l.amount).sum::<Money>(), got.price, "{row}: lines add up");
            assert_eq!(got.reasons.len(), got.lines.len(), "{row}: every line has its reason");
        }
        assert!(price(&costs(), hours, &settings(100.0)).is_err());
    }

    /// By hand: boards bought at 30 take no waste; overhead 5 an hour for 2 h is 10, a tenth of 60 labor is 6.
    #[test]
    fn kinds_of_overhead() {
        let bought = Costs { wood: WoodCost::Bought(dollars(30)), ..costs() };
        for (overhead, want) in [
            (Overhead::PerHour(dollars(5)), 30 + 60 + 12 + 10),
            (Overhead::OfLabor(Share::percent(10.0)), 30 + 60 + 12 + 6),
        ] {
            let s = Settings { overhead, ..settings(0.0) };
            assert_eq!(price(&bought, Minutes::hours(2.0), &s).unwrap().price, dollars(want));
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        /// After the channel has taken its share the maker has the cost, to the cent.
        #[test]
        fn the_maker_gets_the_cost(minutes in 1.0f64..3000.0, channel in 0.0f64..90.0) {
            let got = price(&costs(), Minutes::minutes(minutes), &settings(channel)).unwrap();
            let left = got.price.times(1.0 - channel / 100.0);
            prop_assert!((left.to_minor() - got.cost.to_minor()).abs() <= 1);
        }
    }
}
