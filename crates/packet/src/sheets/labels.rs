//! Labels to cut out and tape to the parts, so that no part is turned or mistaken for another.

use keepwright_model::parts::{Part, Role};

use super::draft::{Draft, figure, title, wood_name};
use super::part_list::{Kind, from, kinds};
use crate::document::Sheet;
use crate::drawing::{Affine, Anchor, Drawing, Line, Pen, Rise, Text};
use crate::drawings::{Place, label_marks};
use crate::faces::Face;
use crate::flow::{Block, Words};
use crate::ink;
use crate::page::ScaleNote;
use crate::shown::{capital, counted};

/// A label, millimeters: three across on either paper.
const WIDE: f64 = 59.0;
const TALL: f64 = 41.0;
const ACROSS: usize = 3;
/// From a label's edge to its words.
const PAD: f64 = 2.5;
/// Rows of labels on a sheet: its first page has the title and the sentence, too.
const FIRST_ROWS: usize = 4;
const ROWS: usize = 5;

/// One label.
struct Label {
    name: String,
    lines: Vec<String>,
    place: Option<Place>,
}

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let labels = labels(draft);
    let mut blocks = vec![
        title("Labels"),
        Block::Lead(Words::marked(&format!(
            "**{}** to cut out and tape on: the triangle points up, the arrow runs along the grain, the filled dot is the part's \
             place in its strip.",
            counted(labels.len(), "label", "labels")
        ))),
    ];
    let (mut rest, mut rows) = (labels.as_slice(), FIRST_ROWS);
    while !rest.is_empty() {
        let (page, more) = rest.split_at((rows * ACROSS).min(rest.len()));
        let names: Vec<&str> = page.iter().map(|l| l.name.as_str()).collect();
        blocks.push(figure(grid(page), "", format!("Labels: {}.", names.join(", "))));
        (rest, rows) = (more, ROWS);
    }
    Sheet { scale: ScaleNote::Silent, ..Sheet::new("Labels", blocks) }
}

/// One for each part of one box; parts that are many and all alike share one for each kind.
fn labels(draft: &Draft<'_>) -> Vec<Label> {
    let mut out = Vec::new();
    let boxes = usize::try_from(draft.count()).unwrap_or(usize::MAX);
    for kind in kinds(draft) {
        if matches!(kind.part.role, Role::Key | Role::Tongue | Role::Strip | Role::Veneer | Role::Foot) {
            out.push(label(draft, &kind, &kind.short(draft), kind.ids.len().saturating_mul(boxes), None));
            continue;
        }
        for part in kind.ids.iter().filter_map(|id| draft.part(*id)) {
            out.push(label(draft, &kind, &part.name, boxes, place(draft, part)));
        }
    }
    out
}

fn label(draft: &Draft<'_>, kind: &Kind<'_>, name: &str, pieces: usize, place: Option<Place>) -> Label {
    let of = if pieces > 1 { format!("{pieces} pieces, ") } else { String::new() };
    Label {
        name: capital(name),
        lines: vec![
            draft.show.sizes(&kind.part.size),
            format!("{}, {of}from {}", wood_name(&kind.part.wood), from(draft, kind)),
            draft.plan.statement.name.clone(),
        ],
        place,
    }
}

/// Where a part stands in its strip.
fn place(draft: &Draft<'_>, part: &Part) -> Option<Place> {
    let run = draft.plan.parts.runs.get(part.run?)?;
    let at = run.parts.iter().position(|id| draft.part(*id).is_some_and(|p| p.name == part.name))?;
    let small = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Some(Place { number: small(at + 1), of: small(run.parts.len()) })
}

/// Labels in rows with lines for the scissors, in millimeters of the paper.
fn grid(labels: &[Label]) -> Drawing {
    let mut drawing = Drawing::new();
    let cut = Pen::new(Line::CutOut).colored(ink::SOFT);
    for (row, labels) in labels.chunks(ACROSS).enumerate() {
        let top = -(row as f64) * TALL;
        let right = labels.len() as f64 * WIDE;
        if row == 0 {
            drawing.line([0.0, top], [right, top], cut);
        }
        drawing.line([0.0, top - TALL], [right, top - TALL], cut);
        for column in 0..=labels.len() {
            let x = column as f64 * WIDE;
            drawing.line([x, top], [x, top - TALL], cut);
        }
        for (column, label) in labels.iter().enumerate() {
            one(&mut drawing, label, [column as f64 * WIDE, top]);
        }
    }
    drawing
}

fn one(drawing: &mut Drawing, label: &Label, [left, top]: [f64; 2]) {
    let room = WIDE - 2.0 * PAD;
    let mut y = top - PAD;
    let mut line = |words: &str, size: f64, face: Face| {
        let (words, size) = within(words, size, face, room);
        drawing
            .text(Text::new([left + PAD, y], words).sized(size).faced(face).hung(Anchor::Start, Rise::Top));
        y -= size * 1.28;
    };
    line(&label.name, 5.0, Face::Bold);
    for words in &label.lines {
        line(words, 3.0, Face::Plain);
    }
    let marks = label_marks(label.place);
    if let Some(b) = marks.bounds(1.0) {
        drawing.place(marks, Affine::shift(left + PAD - b.left, top - TALL + PAD - b.bottom));
    }
}

/// Words that fit a width: smaller first, then cut short.
fn within(words: &str, size: f64, face: Face, room: f64) -> (String, f64) {
    let wide = face.advance(words);
    let fits = (room / wide.max(1e-6)).min(size);
    let least = size * 0.75;
    if fits >= least {
        return (words.to_owned(), fits);
    }
    let mut kept: String = words.to_owned();
    while face.advance(&kept) * least > room - 2.0 && kept.pop().is_some() {}
    (format!("{}…", kept.trim_end()), least)
}
