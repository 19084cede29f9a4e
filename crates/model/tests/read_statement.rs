//! Reading a statement file: what is accepted, and the exact words of every refusal.

mod reference;

use keepwright_model::design::{
    Bottom, BottomHold, Build, CornerJoint, Defaults, LidKind, Registration, Size, Statement, read_statement,
    read_statement_bytes, show_problems,
};
use keepwright_model::units::Length;

/// A few woods, found by id or trade name.
fn woods(name: &str) -> Result<String, Vec<String>> {
    match name {
        "cherry" | "cherry_black" => Ok("cherry_black".into()),
        "maple" | "maple_sugar" => Ok("maple_sugar".into()),
        "ash" => Ok("ash_white".into()),
        "baltic_birch" => Ok(name.into()),
        "chery" => Err(vec!["cherry_black".into()]),
        "oak" => Err(vec!["oak_white".into(), "oak_red".into()]),
        _ => Err(Vec::new()),
    }
}

fn read(text: &str) -> Result<Statement, String> {
    read_statement(text, &Defaults::default(), &woods).map_err(|p| show_problems(&p, "box.toml", text))
}

const SHORT: &str = r#"keepwright = 1
name = "Pencil box"
units = "in"

[size]
outside = { length = 9, depth = 4.5, height = "2 3/4" }

[walls]
wood = "cherry"

[lid]
kind = "slab"
"#;

#[test]
fn a_dozen_lines_state_a_box() {
    assert_eq!(SHORT.lines().count(), 12);
    let s = read(SHORT).unwrap();
    assert_eq!(
        s.size,
        Size::Outside {
            length: Length::inches(9.0),
            depth: Length::inches(4.5),
            height: Length::inches(2.75)
        }
    );
    assert_eq!(s.walls.wood.wood, "cherry_black");
    assert_eq!(s.corners, CornerJoint::Miter);
    assert!(matches!(
        s.bottom,
        Bottom { build: Build::Sheet(_), hold: BottomHold::Rabbet { depth: None, .. }, .. }
    ));
    assert!(
        matches!(s.lid.kind, LidKind::Slab { build: Build::Solid(ref w), .. } if w.wood == "cherry_black")
    );
    assert!(matches!(s.lid.registration, Registration::Rabbet { .. }));
}

#[test]
fn every_example_of_the_reference_reads() {
    let examples = reference::examples();
    assert!(examples.len() >= 15, "{} examples", examples.len());
    for text in examples {
        if let Err(problems) = read(&text) {
            panic!("{text}\n{problems}");
        }
    }
}

/// Every key that the reader knows has its row in the reference: the reader itself lists them.
#[test]
fn every_key_is_in_the_reference() {
    let reference = include_str!("../../../docs/statement.md");
    let text = "keepwright = 1\nzzzz = 0\n[size]\nzzzz = 0\noutside.zzzz = 0\ninside.zzzz = 0\n\
        [shape]\nzzzz = 0\n[walls]\nzzzz = 0\n[corners]\nzzzz = 0\njoint = \"keyed miter\"\n\
        row = [{ zzzz = 0 }]\npattern = [{ zzzz = 0 }]\n[bottom]\nzzzz = 0\n\
        [lid]\nzzzz = 0\nkind = \"frame\"\nkeys.zzzz = 0\npanel.zzzz = 0\n\
        [inside]\nlining.zzzz = 0\ntray.zzzz = 0\ndividers.zzzz = 0\ncloth.zzzz = 0\nzzzz = 0\n\
        [base]\nzzzz = 0\n[pull]\nzzzz = 0\n[hinges]\nzzzz = 0\n[edges]\nzzzz = 0\nlid_top.zzzz = 0\n\
        [finish]\nzzzz = 0\noutside.zzzz = 0\n";
    let more = "keepwright = 1\n[size.contents]\nzzzz = 0\nitem = [{ zzzz = 0 }]\n[lid]\nkind = \"sawn\"\ntop.zzzz = 0\n";
    let third = "keepwright = 1\n[size]\ninside.zzzz = 0\n";
    let mut sections = 0;
    for text in [text, more, third] {
        let problems = read_statement(text, &Defaults::default(), &woods).expect_err("unknown keys");
        for problem in problems {
            let Some((_, keys)) = problem.remedy.split_once("the keys here are: ") else {
                continue;
            };
            sections += 1;
            let section = problem.key.trim_end_matches("zzzz");
            // An entry of a list has its number in the path; its rows in the reference have not.
            let section: String = section.split_inclusive('.').filter(|s| *s != "1.").collect();
            for key in keys.split(", ") {
                assert!(
                    reference.contains(&format!("| `{section}{key}`")),
                    "`{section}{key}` is not in the reference"
                );
            }
        }
    }
    // Counted by hand: 24 sections in the first text, 3 in the second, 1 in the third.
    assert_eq!(sections, 28);
}

/// The lines before and after the one in question, all of them right.
fn with(section: &str) -> String {
    let mut text = String::from("keepwright = 1\n");
    text.push_str(section);
    text.push('\n');
    if !section.contains("[size") && !section.contains("size.") {
        text.push_str("[size]\noutside = { length = 200, depth = 120, height = 80 }\n");
    }
    if !section.contains("[walls]") {
        text.push_str("[walls]\nwood = \"cherry\"\n");
    }
    text
}

struct Case {
    name: &'static str,
    given: &'static str,
    /// Each problem as `line:column: what / remedy`.
    want: &'static [&'static str],
}

#[test]
fn refuses_with_place_value_and_remedy() {
    for case in CASES {
        let text = with(case.given);
        let Err(problems) = read_statement(&text, &Defaults::default(), &woods) else {
            panic!("{}: nothing refused in\n{text}", case.name);
        };
        let got: Vec<String> = problems
            .iter()
            .map(|p| {
                let place = p.place(&text);
                format!("{}:{}: {} / {}", place.line, place.column, p.says, p.remedy)
            })
            .collect();
        assert_eq!(got, case.want, "{}", case.name);
    }
}

/// The wording is this program's own; place and value are read off the text by eye.
const CASES: &[Case] = &[
    Case {
        name: "negative",
        given: "[walls]\nwood = \"cherry\"\nthickness = -3",
        want: &["4:13: `thickness`: `-3` is below zero / write a length such as \"3/8 in\" or \"9.5 mm\""],
    },
    Case {
        name: "negative text",
        given: "[walls]\nwood = \"cherry\"\nthickness = \"-3/8 in\"",
        want: &[
            "4:13: `thickness`: `-3/8 in` is below zero / write a length such as \"3/8 in\" or \"9.5 mm\"",
        ],
    },
    Case {
        name: "not a number",
        given: "[walls]\nwood = \"cherry\"\nthickness = nan",
        want: &["4:13: `thickness` is nan, which is no finite number / write a plain number"],
    },
    Case {
        name: "infinite",
        given: "[walls]\nwood = \"cherry\"\nthickness = -inf",
        want: &["4:13: `thickness` is -inf, which is no finite number / write a plain number"],
    },
    Case {
        name: "past all bounds",
        given: "[walls]\nwood = \"cherry\"\nthickness = 1e300",
        want: &[
            "4:13: `thickness`: `1e300` is longer than 10 m / no part of a box is: check the number and its unit",
        ],
    },
    Case {
        name: "past all numbers",
        given: "[walls]\nwood = \"cherry\"\nthickness = 1e999",
        want: &["4:13: `thickness` is 1e999, which is no finite number / write a plain number"],
    },
    Case {
        name: "past all numbers, whole",
        given: "[walls]\nwood = \"cherry\"\nthickness = 999999999999999999999999",
        want: &[
            "4:13: `thickness`: `999999999999999999999999` is longer than 10 m / no part of a box is: check the number and its unit",
        ],
    },
    Case {
        name: "zero thickness",
        given: "[walls]\nwood = \"cherry\"\nthickness = 0",
        want: &[
            "4:13: `thickness` is 0, but it must be more than 0 / write a length such as \"3/8 in\" or \"9.5 mm\"",
        ],
    },
    Case {
        name: "zero with a sign",
        given: "[walls]\nwood = \"cherry\"\nthickness = -0",
        want: &[
            "4:13: `thickness` is -0, but it must be more than 0 / write a length such as \"3/8 in\" or \"9.5 mm\"",
        ],
    },
    Case {
        name: "thinner than dust",
        given: "[walls]\nwood = \"cherry\"\nthickness = \"0.001 mm\"",
        want: &[
            "4:13: `thickness` is \"0.001 mm\", but it must be at least 0.01 mm / write a length such as \"3/8 in\" or \"9.5 mm\"",
        ],
    },
    Case {
        name: "unknown unit",
        given: "[walls]\nwood = \"cherry\"\nthickness = \"3 furlongs\"",
        want: &[
            "4:13: `thickness`: `furlongs` in `3 furlongs` is not a unit of length / use mm, cm, m, in (or \") or ft (or ')",
        ],
    },
    Case {
        name: "no length",
        given: "[walls]\nwood = \"cherry\"\nthickness = \"\"",
        want: &[
            "4:13: `thickness`: there is no length here / write a length such as \"3/8 in\" or \"9.5 mm\"",
        ],
    },
    Case {
        name: "not a length",
        given: "[walls]\nwood = \"cherry\"\nthickness = \"3 4 mm\"",
        want: &[
            "4:13: `thickness`: `3 4 mm` is not a length / write a length such as \"3/8 in\" or \"9.5 mm\"",
        ],
    },
    Case {
        name: "divides by zero",
        given: "[walls]\nwood = \"cherry\"\nthickness = \"3/0 in\"",
        want: &[
            "4:13: `thickness`: the fraction in `3/0 in` divides by zero / write a length such as \"3/8 in\" or \"9.5 mm\"",
        ],
    },
    Case {
        name: "wrong type for a length",
        given: "[walls]\nwood = \"cherry\"\nthickness = true",
        want: &[
            "4:13: `thickness` must be a length, not true / write a length such as \"3/8 in\" or \"9.5 mm\"",
        ],
    },
    Case {
        name: "two walls",
        given: "[shape]\nsides = 2",
        want: &["3:9: `sides` is 2, but it must be at least 3 / write a whole number from 3 to 12"],
    },
    Case {
        name: "thirteen walls",
        given: "[shape]\nsides = 13",
        want: &["3:9: `sides` is 13, but it must be at most 12 / write a whole number from 3 to 12"],
    },
    Case {
        name: "half a wall",
        given: "[shape]\nsides = 4.5",
        want: &[
            "3:9: `sides` must be a whole number, not the number 4.5 / write a whole number from 3 to 12, without quotes",
        ],
    },
    Case {
        name: "lean too far",
        given: "[shape]\nlean_from_vertical = 61",
        want: &[
            "3:22: `lean_from_vertical` is 61 degrees, out of bounds / write an angle from -60 to 60 degrees",
        ],
    },
    Case {
        name: "lean of no number",
        given: "[shape]\nlean_from_vertical = \"steep\"",
        want: &[
            "3:22: `lean_from_vertical` must be an angle in degrees, not the text `steep` / write a number of degrees such as 8",
        ],
    },
    Case {
        name: "no box",
        given: "count = 0",
        want: &["2:9: `count` is 0, but it must be at least 1 / write a whole number from 1 to 5000"],
    },
    Case {
        name: "ten thousand boxes",
        given: "count = 10000",
        want: &[
            "2:9: `count` is 10000, but at most 5000 boxes go in one batch / write a whole number from 1 to 5000, and make the rest in another batch",
        ],
    },
    Case {
        name: "a text for a count",
        given: "count = \"two\"",
        want: &[
            "2:9: `count` must be a whole number, not the text `two` / write a whole number from 1 to 5000, without quotes",
        ],
    },
    Case {
        name: "unknown wood, near",
        given: "[walls]\nwood = \"chery\"",
        want: &["3:8: no wood or sheet is called `chery` / did you mean `cherry_black`?"],
    },
    Case {
        name: "unknown wood, several near",
        given: "[walls]\nwood = \"oak\"",
        want: &["3:8: no wood or sheet is called `oak` / did you mean one of: oak_white, oak_red?"],
    },
    Case {
        name: "unknown wood",
        given: "[walls]\nwood = \"unobtainium\"",
        want: &[
            "3:8: no wood or sheet is called `unobtainium` / write a wood by its trade name or its id from the list of woods",
        ],
    },
    Case {
        name: "no wood",
        given: "[walls]\nthickness = 10",
        want: &["2:1: `wood` is missing in [walls] / add wood = \"cherry\""],
    },
    Case {
        name: "both sizes",
        given: "[size]\noutside = { length = 9, depth = 9, height = 9 }\ninside = { length = 8, depth = 8, height = 8 }",
        want: &[
            "4:10: `outside` and `inside` both state the size / keep `outside` or `inside` and remove the other",
        ],
    },
    Case {
        name: "no size",
        given: "[size]",
        want: &[
            "2:1: `outside` is missing in [size] / add outside = { length = \"10 in\", depth = \"6 in\", height = \"3 in\" }",
        ],
    },
    Case {
        name: "polygon with two lengths",
        given: "shape.sides = 6\n[size]\noutside = { length = 200, depth = 190, height = 80 }",
        want: &[
            "4:35: `length` and `depth` differ, but a box of 6 sides is regular / write `across`, the distance across the flats, instead of both",
        ],
    },
    Case {
        name: "polygon without across",
        given: "shape.sides = 6\n[size]\noutside = { height = 80 }",
        want: &["4:11: `across` is missing in [size.outside] / add across = \"8 in\""],
    },
    Case {
        name: "across and length",
        given: "[size]\noutside = { across = 90, length = 90, height = 80 }",
        want: &[
            "3:26: `length` belongs to a rectangle, but `across` is given too / remove `length`, or remove `across`",
        ],
    },
    Case {
        name: "no height",
        given: "[size]\noutside = { length = 90, depth = 80 }",
        want: &["3:11: `height` is missing in [size.outside] / add height = \"3 in\""],
    },
    Case {
        name: "contents without things",
        given: "[size.contents]\nslack = 2",
        want: &[
            "2:1: `item` is missing in [size.contents] / add item = [ { name = \"cards\", length = \"95 mm\", depth = \"65 mm\", height = \"20 mm\" } ]",
        ],
    },
    Case {
        name: "count against arrangement",
        given: "[[size.contents.item]]\nlength = 9\ndepth = 9\nheight = 9\ncount = 6\nalong = 2\nacross = 2",
        want: &[
            "6:9: `count` is 6, but 2 along × 2 across × 1 up is 4 / make `along`, `across` and `up` multiply to `count`, or remove `count`",
        ],
    },
    Case {
        name: "keys at a plain miter",
        given: "[corners]\ncount = 3",
        want: &[
            "3:1: `count` belongs to a keyed miter, but the joint here is a plain miter / remove `count`, or set joint = \"keyed miter\"",
        ],
    },
    Case {
        name: "keys at a finger joint",
        given: "[corners]\njoint = \"finger joint\"\ndepth = 9",
        want: &[
            "4:1: `depth` belongs to a keyed miter, but the joint here is a finger joint / remove `depth`, or set joint = \"keyed miter\"",
        ],
    },
    Case {
        name: "keys placed twice",
        given: "[corners]\njoint = \"keyed miter\"\ncount = 3\nheights = [20]",
        want: &[
            "4:1: `count` belongs to evenly spaced keys, but `heights` are given / remove `count`, or remove `heights`",
        ],
    },
    Case {
        name: "half a place",
        given: "[corners]\njoint = \"keyed miter\"\nfrom_foot = 20",
        want: &["2:1: `from_rim` is missing in [corners] / add from_rim = \"1/2 in\""],
    },
    Case {
        name: "depth and skin",
        given: "[corners]\njoint = \"keyed miter\"\ndepth = 8\nskin = 2",
        want: &[
            "5:8: `depth` and `skin` both state how deep the slots are / keep `depth` or `skin` and remove the other",
        ],
    },
    Case {
        name: "unknown corner",
        given: "[corners]\njoint = \"keyed miter\"\n[[corners.pattern]]\ncorner = \"back lift\"",
        want: &[
            "5:10: no corner is called `back lift` / did you mean `back left`? choose one of: front right, back right, back left, front left",
        ],
    },
    Case {
        name: "corner twice",
        given: "[corners]\njoint = \"keyed miter\"\n[[corners.pattern]]\ncorner = 1\n[[corners.pattern]]\ncorner = \"front right\"",
        want: &["7:10: the front right corner has two patterns / keep one of them"],
    },
    Case {
        name: "no keys at all",
        given: "[corners]\njoint = \"keyed miter\"\ncount = 0",
        want: &["4:9: a keyed miter with no keys at all / write count = 3, or set joint = \"miter\""],
    },
    Case {
        name: "bookmatched pair round a hexagon",
        given: "shape.sides = 6\nsize.outside = { across = 90, height = 80 }\n[walls]\nwood = \"cherry\"\nfrom = \"bookmatched pair\"",
        want: &[
            "6:8: a bookmatched pair wraps a rectangle, but this box has 6 sides / write from = \"one strip\", or make the box a rectangle",
        ],
    },
    Case {
        name: "hinges missing",
        given: "[lid]\nkind = \"slab\"\nregistration = \"hinges\"",
        want: &[
            "4:16: the lid turns on hinges, but no hinges are stated / add a section [hinges], or choose another registration",
        ],
    },
    Case {
        name: "hinges without a lid",
        given: "[hinges]",
        want: &["2:1: hinges are stated, but no lid turns on them / add a section [lid], or remove [hinges]"],
    },
    Case {
        name: "hinges on a sliding lid",
        given: "[lid]\nkind = \"sliding\"\n[hinges]",
        want: &[
            "4:1: hinges are stated, but no lid turns on them / choose another kind of lid, or remove [hinges]",
        ],
    },
    Case {
        name: "lining missing",
        given: "[lid]\nkind = \"slab\"\nregistration = \"lining\"",
        want: &[
            "4:16: the lid fits over the lining, but no lining is stated / add a section [inside.lining], or choose another registration",
        ],
    },
    Case {
        name: "lining too low",
        given: "[lid]\nkind = \"slab\"\nregistration = \"lining\"\n[inside.lining]\nproud = 0",
        want: &[
            "6:9: the lid fits over the lining, but the lining does not stand above the walls / write proud = \"4 mm\", or choose another registration for the lid",
        ],
    },
    Case {
        name: "a hinged kind",
        given: "[lid]\nkind = \"hinged\"",
        want: &[
            "3:8: `kind` cannot be `hinged`: hinges say how a lid turns, not what it is / write kind = \"frame\", \"slab\" or \"sawn\" and add a section [hinges]",
        ],
    },
    Case {
        name: "a slip in a word",
        given: "[bottom]\nhold = \"rabet\"",
        want: &[
            "3:8: `hold` cannot be `rabet` / did you mean `rabbet`? choose one of: rabbet, groove, ledge",
        ],
    },
    Case {
        name: "a slip in a key",
        given: "[bottom]\nthicknes = 6",
        want: &[
            "3:1: there is no key `thicknes` in [bottom] / did you mean `thickness`? the keys here are: wood, rings, strips, sheet, veneered, thickness, hold, depth, clearance, above_edge, tongue, ledge_width, ledge_height",
        ],
    },
    Case {
        name: "a strange key",
        given: "colour = \"red\"",
        want: &[
            "2:1: there is no key `colour` in this file / the keys here are: keepwright, name, note, count, units, size, shape, walls, corners, bottom, lid, inside, base, pull, hinges, edges, finish",
        ],
    },
    Case {
        name: "two makings",
        given: "[bottom]\nwood = \"cherry\"\nsheet = \"baltic_birch\"",
        want: &[
            "4:9: `wood` and `sheet` both state what this is made of / keep `wood` or `sheet` and remove the other",
        ],
    },
    Case {
        name: "rings of a sheet",
        given: "[bottom]\nrings = \"rift\"",
        want: &[
            "3:1: `rings` belongs to solid wood, but this is a sheet / remove `rings`, or state a `wood` beside it",
        ],
    },
    Case {
        name: "no ledge here",
        given: "[bottom]\nledge_width = 6",
        want: &[
            "3:1: `ledge_width` belongs to a bottom on a ledge, but this one lies in a rabbet / remove `ledge_width`, or set hold = \"ledge\"",
        ],
    },
    Case {
        name: "a plywood pull",
        given: "[lid]\nkind = \"slab\"\n[pull]\nsheet = \"baltic_birch\"",
        want: &[
            "5:9: a pull is shaped from solid or striped wood, not from `sheet` / state its `wood`, or its `strips`",
        ],
    },
    Case {
        name: "a pull without a lid",
        given: "[pull]\nlength = 40",
        want: &[
            "2:1: a pull is stated, but the box has no lid to pull / add a section [lid], or remove [pull]",
        ],
    },
    Case {
        name: "one cell",
        given: "[inside.dividers]\ncells_along = 1",
        want: &[
            "3:15: one cell needs no dividers / write cells_along = 3 or cells_across = 2, or remove the section",
        ],
    },
    Case {
        name: "coats of nothing",
        given: "[finish]\noutside = { kind = \"none\", coats = 2 }",
        want: &[
            "3:28: `coats` belongs to a finish, but this is bare wood / remove `coats`, or choose a `kind` of finish",
        ],
    },
    Case {
        name: "no coats of oil",
        given: "[finish]\noutside = { kind = \"oil\", coats = 0 }",
        want: &["3:35: `coats` is 0, but it must be at least 1 / write a whole number from 1 to 20"],
    },
    Case {
        name: "both profiles",
        given: "[edges]\nrim = { chamfer = 1, round_over = 1 }",
        want: &[
            "3:35: one edge has both a chamfer and a round-over / keep `chamfer` or `round_over` and remove the other",
        ],
    },
    Case {
        name: "a list for a section",
        given: "[[lid]]\nkind = \"slab\"",
        want: &["2:1: `lid` must be one section, not a list / write [lid] with single brackets"],
    },
    Case {
        name: "a number for a section",
        given: "lid = 3",
        want: &["2:7: `lid` must be a section, not the number 3 / write [lid] and under it kind = …"],
    },
    Case {
        name: "a key twice",
        given: "[lid]\nkind = \"slab\"\nkind = \"frame\"",
        want: &["4:1: `kind` is given twice / keep one of the two and remove the other"],
    },
    Case {
        name: "a fraction without quotes",
        given: "[lid]\nkind = \"slab\"\noverhang = 1/8 in",
        want: &[
            "4:12: this is not TOML: `1/8 in` is neither a plain number nor in quotes / a text, and a length with a unit or a fraction, goes in quotes: \"1/8 in\"",
        ],
    },
    Case {
        name: "an open quote",
        given: "name = \"Tea",
        want: &[
            "2:12: this is not TOML: invalid basic string, expected `\"` / close every quote, brace and bracket on its line, with commas between the entries; write inches inside quotes as `in`",
        ],
    },
    Case {
        name: "a count in quotes",
        given: "[inside.dividers]\ncells_along = \"3\"",
        want: &[
            "3:15: `cells_along` must be a whole number, not the text `3` / write a whole number from 1 to 100, without quotes",
        ],
    },
    Case {
        name: "a date for a name",
        given: "name = 2026-01-01",
        want: &["2:8: `name` must be a text, not a date / write it in quotes: name = \"…\""],
    },
    Case {
        name: "a name in no quotes marks",
        given: "name = 5",
        want: &["2:8: `name` must be a text, not the number 5 / write it in quotes: name = \"…\""],
    },
    Case {
        name: "an unread joint leaves its keys alone",
        given: "[corners]\njoint = \"keyd miter\"\ncount = 3",
        want: &[
            "3:9: `joint` cannot be `keyd miter` / did you mean `keyed miter`? choose one of: miter, keyed miter, loose tongue, finger joint",
        ],
    },
    Case {
        name: "an unread lid leaves its hinges and pull alone",
        given: "[lid]\nkind = \"slap\"\nregistration = \"hinges\"\nlip_play = 1\n[hinges]\n[pull]",
        want: &[
            "3:8: `kind` cannot be `slap` / did you mean `slab`? choose one of: none, frame, slab, sawn, sliding",
        ],
    },
    Case {
        name: "several at once",
        given: "count = 0\n[walls]\nwood = \"chery\"\nthickness = 0\nkerf = 3",
        want: &[
            "2:9: `count` is 0, but it must be at least 1 / write a whole number from 1 to 5000",
            "4:8: no wood or sheet is called `chery` / did you mean `cherry_black`?",
            "5:13: `thickness` is 0, but it must be more than 0 / write a length such as \"3/8 in\" or \"9.5 mm\"",
            "6:1: there is no key `kerf` in [walls] / the keys here are: wood, rings, thickness, from, ends, square_trim, closing_corner",
        ],
    },
];

#[test]
fn refuses_a_newer_format_and_says_nothing_else() {
    let text = "keepwright = 2\nlids = 3\n";
    let shown = read(text).expect_err("a newer format");
    assert_eq!(
        shown,
        "box.toml:1:14: this file has format 2, but this program reads formats up to 1\n  1 | keepwright = 2\n    \
         |              ^\n  remedy: use a newer program, or write the file again from the program that made it in \
         the older format\n"
    );
    let none = read("name = \"Tea\"").expect_err("no format");
    assert!(none.starts_with("box.toml:1:1: `keepwright` is missing in this file\n"), "{none}");
}

#[test]
fn refuses_what_is_too_long_or_no_text() {
    let long = "# 0123456789\n".repeat(4_000_000);
    let problems = read_statement(&long, &Defaults::default(), &woods).expect_err("52 MB");
    assert_eq!(problems[0].says, "the file has 52000000 bytes, but at most 1 MiB (1048576 bytes) is read");
    let problems = read_statement_bytes(long.as_bytes(), &Defaults::default(), &woods).expect_err("52 MB");
    assert_eq!(problems.len(), 1);
    // Line 2, the fourth character: an é of two bytes stands before it.
    let bytes = b"keepwright = 1\n\xc3\xa9ab\xff\n";
    let problems = read_statement_bytes(bytes, &Defaults::default(), &woods).expect_err("no UTF-8");
    assert_eq!(problems[0].says, "line 2, column 4: the byte 0xff is not UTF-8 text");
    assert_eq!(problems[0].remedy, "save the file as plain text in UTF-8");
    assert_eq!(problems[0].span, 19..19);
}

/// A megabyte of brackets, of dotted keys or of broken lines ends with a problem, not with the stack.
#[test]
fn deep_nesting_and_floods_end_well() {
    for text in [
        format!("a = {}", "[".repeat(1_000_000)),
        format!("a = {}", "{a=".repeat(300_000)),
        format!("{}b = 1", "a.".repeat(500_000)),
        format!("[{}b]", "a.".repeat(500_000)),
        "=\n".repeat(100_000),
        (0..60_000).fold(String::new(), |text, i| text + &format!("k{i} = 1\n")),
    ] {
        let problems = read_statement(&text, &Defaults::default(), &woods).expect_err("nonsense");
        assert!((1..=101).contains(&problems.len()), "{}", problems.len());
        assert!(!show_problems(&problems[..1], "f", &text).is_empty());
    }
}
