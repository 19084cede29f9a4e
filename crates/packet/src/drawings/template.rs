//! Full-scale outlines to cut by: profiles, keys, fingers, notches, hinge beds, panels, lining cards; and the marks
//! that keep parts the right way round.

use super::Shown;
use crate::drawing::{Dimension, Drawing, Line, Pen, Point, Text};
use crate::faces::Face;
use crate::ink;
use keepwright_model::parts::{NotchPurpose, Operation, Part};
use keepwright_model::solids::{LineKind, Shell, Solid, View, carve, project_shells, section};
use keepwright_model::space::{Plane, Vec3};
use keepwright_model::units::{Angle, Length};

/// Edges between facets of a round-over turn by less than this.
const FACET: Angle = Angle::degrees(20.0);

/// A part's outline seen on its show face, u to the right, v up: notches, miters and polygon panels show.
///
/// # Units
/// Full scale, part frame, millimeters.
pub fn face_outline(part: &Part, shown: Shown) -> Drawing {
    let view = View { direction: -Vec3::Z, up: Vec3::Y };
    let mut drawing = seen(&carve(part), &view);
    let [length, width, _] = part.size.map(Length::to_mm);
    drawing.dimension(Dimension::level([0.0, 0.0], [length, 0.0], -9.0, shown.dimension(part.size[0])));
    drawing.dimension(Dimension::upright([0.0, 0.0], [0.0, width], -9.0, shown.dimension(part.size[1])));
    drawing
}

/// What is seen of a solid, as visible lines.
fn seen(solid: &Solid, view: &View) -> Drawing {
    let shell: Shell = solid.shell();
    let mut drawing = Drawing::new();
    for line in project_shells(&[(&shell, 0)], view, FACET) {
        if line.kind != LineKind::Hidden {
            drawing.line([line.a.0, line.a.1], [line.b.0, line.b.1], Pen::new(Line::Visible).wide(0.35));
        }
    }
    drawing
}

/// The end profile of a part in the middle of its length: thickness to the right (back face at the left), width up.
///
/// # Units
/// Full scale, millimeters.
pub fn end_profile(part: &Part, shown: Shown) -> Drawing {
    let [length, width, thick] = part.size.map(Length::to_mm);
    let plane = Plane::through(Vec3::new(length / 2.0, 0.0, 0.0), Vec3::X);
    let cut = section(&carve(part), &plane);
    let mut drawing = Drawing::new();
    for ring in cut.faces.iter().flatten() {
        let points: Vec<Point> = ring
            .iter()
            .map(|(a, b)| {
                let p = cut.origin + cut.u * *a + cut.v * *b;
                [p.z, p.y]
            })
            .collect();
        drawing.polygon(points, None, Some(Pen::new(Line::Visible).wide(0.35)));
    }
    drawing.dimension(Dimension::level([0.0, 0.0], [thick, 0.0], -8.0, shown.dimension(part.size[2])));
    drawing.dimension(Dimension::upright([0.0, 0.0], [0.0, width], -8.0, shown.dimension(part.size[1])));
    let text = Text::new([thick / 2.0, width + 4.0], "back · show").sized(2.6).colored(ink::SOFT);
    drawing.text(text);
    drawing
}

/// A key's triangle, long edge level: the grain runs along it.
///
/// # Units
/// Full scale, millimeters; `key` as derived (u along the long edge, v the depth).
pub fn key_triangle(key: &Part, shown: Shown) -> Drawing {
    let mut drawing = seen(&carve(key), &View { direction: -Vec3::Z, up: Vec3::Y });
    let [long, deep, _] = key.size.map(Length::to_mm);
    drawing.dimension(Dimension::level([0.0, 0.0], [long, 0.0], -8.0, shown.dimension(key.size[0])));
    drawing.dimension(Dimension::upright([0.0, 0.0], [long / 2.0, deep], -8.0, shown.dimension(key.size[1])));
    drawing
}

/// The fingers of a part's start end, laid out over its width: each socket with its place from the lower edge.
/// `None` for a part without fingers.
///
/// # Units
/// Full scale, millimeters; the end's length into the part to the right, width up.
pub fn finger_layout(part: &Part, shown: Shown) -> Option<Drawing> {
    let [length, width, _] = part.size.map(Length::to_mm);
    let mut sockets: Vec<[f64; 3]> = part
        .cuts
        .iter()
        .filter_map(|c| match c.operation {
            Operation::Notch { from, to, purpose: NotchPurpose::Finger } if from[0] <= Length::ZERO => {
                Some([from[1].to_mm().max(0.0), to[1].to_mm().min(width), to[0].to_mm().min(length)])
            }
            _ => None,
        })
        .collect();
    if sockets.is_empty() {
        return None;
    }
    sockets.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let deep = sockets.first().map_or(0.0, |s| s[2]);
    let far = deep + 16.0;
    let mut outline = vec![[far, 0.0]];
    let mut outside = true;
    for [low, high, deep] in &sockets {
        if outside && *low > 0.0 {
            outline.push([0.0, if outline.len() == 1 { 0.0 } else { outline.last().map_or(0.0, |p| p[1]) }]);
            outline.push([0.0, *low]);
        }
        outline.push([*deep, *low]);
        outline.push([*deep, *high]);
        outside = true;
    }
    if sockets.last().is_some_and(|s| s[1] < width) {
        outline.push([0.0, sockets.last().map_or(width, |s| s[1])]);
        outline.push([0.0, width]);
    }
    outline.push([far, width]);
    let mut drawing = Drawing::new();
    drawing.polyline(outline, Pen::new(Line::Visible).wide(0.35));
    drawing.break_line([far, -2.0], [far, width + 2.0]);
    let mut marks = Vec::new();
    for [low, high, _] in &sockets {
        marks.extend([*low, *high]);
    }
    marks.push(width);
    marks.retain(|m| *m > 0.0);
    marks.dedup_by(|a, b| (*a - *b).abs() < 0.01);
    let marks: Vec<(f64, String)> = marks.into_iter().map(|m| (m, shown.mm(m))).collect();
    let feet: Vec<f64> = marks.iter().map(|_| far + 1.0).collect();
    super::place::running(&mut drawing, &marks, &feet, super::place::Scale::Right(far + 6.0), 3.0);
    drawing.dimension(Dimension::level([0.0, 0.0], [deep, 0.0], -9.0, shown.mm(deep)));
    Some(drawing)
}

/// The beds of hinge leaves along a part's edge, seen on that edge: start end at the left. `None` without hinges.
///
/// # Units
/// Full scale along the part, millimeters.
pub fn hinge_layout(part: &Part, shown: Shown) -> Option<Drawing> {
    let [length, _, thick] = part.size.map(Length::to_mm);
    let beds: Vec<[[f64; 3]; 2]> = part
        .cuts
        .iter()
        .filter_map(|c| match c.operation {
            Operation::Notch { from, to, purpose: NotchPurpose::HingeLeaf } => {
                Some([from.map(Length::to_mm), to.map(Length::to_mm)])
            }
            _ => None,
        })
        .collect();
    if beds.is_empty() {
        return None;
    }
    let mut drawing = Drawing::new();
    drawing.rectangle([0.0, 0.0], length, thick, None, Some(Pen::new(Line::Visible).wide(0.35)));
    for [from, to] in &beds {
        let (x, y) = (from[0].max(0.0), from[2].max(0.0));
        let (w, h) = (to[0].min(length) - x, to[2].min(thick) - y);
        drawing.rectangle([x, y], w, h, None, Some(Pen::new(Line::Visible)));
        drawing.cut_surface([[x, y], [x + w, y], [x + w, y + h], [x, y + h]]);
        drawing.dimension(Dimension::level([x, thick], [x + w, thick], 8.0, shown.mm(w)));
        if x < length / 2.0 {
            drawing.dimension(Dimension::level([0.0, 0.0], [x, 0.0], -8.0, shown.mm(x)));
        } else {
            drawing.dimension(Dimension::level([x + w, 0.0], [length, 0.0], -8.0, shown.mm(length - x - w)));
        }
    }
    Some(drawing)
}

/// A card for cloth: the opening less the cloth on each side.
///
/// # Units
/// Full scale, millimeters.
pub fn lining_card(opening: [Length; 2], cloth: Length, shown: Shown) -> Drawing {
    let size = opening.map(|l| (l - cloth * 2.0).max(Length::ZERO));
    let [length, width] = size.map(Length::to_mm);
    let mut drawing = Drawing::new();
    drawing.rectangle([0.0, 0.0], length, width, None, Some(Pen::new(Line::CutOut)));
    drawing.dimension(Dimension::level([0.0, 0.0], [length, 0.0], -8.0, shown.dimension(size[0])));
    drawing.dimension(Dimension::upright([0.0, 0.0], [0.0, width], -8.0, shown.dimension(size[1])));
    drawing.text(Text::new([length / 2.0, width / 2.0], "card").sized(3.0).colored(ink::SOFT));
    drawing
}

/// Where a part stands in its run, for its label.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// From 1.
    pub number: u32,
    /// How many in the run.
    pub of: u32,
}

/// Marks for the label of a part: which way is up, which way the grain runs, that this is the show face, and its
/// place in the run.
///
/// # Units
/// Millimeters of the paper, about 34 by 16.
pub fn label_marks(place: Option<Place>) -> Drawing {
    let mut drawing = Drawing::new();
    let pen = Pen::new(Line::Visible).wide(0.35);
    drawing.rectangle([0.0, 0.0], 34.0, 16.0, None, Some(pen.wide(0.25)));
    // The triangle points up: it stands on the lower edge.
    drawing.polygon([[3.0, 2.5], [13.0, 2.5], [8.0, 13.5]], None, Some(Pen::new(Line::Visible)));
    drawing.text(Text::new([8.0, 5.6], "up").sized(2.8).faced(Face::Bold));
    // A double-headed arrow along the grain.
    drawing.line([16.5, 4.2], [31.5, 4.2], pen);
    for (tip, way) in [(15.0, 1.0), (33.0, -1.0)] {
        drawing.polygon([[tip, 4.2], [tip + way * 2.6, 5.0], [tip + way * 2.6, 3.4]], Some(ink::INK), None);
    }
    drawing.text(Text::new([24.0, 6.7], "grain").sized(2.4));
    if let Some(place) = place {
        let of = place.of.min(12);
        let step = (18.0 / f64::from(of.max(1))).min(3.6);
        for i in 1..=of {
            let at = [24.0 + step * (f64::from(i) - f64::from(of + 1) / 2.0), 12.0];
            let fill = (i == place.number).then_some(ink::INK);
            drawing.circle(at, step * 0.36, fill, Some(pen.wide(0.25)));
        }
    } else {
        drawing.text(Text::new([24.0, 12.0], "show face").sized(2.4));
    }
    drawing
}
