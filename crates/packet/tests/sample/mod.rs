//! A document that uses every block: a small pear-wood box for sewing needles, invented.

use keepwright_model::caution::Weight;
use keepwright_packet::document::{Document, Sheet};
use keepwright_packet::drawing::dimension::{Dimension, Leader};
use keepwright_packet::drawing::{Affine, Anchor, Drawing, Line, Pen, Rise, Text};
use keepwright_packet::flow::{
    Align, Block, Bullet, Card, Caution, Column, Columns, Figure, Fit, Label, Labels, List, Setting, Table,
    Words,
};
use keepwright_packet::ink::Color;
use keepwright_packet::page::{Orientation, Paper, ScaleNote};

const PEAR: Color = Color::rgb(0xc9, 0x8f, 0x6b);
const LIGHT: Color = Color::rgb(0xe8, 0xd9, 0xb4);

/// A wall seen from its outside, with dimensions.
pub(crate) fn wall() -> Drawing {
    let mut drawing = Drawing::new();
    let visible = Pen::new(Line::Visible);
    drawing.rectangle([0.0, 0.0], 162.0, 58.0, Some(LIGHT), Some(visible));
    for y in [9.0, 16.0, 22.0, 29.0, 37.0, 46.0, 52.0] {
        drawing.polyline(
            [[1.0, y], [50.0, y + 2.0], [110.0, y - 1.5], [161.0, y + 1.0]],
            Pen::new(Line::Figure),
        );
    }
    drawing.line([0.0, 4.0], [162.0, 4.0], Pen::new(Line::Hidden));
    drawing.line([81.0, -5.0], [81.0, 63.0], Pen::new(Line::Center));
    drawing.circle([120.0, 30.0], 3.0, None, Some(visible));
    drawing.dimension(Dimension::level([0.0, 0.0], [162.0, 0.0], -12.0, "162"));
    drawing.dimension(Dimension::upright([162.0, 0.0], [162.0, 58.0], 10.0, "58"));
    drawing.dimension(Dimension::upright([0.0, 0.0], [0.0, 4.0], -8.0, "4"));
    drawing.leader(Leader::new([123.0, 30.0], [12.0, 16.0], "⌀6 for the peg").dotted());
    drawing
}

/// The end of a miter at the saw.
pub(crate) fn miter() -> Drawing {
    let mut drawing = Drawing::new();
    let visible = Pen::new(Line::Visible);
    drawing.rectangle([-14.0, -4.0], 110.0, 4.0, Some(LIGHT), Some(visible));
    drawing.rectangle([-12.0, 0.0], 8.0, 22.0, Some(LIGHT), Some(visible));
    drawing.polygon([[-4.0, 0.0], [58.0, 0.0], [70.0, 12.0], [-4.0, 12.0]], Some(PEAR), Some(visible));
    drawing.line([52.0, -6.0], [84.0, 26.0], visible);
    drawing.arc([58.0, 0.0], 26.0, 0.0, 45.0, Pen::new(Line::Dimension));
    drawing.text(Text::new([88.0, 10.0], "45°").hung(Anchor::Start, Rise::Middle));
    drawing.text(Text::new([30.0, 6.0], "show face up"));
    drawing.dimension(Dimension::level([-4.0, 12.0], [70.0, 12.0], 14.0, "162.0"));
    drawing
}

/// A long template, larger than any sheet here.
pub(crate) fn template() -> Drawing {
    let mut drawing = Drawing::new();
    let visible = Pen::new(Line::Visible);
    drawing.rectangle([0.0, 0.0], 420.0, 290.0, None, Some(visible));
    drawing.cut_surface([[0.0, 0.0], [420.0, 0.0], [420.0, 12.0], [0.0, 12.0]]);
    drawing.arc([210.0, 12.0], 180.0, 10.0, 170.0, visible);
    drawing.dimension(Dimension::level([0.0, 290.0], [420.0, 290.0], 10.0, "420"));
    drawing.dimension(Dimension::upright([420.0, 0.0], [420.0, 290.0], 10.0, "290"));
    drawing
}

/// A box in axonometric view with aligned dimensions.
pub(crate) fn view() -> Drawing {
    let mut drawing = Drawing::new();
    let visible = Pen::new(Line::Visible);
    let at = |x: f64, y: f64, z: f64| [(x - y) * 0.866, (x + y) * 0.5 + z];
    let (l, w, h) = (162.0, 96.0, 58.0);
    let (a, b, c) = (at(0.0, 0.0, 0.0), at(l, 0.0, 0.0), at(0.0, w, 0.0));
    drawing.polygon([a, b, at(l, 0.0, h), at(0.0, 0.0, h)], Some(PEAR), Some(visible));
    drawing.polygon([a, c, at(0.0, w, h), at(0.0, 0.0, h)], Some(PEAR.tint(0.8)), Some(visible));
    drawing.polygon([at(0.0, 0.0, h), at(l, 0.0, h), at(l, w, h), at(0.0, w, h)], Some(LIGHT), Some(visible));
    drawing.dimension(Dimension::aligned(a, b, 12.0, "162").along([0.0, -1.0]));
    drawing.dimension(Dimension::aligned(a, c, 12.0, "96").along([0.0, -1.0]));
    drawing.dimension(Dimension::aligned(b, at(l, 0.0, h), 12.0, "58").along([0.866, -0.5]));
    drawing.leader(Leader::new(at(l * 0.5, w * 0.5, h), [30.0, 26.0], "lid panel, quartersawn").dotted());
    drawing
}

fn figure(drawing: Drawing, fit: Fit, caption: &str, alt: &str) -> Block {
    Block::Figure(Figure { drawing, fit, caption: Words::marked(caption), alt: alt.to_owned() })
}

fn cells(row: &[&str]) -> Vec<Words> {
    row.iter().map(|cell| Words::marked(cell)).collect()
}

fn parts(count: usize) -> Table {
    let row = |i: usize| {
        let name = ["front wall", "back wall", "left wall", "right wall", "bottom", "lid panel"][i % 6];
        let note = ["runs on from the left wall", "closing corner at its left end", "", "grain up"][i % 4];
        cells(&[
            &format!("P{}", i + 1),
            name,
            "1",
            &format!("{:.1}", 162.0 - 11.0 * (i % 7) as f64),
            &format!("{:.1}", 58.0 - (i % 3) as f64),
            "8.0",
            note,
        ])
    };
    let mut rows: Vec<_> = (0..count).map(row).collect();
    rows.push(cells(&["", "all parts", &count.to_string(), "", "", "", "wood 0.021 m³"]));
    let columns = vec![
        Column::narrow("mark"),
        Column::words("part"),
        Column::numbers("pieces"),
        Column::numbers("length mm"),
        Column::numbers("width mm"),
        Column::numbers("thick mm"),
        Column { heading: "note".into(), align: Align::Left, weight: 2.0 },
    ];
    Table { columns, rows, totals: 1 }
}

fn card(number: usize) -> Block {
    Block::Card(Card {
        title: "Miter the far ends".into(),
        under: format!("set-up {number} of 9 · table saw, flat-top blade"),
        settings: vec![
            Setting::new("stop to tip", "162.0", "mm, long pair"),
            Setting::new("blade height", "14", "mm"),
            Setting::new("tilt", "45.0°", ""),
            Setting::new("leave for creeping", "0.8", "mm"),
        ],
        drawing: Some((
            miter(),
            "A wall lies against the stop, show face up; the blade stands at 45 degrees.".into(),
        )),
        blocks: vec![
            Block::note("Flip the second of the pair end for end: a squareness error then cancels."),
            Block::Caution(Caution::new(
                Weight::Cannot,
                "The offcut must fall free: nothing between blade and stop but the held piece. Guard, riving knife, \
                 sled; the saw's manual comes first.",
            )),
        ],
        ticks: vec!["test piece".into(), "front".into(), "back".into()],
        ..Card::default()
    })
}

fn cautions() -> Vec<Block> {
    let full = |weight, place: &str, says: &str, cure: &str, basis: &str| {
        Block::Caution(Caution {
            weight,
            place: place.into(),
            says: Words::marked(says),
            cure: cure.into(),
            basis: basis.into(),
        })
    };
    vec![
        full(
            Weight::LikelyToFail,
            "lid panel",
            "The panel is glued across the grain of its frame; between March and August it wants to grow by **0.9 mm** \
             and cannot.",
            "Float it in a groove 4 mm deep.",
            "Wood Handbook, chapter 13",
        ),
        full(
            Weight::WorthKnowing,
            "",
            "Pear moves about as much as beech; rough-cut it and let it rest.",
            "",
            "",
        ),
        full(
            Weight::Cannot,
            "front-right corner, key 2",
            "The slot breaks through at the rabbet by **0.6 mm**.",
            "Set the keys 5.1 mm deep, or make the rabbet 3.2 mm.",
            "geometry of the corner",
        ),
    ]
}

fn first_sheet() -> Sheet {
    let mut blocks = vec![
        Block::Title {
            text: "Needle box in pear".into(),
            under: "four mitered walls, keyed corners, lid panel quartersawn · for the spring fair".into(),
        },
        Block::lead(
            "The four walls come from one strip **548.4 mm** long; board B2 has **573 mm** clear of the knot, so \
             **25 mm** are left to trim.",
        ),
        figure(
            view(),
            Fit::Within(82.0),
            "Closed, from the front right corner.",
            "The closed box in axonometric view.",
        ),
        Block::Heading("What it is made of".into()),
        Block::paragraph(
            "The strip is cut **left, front, right, back**; the figure runs on round three corners and stops at the \
             fourth, back left, where it is seen least. Between cuts the saw takes **2.4 mm** of the face, that is a \
             kerf of 1 11/16 mm at 45°. Glue the walls dry first: if a corner gapes at the heel, the blade is short of \
             45° by half the gap over the wall's thickness.",
        ),
        Block::Columns(Columns {
            left: vec![
                Block::Subheading("Woods".into()),
                Block::Pairs(vec![
                    ("walls".into(), "pear, steamed, 8 mm".into()),
                    ("bottom".into(), "birch ply 4 mm".into()),
                    ("keys".into(), "holly, 1.6 mm".into()),
                ]),
            ],
            right: vec![
                Block::Subheading("Sizes".into()),
                Block::Pairs(vec![
                    ("outside".into(), Words::marked("**162.0** × **96.0** × **58.0** mm")),
                    ("inside".into(), Words::marked("146.0 × 80.0 × 46.0 mm (5 3/4 in long)")),
                    ("mass".into(), "310 g".into()),
                ]),
            ],
            share: 0.5,
        }),
    ];
    blocks.extend(cautions());
    Sheet::new("Cover", blocks)
}

fn part_sheet() -> Sheet {
    Sheet::new(
        "Parts",
        vec![
            Block::Heading("Part list".into()),
            Block::note("Finished sizes. Length runs along the grain."),
            Block::Table(parts(38)),
            Block::Heading("In order".into()),
            Block::List(List {
                bullet: Bullet::Number,
                items: (0..11)
                    .map(|i| {
                        Words::marked(if i % 3 == 0 {
                            "Joint one face and one edge of board B2, then plane to **9.0 mm**; leave **1.0 mm** for the \
                             second planing after two days of rest."
                        } else {
                            "Rip the strip to **59.5 mm**."
                        })
                    })
                    .collect(),
            }),
            Block::List(List {
                bullet: Bullet::Box,
                items: vec!["moisture read: ______ %".into(), "blade square to table".into(), "dry fit, band tight".into()],
            }),
            Block::List(List { bullet: Bullet::Dot, items: vec!["holly keys".into(), "felt, 2 mm".into()] }),
            Block::Rule,
            Block::note("Sizes in inches are rounded to 1/64; a minus sign after one means a little under."),
        ],
    )
}

fn saw_sheet() -> Sheet {
    let mut blocks = vec![Block::Heading("At the saw".into())];
    blocks.extend((1..=5).map(card));
    Sheet::new("Set-ups", blocks)
}

fn scale_sheets() -> Vec<Sheet> {
    let full = |title: &str, orientation, blocks| Sheet {
        title: title.into(),
        orientation,
        scale: ScaleNote::FullScale,
        blocks,
    };
    vec![
        full(
            "Front wall, full scale",
            Orientation::Landscape,
            vec![figure(
                wall(),
                Fit::FullScale,
                "Front wall, outside face.",
                "The front wall with its peg hole.",
            )],
        ),
        full(
            "Template",
            Orientation::Portrait,
            vec![figure(template(), Fit::FullScale, "Cradle side.", "A cradle side with a round cut-out.")],
        ),
    ]
}

fn label_sheet() -> Sheet {
    let label = |i: usize| Label {
        name: ["Front", "Back", "Left", "Right", "Bottom", "Lid panel"][i % 6].into(),
        lines: vec!["Needle box in pear".into(), format!("162.0 × 58.0 × 8.0 mm, part P{}", i + 1)],
    };
    Sheet {
        scale: ScaleNote::Silent,
        ..Sheet::new(
            "Labels",
            vec![
                Block::Heading("Labels".into()),
                Block::Labels(Labels { width: 60.0, labels: (0..10).map(label).collect() }),
                Block::Space(10.0),
                figure(
                    {
                        let mut twice = Drawing::new();
                        twice.cutting_plane([40.0, 66.0], [40.0, -8.0], "A");
                        twice.break_line([200.0, -5.0], [200.0, 63.0]);
                        twice.place(wall(), Affine::SAME);
                        twice.place_clipped(
                            wall(),
                            Affine::mirror_left_right().then(Affine::shift(400.0, 0.0)),
                            [[-30.0, -30.0], [100.0, -30.0], [60.0, 80.0], [-30.0, 80.0]],
                        );
                        twice
                    },
                    Fit::Within(60.0),
                    "Two walls, the second mirrored and broken off.",
                    "Two walls.",
                ),
            ],
        )
    }
}

/// The whole document.
pub(crate) fn document(paper: Paper) -> Document {
    let mut sheets = vec![first_sheet(), part_sheet(), saw_sheet()];
    sheets.extend(scale_sheets());
    sheets.push(label_sheet());
    Document {
        title: "Needle box in pear".into(),
        author: "A shop of one".into(),
        language: "en-US".into(),
        date: "3 March 2025".into(),
        paper,
        sheets,
    }
}
