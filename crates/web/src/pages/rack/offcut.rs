//! Texts of boards that come of others: an offcut, and what is left of several alike.

use super::super::cutting::outcome::Spot;
use super::acts::renamed;
use super::form::Form;
use crate::edit;
use crate::error::PageError;
use keepwright_model::design::{RackBoard, RackPrice};
use keepwright_model::job::Shop;

/// Faults narrower than this in an offcut are what the saw left of them.
const SLIVER: f64 = 0.5;

/// An offcut's text: its board's wood, thickness, moisture, rings and price by the area, and the faults and checked
/// ends that reach into it.
///
/// # Errors
/// When the text cannot be written.
pub(crate) fn offcut_text(
    board: &str,
    stated: &RackBoard,
    spot: Spot,
    name: &str,
    shop: &Shop,
) -> Result<String, PageError> {
    let mut form = Form::of_text(board);
    let area = stated.length.to_mm() * stated.width.to_mm();
    let share = spot.length * spot.width / area.max(1.0);
    let from_right = stated.length.to_mm() - spot.x - spot.length;
    let left = stated.end_check_left.to_mm() - spot.x;
    let right = stated.end_check_right.to_mm() - from_right;
    let check = |mm: f64| if mm > SLIVER { measure(mm.min(spot.length)) } else { String::new() };
    // Measures of a file in inches are read in inches; the price by the board foot goes by the area of itself.
    let price = match stated.price {
        Some(RackPrice::PerBoard(whole)) => {
            format!("{:.2}", whole.times(share).to_major(shop.bench.currency))
        }
        _ => String::new(),
    };
    let thickness = stated.thickness.map_or_else(String::new, |t| measure(t.to_mm()));
    for (key, value) in [
        ("name", name.to_owned()),
        ("length", measure(spot.length)),
        ("width", measure(spot.width)),
        ("thickness", thickness),
        ("count", String::new()),
        ("price", price),
        ("end_check_left", check(left)),
        ("end_check_right", check(right)),
    ] {
        form.put(key, value);
    }
    form.keep_faults(|number| {
        let fault = stated.defects.get(number)?;
        let clipped = |at: f64, long: f64, from: f64, room: f64| {
            let (start, end) = ((at - from).max(0.0), (at + long - from).min(room));
            (end - start > SLIVER).then_some((start, end - start))
        };
        let (x, length) = clipped(fault.x.to_mm(), fault.length.to_mm(), spot.x, spot.length)?;
        let (y, width) = clipped(fault.y.to_mm(), fault.width.to_mm(), spot.y, spot.width)?;
        Some([measure(x), measure(y), measure(length), measure(width)])
    });
    form.new_text("mm")
        .map_err(|e| PageError::refused(e.to_string(), "mend the text of the board that it comes from"))
}

/// Millimeters to a tenth, as a maker would write them.
fn measure(mm: f64) -> String {
    format!("{:.1} mm", mm.max(0.0))
}

/// A text of boards alike under a name, with another count.
///
/// # Errors
/// When the text cannot be written.
pub(crate) fn with_count(text: &str, name: &str, count: u32) -> Result<String, PageError> {
    edit::set(&renamed(text, name)?, "board.1.count", Some(&count.to_string()))
        .map_err(|e| PageError::refused(e.to_string(), "mend the board's text on its page"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_model::design::{Defaults, read_rack, read_shop};
    use keepwright_model::units::{Currency, Length};
    use keepwright_model::wood;

    const BOARD: &str = "keepwright = 1\nunits = \"in\"\n\n[[board]]\nname = \"C1\"\nwood = \"cherry\"\nquarters = \"4/4\"\n\
        length = \"1000 mm\"\nwidth = \"150 mm\"\nprice = 30\ncount = 2\nend_check_right = \"50 mm\"\n\n[[board.defect]]\n\
        x = \"650 mm\"\ny = \"90 mm\"\nlength = \"100 mm\"\nwidth = \"20 mm\"\nkind = \"knot\"\n\n[[board.defect]]\n\
        x = \"10 mm\"\ny = 0\nlength = 1\nwidth = 1\n";

    /// By hand: 300 × 50 mm of 1000 × 150 is a tenth of the area and of the price; the knot from 650 to 750 begins at
    /// 700 there; what is left of its 90 … 110 mm above 100 is 10.
    #[test]
    fn an_offcut_has_what_reaches_into_it() {
        let read = |text: &str| {
            read_rack(text, &Defaults::default(), Currency::USD, &wood::named).unwrap().boards.remove(0)
        };
        let file = read_shop(crate::demo::SHOP, &Defaults::default()).unwrap();
        let shop = Shop::from_file(&file).unwrap();
        let spot = Spot { x: 700.0, y: 100.0, length: 300.0, width: 50.0 };
        let text = offcut_text(BOARD, &read(BOARD), spot, "C1 offcut 1", &shop).unwrap();
        let offcut = read(&text);
        assert_eq!((offcut.name.as_str(), offcut.count), ("C1 offcut 1", 1), "{text}");
        assert!(offcut.length.same(Length::mm(300.0)) && offcut.width.same(Length::mm(50.0)));
        assert_eq!(offcut.quarters, Some(4));
        let Some(RackPrice::PerBoard(price)) = offcut.price else { panic!("{text}") };
        assert_eq!(price.to_minor(), 300);
        assert!(offcut.end_check_right.same(Length::mm(50.0)) && offcut.end_check_left.same(Length::ZERO));
        let [knot] = offcut.defects.as_slice() else { panic!("{text}") };
        let got = [knot.x, knot.y, knot.length, knot.width].map(Length::to_mm);
        assert_eq!(got, [0.0, 0.0, 50.0, 10.0]);
    }
}
