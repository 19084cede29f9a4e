//! The drawings of the example boxes: facts in them, no words over words, and a sheet of all to look at.

mod boxes;

use boxes::{Example, examples};
use keepwright_model::cutting::{
    self, Demand, Item, KeepOffcuts, Margins, Order, Plan, Rules, Run, Stock, StockDefect,
};
use keepwright_model::design::CornerName;
use keepwright_model::parts::{Origin, Role};
use keepwright_model::saw;
use keepwright_model::units::Length;
use keepwright_packet::document::{Document, Sheet};
use keepwright_packet::drawing::flat::{Mark, flatten};
use keepwright_packet::drawing::{Affine, Anchor, Drawing, Rise, Text};
use keepwright_packet::drawings::{self, Place, Room};
use keepwright_packet::flow::{Block, Figure, Fit, Words};
use keepwright_packet::ink;
use keepwright_packet::page::Paper;
use keepwright_packet::pdf;

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
    let saw = saw::Settings::small_shop();
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

/// One sketch for each purpose of a set-up.
fn setups(e: &Example) -> Vec<(String, Drawing)> {
    let settings = saw::Settings::small_shop();
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
    for wall in e.parts.parts.iter() {
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
    let plan = cutting::plan(&demand, settings, &mut cutting::NeverStop, &mut cutting::Silent).unwrap();
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
                b.width() <= room.width + 0.1 && b.height() <= room.height + 0.1,
                "{} {name}: {b:?}",
                e.name
            );
            assert!(b.width() > 60.0, "{} {name}: too small to read: {b:?}", e.name);
        }
    }
}

/// Drawings in rows, as many to a page as fit, each with its name under it.
fn packed(drawings: Vec<(String, Drawing)>) -> Vec<Drawing> {
    let (wide, high) = (179.0, 240.0);
    let (mut pages, mut page) = (Vec::new(), Drawing::new());
    let (mut x, mut top, mut row) = (0.0, 0.0, 0.0_f64);
    for (name, drawing) in drawings {
        let b = drawing.bounds(1.0).unwrap();
        let (w, h) = (b.width().max(40.0), b.height() + 7.0);
        if x > 0.0 && x + w > wide {
            (x, top, row) = (0.0, top - row, 0.0);
        }
        if top < 0.0 && top - h < -high {
            pages.push(std::mem::take(&mut page));
            (x, top, row) = (0.0, 0.0, 0.0);
        }
        page.place(drawing, Affine::shift(x - b.left, top - b.top));
        let words: String = name.chars().take((w / 1.4) as usize).collect();
        let text = Text::new([x, top - b.height() - 3.0], words).sized(2.5).colored(ink::WORTH);
        page.text(text.hung(Anchor::Start, Rise::Middle));
        x += w + 8.0;
        row = row.max(h + 5.0);
    }
    pages.push(page);
    pages
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
