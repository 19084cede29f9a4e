//! The map of the rooms is the territory: ARCHITECTURE.md lists them as `lib.rs` does, in the same order.

use super::Finding;
use crate::tree::Tree;

const SOURCE: &str = "crates/model/src/lib.rs";
const MAP: &str = "ARCHITECTURE.md";
/// The heading of the map; its entries begin with a dash and the room's name in backticks.
const HEADING: &str = "## The rooms of the model";

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    let (Some(source), Some(map)) = (tree.text(SOURCE), tree.text(MAP)) else {
        return vec![Finding::new(MAP, 0, format!("both this file and {SOURCE} must be there"))];
    };
    let rooms: Vec<&str> =
        source.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    let mapped: Vec<(usize, &str)> = map
        .lines()
        .enumerate()
        .skip_while(|(_, line)| *line != HEADING)
        .skip(1)
        .take_while(|(_, line)| !line.starts_with("## "))
        .filter_map(|(index, line)| Some((index + 1, line.strip_prefix("- `")?.split_once('`')?.0)))
        .collect();
    let mut found = Vec::new();
    for room in &rooms {
        if !mapped.iter().any(|(_, name)| name == room) {
            found.push(Finding::new(MAP, 0, format!("the room `{room}` is not under \"{HEADING}\"")));
        }
    }
    for (line, name) in &mapped {
        if !rooms.contains(name) {
            found.push(Finding::new(MAP, *line, format!("there is no room `{name}` in {SOURCE}")));
        }
    }
    if found.is_empty() && !mapped.iter().map(|(_, name)| name).eq(&rooms) {
        found.push(Finding::new(
            MAP,
            0,
            format!("the rooms stand in another order than in {SOURCE}, or one twice"),
        ));
    }
    if rooms.is_empty() {
        found.push(Finding::new(SOURCE, 0, "no rooms found: each stands on a line `pub mod name;`"));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::{MAP, SOURCE};
    use crate::tidy::told;

    const LIB: &str = "//! Rooms.\n\npub mod units;\npub mod wood;\n";

    fn found(map: &str) -> usize {
        told(super::findings, &[(SOURCE, LIB), (MAP, map)]).len()
    }

    #[test]
    fn the_map_lists_the_rooms_and_nothing_else() {
        let cases = [
            (
                "as it should be",
                "## The rooms of the model\n- `units`: x\n- `wood`: y\n## Next\n- `other`: z\n",
                0,
            ),
            ("one missing", "## The rooms of the model\n- `units`: x\n", 1),
            ("one too many", "## The rooms of the model\n- `units`: x\n- `wood`: y\n- `cellar`: z\n", 1),
            ("order", "## The rooms of the model\n- `wood`: y\n- `units`: x\n", 1),
            ("twice", "## The rooms of the model\n- `units`: x\n- `wood`: y\n- `wood`: y\n", 1),
            ("no heading", "- `units`: x\n- `wood`: y\n", 2),
        ];
        for (name, map, want) in cases {
            assert_eq!(found(map), want, "{name}");
        }
        assert_eq!(told(super::findings, &[(SOURCE, LIB)]).len(), 1, "no map at all");
    }
}
