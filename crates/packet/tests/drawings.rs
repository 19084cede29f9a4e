//! The drawings of the example boxes: facts in them, no words over words, and a sheet of all to look at.

mod boxes;

use boxes::{Example, examples};
use keepwright_model::cutting::{
    self, Demand, Item, KeepOffcuts, Margins, Order, Plan, Rules, Run, Stock, StockDefect,
};
use keepwright_model::design::CornerName;
use keepwright_model::parts::{Origin, Role};
use keepwright_model::saw::{self, Purpose};
use keepwright_model::units::Length;
use keepwright_packet::document::{Document, Sheet};
use keepwright_packet::drawing;
use keepwright_packet::drawing::flat::{Mark, flatten};
use keepwright_packet::drawing::{Affine, Anchor, Drawing, Rise, Text};
use keepwright_packet::drawings::{self, Place, Room};
use keepwright_packet::flow::{Block, Figure, Fit, Words};
use keepwright_packet::ink;
use keepwright_packet::page::Paper;
use keepwright_packet::{pdf, svg};

/// Room of a page with a heading.
const PAGE: Room = Room::new(180.0, 150.0);

/// All drawings of one example, with their names.
fn all(e: &Example) -> Vec<(String, Drawing)> {
    let named = |name: &str, drawing| (name.to_owned(), drawing);
    let mut out = vec![
        named("apart", drawings::exploded(&e.parts, &e.solids, PAGE)),
        named("closed", drawings::assembled(&e.parts, &e.solids, e.shown, Room::new(120.0, 95.0))),
        named("views", drawings::views(&e.parts, &e.solids, e.shown, Room::new(150.0, 120.0))),
    ];
    for one in drawings::joint_sections(&e.parts, &e.solids, e.shown) {
        out.push((one.title, one.drawing));
    }
    for corner in [0, 2] {
        if let Some(drawing) = drawings::key_layout(&e.parts, CornerName(corner), e.shown) {
            out.push((format!("keys at corner {}", corner + 1), drawing));
        }
    }
    let saw = thin_kerf();
    for card in saw::cradle_cards(&e.parts, &saw) {
        out.push(("cradle".into(), drawings::cradle(&card, e.shown)));
    }
    for (index, run) in e.parts.runs.iter().enumerate() {
        if run.mirrors.is_none() {
            let strip = drawings::strip_plan(&e.parts, index, e.shown, Room::new(180.0, 80.0));
            out.push((drawings::strip_note(&e.parts, index, e.shown), strip));
        }
    }
    let (demand, plan) = boards(e);
    let names: Vec<String> = demand.items.iter().map(|i| i.id.clone()).collect();
    for layout in &plan.layouts {
        let stock = &demand.stock[layout.stock];
        let board = drawings::board_layout(stock, layout, &names, e.shown, Room::new(180.0, 120.0));
        let legend: Vec<String> = board.legend.iter().map(|(n, name)| format!("{n} {name}")).collect();
        out.push((format!("board: {}", legend.join(", ")), board.drawing));
    }
    out.extend(setups(e));
    out.extend(templates(e));
    out
}

/// A small shop with a thin blade, so that every example's key slots can be cut.
fn thin_kerf() -> saw::Settings {
    let mut settings = saw::Settings::small_shop();
    settings.table_saw.kerf = Length::mm(2.3);
    settings
}

/// One sketch for each purpose of a set-up.
fn setups(e: &Example) -> Vec<(String, Drawing)> {
    let settings = thin_kerf();
    let lot = saw::Lot { parts: &e.parts, count: e.statement.count };
    let plan = saw::plan(&[lot], &settings, saw::Effort::Fast);
    let mut seen = Vec::new();
    let mut out = Vec::new();
    for setup in &plan.setups {
        if seen.contains(&setup.purpose) {
            continue;
        }
        if let Some(drawing) = drawings::setup_drawing(setup, e.shown, Room::new(110.0, 62.0)) {
            seen.push(setup.purpose);
            out.push((setup.purpose.words().to_owned(), drawing));
        }
    }
    out
}

/// The templates that an example has.
fn templates(e: &Example) -> Vec<(String, Drawing)> {
    let part = |role: Role| e.parts.parts.iter().find(|p| p.role == role);
    let mut out = Vec::new();
    if let Some(wall) = part(Role::Wall) {
        out.push(("profile".into(), drawings::end_profile(wall, e.shown)));
        if let Some(drawing) = drawings::finger_layout(wall, e.shown) {
            out.push(("fingers".into(), drawing));
        }
    }
    for wall in &e.parts.parts {
        if let Some(drawing) = drawings::hinge_layout(wall, e.shown) {
            out.push((format!("hinges on {}", wall.name), drawing));
        }
    }
    if let Some(key) = part(Role::Key) {
        out.push(("key".into(), drawings::key_triangle(key, e.shown)));
    }
    for role in [Role::Divider, Role::Bottom] {
        if let Some(part) = part(role) {
            out.push((part.name.clone(), drawings::face_outline(part, e.shown)));
        }
    }
    if let Some(cloth) = &e.statement.inside.cloth {
        let opening = [e.parts.inside[0], e.parts.inside[1]];
        out.push(("card".into(), drawings::lining_card(opening, cloth.thickness, e.shown)));
    }
    out.push(("label".into(), drawings::label_marks(Some(Place { number: 2, of: 4 }))));
    out
}

/// A rack of one kind of board for all solid parts of an example, and the plan that cuts them.
fn boards(e: &Example) -> (Demand, Plan) {
    let mut items: Vec<Item> = Vec::new();
    let mut runs: Vec<Run> = Vec::new();
    let mut at = vec![usize::MAX; e.parts.parts.len()];
    for (i, part) in e.parts.parts.iter().enumerate() {
        if part.origin == Origin::Board {
            at[i] = items.len();
            items.push(Item {
                id: part.name.clone(),
                length: part.blank.length(),
                width: part.run.map_or(part.blank.width(), |r| e.parts.runs[r].strip_width),
                min_thickness: Length::mm(1.0),
                wood: "any".into(),
            });
        }
    }
    for run in &e.parts.runs {
        let items = run.parts.iter().map(|id| at[id.0]).collect();
        runs.push(Run { name: run.name.clone(), items, gap: Some(run.corners[0].loss) });
    }
    let stock = Stock {
        board: 0,
        length: Length::mm(1500.0),
        width: Length::mm(190.0),
        cost: 10,
        defects: vec![StockDefect {
            x: Length::mm(1180.0),
            y: Length::mm(120.0),
            length: Length::mm(34.0),
            width: Length::mm(22.0),
        }],
        thickness: Length::mm(20.0),
        wood: "any".into(),
        margins: Margins { left: Length::mm(25.0), right: Length::mm(40.0), ..Margins::default() },
    };
    let rules = Rules {
        kerf: Length::mm(3.2),
        order: Order::Either,
        keep: KeepOffcuts { length: Length::mm(150.0), width: Length::mm(40.0) },
    };
    let demand = Demand { items, runs, stock: vec![stock; 4], rules };
    let settings = cutting::Settings { seed: 1, steps: 60 };
    let plan = cutting::plan(&demand, settings, &mut cutting::NeverStop, &mut cutting::Silent)
        .expect("a sound demand");
    (demand, plan)
}

/// The words of a drawing, each with the corners of the rectangle it covers.
fn words(drawing: &Drawing) -> Vec<(String, [[f64; 2]; 4])> {
    fn collect(marks: &[Mark], out: &mut Vec<(String, [[f64; 2]; 4])>) {
        for mark in marks {
            match mark {
                Mark::Text { at, words, size, anchor, rotation, face, .. } => {
                    let width = face.advance(words) * size;
                    let start = match anchor {
                        Anchor::Start => 0.0,
                        Anchor::Middle => -width / 2.0,
                        Anchor::End => -width,
                    };
                    let (sin, cos) = rotation.to_radians().sin_cos();
                    let corner = |u: f64, v: f64| [at[0] + u * cos - v * sin, at[1] + u * sin + v * cos];
                    let (low, high) = (-0.12 * size, 0.67 * size);
                    let corners = [
                        corner(start, low),
                        corner(start + width, low),
                        corner(start + width, high),
                        corner(start, high),
                    ];
                    out.push((words.clone(), corners));
                }
                Mark::Clip { marks, .. } => collect(marks, out),
                _ => {}
            }
        }
    }
    let mut out = Vec::new();
    collect(&flatten(drawing, 1.0), &mut out);
    out
}

/// Whether two rectangles overlap (separating axes).
fn overlap(a: &[[f64; 2]; 4], b: &[[f64; 2]; 4]) -> bool {
    let axes =
        |r: &[[f64; 2]; 4]| [[r[1][0] - r[0][0], r[1][1] - r[0][1]], [r[3][0] - r[0][0], r[3][1] - r[0][1]]];
    axes(a).into_iter().chain(axes(b)).all(|axis| {
        let length = axis[0].hypot(axis[1]).max(1e-9);
        let span = |r: &[[f64; 2]; 4]| {
            r.iter()
                .map(|p| (p[0] * axis[0] + p[1] * axis[1]) / length)
                .fold((f64::MAX, f64::MIN), |s, d| (s.0.min(d), s.1.max(d)))
        };
        let (s, t) = (span(a), span(b));
        s.1.min(t.1) - s.0.max(t.0) > 0.1
    })
}

#[test]
fn no_words_lie_on_words() {
    let mut faults = Vec::new();
    for e in examples() {
        for (name, drawing) in all(&e) {
            let words = words(&drawing);
            for (i, (one, a)) in words.iter().enumerate() {
                for (other, b) in &words[i + 1..] {
                    if overlap(a, b) {
                        faults.push(format!("{}, {name}: “{one}” over “{other}”", e.name));
                    }
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn fitted_drawings_stay_in_their_room() {
    for e in examples() {
        for (name, drawing, room) in [
            ("apart", drawings::exploded(&e.parts, &e.solids, PAGE), PAGE),
            ("closed", drawings::assembled(&e.parts, &e.solids, e.shown, PAGE), PAGE),
            ("views", drawings::views(&e.parts, &e.solids, e.shown, PAGE), PAGE),
        ] {
            let b = drawing.bounds(1.0).unwrap();
            assert!(
                b.width() <= room.width - 1.0 && b.height() <= room.height - 1.0,
                "{} {name}: {b:?}",
                e.name
            );
            assert!(b.width() > 60.0, "{} {name}: too small to read: {b:?}", e.name);
        }
    }
}

/// Drawings in rows, as many to a page as fit, each with its name under it.
fn packed(drawings: Vec<(String, Drawing)>) -> Vec<Drawing> {
    let (wide, high) = (175.0, 225.0);
    let (mut pages, mut page) = (Vec::new(), Drawing::new());
    let (mut x, mut top, mut row) = (0.0, 0.0, 0.0_f64);
    for (name, drawing) in drawings {
        let b = drawing.bounds(1.0).expect("something drawn");
        let (w, h) = (b.width().max(40.0), b.height() + 7.0);
        if x > 0.0 && x + w > wide {
            (x, top, row) = (0.0, top - row, 0.0);
        }
        if top < 0.0 && top - h < -high {
            pages.push(std::mem::take(&mut page));
            (x, top, row) = (0.0, 0.0, 0.0);
        }
        page.place(drawing, Affine::shift(x - b.left, top - b.top));
        let words: String =
            name.chars().zip(0..).take_while(|(_, i)| f64::from(*i) * 1.4 < w).map(|c| c.0).collect();
        let text = Text::new([x, top - b.height() - 3.0], words).sized(2.5).colored(ink::WORTH);
        page.text(text.hung(Anchor::Start, Rise::Middle));
        x += w + 8.0;
        row = row.max(h + 5.0);
    }
    pages.push(page);
    pages
}

/// All words of a drawing.
fn said(drawing: &Drawing) -> Vec<String> {
    words(drawing).into_iter().map(|w| w.0).collect()
}

/// The example of that name.
fn example(name: &str) -> Example {
    examples().into_iter().find(|e| e.name == name).expect("an example of that name")
}

#[test]
fn drawings_say_the_numbers_of_the_statement() {
    // Numbers as the maker wrote them in the example's file; sums by hand beside them.
    struct Case {
        name: &'static str,
        drawing: Drawing,
        want: &'static [&'static str],
    }
    let (chest, bowl, pencil) = (example("stamp-chest"), example("seed-bowl"), example("pencil-case"));
    let section = |e: &Example, at: usize| {
        drawings::joint_sections(&e.parts, &e.solids, e.shown).swap_remove(at).drawing
    };
    let keys =
        |e: &Example, corner| drawings::key_layout(&e.parts, CornerName(corner), e.shown).expect("keys");
    let cases = [
        // 286 + 2 × 3 overhang, 184 + 2 × 3.
        Case {
            name: "closed",
            drawing: drawings::assembled(&chest.parts, &chest.solids, chest.shown, PAGE),
            want: &["292", "190"],
        },
        // Wall 12, groove 5 deep, 6 above the edge, tongue 4.
        Case { name: "foot", drawing: section(&chest, 1), want: &["12", "5", "6", "4", "cherry"] },
        // Frame 34 wide and 15 thick, drops 5, overhangs 3; its panel's groove is 7 deep.
        Case { name: "rim", drawing: section(&chest, 2), want: &["34", "15", "5", "3", "7"] },
        // 1/8 in is 3.175, shown to a tenth.
        Case {
            name: "keys",
            drawing: keys(&chest, 0),
            want: &["16", "24", "48", "72", "80", "96", "3", "3.2", "front", "right"],
        },
        Case { name: "keys of its own", drawing: keys(&chest, 2), want: &["24", "48", "72", "back", "left"] },
        // Square first: a kerf of 3.2 and 1/16 in (1.5875) trimmed at both ends is 6.375 at a corner;
        // 2 × 228 + 2 × 74 + 3 × 6.375 + 2 × 6 = 635.125.
        Case {
            name: "strip",
            drawing: drawings::strip_plan(&pencil.parts, 0, pencil.shown, PAGE),
            want: &["228", "74", "− 6.4", "strip 635.1", "closes here"],
        },
        Case {
            name: "bowl",
            drawing: drawings::views(&bowl.parts, &bowl.solids, bowl.shown, PAGE),
            want: &["210", "72"],
        },
    ];
    for case in cases {
        let said = said(&case.drawing);
        for want in case.want {
            let found = said.iter().any(|s| s == want || s.ends_with(&format!(" {want}")));
            assert!(found, "{}: no “{want}” in {said:?}", case.name);
        }
    }
}

/// The arris of leaning walls is longer than the bowl is high: each face leans 12°, and the corner of a hexagon
/// moves out by tan 12° ÷ cos 30° for each unit of height; 72 × √(1 + (0.21256 ÷ 0.86603)²) = 74.14 by hand.
#[test]
fn key_heights_count_along_the_leaning_arris() {
    let bowl = example("seed-bowl");
    let drawing = drawings::key_layout(&bowl.parts, CornerName(0), bowl.shown).expect("keys");
    let said = said(&drawing);
    assert!(said.iter().any(|s| s == "74.1"), "{said:?}");
}

#[test]
fn the_strip_says_its_length_and_its_losses() {
    for e in examples() {
        for (index, run) in e.parts.runs.iter().enumerate().filter(|(_, r)| r.mirrors.is_none()) {
            let said = said(&drawings::strip_plan(&e.parts, index, e.shown, PAGE));
            let mut sum = run.end_trim * 2.0;
            for (id, corner) in run.parts.iter().zip(&run.corners) {
                sum += e.parts.parts[id.0].size[0] + corner.loss;
            }
            let strip = format!("strip {}", e.shown.dimension(sum));
            assert!(said.contains(&strip), "{}: no “{strip}” in {said:?}", e.name);
        }
    }
}

#[test]
fn full_scale_drawings_measure_true() {
    for e in examples() {
        for part in &e.parts.parts {
            let shape = drawings::end_profile(part, e.shown);
            let outline = shape.items.iter().filter_map(|item| match item {
                drawing::Item::Polygon { points, .. } => Some(points.clone()),
                _ => None,
            });
            let points: Vec<[f64; 2]> = outline.flatten().collect();
            let span = |axis: usize| {
                let values = points.iter().map(|p| p[axis]);
                values.clone().fold(f64::MIN, f64::max) - values.fold(f64::MAX, f64::min)
            };
            let [_, width, thick] = part.size.map(Length::to_mm);
            // A key or pull is shaped all over; walls, lids and bottoms keep their block.
            if matches!(part.role, Role::Wall | Role::Bottom | Role::FrameMember) {
                assert!((span(0) - thick).abs() < 1e-6, "{} {}: {}", e.name, part.name, span(0));
                assert!(span(1) <= width + 1e-6 && span(1) > width - 3.0, "{} {}", e.name, part.name);
            }
        }
    }
}

#[test]
fn names_stay_inside_their_parts_on_the_board() {
    for e in examples() {
        let (demand, plan) = boards(&e);
        let names: Vec<String> = demand.items.iter().map(|i| i.id.clone()).collect();
        for layout in &plan.layouts {
            let stock = &demand.stock[layout.stock];
            let board = drawings::board_layout(stock, layout, &names, e.shown, PAGE);
            let bounds = board.drawing.bounds(1.0).expect("a board");
            assert!(bounds.width() <= PAGE.width + 0.1 && bounds.height() <= PAGE.height + 0.1);
            let drawn = words(&board.drawing);
            let scale = match &board.drawing.items[0] {
                drawing::Item::Polygon { points, .. } => points[1][0] / stock.length.to_mm(),
                other => panic!("the board's outline comes first: {other:?}"),
            };
            for placed in &layout.parts {
                let [x, y, w, h] =
                    [placed.x, placed.y, placed.length, placed.width].map(|l| l.to_mm() * scale);
                let name = &names[placed.item];
                let number = board.legend.iter().find(|l| &l.1 == name).map(|l| l.0.to_string());
                let inside = drawn.iter().any(|(word, corners)| {
                    (word == name || Some(word) == number.as_ref())
                        && corners.iter().all(|p| {
                            p[0] > x - 0.1 && p[0] < x + w + 0.1 && p[1] > y - 0.3 && p[1] < y + h + 0.3
                        })
                });
                assert!(inside, "{}: {name} is not named inside its part", e.name);
            }
            // Each cut has its number.
            for number in 1..=layout.cuts().len() {
                assert!(drawn.iter().any(|w| w.0 == number.to_string()), "{}: cut {number}", e.name);
            }
        }
    }
}

#[test]
fn set_ups_say_distance_height_and_tilt() {
    let settings = thin_kerf();
    for e in examples() {
        let lot = saw::Lot { parts: &e.parts, count: 1 };
        for setup in saw::plan(&[lot], &settings, saw::Effort::Fast).setups {
            let Some(drawing) = drawings::setup_drawing(&setup, e.shown, Room::new(110.0, 62.0)) else {
                continue;
            };
            let said = said(&drawing);
            let above = matches!(setup.purpose, Purpose::GaugeMiter | Purpose::CompoundMiter);
            let mut want = Vec::new();
            let shaped = matches!(setup.purpose, Purpose::Chamfer | Purpose::RoundOver);
            if let (Some(distance), false) = (setup.distance(), shaped) {
                want.push(e.shown.dimension(distance));
            }
            if let (Some(height), false) = (setup.height(), above) {
                want.push(e.shown.dimension(height));
            }
            if setup.tilt.to_degrees() > 0.05 && !above {
                want.push(drawings::Shown::angle(setup.tilt));
            }
            for want in want {
                // A later distance of the same set-up follows after a comma.
                let found = said.iter().any(|w| w.split(',').next() == Some(want.as_str()));
                assert!(found, "{} {:?}: no “{want}” in {said:?}", e.name, setup.purpose);
            }
            let b = drawing.bounds(1.0).expect("a sketch");
            assert!(b.width() < 160.0 && b.height() < 110.0, "{} {:?}: {b:?}", e.name, setup.purpose);
        }
    }
}

#[test]
fn small_drawings_look_as_they_did() {
    let chest = example("stamp-chest");
    let key = chest.parts.parts.iter().find(|p| p.role == Role::Key).expect("a key");
    let card = drawings::lining_card([Length::mm(60.0), Length::mm(40.0)], Length::mm(1.5), chest.shown);
    for (name, drawing) in [
        ("label", drawings::label_marks(Some(Place { number: 2, of: 4 }))),
        ("key", drawings::key_triangle(key, chest.shown)),
        ("card", card),
    ] {
        insta::assert_snapshot!(name, svg::write(&drawing, 1.0, 2.0, name));
    }
}

#[test]
fn drawings_of_nothing_are_empty_and_do_not_panic() {
    let mut e = example("tea-caddy");
    e.parts.parts.clear();
    e.parts.runs.clear();
    e.solids.clear();
    assert!(drawings::exploded(&e.parts, &e.solids, PAGE).items.is_empty());
    assert!(drawings::assembled(&e.parts, &e.solids, e.shown, PAGE).items.is_empty());
    assert!(drawings::joint_sections(&e.parts, &e.solids, e.shown).is_empty());
    assert!(drawings::strip_plan(&e.parts, 3, e.shown, PAGE).items.is_empty());
    assert!(drawings::key_layout(&e.parts, CornerName(9), e.shown).is_none());
    let whole = example("tea-caddy");
    let nowhere = Room::new(0.0, f64::NAN);
    let _ = drawings::exploded(&whole.parts, &whole.solids, nowhere);
    let _ = drawings::views(&whole.parts, &whole.solids, whole.shown, nowhere);
}

#[test]
fn a_sheet_of_all_drawings() {
    let sheets = examples()
        .iter()
        .map(|e| {
            let figure = |drawing| {
                let fit = Fit::Within(250.0);
                Block::Figure(Figure { drawing, fit, caption: Words::default(), alt: e.name.clone() })
            };
            Sheet::new(e.name.clone(), packed(all(e)).into_iter().map(figure).collect())
        })
        .collect();
    let document = Document {
        title: "Drawings".into(),
        author: String::new(),
        language: "en-US".into(),
        date: "day 0".into(),
        paper: Paper::A4,
        sheets,
    };
    assert_eq!(document.faults(), Vec::<String>::new());
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("drawings.pdf");
    std::fs::write(path, pdf::write(&document).unwrap()).unwrap();
}
