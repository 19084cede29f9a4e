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
