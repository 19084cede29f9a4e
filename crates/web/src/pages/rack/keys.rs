//! The keys of the rack file as fields of a form.

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Takes {
    /// A length, in any unit; a bare number is in the board's own.
    Measure,
    /// A number.
    Number,
    /// Words.
    Words,
    /// A wood.
    Wood,
    /// How the board is sawn, or degrees between rings and face.
    Rings,
    /// One of these words, the first unless told otherwise.
    OneOf(&'static [&'static str]),
}

/// A key.
#[derive(Clone, Copy, Debug)]
pub(super) struct Key {
    /// As in the file.
    pub(super) name: &'static str,
    /// As the form says it.
    pub(super) label: &'static str,
    /// What to write.
    pub(super) hint: &'static str,
    /// What it takes.
    pub(super) takes: Takes,
}

const fn key(name: &'static str, label: &'static str, hint: &'static str, takes: Takes) -> Key {
    Key { name, label, hint, takes }
}

/// The keys of a board, in the order of the form.
pub(super) const KEYS: [Key; 14] = [
    key("name", "Name", "as chalked on it", Takes::Words),
    key("wood", "Wood", "such as cherry", Takes::Wood),
    key("length", "Length", "along the grain", Takes::Measure),
    key("width", "Width", "across the grain", Takes::Measure),
    key("thickness", "Thickness", "as measured; this or the quarters", Takes::Measure),
    key("quarters", "Quarters", "as sold: 4/4, 5/4, 8/4", Takes::Words),
    key("surface", "Faces", "as they are now", Takes::OneOf(&["rough", "surfaced"])),
    key("rings", "Growth rings", "flat-sawn, rift, quartersawn, or degrees at the wide face", Takes::Rings),
    key("moisture_pct", "Moisture, %", "by the meter; empty if not measured", Takes::Number),
    key("end_check_left", "Checked end, left", "to be cut off", Takes::Measure),
    key("end_check_right", "Checked end, right", "to be cut off", Takes::Measure),
    key("price_per_board_foot", "Price per board foot", "this or the price of the board", Takes::Number),
    key("price", "Price of the board", "each", Takes::Number),
    key("count", "How many alike", "usually 1", Takes::Number),
];

/// The measures of a fault.
pub(super) const FAULT_KEYS: [&str; 4] = ["x", "y", "length", "width"];
/// The kinds of fault.
pub(super) const KINDS: [&str; 6] = ["knot", "check", "bark", "stain", "worm", "other"];
/// Where a fault shows.
pub(super) const FACES: [&str; 3] = ["both", "front", "back"];

#[cfg(test)]
mod tests {
    use super::*;

    /// The reference of the file lists the same keys and words.
    #[test]
    fn the_form_has_every_key_of_the_reference() {
        let reference = include_str!("../../../../../docs/rack-file.md");
        let rows: Vec<&str> = reference.lines().filter_map(|l| l.strip_prefix("| `board.")).collect();
        for row in &rows {
            let name = row.split('`').next().unwrap();
            match name.strip_prefix("defect.") {
                Some("kind") => KINDS.iter().for_each(|k| assert!(row.contains(&format!("`{k}`")), "{k}")),
                Some("face") => FACES.iter().for_each(|f| assert!(row.contains(&format!("`{f}`")), "{f}")),
                Some(part) => assert!(FAULT_KEYS.contains(&part), "{part}"),
                None => assert!(KEYS.iter().any(|k| k.name == name), "{name}"),
            }
        }
        assert_eq!(rows.len(), KEYS.len() + FAULT_KEYS.len() + 2);
    }
}
