//! The drawings of the example boxes: facts in them, no words over words, and a sheet of all to look at.

mod boxes;

use boxes::{Example, examples};
use keepwright_packet::document::{Document, Sheet};
use keepwright_packet::drawing::flat::{Mark, flatten};
use keepwright_packet::drawing::{Anchor, Drawing};
use keepwright_packet::drawings::{self, Room};
use keepwright_packet::flow::{Block, Figure, Fit, Words};
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
    out
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

#[test]
fn a_sheet_of_all_drawings() {
    let sheets = examples()
        .iter()
        .map(|e| {
            let blocks = all(e)
                .into_iter()
                .map(|(name, drawing)| {
                    let caption = Words::plain(name.clone());
                    Block::Figure(Figure { drawing, fit: Fit::Within(230.0), caption, alt: name })
                })
                .collect();
            Sheet::new(e.name.clone(), blocks)
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
