//! The demo workshop: an invented shop, its rack and its boxes, for the first start and for tests.

use crate::edit;
use keepwright_store::{By, Kind, Store, Time};
use toml_edit::{ArrayOfTables, DocumentMut, Item};

/// The shop's statement.
pub const SHOP: &str = include_str!("../../../examples/shop.toml");
/// Its rack.
pub const RACK: &str = include_str!("../../../examples/rack.toml");
/// Its boxes: name of the file, statement.
pub const BOXES: [(&str, &str); 6] = [
    ("pencil-case", include_str!("../../../examples/pencil-case.toml")),
    ("ring-boxes", include_str!("../../../examples/ring-boxes.toml")),
    ("seed-bowl", include_str!("../../../examples/seed-bowl.toml")),
    ("sewing-box", include_str!("../../../examples/sewing-box.toml")),
    ("stamp-chest", include_str!("../../../examples/stamp-chest.toml")),
    ("tea-caddy", include_str!("../../../examples/tea-caddy.toml")),
];

/// Fills an empty shop folder with the demo workshop.
///
/// # Errors
/// When the store cannot be written.
pub fn fill(store: &Store, now: Time) -> Result<(), keepwright_store::Error> {
    let by = By { who: "the demo workshop", at: now };
    store.create(Kind::Shop, "Heron Yard Joinery", SHOP, "first start", by)?;
    for board in boards_of(RACK) {
        store.create(Kind::Board, &board.name, &board.text, "first start", by)?;
    }
    for (name, text) in BOXES {
        let called = edit::get(text, "name").unwrap_or_else(|| name.to_owned());
        store.create(Kind::Box, &called, text, "first start", by)?;
    }
    Ok(())
}

/// Gives an empty shop folder a shop of usual values and nothing else.
///
/// # Errors
/// When the store cannot be written.
pub fn empty(store: &Store, now: Time) -> Result<(), keepwright_store::Error> {
    let by = By { who: "first start", at: now };
    store.create(
        Kind::Shop,
        "My shop",
        "keepwright = 1\n\n[shop]\nname = \"My shop\"\n",
        "first start",
        by,
    )?;
    Ok(())
}

/// One board of a rack file, as a rack file of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OneBoard {
    /// What it is called.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// The boards of a rack file, each with the head of the file; none of a text that is no TOML.
pub fn boards_of(rack: &str) -> Vec<OneBoard> {
    let Ok(document) = rack.parse::<DocumentMut>() else { return Vec::new() };
    let mut head = document.clone();
    head.remove("board");
    let Some(boards) = document.get("board").and_then(Item::as_array_of_tables) else { return Vec::new() };
    boards
        .iter()
        .map(|board| {
            let mut one = head.clone();
            let mut list = ArrayOfTables::new();
            let mut table = board.clone();
            // Where a table stood in the old file says nothing in the new one.
            table.set_position(None);
            list.push(table);
            one.insert("board", Item::ArrayOfTables(list));
            let name = board.get("name").and_then(Item::as_str).unwrap_or("board").to_owned();
            OneBoard { name, text: one.to_string() }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_model::design::{Defaults, read_rack};
    use keepwright_model::units::Currency;
    use keepwright_model::wood;

    /// Each board read by itself is the board that the whole file has.
    #[test]
    fn a_rack_falls_apart_into_its_boards() {
        let read =
            |text: &str| read_rack(text, &Defaults::default(), Currency::USD, &wood::named).unwrap().boards;
        let together: Vec<_> = boards_of(RACK).iter().flat_map(|b| read(&b.text)).collect();
        assert_eq!(together, read(RACK));
        assert!(together.len() > 5, "{}", together.len());
        assert_eq!(boards_of("a = = b"), []);
    }
}
