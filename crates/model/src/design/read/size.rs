//! `[size]` and `[shape]`.

use super::section::Section;
use crate::design::inside::{Contents, Item};
use crate::design::statement::{Shape, Size, SizeAt};
use crate::design::usual;
use crate::units::Length;

/// Kinds of things that one box holds at most.
const MOST_ITEMS: usize = 200;
/// Things of one kind in one direction.
const MOST_ALIKE: u32 = 1000;

/// The plan and the lean of the walls.
pub(super) fn shape(root: &Section<'_>) -> Shape {
    let Some(section) = root.section("shape", &["sides", "lean_from_vertical", "size_at"]) else {
        return Shape { sides: 4, splay: crate::units::Angle::ZERO, size_at: SizeAt::Rim };
    };
    Shape {
        sides: section.count_or("sides", (3, 12), 4),
        splay: section.degrees_or("lean_from_vertical", (-60.0, 60.0), 0.0),
        size_at: section.choice_or("size_at", &[("rim", SizeAt::Rim), ("foot", SizeAt::Foot)], SizeAt::Rim),
    }
}

/// The size, by whichever of the three ways is stated.
pub(super) fn size(root: &Section<'_>, sides: u32) -> Size {
    let none = Size::Contents(Contents { items: Vec::new(), slack: Length::ZERO, above: Length::ZERO });
    if !root.has("size") {
        root.missing("size", "{ outside = { length = \"10 in\", depth = \"6 in\", height = \"3 in\" } }");
    }
    let Some(section) = root.section("size", &["outside", "inside", "contents"]) else {
        return none;
    };
    let given: Vec<&str> =
        ["outside", "inside", "contents"].into_iter().filter(|key| section.has(key)).collect();
    if let [first, second, ..] = given.as_slice() {
        section.note(
            second,
            format!("`{first}` and `{second}` both state the size"),
            format!("keep `{first}` or `{second}` and remove the other"),
        );
    }
    let box_of = |key: &str| {
        let edges = section.section(key, &["length", "depth", "height", "across"])?;
        Some(edges_of(&edges, sides))
    };
    match given.first() {
        Some(&"outside") => {
            box_of("outside").map_or(none, |(length, depth, height)| Size::Outside { length, depth, height })
        }
        Some(&"inside") => {
            box_of("inside").map_or(none, |(length, depth, height)| Size::Inside { length, depth, height })
        }
        Some(_) => section
            .section("contents", &["item", "slack", "above"])
            .map_or(none, |c| Size::Contents(contents(&c))),
        None => {
            section.missing("outside", "{ length = \"10 in\", depth = \"6 in\", height = \"3 in\" }");
            none
        }
    }
}

/// Length, depth and height; a regular polygon has one distance across its flats.
fn edges_of(section: &Section<'_>, sides: u32) -> (Length, Length, Length) {
    let height = section.need_positive("height", "\"3 in\"");
    if section.has("across") {
        section.no_use_for(&["length", "depth"], "a rectangle", "`across` is given too", "remove `across`");
        let across = section.need_positive("across", "\"8 in\"");
        return (across, across, height);
    }
    if sides != 4 && !section.has("length") {
        section.missing("across", "\"8 in\"");
        return (height, height, height);
    }
    let length = section.need_positive("length", "\"10 in\"");
    if sides != 4 && !section.has("depth") {
        return (length, length, height);
    }
    let depth = section.need_positive("depth", "\"6 in\"");
    let unread = ["length", "depth"].iter().any(|key| section.page.is_noted(&section.join(key)));
    if sides != 4 && !unread && !length.same(depth) {
        section.note(
            "depth",
            format!("`length` and `depth` differ, but a box of {sides} sides is regular"),
            "write `across`, the distance across the flats, instead of both",
        );
    }
    (length, depth, height)
}

fn contents(section: &Section<'_>) -> Contents {
    let keys = ["name", "length", "depth", "height", "count", "along", "across", "up"];
    let items = section.each("item", &keys);
    if items.is_empty() && (!section.has("item") || section.value("item").is_some_and(|v| v.list_is_empty()))
    {
        section.missing(
            "item",
            "[ { name = \"cards\", length = \"95 mm\", depth = \"65 mm\", height = \"20 mm\" } ]",
        );
    }
    if items.len() > MOST_ITEMS {
        section.note(
            "item",
            format!("there are {} kinds of items", items.len()),
            format!("state at most {MOST_ITEMS}"),
        );
    }
    Contents {
        items: items.iter().enumerate().map(|(i, section)| item(section, i + 1)).collect(),
        slack: section.length_or("slack", usual::SLACK),
        above: section.length_or("above", usual::ABOVE),
    }
}

fn item(section: &Section<'_>, number: usize) -> Item {
    let alike = |key| section.count_or(key, (1, MOST_ALIKE), 1);
    let (mut along, across, up) = (alike("along"), alike("across"), alike("up"));
    if section.has("count") {
        let count = alike("count");
        let arranged = ["along", "across", "up"].iter().any(|key| section.has(key));
        let product = u64::from(along) * u64::from(across) * u64::from(up);
        if !arranged {
            along = count;
        } else if product != u64::from(count) {
            section.note(
                "count",
                format!("`count` is {count}, but {along} along × {across} across × {up} up is {product}"),
                "make `along`, `across` and `up` multiply to `count`, or remove `count`",
            );
        }
    }
    Item {
        name: section.text_or("name", 100, &format!("item {number}")),
        length: section.need_positive("length", "\"95 mm\""),
        depth: section.need_positive("depth", "\"65 mm\""),
        height: section.need_positive("height", "\"20 mm\""),
        along,
        across,
        up,
    }
}
