//! Words of a drawing that lie on its lines or on other words, found by walking along every line.

use keepwright_packet::drawing::flat::{Mark, flatten};
use keepwright_packet::drawing::{Anchor, Drawing};

/// Words with their baseline's start, direction, width and size.
struct Words {
    said: String,
    start: [f64; 2],
    turned: [f64; 2],
    width: f64,
    size: f64,
}

impl Words {
    /// Whether a point lies in the letters: from just under the baseline to the top of a capital.
    fn hold(&self, [x, y]: [f64; 2]) -> bool {
        let [cos, sin] = self.turned;
        let [dx, dy] = [x - self.start[0], y - self.start[1]];
        let (along, up) = (dx * cos + dy * sin, dy * cos - dx * sin);
        (0.0..=self.width).contains(&along) && (-0.1 * self.size..=0.7 * self.size).contains(&up)
    }

    /// Points over the letters, a fifth of a millimeter apart.
    fn points(&self) -> impl Iterator<Item = [f64; 2]> {
        let [cos, sin] = self.turned;
        let steps = (0..).map(|i| f64::from(i) * 0.2).take_while(|a| *a <= self.width);
        steps.flat_map(move |along| {
            [0.0, 0.35, 0.7].map(|share| {
                let up = share * self.size;
                [self.start[0] + along * cos - up * sin, self.start[1] + along * sin + up * cos]
            })
        })
    }
}

/// What lies on what, in words.
pub(crate) fn crowded(drawing: &Drawing) -> Vec<String> {
    let (mut words, mut lines) = (Vec::new(), Vec::new());
    collect(&flatten(drawing, 1.0), &mut words, &mut lines);
    let mut faults = Vec::new();
    for (i, one) in words.iter().enumerate() {
        if lines.iter().any(|line| along(line, one).any(|p| one.hold(p))) {
            faults.push(format!("a line through “{}”", one.said));
        }
        for other in words.iter().skip(i + 1) {
            if one.points().any(|p| other.hold(p)) {
                faults.push(format!("“{}” over “{}”", one.said, other.said));
            }
        }
    }
    faults
}

/// Points along a line, a twentieth of a millimeter apart, as far as they can reach the words.
fn along<'l>(line: &'l [[f64; 2]], words: &Words) -> impl Iterator<Item = [f64; 2]> + use<'l> {
    let ([x, y], reach) = (words.start, words.width + words.size);
    line.windows(2)
        .filter(move |pair| {
            let beside = |axis: usize, at: f64| {
                pair.iter().all(|p| p[axis] < at - reach) || pair.iter().all(|p| p[axis] > at + reach)
            };
            !beside(0, x) && !beside(1, y)
        })
        .flat_map(|pair| {
            let ([ax, ay], [bx, by]) = (pair[0], pair[1]);
            let steps = ((bx - ax).hypot(by - ay) / 0.05).ceil().clamp(1.0, 20_000.0);
            (0..=20_000)
                .map(f64::from)
                .take_while(move |i| *i <= steps)
                .map(move |i| [ax + (bx - ax) * i / steps, ay + (by - ay) * i / steps])
        })
}

/// Points on an arc, a hundredth part of it apart.
fn arc([x, y]: [f64; 2], radius: f64, [start, end]: [f64; 2]) -> Vec<[f64; 2]> {
    (0..=100)
        .map(|i| (start + (end - start) * f64::from(i) / 100.0).to_radians())
        .map(|angle| [x + radius * angle.cos(), y + radius * angle.sin()])
        .collect()
}

fn collect(marks: &[Mark], words: &mut Vec<Words>, lines: &mut Vec<Vec<[f64; 2]>>) {
    for mark in marks {
        match mark {
            Mark::Path { points, closed, stroke, .. } => {
                if stroke.is_some() {
                    let mut line = points.clone();
                    if *closed {
                        line.extend(points.first());
                    }
                    lines.push(line);
                }
            }
            Mark::Arc { center, radius, start, end, .. } => {
                lines.push(arc(*center, *radius, [*start, *end]));
            }
            Mark::Circle { center, radius, .. } => lines.push(arc(*center, *radius, [0.0, 360.0])),
            Mark::Text { at, words: text, size, anchor, rotation, face, .. } => {
                let width = face.advance(text) * size;
                let before = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => width / 2.0,
                    Anchor::End => width,
                };
                let (sin, cos) = rotation.to_radians().sin_cos();
                let start = [at[0] - before * cos, at[1] - before * sin];
                words.push(Words { said: text.clone(), start, turned: [cos, sin], width, size: *size });
            }
            Mark::Clip { marks, .. } => collect(marks, words, lines),
        }
    }
}
