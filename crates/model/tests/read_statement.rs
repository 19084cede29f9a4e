//! Reading a statement file: what is accepted, and the exact words of every refusal.

use keepwright_model::design::{
    Bottom, BottomHold, Build, CornerJoint, Defaults, LidKind, Registration, Size, Statement, read_statement,
    show_problems,
};
use keepwright_model::units::Length;

/// A few woods, found by id or trade name.
fn woods(name: &str) -> Result<String, Vec<String>> {
    match name {
        "cherry" | "cherry_black" => Ok("cherry_black".into()),
        "maple" | "maple_sugar" => Ok("maple_sugar".into()),
        "ash" => Ok("ash_white".into()),
        "plywood_birch" => Ok(name.into()),
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

/// The blocks of the reference, each made whole by a head, a size and walls where it has none.
fn reference_examples() -> Vec<String> {
    let reference = include_str!("../../../docs/statement.md");
    let blocks = reference.split("```toml\n").skip(1);
    blocks
        .map(|block| {
            let block = block.split("```").next().unwrap_or("");
            let mut whole = String::new();
            if !block.contains("keepwright =") {
                whole.push_str("keepwright = 1\n");
            }
            whole.push_str(block);
            if !block.contains("[size") {
                whole.push_str("\n[size]\noutside = { length = 200, depth = 120, height = 80 }\n");
            }
            if !block.contains("[walls]") {
                whole.push_str("\n[walls]\nwood = \"cherry\"\n");
            }
            whole
        })
        .collect()
}

#[test]
fn every_example_of_the_reference_reads() {
    let examples = reference_examples();
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
    assert_eq!(sections, 26);
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
const CASES: &[Case] = &[];
