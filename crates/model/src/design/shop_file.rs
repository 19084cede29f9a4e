//! The shop as the maker states it: machines, glue, climate, prices, allowances. Later rooms take what they need.

use crate::units::Angle;
use crate::units::{
    Currency, Fineness, Force, Length, LengthUnit, Minutes, MoistureContent, Money, RelativeHumidity,
    Temperature,
};
use std::collections::BTreeMap;

/// The whole shop file; [`ShopFile::default`] is an ordinary small shop.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShopFile {
    /// Name, money and units.
    pub shop: ShopPart,
    /// The table saw.
    pub saw: SawPart,
    /// The bandsaw.
    pub bandsaw: BandsawPart,
    /// The planer.
    pub planer: PlanerPart,
    /// The router.
    pub router: RouterPart,
    /// Clamps.
    pub clamps: ClampsPart,
    /// The glue.
    pub glue: GluePart,
    /// Where the boxes will live.
    pub home: HomePart,
    /// The maker's own minutes for an operation, by the operation's name.
    pub times: BTreeMap<String, Minutes>,
    /// What is added to finished sizes.
    pub allowances: AllowancesPart,
    /// Overhead, consumables, the channel's cut.
    pub money: MoneyPart,
    /// Hours and days.
    pub week: WeekPart,
    /// The wood on the rack.
    pub wood: WoodPart,
    /// Bought things and what one costs, by a word of their name.
    pub hardware: Vec<(String, Money)>,
}

/// How overhead is reckoned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OverheadPart {
    /// For every hour at the bench.
    PerHour(Money),
    /// As a share of labor.
    Share(f64),
}

/// `[money]`: what a price needs besides wood and hours.
#[derive(Clone, Debug, PartialEq)]
pub struct MoneyPart {
    /// Rent, power, machines.
    pub overhead: OverheadPart,
    /// Glue, abrasives, finish for one box; `None` if it was not stated.
    pub consumables: Option<Money>,
    /// Share of wood that is bought and not used.
    pub waste: f64,
    /// Share of the price that a gallery or platform keeps.
    pub channel_cut: f64,
}

/// `[week]`: when the maker works.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekPart {
    /// Hours at the bench on a working day.
    pub hours_per_day: f64,
    /// Monday to Sunday.
    pub workdays: [bool; 7],
    /// Days that new wood rests in the shop before it is worked.
    pub rest_days: u32,
}

/// `[wood]`: the wood as it is today.
#[derive(Clone, Debug, PartialEq)]
pub struct WoodPart {
    /// Moisture content.
    pub moisture: MoistureContent,
}

/// `[shop]`: name, money and units.
#[derive(Clone, Debug, PartialEq)]
pub struct ShopPart {
    /// The shop's name.
    pub name: String,
    /// Its currency.
    pub currency: Currency,
    /// Price of one hour of the maker's work; `None` if it was not stated: nobody else can know it.
    pub hourly_rate: Option<Money>,
    /// The unit of numbers that name none, and of lengths shown.
    pub length_unit: LengthUnit,
    /// The smallest fraction of an inch that is shown.
    pub fineness: Fineness,
}

/// The form of a blade's teeth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum ToothForm {
    /// Flat-topped: the bottom of a slot is flat.
    #[default]
    FlatTop,
    /// Alternate top bevel of this angle: the bottom of a slot is a small V.
    AlternateTopBevel(Angle),
}

/// The side to which the top of the blade leans, seen by the maker who feeds the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TiltSide {
    /// Left.
    #[default]
    Left,
    /// Right.
    Right,
}

/// A measured error: how far off on average, and the standard deviation round that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured<Q> {
    /// Mean of actual minus wanted.
    pub bias: Q,
    /// Standard deviation.
    pub spread: Q,
}

/// `[saw]`: the table saw.
#[derive(Clone, Debug, PartialEq)]
pub struct SawPart {
    /// Kerf of its blade.
    pub kerf: Length,
    /// Form of the teeth.
    pub teeth: ToothForm,
    /// Where the blade leans.
    pub tilts: TiltSide,
    /// Largest height of the upright blade above the table.
    pub largest_height: Length,
    /// Largest tilt from upright.
    pub largest_tilt: Angle,
    /// Trough floor of the cradle that carries a glued box over the blade.
    pub cradle_floor: Length,
    /// Parts below this length get a caution.
    pub short_part: Length,
    /// Parts below this length get a grave caution.
    pub very_short_part: Length,
    /// Error of a bevel.
    pub bevel_error: Measured<Angle>,
    /// Error of a square cut.
    pub square_error: Measured<Angle>,
    /// Error of a length cut to a stop.
    pub length_error: Measured<Length>,
}

/// `[bandsaw]`.
#[derive(Clone, Debug, PartialEq)]
pub struct BandsawPart {
    /// Kerf of its blade.
    pub kerf: Length,
    /// Planed off each sawn face.
    pub clean_up: Length,
    /// Tallest stock that it resaws.
    pub largest_height: Length,
}

/// `[planer]`.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanerPart {
    /// Shortest piece that its manual allows.
    pub shortest: Length,
    /// Thinnest piece that it takes without a board under it.
    pub thinnest: Length,
}

/// `[router]`.
#[derive(Clone, Debug, PartialEq)]
pub struct RouterPart {
    /// Straight bits at hand, by diameter.
    pub bits: Vec<Length>,
}

/// `[clamps]`.
#[derive(Clone, Debug, PartialEq)]
pub struct ClampsPart {
    /// Pull of a band clamp.
    pub band_tension: Force,
    /// How many glue-ups can be in clamps at once.
    pub sets: u32,
}

/// `[glue]`.
#[derive(Clone, Debug, PartialEq)]
pub struct GluePart {
    /// What it is.
    pub name: String,
    /// From spreading to closing the joint.
    pub open: Minutes,
    /// In clamps.
    pub clamp: Minutes,
    /// Until it may be worked hard.
    pub cure: Minutes,
    /// Grams on a square meter of joint.
    pub spread_g_m2: f64,
}

/// `[home]`: the climate where the boxes will live.
#[derive(Clone, Debug, PartialEq)]
pub struct HomePart {
    /// The place, by its name in the list of climates; empty if it was not stated.
    pub site: String,
    /// Heated to this at least.
    pub winter: Temperature,
    /// Cooled to this at most; `None` where nothing cools.
    pub summer: Option<Temperature>,
    /// A humidifier keeps the air at least this damp, if there is one.
    pub driest: Option<RelativeHumidity>,
    /// A dehumidifier keeps the air at most this damp, if there is one.
    pub dampest: Option<RelativeHumidity>,
    /// Measured indoors month by month, January first: relative humidity and temperature.
    pub monthly: Option<([RelativeHumidity; 12], [Temperature; 12])>,
}

/// `[allowances]`: what is added to finished sizes.
#[derive(Clone, Debug, PartialEq)]
pub struct AllowancesPart {
    /// Trimmed off each end of a strip.
    pub trim: Length,
    /// Sanded off each face.
    pub sanding: Length,
    /// Jointed and planed off in thickness, both faces together.
    pub milling: Length,
}

impl Default for ShopPart {
    fn default() -> Self {
        Self {
            name: "Shop".to_owned(),
            currency: Currency::USD,
            hourly_rate: None,
            length_unit: LengthUnit::Millimeter,
            fineness: Fineness::SixtyFourth,
        }
    }
}

impl Default for SawPart {
    /// # Source
    /// Kerf 2.4 to 3.2 mm, height, tilt, errors: common practice. Short parts: 300 mm from the Health and
    /// Safety Executive's push-stick rule for circular saw benches (WIS16), 150 mm from magazine safety articles.
    fn default() -> Self {
        Self {
            kerf: Length::inches(0.125),
            teeth: ToothForm::FlatTop,
            tilts: TiltSide::Left,
            largest_height: Length::mm(79.0),
            largest_tilt: Angle::degrees(45.0),
            cradle_floor: Length::mm(12.0),
            short_part: Length::mm(300.0),
            very_short_part: Length::mm(150.0),
            bevel_error: Measured { bias: Angle::ZERO, spread: Angle::degrees(0.1) },
            square_error: Measured { bias: Angle::ZERO, spread: Angle::degrees(0.1) },
            length_error: Measured { bias: Length::ZERO, spread: Length::mm(0.1) },
        }
    }
}

impl Default for BandsawPart {
    /// # Source
    /// Kerf 0.8 to 1.5 mm: common practice.
    fn default() -> Self {
        Self { kerf: Length::mm(1.0), clean_up: Length::mm(0.8), largest_height: Length::mm(250.0) }
    }
}

impl Default for PlanerPart {
    /// # Source
    /// 300 mm is the usual figure of planers' manuals; 3 mm: common practice.
    fn default() -> Self {
        Self { shortest: Length::mm(300.0), thinnest: Length::mm(5.0) }
    }
}

impl Default for RouterPart {
    /// # Source
    /// Common practice.
    fn default() -> Self {
        Self { bits: vec![Length::inches(0.125), Length::inches(0.25), Length::inches(0.5)] }
    }
}

impl Default for ClampsPart {
    /// # Source
    /// A hand-tightened band pulls about 500 N: common practice.
    fn default() -> Self {
        Self { band_tension: Force::newtons(500.0), sets: 2 }
    }
}

impl Default for GluePart {
    /// # Source
    /// Times as the labels of white and yellow glues give them (the label of the glue at hand rules); spread
    /// 40 lb on 1000 square feet, which is 195 g/m²: common practice.
    fn default() -> Self {
        Self {
            name: "yellow glue".to_owned(),
            open: Minutes::minutes(5.0),
            clamp: Minutes::minutes(60.0),
            cure: Minutes::hours(24.0),
            spread_g_m2: 195.0,
        }
    }
}

impl Default for HomePart {
    /// # Source
    /// Living rooms heated to about 20 °C: common practice.
    fn default() -> Self {
        Self {
            site: String::new(),
            winter: Temperature::celsius(20.0),
            summer: None,
            driest: None,
            dampest: None,
            monthly: None,
        }
    }
}

impl Default for AllowancesPart {
    /// # Source
    /// Common practice: leave 1.5 to 3 mm in thickness for milling.
    fn default() -> Self {
        Self { trim: Length::mm(12.0), sanding: Length::mm(0.3), milling: Length::mm(3.0) }
    }
}

impl Default for MoneyPart {
    /// # Source
    /// Overhead and waste: common practice, 20 to 40 percent of wood for boxes; measure your own.
    fn default() -> Self {
        Self { overhead: OverheadPart::Share(0.25), consumables: None, waste: 0.0, channel_cut: 0.0 }
    }
}

impl Default for WeekPart {
    /// # Source
    /// Five days of six hours at the bench, a week's rest for new wood: common practice.
    fn default() -> Self {
        Self { hours_per_day: 6.0, workdays: [true, true, true, true, true, false, false], rest_days: 7 }
    }
}

impl Default for WoodPart {
    /// # Source
    /// 6 to 8 percent for furniture (Wood Handbook FPL-GTR-190, ch. 13).
    fn default() -> Self {
        Self { moisture: MoistureContent::percent(8.0) }
    }
}
