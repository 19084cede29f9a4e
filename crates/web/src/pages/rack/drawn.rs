//! A board drawn to scale: outline, end checks, faults, the photograph of its face, and the rings on its end.

use keepwright_model::design::{DefectFace, DefectKind, RackBoard};
use keepwright_model::units::Length;
use keepwright_packet::drawings::wood;

/// Letters of a drawing, as a share of the longest board's length: 13 pixels on a page 1000 wide.
const LETTERS: f64 = 0.013;
/// The end is drawn this wide, whatever it measures, in units of its own.
const END_WIDE: f64 = 100.0;

/// A rectangle of the drawing, y down as in SVG.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Rect {
    /// Left edge.
    pub(crate) x: f64,
    /// Upper edge.
    pub(crate) y: f64,
    /// Along.
    pub(crate) width: f64,
    /// Across.
    pub(crate) height: f64,
    /// What it is, in words.
    pub(crate) words: String,
    /// Only on the face that does not show.
    pub(crate) hidden: bool,
}

/// A board's drawing, in millimeters of the board.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawn {
    /// Along the grain.
    pub(crate) length: f64,
    /// Across.
    pub(crate) width: f64,
    /// The share of the page's width that it takes, in percent, so that all boards have one scale.
    pub(crate) share: f64,
    /// The wood's color.
    pub(crate) color: String,
    /// A lighter one of it.
    pub(crate) tint: String,
    /// Checked ends.
    pub(crate) checks: Vec<Rect>,
    /// Faults.
    pub(crate) faults: Vec<Rect>,
    /// Height of letters.
    pub(crate) letters: f64,
    /// The photograph of the front face.
    pub(crate) photo: Option<String>,
    /// The whole in words.
    pub(crate) words: String,
    /// The end.
    pub(crate) end: End,
}

/// The end of a board with its rings, its width taken as a hundred.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct End {
    /// Thickness.
    pub(crate) thick: f64,
    /// Where the pith would be.
    pub(crate) pith: [f64; 2],
    /// Radii of the rings.
    pub(crate) rings: Vec<f64>,
    /// In words.
    pub(crate) words: String,
}

/// Draws a board so that one of `longest` fills the page.
pub(crate) fn drawn(board: &RackBoard, thickness: Length, longest: Length, photo: Option<String>) -> Drawn {
    let (length, width) = (board.length.to_mm(), board.width.to_mm());
    let color = wood::color(&board.wood);
    let letters = LETTERS * longest.to_mm();
    let mut checks = Vec::new();
    for (x, check) in
        [(0.0, board.end_check_left), (length - board.end_check_right.to_mm(), board.end_check_right)]
    {
        if check > Length::ZERO {
            let words = "checked end".to_owned();
            checks.push(Rect { x, y: 0.0, width: check.to_mm(), height: width, words, hidden: false });
        }
    }
    let faults = board
        .defects
        .iter()
        .map(|d| Rect {
            x: d.x.to_mm(),
            y: width - d.y.to_mm() - d.width.to_mm(),
            width: d.length.to_mm(),
            height: d.width.to_mm(),
            words: fault_words(d.kind, d.face),
            hidden: d.face == DefectFace::Back,
        })
        .collect();
    Drawn {
        length,
        width,
        share: (100.0 * length / longest.to_mm().max(1.0)).clamp(0.5, 100.0),
        color: color.hex(),
        tint: color.tint(0.45).hex(),
        checks,
        faults,
        letters,
        photo,
        words: format!("Board {}, to scale", board.name),
        end: end(width, thickness.to_mm(), board.rings.angle().to_degrees()),
    }
}

/// A fault's kind as it is said.
pub(crate) const fn kind_words(kind: DefectKind) -> &'static str {
    match kind {
        DefectKind::Knot => "knot",
        DefectKind::Check => "check",
        DefectKind::Bark => "bark",
        DefectKind::Stain => "stain",
        DefectKind::Worm => "worm",
        DefectKind::Other => "fault",
    }
}

fn fault_words(kind: DefectKind, face: DefectFace) -> String {
    let kind = kind_words(kind);
    match face {
        DefectFace::Both => kind.to_owned(),
        DefectFace::Front => format!("{kind}, front"),
        DefectFace::Back => format!("{kind}, back"),
    }
}

/// Rings as circles round a pith that lies so that they meet the wide face at the stated angle in its middle.
fn end(width: f64, thickness: f64, degrees: f64) -> End {
    let thick = (END_WIDE * thickness / width.max(1e-6)).clamp(4.0, END_WIDE);
    // The tangent in the middle leans by the angle; the pith lies square to it, a width and a half away.
    let far = END_WIDE * 1.5;
    let (sin, cos) = degrees.to_radians().sin_cos();
    let pith = [END_WIDE / 2.0 + far * sin, thick / 2.0 + far * cos];
    let reach = (END_WIDE * END_WIDE + thick * thick).sqrt() / 2.0;
    let step = (thick / 5.0).max(2.5);
    let mut rings = Vec::new();
    let mut radius = far - reach;
    while radius < far + reach {
        rings.push(radius);
        radius += step;
    }
    End { thick, pith, rings, words: format!("End of the board, rings at {degrees:.0}° to the wide face") }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// In the middle of the end, the ring's tangent leans by the stated angle: the radius stands square to it.
    #[test]
    fn rings_meet_the_face_as_stated() {
        for degrees in [0.0, 30.0, 45.0, 90.0] {
            let end = end(150.0, 24.0, degrees);
            let (dx, dy) = (end.pith[0] - 50.0, end.pith[1] - end.thick / 2.0);
            let lean = dx.atan2(dy).to_degrees();
            assert!((lean - degrees).abs() < 1e-9, "{degrees}: {lean}");
            assert!((8..80).contains(&end.rings.len()), "{degrees}: {}", end.rings.len());
        }
    }
}
