//! From the maker's rack and shop files to boards and a [`Shop`].

use super::shop::{HardwarePrice, Shop};
use crate::boards::{Board, Defect, Faces, Price, Quarters, Surface};
use crate::design::{
    DefectFace, OverheadPart, RackBoard, RackFile, RackPrice, RackSurface, ShopFile, TiltSide, ToothForm,
};
use crate::fit::Spread;
use crate::reason::Basis;
use crate::saw::{Side, Teeth};
use crate::seasons::{Heated, Home, IndoorAir, SiteError, site};
use crate::shop::glue::{Glue, glues};
use crate::shop::time::{operation, operation_times};
use crate::shop::{Overhead, Settings, Share, TimeOverride};
use crate::units::{Angle, Length, Minutes, Money, RelativeHumidity, Temperature};
use crate::wood::plain;
use thiserror::Error;

/// Rough lumber up to 1 3/4 in may come this much scant.
///
/// # Source
/// NHLA rules by a column of its chief inspector (2012), as for [`crate::boards::FOUR_QUARTER_DRY_ROUGH`].
const SCANT: Length = Length::inches(1.0 / 16.0);
/// A room that nothing cools: warmer than the mean of any month outdoors, so that it never limits.
const NOT_COOLED: Temperature = Temperature::celsius(45.0);

/// Grams of wood glue on a square meter, a millimeter thick: its density.
///
/// # Source
/// White and yellow glues weigh about 1.1 kg a liter (from memory, data sheets).
const GLUE_G_M2_MM: f64 = 1100.0;

/// What a shop file states that this program does not know.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ShopError {
    /// The place of the home.
    #[error(transparent)]
    Site(#[from] SiteError),
    /// An operation of the time table.
    #[error("`{written}` is no operation of the time table; write one of: {}", known.join(", "))]
    Operation {
        /// As written.
        written: String,
        /// All that there are.
        known: Vec<String>,
    },
}

impl ShopError {
    /// The key of the shop file to point at.
    pub fn key(&self) -> String {
        match self {
            Self::Site(_) => "home.site".to_owned(),
            Self::Operation { written, .. } => format!("times.{written}"),
        }
    }
}

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
    /// [`ShopError`] if the home's place is not in the list of climates, or a time is of no known operation.
    pub fn from_file(file: &ShopFile) -> Result<Self, ShopError> {
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
        shop.bench.times = times(file)?;
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
    saw.planer_thinnest = file.planer.thinnest;
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
    set.gluing.glue = glue_of(file);
    set.gluing.tension = file.clamps.band_tension;
    set.clamp_sets = file.clamps.sets;
    set.week.days = file.week.workdays;
    set.week.hours = Minutes::hours(file.week.hours_per_day);
    set.rest_days = file.week.rest_days;
}

/// The glue: a row of the table where its name is one, with what the file states instead.
fn glue_of(file: &ShopFile) -> Glue {
    let (stated, usual) = (&file.glue, ShopFile::default().glue);
    let wanted = plain(&stated.name);
    let row = glues().iter().find(|g| plain(&g.name) == wanted || plain(&g.id) == wanted);
    let mut glue = row.cloned().unwrap_or_else(|| Glue { name: stated.name.clone(), ..Glue::usual() });
    // The file's defaults are yellow glue's: a known glue keeps its own times unless others are stated.
    let keeps = |stated: Minutes, usual: Minutes| row.is_some() && stated == usual;
    if !keeps(stated.open, usual.open) {
        glue.open = stated.open;
    }
    if !keeps(stated.clamp, usual.clamp) {
        glue.clamp = stated.clamp;
    }
    if !keeps(stated.cure, usual.cure) {
        glue.cure = stated.cure;
    }
    if (stated.spread_g_m2 - usual.spread_g_m2).abs() > 1e-9 {
        // Grams on a square meter of joint, half of it on each face.
        glue.film = Length::mm(stated.spread_g_m2 / GLUE_G_M2_MM / 2.0);
        glue.film_basis = Basis::FromMemory(
            "film from the stated spread, half on each face, at 1.1 kg a liter: data sheets",
        );
    }
    glue
}

/// The maker's own minutes for a piece, by the operation's key or its title.
fn times(file: &ShopFile) -> Result<Vec<TimeOverride>, ShopError> {
    file.times
        .iter()
        .map(|(written, each)| {
            let row = operation(written).ok_or_else(|| ShopError::Operation {
                written: written.clone(),
                known: operation_times().iter().map(|t| t.key.replace('_', " ")).collect(),
            })?;
            Ok(TimeOverride { operation: row.key.clone(), setup: None, each: Some(*each) })
        })
        .collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::boards::FOUR_QUARTER_DRY_ROUGH;

    /// 4/4 rough: NHLA's 15/16 in (row ST-13); 4/4 surfaced: 13/16 in (row ST-05); above 1 3/4 in nothing is scant.
    #[test]
    fn an_unmeasured_board_is_read_carefully() {
        for (quarters, surface, want) in [
            (Quarters::FOUR, Surface::Rough, FOUR_QUARTER_DRY_ROUGH),
            (Quarters::FOUR, Surface::Surfaced, Length::inches(13.0 / 16.0)),
            (Quarters::EIGHT, Surface::Rough, Length::inches(2.0)),
        ] {
            assert!(as_sold(quarters, surface).same(want), "{quarters} {surface:?}");
        }
    }

    #[test]
    fn the_home_is_where_the_file_says() {
        let with = |change: fn(&mut ShopFile)| {
            let mut file = ShopFile::default();
            change(&mut file);
            home(&file)
        };
        let place = with(|f| f.home.site = "Duluth".to_owned()).unwrap();
        assert!(place.name.starts_with("Duluth") && matches!(place.air, IndoorAir::Heated(_)), "{place:?}");
        assert!(with(|f| f.home.site = "Dulut".to_owned()).is_err());
        let months = with(|f| {
            f.home.site = "the cabin".to_owned();
            f.home.monthly = Some(([RelativeHumidity::percent(50.0); 12], [Temperature::celsius(20.0); 12]));
        })
        .unwrap();
        assert!(months.name == "the cabin" && matches!(months.air, IndoorAir::Stated { .. }), "{months:?}");
        // A humidifier above the usual dampest month does not turn the year upside down.
        let damp = with(|f| f.home.driest = Some(RelativeHumidity::percent(70.0))).unwrap();
        assert!(damp.year().is_ok(), "{damp:?}");
    }

    /// The glue's own times where its name is known, the maker's where they are stated.
    #[test]
    fn glue_by_name_and_by_label() {
        let mut file = ShopFile::default();
        file.glue.name = "Liquid hide glue".to_owned();
        let known = glue_of(&file);
        assert_eq!((known.id.as_str(), known.open), ("hide_liquid", Minutes::minutes(15.0)));
        file.glue.open = Minutes::minutes(10.0);
        assert_eq!(glue_of(&file).open, Minutes::minutes(10.0));
        // 220 g on a square meter at 1.1 kg a liter are 0.2 mm, 0.1 mm on each face.
        file.glue.spread_g_m2 = 220.0;
        let spread = glue_of(&file);
        assert!(spread.film.same(Length::mm(0.1)));
        // The density is known from memory only, and the reason says so.
        assert!(spread.film_basis.to_string().contains("1.1 kg a liter"), "{}", spread.film_basis);
        assert!(spread.film_basis.to_string().ends_with("(from memory)"), "{}", spread.film_basis);
        file.glue.name = "what the neighbor lent".to_owned();
        assert_eq!(glue_of(&file).name, "what the neighbor lent");
    }

    #[test]
    fn times_are_named_as_the_reference_names_them() {
        let reference = include_str!("../../../../docs/shop-file.md");
        let row = reference.lines().find(|l| l.starts_with("| `times.")).unwrap();
        let mut file = ShopFile::default();
        for key in operation_times().iter().map(|t| t.key.replace('_', " ")) {
            assert!(row.contains(&format!("`{key}`")), "`{key}` is not in the reference");
            file.times.insert(key, Minutes::minutes(1.0));
        }
        let times = times(&file).unwrap();
        assert_eq!(times.len(), operation_times().len());
        file.times.insert("glue up".to_owned(), Minutes::minutes(1.0));
        let refused = Shop::from_file(&file).unwrap_err();
        assert_eq!(refused.key(), "times.glue up");
        assert!(refused.to_string().contains("glue ring"), "{refused}");
    }

    /// Two independent errors of one spread differ by √2 of it.
    #[test]
    fn the_saw_of_the_file_is_the_saw_of_the_shop() {
        let mut file = ShopFile::default();
        file.saw.kerf = Length::mm(2.4);
        file.saw.length_error.spread = Length::mm(0.1);
        file.allowances.milling = Length::mm(4.0);
        let shop = Shop::from_file(&file).unwrap();
        assert!(shop.saw.table_saw.kerf.same(shop.stock.kerf) && shop.stock.kerf.same(Length::mm(2.4)));
        assert!(shop.errors.length_pair.spread.same(Length::mm(0.141)), "{:?}", shop.errors);
        assert!(shop.stock.milling.rough_face.same(Length::mm(2.0)));
    }
}
