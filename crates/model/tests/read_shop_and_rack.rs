//! Reading the shop file and the rack file: what is accepted, and the exact words of refusals.

use keepwright_model::design::{
    Defaults, DefectFace, DefectKind, Problem, RackPrice, RackSurface, RingCut, ShopFile, ToothForm,
    read_rack, read_shop,
};
use keepwright_model::units::{
    Angle, Currency, Fineness, Length, LengthUnit, Minutes, MoistureContent, Money, RelativeHumidity,
};

fn woods(name: &str) -> Result<String, Vec<String>> {
    match name {
        "cherry" | "ash" => Ok(name.to_owned()),
        _ => Err(Vec::new()),
    }
}

/// The only example of a reference.
fn example(reference: &str) -> &str {
    let block = reference.split("```toml\n").nth(1).unwrap_or("");
    block.split("```").next().unwrap_or("")
}

fn lines(problems: &[Problem], text: &str) -> Vec<String> {
    problems
        .iter()
        .map(|p| {
            let place = p.place(text);
            format!("{}:{}: {} / {}", place.line, place.column, p.says, p.remedy)
        })
        .collect()
}

#[test]
fn the_example_of_a_shop_reads() {
    let text = example(include_str!("../../../docs/shop-file.md"));
    let got = read_shop(text, &Defaults::default()).unwrap();
    let usual = ShopFile::default();
    assert_eq!(got.shop.hourly_rate, Some(Money::minor(4200)));
    assert_eq!(got.shop.length_unit, LengthUnit::Inch);
    assert_eq!(got.shop.fineness, Fineness::ThirtySecond);
    assert_eq!(got.saw.kerf, Length::inches(3.0 / 32.0));
    assert_eq!(got.saw.teeth, ToothForm::AlternateTopBevel(Angle::degrees(20.0)));
    assert_eq!(got.saw.length_error.bias, Length::mm(-0.05));
    assert_eq!(got.saw.bevel_error.bias, Angle::degrees(-0.05));
    assert_eq!(got.saw.square_error, usual.saw.square_error);
    assert_eq!(got.bandsaw.kerf, Length::mm(0.9));
    assert_eq!(got.planer, usual.planer);
    assert_eq!(got.glue.clamp, Minutes::minutes(720.0));
    assert_eq!(got.home.driest, Some(RelativeHumidity::percent(35.0)));
    assert_eq!(got.times.get("glue ring"), Some(&Minutes::minutes(25.0)));
    // Bare numbers are inches here.
    assert_eq!(got.allowances.milling, Length::inches(0.125));
}

#[test]
fn an_empty_shop_is_an_ordinary_small_one() {
    assert_eq!(read_shop("keepwright = 1", &Defaults::default()), Ok(ShopFile::default()));
}

#[test]
fn the_example_of_a_rack_reads() {
    let text = example(include_str!("../../../docs/rack-file.md"));
    let rack = read_rack(text, &Defaults::default(), Currency::USD, &woods).unwrap();
    let [first, second] = rack.boards.as_slice() else {
        panic!("{rack:?}");
    };
    assert_eq!(first.length, Length::inches(96.0));
    assert_eq!((first.quarters, first.thickness), (Some(4), Some(Length::inches(0.9375))));
    assert_eq!(first.moisture, Some(MoistureContent::percent(7.5)));
    assert_eq!(first.rings, RingCut::Rift);
    assert_eq!(first.price, Some(RackPrice::PerBoardFoot(Money::minor(850))));
    assert_eq!(first.end_check_left, Length::inches(2.0));
    let defect = first.defects.first().unwrap();
    assert_eq!((defect.kind, defect.face), (DefectKind::Knot, DefectFace::Front));
    assert_eq!(defect.x, Length::inches(31.0));
    assert_eq!(second.name, "B2");
    assert_eq!((second.surface, second.count), (RackSurface::Surfaced, 3));
    assert_eq!(second.price, Some(RackPrice::PerBoard(Money::minor(1400))));
}

/// The wording is this program's own; place and value are read off the text by eye.
#[test]
fn a_shop_is_refused_with_place_value_and_remedy() {
    let text = "keepwright = 1\n[shop]\ncurrency = \"usd\"\nfineness = 10\nhourly_rate = -5\n[saw]\nkerf = 0\n\
        top_bevel_degrees = 15\ntilt = \"left\"\n[glue]\nopen_minutes = nan\n[home]\ndriest_rh_pct = 60\n\
        dampest_rh_pct = 40\n[times]\nrip = \"long\"\n";
    let problems = read_shop(text, &Defaults::default()).expect_err("much is wrong");
    assert_eq!(
        lines(&problems, text),
        [
            "3:12: `currency` cannot be `usd` / write its ISO 4217 code in three capital letters, such as USD, EUR or GBP",
            "4:12: `fineness` is 10, but inches are shown in 16ths, 32nds or 64ths / write 16, 32 or 64",
            "5:15: `hourly_rate` is -5, out of bounds / write a number from 0 to 1000000 USD",
            "7:8: `kerf` is 0, but it must be more than 0 / write a length such as \"3/8 in\" or \"9.5 mm\"",
            "8:1: `top_bevel_degrees` belongs to alternate top bevel teeth, but these are flat-topped / remove \
             `top_bevel_degrees`, or set teeth = \"alternate top bevel\"",
            "9:1: there is no key `tilt` in [saw] / did you mean `tilts`? the keys here are: kerf, teeth, \
             top_bevel_degrees, tilts, largest_height, largest_tilt_degrees, cradle_floor, short_part, \
             very_short_part, bevel_error, square_error, length_error",
            "11:16: `open_minutes` is nan, which is no finite number / write a plain number",
            "14:18: the dampest air (40 %) is drier than the driest (60 %) / swap the two",
            "16:7: `rip` must be a number, not the text `long` / write a number without quotes",
        ]
    );
}

#[test]
fn a_rack_is_refused_with_place_value_and_remedy() {
    let text = "keepwright = 1\n[[board]]\nname = \"A\"\nwood = \"ash\"\nlength = 1000\nwidth = 150\n\
        quarters = \"4 quarters\"\nend_check_left = 600\nend_check_right = 500\n[[board]]\nname = \"A\"\n\
        wood = \"elfwood\"\nlength = 900\nwidth = 100\nprice = 3\nprice_per_board_foot = 4\nmoisture_pct = 300\n\
        [[board.defect]]\nx = 950\nlength = 5\nwidth = 5\nkind = \"not\"\n";
    let problems = read_rack(text, &Defaults::default(), Currency::USD, &woods).expect_err("much is wrong");
    assert_eq!(
        lines(&problems, text),
        [
            "7:12: `quarters` cannot be `4 quarters` / write them as the mill does: \"4/4\", \"5/4\", \"6/4\", \"8/4\"",
            "9:19: the end checks leave nothing of the board / check them and the board's length",
            "10:1: `thickness` is missing in [board.2] / add thickness = \"15/16 in\", or quarters = \"4/4\"",
            "11:8: two boards are called `A` / give each board a name of its own, or put boards that are alike into \
             one entry with a `count`",
            "12:8: no wood or sheet is called `elfwood` / write a wood by its trade name or its id from the list of woods",
            "16:24: `price` and `price_per_board_foot` both state what the board costs / keep `price` or \
             `price_per_board_foot` and remove the other",
            "17:16: `moisture_pct` is 300, out of bounds / write a number from 0 to 200 percent",
            "18:1: `y` is missing in [board.2.defect.1] / add y = \"10 in\"",
            "19:5: this fault begins past the end of its board / check `x` and the board's length",
            "22:8: `kind` cannot be `not` / did you mean `knot`? choose one of: knot, check, bark, stain, worm, other",
        ]
    );
}

/// Every key that the readers know has its row in the reference: the readers themselves list them.
#[test]
fn every_key_is_in_the_references() {
    let shop = "keepwright = 1\nzzzz = 0\nshop.zzzz = 0\nsaw.zzzz = 0\nbandsaw.zzzz = 0\nplaner.zzzz = 0\n\
        router.zzzz = 0\nclamps.zzzz = 0\nglue.zzzz = 0\nhome.zzzz = 0\nallowances.zzzz = 0\n\
        money.zzzz = 0\nweek.zzzz = 0\nwood.zzzz = 0\n[[hardware]]\nzzzz = 0\n";
    let rack = "keepwright = 1\n[[board]]\nzzzz = 0\n[[board.defect]]\nzzzz = 0\n";
    let problems = [
        (read_shop(shop, &Defaults::default()).err(), include_str!("../../../docs/shop-file.md")),
        (
            read_rack(rack, &Defaults::default(), Currency::USD, &woods).err(),
            include_str!("../../../docs/rack-file.md"),
        ),
    ];
    let mut keys_seen = 0;
    for (problems, reference) in problems {
        for problem in problems.into_iter().flatten() {
            let Some((_, keys)) = problem.remedy.split_once("the keys here are: ") else {
                continue;
            };
            let section: String =
                problem.key.trim_end_matches("zzzz").split_inclusive('.').filter(|s| *s != "1.").collect();
            for key in keys.split(", ").filter(|key| !section.is_empty() && *key != "defect") {
                keys_seen += 1;
                assert!(reference.contains(&format!("| `{section}{key}`")), "`{section}{key}`");
            }
        }
    }
    // Counted in the two tables by hand: 51 rows of the shop without `times`, 20 of the rack.
    assert_eq!(keys_seen, 71);
}
