//! Woods in a drawing: their tints, their names, and a hint of their figure.

use crate::drawing::{Drawing, Line, Pen, Point};
use crate::ink::Color;
use keepwright_model::parts::{Part, Role};
use keepwright_model::space::Vec3;
use keepwright_model::wood;

/// The drawing color of a species or sheet; a plain light brown for an unknown one.
pub fn color(id: &str) -> Color {
    let [red, green, blue] = wood::species(id)
        .map(|s| s.drawing_color)
        .or_else(|| wood::sheet(id).map(|s| s.drawing_color))
        .unwrap_or([0xc8, 0xb0, 0x90]);
    Color::rgb(red, green, blue)
}

/// The trade's name of a species or sheet as it is said: `Cherry, black` of the table is black cherry.
pub fn name(id: &str) -> String {
    let found = wood::species(id).map(|s| s.common_name).or_else(|| wood::sheet(id).map(|s| s.name));
    let Some(name) = found else { return id.replace('_', " ") };
    match name.split_once(", ") {
        Some((kind, which)) => format!("{which} {}", kind.to_lowercase()),
        // A name of one word is a wood; of several, it may begin with a place.
        None if name.contains(' ') => name.to_owned(),
        None => name.to_lowercase(),
    }
}

/// How strongly a face is tinted: faces that look up are lightest, the side away from the light darkest.
pub(super) fn shade(id: &str, normal: Vec3) -> Color {
    let light = Vec3::new(-0.35, -0.55, 0.76);
    let share = 0.78 - 0.33 * normal.dot(light).clamp(-0.4, 1.0);
    color(id).tint(share)
}

/// The part's kind; for strips and veneers, of what.
pub(crate) fn kind(part: &Part) -> String {
    match part.role {
        Role::Strip | Role::Veneer => {
            let of = part.name.trim_end_matches(|c: char| c.is_ascii_digit() || c == ' ');
            let word = part.role.words();
            if of.contains(word) { of.to_owned() } else { format!("{of} {word}") }
        }
        role => role.words().to_owned(),
    }
}

/// How far the figure strays from its line at a place along the strip, millimeters; smooth, the same every time.
pub(super) fn stray(along: f64, line: f64) -> f64 {
    2.2 * (along / 61.0 + line * 1.7).sin() + 1.1 * (along / 23.0 + line * 4.1).sin()
}

/// Figure lines over a face: `map` takes (along the grain, across) to the drawing. `from` is how far along the
/// strip the face begins, so that the figure runs on from one wall to the next.
pub(super) fn figure(size: [f64; 2], from: f64, map: impl Fn(f64, f64) -> Point) -> Drawing {
    let mut drawing = Drawing::new();
    let [length, width] = size;
    let pen = Pen::new(Line::Figure);
    let mut across = 4.0;
    let mut line = 1.0;
    while across < width && line < 60.0 {
        let steps = 24_u32;
        let points: Vec<Point> = (0..=steps)
            .map(|i| {
                let along = length * f64::from(i) / f64::from(steps);
                map(along, (across + stray(from + along, line)).clamp(0.0, width))
            })
            .collect();
        drawing.polyline(points, pen);
        across += 6.0 + 4.0 * (line * 2.3).sin().abs();
        line += 1.0;
    }
    drawing
}
