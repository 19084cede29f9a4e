//! From the maker's rack and shop files to boards and a [`Shop`].

use super::shop::{HardwarePrice, Shop};
use crate::boards::{Board, Defect, Faces, Price, Quarters, Surface};
use crate::design::{
    DefectFace, OverheadPart, RackBoard, RackFile, RackPrice, RackSurface, ShopFile, TiltSide, ToothForm,
};
use crate::fit::Spread;
use crate::saw::{Side, Teeth};
use crate::seasons::{Heated, Home, IndoorAir, SiteError, site};
use crate::shop::{Overhead, Settings, Share, TimeOverride};
use crate::units::{Angle, Length, Minutes, Money, RelativeHumidity, Temperature};

/// Rough lumber up to 1 3/4 in may come this much scant.
///
/// # Source
/// NHLA rules by a column of its chief inspector (2012), as for [`crate::boards::FOUR_QUARTER_DRY_ROUGH`].
const SCANT: Length = Length::inches(1.0 / 16.0);
/// A room that nothing cools: warmer than the mean of any month outdoors, so that it never limits.
const NOT_COOLED: Temperature = Temperature::celsius(45.0);

/// The boards of a rack file. A board without a price costs nothing; [`unpriced`] names them.
pub fn rack_from(file: &RackFile) -> Vec<Board> {
    file.boards.iter().map(board).collect()
}

/// Names of the boards without a price.
pub fn unpriced(file: &RackFile) -> Vec<&str> {
    file.boards.iter().filter(|b| b.price.is_none()).map(|b| b.name.as_str()).collect()
}

fn board(b: &RackBoard) -> Board {
    let quarters = b.quarters.and_then(|q| u8::try_from(q * 2).ok()).map(Quarters::eighths);
    let surface = match b.surface {
        RackSurface::Rough => Surface::Rough,
        RackSurface::Surfaced => Surface::Surfaced,
    };
    Board {
        name: b.name.clone(),
        wood: b.wood.clone(),
        length: b.length,
        width: b.width,
        surface,
        // The reader takes no board that states neither.
        thickness: b.thickness.or_else(|| quarters.map(|q| as_sold(q, surface))).unwrap_or(Length::ZERO),
        quarters,
        moisture: b.moisture,
        ring: b.rings.angle(),
        defects: b
            .defects
            .iter()
            .map(|d| Defect {
                x: d.x,
                y: d.y,
                length: d.length,
                width: d.width,
                faces: match d.face {
                    DefectFace::Both => Faces::Both,
                    DefectFace::Front => Faces::Front,
                    DefectFace::Back => Faces::Back,
                },
            })
            .collect(),
        end_check_left: b.end_check_left,
        end_check_right: b.end_check_right,
        price: match b.price {
            Some(RackPrice::PerBoardFoot(money)) => Price::PerBoardFoot(money),
            Some(RackPrice::PerBoard(money)) => Price::PerBoard(money),
            None => Price::PerBoard(Money::ZERO),
        },
        count: b.count,
    }
}

/// The thickness to count on of a board that was not measured: the careful reading of what was sold.
fn as_sold(quarters: Quarters, surface: Surface) -> Length {
    match (surface, quarters.surfaced()) {
        (Surface::Surfaced, Some(row)) => row.surfaced,
        _ if quarters.nominal() <= Length::inches(1.75) => quarters.nominal() - SCANT,
        _ => quarters.nominal(),
    }
}

impl Shop {
    /// The shop that a file states; what it leaves to the program is [`Shop::small_shop`]'s.
    ///
    /// # Errors
    /// [`SiteError`] if the home's place (`home.site`) is not in the list of climates.
    pub fn from_file(file: &ShopFile) -> Result<Self, SiteError> {
        let mut shop = Self::small_shop();
        shop.name.clone_from(&file.shop.name);
        shop.unit = file.shop.length_unit;
        shop.fineness = file.shop.fineness;
        machines(&mut shop, file);
        shop.end_trim = file.allowances.trim;
        shop.sanding = file.allowances.sanding;
        // The file's allowance is for flattening and planing both faces of rough stock.
        shop.stock.milling.rough_face = file.allowances.milling / 2.0;
        shop.hardware = file
            .hardware
            .iter()
            .map(|(name, each)| HardwarePrice { name: name.clone(), each: *each })
            .collect();
        shop.moisture = file.wood.moisture;
        shop.home = home(file)?;
        settings(&mut shop.bench, file);
        shop.consumables = file.money.consumables.unwrap_or(Money::ZERO);
        Ok(shop)
    }
}

fn machines(shop: &mut Shop, file: &ShopFile) {
    let saw = &mut shop.saw;
    saw.table_saw.kerf = file.saw.kerf;
    saw.table_saw.teeth = match file.saw.teeth {
        ToothForm::FlatTop => Teeth::FlatTop,
        ToothForm::AlternateTopBevel(bevel) => Teeth::AlternateBevel(bevel),
    };
    saw.table_saw.tilts = match file.saw.tilts {
        TiltSide::Left => Side::Left,
        TiltSide::Right => Side::Right,
    };
    saw.table_saw.max_height = file.saw.largest_height;
    saw.table_saw.max_tilt = file.saw.largest_tilt;
    saw.cradle.floor = file.saw.cradle_floor;
    saw.short = file.saw.short_part;
    saw.very_short = file.saw.very_short_part;
    saw.band_saw.kerf = file.bandsaw.kerf;
    saw.band_saw.max_height = file.bandsaw.largest_height;
    saw.planer_shortest = file.planer.shortest;
    saw.router_bits.clone_from(&file.router.bits);
    shop.stock.kerf = file.saw.kerf;
    shop.stock.milling.resaw_kerf = file.bandsaw.kerf;
    shop.stock.milling.sawn_face = file.bandsaw.clean_up;
    let turned = |m: crate::design::Measured<Angle>| Spread { bias: m.bias, spread: m.spread };
    shop.errors.bevel = turned(file.saw.bevel_error);
    shop.errors.gauge = turned(file.saw.square_error);
    // Two walls cut to one stop share its bias; the spreads of two independent cuts add as a root of squares.
    shop.errors.length_pair =
        Spread { bias: Length::ZERO, spread: file.saw.length_error.spread * core::f64::consts::SQRT_2 };
}

/// Money, glue, hours and edited times.
fn settings(set: &mut Settings, file: &ShopFile) {
    set.currency = file.shop.currency;
    if let Some(rate) = file.shop.hourly_rate {
        set.rate = rate;
    }
    set.overhead = match file.money.overhead {
        OverheadPart::PerHour(money) => Overhead::PerHour(money),
        OverheadPart::Share(share) => Overhead::OfLabor(Share::fraction(share)),
    };
    set.waste = Share::fraction(file.money.waste);
    set.channel = Share::fraction(file.money.channel_cut);
    set.gluing.glue.name.clone_from(&file.glue.name);
    set.gluing.glue.open = file.glue.open;
    set.gluing.glue.clamp = file.glue.clamp;
    set.gluing.glue.cure = file.glue.cure;
    set.gluing.tension = file.clamps.band_tension;
    set.week.days = file.week.workdays;
    set.week.hours = Minutes::hours(file.week.hours_per_day);
    set.rest_days = file.week.rest_days;
    set.times = file
        .times
        .iter()
        .map(|(operation, each)| TimeOverride {
            operation: operation.clone(),
            setup: None,
            each: Some(*each),
        })
        .collect();
}

/// The home that the file states: months, place, ends of the year, or the small shop's own.
fn home(file: &ShopFile) -> Result<Home, SiteError> {
    let h = &file.home;
    if let Some((humidity, temperature)) = h.monthly {
        let name = if h.site.is_empty() { "the home as measured".to_owned() } else { h.site.clone() };
        return Ok(Home { name, air: IndoorAir::Stated { humidity, temperature } });
    }
    if !h.site.is_empty() {
        return Ok(Home {
            name: site(&h.site)?.full_name(),
            air: IndoorAir::Heated(Heated {
                site: site(&h.site)?,
                heating: h.winter,
                summer: h.summer.unwrap_or(NOT_COOLED),
                humidify_to: h.driest,
                dehumidify_to: h.dampest,
            }),
        });
    }
    let usual = Shop::small_shop().home;
    let IndoorAir::Range { driest, wettest, .. } = usual.air else { return Ok(usual) };
    let least = h.driest.unwrap_or(driest);
    let most = h.dampest.unwrap_or(wettest);
    // One stated end must not cross the usual other one.
    let most = if h.dampest.is_none() { most.max(least) } else { most };
    let least: RelativeHumidity = if h.driest.is_none() { least.min(most) } else { least };
    Ok(Home {
        name: usual.name,
        air: IndoorAir::Range { driest: least, wettest: most, temperature: h.winter },
    })
}

/// A heated home at a place of the list of climates, with the usual heating and nothing that cools or damps the air.
///
/// # Errors
/// [`SiteError`] if the place is not in the list, or may be several.
pub fn home_at(place: &str) -> Result<Home, SiteError> {
    let file = ShopFile {
        home: crate::design::HomePart { site: place.to_owned(), ..Default::default() },
        ..Default::default()
    };
    home(&file)
}
