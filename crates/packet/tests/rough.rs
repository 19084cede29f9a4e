//! Rough input: words without end, rows taller than a page, numbers that are none. Nothing breaks,
//! nothing overlaps, nothing is lost.

mod sample;

use std::time::Instant;

use keepwright_model::caution::Weight;
use keepwright_packet::document::{Document, Sheet};
use keepwright_packet::drawing::{Dimension, Drawing, Line, Pen, Text};
use keepwright_packet::flow::{
    Block, Bullet, Card, Caution, Column, Columns, Figure, Fit, Label, Labels, List, Setting, Table, Words,
};
use keepwright_packet::page::Paper;
use keepwright_packet::pdf;
use proptest::prelude::*;

fn document(blocks: Vec<Block>) -> Document {
    Document {
        title: "A box with a name that is far too long for the head of any page one could print it on".into(),
        author: String::new(),
        language: "en-US".into(),
        date: "3 March 2025".into(),
        paper: Paper::A4,
        sheets: vec![Sheet::new("Rough", blocks)],
    }
}

fn long(words: usize) -> String {
    "kerf and rabbet, ".repeat(words / 3)
}

fn figure(drawing: Drawing, fit: Fit) -> Block {
    Block::Figure(Figure { drawing, fit, caption: Words::default(), alt: String::new() })
}

fn odd_drawing() -> Drawing {
    let mut drawing = Drawing::new();
    drawing.line([f64::NAN, 0.0], [1e9, f64::INFINITY], Pen::new(Line::Visible));
    drawing.line([0.0, 0.0], [1e5, 0.0], Pen::new(Line::Visible));
    drawing.text(
        Text::new(
            [0.0, 0.0],
            "a label wider than the whole page, as makers sometimes write them, and wider still",
        )
        .sized(9.0),
    );
    drawing.dimension(Dimension::aligned([5.0, 5.0], [5.0, 5.0], f64::NAN, ""));
    drawing
}

struct Case {
    name: &'static str,
    /// How often the word kerf is in it.
    kerfs: usize,
    blocks: Vec<Block>,
}

/// Blocks larger than their place.
fn large() -> Vec<Case> {
    let wide = "W".repeat(400);
    vec![
        Case { name: "nothing", kerfs: 0, blocks: vec![] },
        Case {
            name: "a word without end",
            kerfs: 0,
            blocks: vec![Block::paragraph(&wide), Block::lead(&wide), Block::Heading(wide.clone())],
        },
        Case {
            name: "a row taller than a page",
            kerfs: 4000 / 3 + 4,
            blocks: vec![Block::Table(Table::new(
                vec![Column::words("a"), Column::numbers("b")],
                (0..5)
                    .map(|i| vec![Words::plain(long(if i == 2 { 4000 } else { 3 })), "1.0".into()])
                    .collect(),
            ))],
        },
        Case {
            name: "tables that are hardly tables",
            kerfs: 0,
            blocks: vec![
                Block::Table(Table::default()),
                Block::Table(Table::new(vec![Column::words("")], vec![])),
                Block::Table(Table {
                    columns: vec![Column::words("a")],
                    rows: vec![vec![], vec!["x".into(), "y".into()]],
                    totals: 9,
                }),
                Block::Table(Table::new(
                    (0..30).map(|i| Column::numbers(format!("column {i}"))).collect(),
                    vec![vec![Words::from("123.456"); 30]; 3],
                )),
            ],
        },
        Case {
            name: "a card taller than a page",
            kerfs: 1000 + 300 / 3,
            blocks: vec![Block::Card(Card {
                title: wide.clone(),
                under: wide.clone(),
                settings: (0..60)
                    .map(|i| Setting::new(format!("{i} {wide}"), "12345678901234567890", wide.clone()))
                    .collect(),
                drawing: Some((odd_drawing(), String::new())),
                halves: [vec![Block::paragraph(&wide)], vec![Block::paragraph(&long(300))]],
                blocks: vec![Block::paragraph(&long(3000))],
                ticks: vec![wide.clone(), String::new(), "ok".into()],
            })],
        },
        Case {
            name: "columns taller than a page",
            kerfs: 1000 + 2000 / 3,
            blocks: vec![Block::Columns(Columns {
                left: vec![Block::paragraph(&long(3000))],
                right: vec![Block::Caution(Caution::new(Weight::Cannot, long(2000)))],
                share: f64::NAN,
            })],
        },
    ]
}

/// Blocks with hardly anything in them, or nothing that can be drawn.
fn odd() -> Vec<Case> {
    let wide = "W".repeat(400);
    vec![
        Case {
            name: "drawings that are none",
            kerfs: 0,
            blocks: vec![
                figure(Drawing::new(), Fit::Within(50.0)),
                figure(Drawing::new(), Fit::FullScale),
                figure(odd_drawing(), Fit::Within(f64::NAN)),
                figure(odd_drawing(), Fit::Within(-3.0)),
            ],
        },
        Case {
            name: "labels",
            kerfs: 0,
            blocks: vec![
                Block::Labels(Labels {
                    width: f64::NAN,
                    labels: vec![Label { name: wide.clone(), lines: vec![wide.clone(); 3] }; 7],
                }),
                Block::Labels(Labels {
                    width: 1e9,
                    labels: vec![Label { name: String::new(), lines: vec![] }],
                }),
                Block::Labels(Labels { width: 60.0, labels: vec![] }),
            ],
        },
        Case {
            name: "signs no face has",
            kerfs: 0,
            blocks: vec![
                Block::paragraph(
                    "箱 коробка صندوق 📦 \u{0}\u{7}\u{feff}\u{200d} \t tab\nnew line\r\nanother",
                ),
                Block::List(List { bullet: Bullet::Number, items: vec![Words::default(); 12] }),
                Block::Pairs(vec![
                    (wide.clone(), Words::plain(wide.clone())),
                    (String::new(), Words::default()),
                ]),
                Block::Space(f64::INFINITY),
                Block::NewPage,
                Block::NewPage,
                Block::Rule,
            ],
        },
        Case { name: "headings only", kerfs: 0, blocks: vec![Block::Heading("one".into()); 60] },
    ]
}

#[test]
fn rough_blocks_find_a_place() {
    for case in large().into_iter().chain(odd()) {
        let document = document(case.blocks);
        assert_eq!(document.faults().into_iter().next(), None, "{}", case.name);
        let bytes = pdf::write(&document).unwrap_or_else(|error| panic!("{}: {error}", case.name));
        let back = lopdf::Document::load_mem(&bytes).unwrap();
        let name = format!("packet-rough-{}.pdf", case.name.replace(' ', "-"));
        std::fs::write(std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name), &bytes).unwrap();
        let pages: Vec<u32> = back.get_pages().keys().copied().collect();
        // Blanks at line ends are not all drawn, so words are counted without them.
        let read: String = back.extract_text(&pages).unwrap().split_whitespace().collect();
        let (read, given) = (read.matches("kerf").count(), case.kerfs);
        assert_eq!(read, given, "{}: words read against words given", case.name);
        assert_eq!(back.get_pages().len(), document.page_count(), "{}", case.name);
    }
}

#[test]
fn a_document_without_sheets_is_refused() {
    let mut document = document(vec![]);
    document.sheets.clear();
    assert_eq!(pdf::write(&document), Err(pdf::Error::Empty));
}

#[test]
fn a_packet_of_many_pages_is_quick() {
    let mut document = sample::document(Paper::Letter);
    let sheets = document.sheets.clone();
    document.sheets.extend(sheets);
    let start = Instant::now();
    let bytes = pdf::write(&document).unwrap();
    let took = start.elapsed();
    assert!(document.page_count() >= 25 && bytes.len() < 1_000_000, "{}", bytes.len());
    // The aim is well under a second; a busy machine and a build for tests get more.
    assert!(took.as_secs_f64() < 5.0, "{took:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// No paragraph is lost or laid over another, however long, in whatever order.
    #[test]
    fn blocks_in_any_order_and_length_do_not_overlap(kinds in prop::collection::vec((0_u8..8, 0_usize..120), 1..30)) {
        let block = |(kind, words): (u8, usize)| {
            let text = long(words);
            match kind {
                0 => Block::Heading(format!("Heading {words}")),
                1 => Block::lead(&text),
                2 => Block::Caution(Caution::new(Weight::LikelyToFail, text)),
                3 => Block::Table(Table::new(
                    vec![Column::words("what"), Column::numbers("mm")],
                    vec![vec![Words::plain(text), "1.0".into()]; words % 17],
                )),
                4 => Block::List(List { bullet: Bullet::Box, items: vec![Words::plain(text); words % 5] }),
                5 => figure(sample::miter(), Fit::Within(20.0 + words as f64)),
                6 => Block::Space(words as f64),
                _ => Block::paragraph(&text),
            }
        };
        let document = document(kinds.into_iter().map(block).collect());
        prop_assert_eq!(document.faults().into_iter().next(), None);
    }
}

/// Cards a little taller than half a page would leave the rest of each page empty; two go side by side. A small one
/// between two of them keeps the width, for it shares a page with either.
#[test]
fn cards_over_half_a_page_stand_side_by_side() {
    let tall = |title: &str| {
        let said = "What is set, how the work lies, what holds it. ".repeat(9);
        let card = Card {
            title: title.to_owned(),
            settings: (0..5).map(|i| Setting::new(format!("setting {i}"), "12.5", "mm")).collect(),
            halves: [vec![Block::paragraph(&said)], vec![Block::paragraph(&said)]],
            ..Card::default()
        };
        Block::Card(card)
    };
    let small = Block::Card(Card { title: "Small".to_owned(), ..Card::default() });
    let pages = |blocks: Vec<Block>| {
        let document = document(blocks);
        assert_eq!(document.faults(), Vec::<String>::new());
        document.page_count()
    };
    let each = pages(vec![tall("One"), small.clone(), tall("Two"), small]);
    assert_eq!(each, 2, "each tall card with a small one");
    assert_eq!(pages(["One", "Two", "Three", "Four"].map(tall).to_vec()), 2, "two and two");
}
