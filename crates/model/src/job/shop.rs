//! The shop as a whole: machines, rules, prices, the home the box is made for.

use super::stock::StockRules;
use crate::boards::Milling;
use crate::cutting;
use crate::fit::{SawErrors, Spread};
use crate::parts;
use crate::saw;
use crate::seasons::{Home, IndoorAir};
use crate::shop;
use crate::units::{
    Angle, Fineness, Length, LengthUnit, MoistureContent, Money, RelativeHumidity, Temperature,
};

/// A bought thing and what one costs.
#[derive(Clone, Debug, PartialEq)]
pub struct HardwarePrice {
    /// A word in its name, such as "hinge" or "screw".
    pub name: String,
    /// What one costs.
    pub each: Money,
}

/// Everything a shop brings to a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Shop {
    /// Its name.
    pub name: String,
    /// The unit that lengths are shown in.
    pub unit: LengthUnit,
    /// How fine inches are shown.
    pub fineness: Fineness,
    /// Machines.
    pub saw: saw::Settings,
    /// Rules for cutting up boards.
    pub stock: StockRules,
    /// Left at each end of a part or strip and trimmed off.
    pub end_trim: Length,
    /// Left on each long edge.
    pub edge_trim: Length,
    /// Sanded off each wide face.
    pub sanding: Length,
    /// Left for the last pass through the planer.
    pub last_pass: Length,
    /// Wood that must stay between a key slot and the inside.
    pub skin: Length,
    /// Least clearance of a floating panel on each side.
    pub clearance: Length,
    /// Glue, clamps, hours, prices.
    pub bench: shop::Settings,
    /// Glue, abrasives, finish for one box.
    pub consumables: Money,
    /// Bought things.
    pub hardware: Vec<HardwarePrice>,
    /// Where the box will live.
    pub home: Home,
    /// Moisture content of the wood today, where a board does not say.
    pub moisture: MoistureContent,
    /// What the saw is measured to do.
    pub errors: SawErrors,
    /// How long to search for a cutting plan.
    pub search: cutting::Settings,
}

impl Shop {
    /// A small shop as it commonly is; every number can be stated in the shop file. All common practice.
    pub fn small_shop() -> Self {
        let saw = saw::Settings::small_shop();
        Self {
            name: "A small shop".into(),
            unit: LengthUnit::Millimeter,
            fineness: Fineness::SixtyFourth,
            stock: StockRules {
                kerf: saw.table_saw.kerf,
                milling: Milling { resaw_kerf: saw.band_saw.kerf, ..Milling::default() },
                order: cutting::Order::Either,
                keep: cutting::KeepOffcuts { length: Length::mm(150.0), width: Length::mm(30.0) },
                jointing: Length::mm(2.0),
                buying_waste: 0.3,
                spares: 0.08,
            },
            saw,
            end_trim: Length::mm(6.0),
            edge_trim: Length::mm(1.5),
            sanding: Length::mm(0.3),
            last_pass: Length::mm(0.5),
            skin: Length::mm(1.5),
            clearance: Length::mm(0.3),
            bench: shop::Settings::usual(),
            consumables: Money::ZERO,
            hardware: Vec::new(),
            home: Home {
                name: "a heated home".into(),
                air: IndoorAir::Range {
                    driest: RelativeHumidity::percent(30.0),
                    wettest: RelativeHumidity::percent(60.0),
                    temperature: Temperature::celsius(21.0),
                },
            },
            moisture: MoistureContent::percent(8.0),
            errors: SawErrors {
                bevel: Spread { bias: Angle::ZERO, spread: Angle::degrees(0.05) },
                length_pair: Spread { bias: Length::ZERO, spread: Length::mm(0.1) },
                gauge: Spread { bias: Angle::ZERO, spread: Angle::degrees(0.05) },
            },
            search: cutting::Settings::default(),
        }
    }

    /// What the derivation of parts needs of the shop, with the swing of the home.
    pub fn part_settings<'a>(&self, swing: &'a dyn parts::Swing) -> parts::Settings<'a> {
        parts::Settings {
            kerf: self.saw.table_saw.kerf,
            resaw_kerf: self.stock.milling.resaw_kerf,
            resaw_clean_up: self.stock.milling.sawn_face,
            end_trim: self.end_trim,
            edge_trim: self.edge_trim,
            sanding: self.sanding,
            milling: self.last_pass,
            skin: self.skin,
            clearance: self.clearance,
            swing,
        }
    }
}
