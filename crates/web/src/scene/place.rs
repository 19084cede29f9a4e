//! Where in a tree each part lies, so that its figure is its own and runs on from wall to wall.
//!
//! # Frames
//! Board frame: a along the grain, b across the board's width, c through its thickness, millimeters. Parts of a run lie
//! in one board one behind the other, with what the corners lose between them; the two runs of a bookmatched pair lie
//! in one billet, on either side of the resaw kerf. Log frame: x along the pith, y and z across it, the pith at
//! y = z = 0, so that the growth rings are circles in y and z.

use super::number::Short;
use keepwright_model::parts::{BoxParts, Part, PartId, Run};
use keepwright_model::units::Length;
use serde::Serialize;

/// A part's place in the strip that it is cut from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct InStrip {
    /// Index of the run.
    pub run: usize,
    /// The run's name.
    pub name: String,
    /// Where the part's start (u = 0) lies along the strip of the board, millimeters.
    pub from: Short,
    /// Whether u runs against the strip: the second slice of a bookmatched pair, its sawn face also outward.
    pub mirrored: bool,
}

/// From the part frame to the board frame: along the grain and through the thickness a part may be turned about;
/// across the width it lies as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lie {
    /// Along: start, and the way that u runs (1 or −1).
    pub(super) along: (f64, f64),
    /// Through: start, and the way that w runs (1 or −1).
    pub(super) through: (f64, f64),
}

impl Lie {
    /// A point of the part frame in the board frame.
    #[cfg(test)]
    pub(super) fn place(&self, [u, v, w]: [f64; 3]) -> [f64; 3] {
        [self.along.0 + self.along.1 * u, v, self.through.0 + self.through.1 * w]
    }
}

/// The board that a part is cut from, as far as its figure is concerned.
#[derive(Clone, Debug, PartialEq)]
struct Board {
    /// Names it, so that parts of one board share its figure.
    name: String,
    /// Width and thickness, millimeters.
    size: [f64; 2],
}

/// A part's place in its strip, if it is in one, and the matrix from the part frame to the log frame.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Place {
    pub(super) strip: Option<InStrip>,
    /// Three rows of four: x, y, z of the log from u, v, w and 1.
    pub(super) log: [Short; 12],
}

/// Where a part lies; `lost` is what resawing and cleaning up take between two slices.
pub(super) fn place(parts: &BoxParts, index: usize, lost: Length) -> Option<Place> {
    let part = parts.parts.get(index)?;
    let Some((index_of_run, run)) = part.run.and_then(|r| Some((r, parts.runs.get(r)?))) else {
        // A part of no run is a board of its own.
        let size = [part.size[1].to_mm(), part.size[2].to_mm()];
        let board = Board { name: format!("{} {}", part.name, part.wood), size };
        let lie = Lie { along: (0.0, 1.0), through: (0.0, 1.0) };
        return Some(Place { strip: None, log: in_log(part, &board, &lie) });
    };
    let lie = in_run(parts, run, PartId(index), lost);
    let first = run.mirrors.and_then(|m| parts.runs.get(m)).unwrap_or(run);
    let slices = f64::from(run.slices.max(1));
    let widest = first.parts.iter().filter_map(|id| parts.parts.get(id.0));
    let width = widest.map(|p| p.size[1].to_mm()).fold(0.0, f64::max);
    let board = Board {
        name: format!("{} {}", first.name, part.wood),
        size: [width, part.size[2].to_mm() * slices + lost.to_mm() * (slices - 1.0)],
    };
    let strip = Some(InStrip {
        run: index_of_run,
        name: run.name.clone(),
        from: Short::of(lie.along.0),
        mirrored: lie.along.1 < 0.0,
    });
    Some(Place { strip, log: in_log(part, &board, &lie) })
}

/// How a part lies in the board of its run.
pub(super) fn in_run(parts: &BoxParts, run: &Run, id: PartId, lost: Length) -> Lie {
    let length = |p: &PartId| parts.parts.get(p.0).map_or(0.0, |p| p.size[0].to_mm());
    let mut from = 0.0;
    let mut all = 0.0;
    for (member, corner) in run.parts.iter().zip(&run.corners) {
        if *member == id {
            from = all;
        }
        all += length(member) + corner.loss.to_mm();
    }
    if run.mirrors.is_none() {
        return Lie { along: (from, 1.0), through: (0.0, 1.0) };
    }
    // Opened like a book about the kerf: the other sawn face outward, so both u and w run the other way. The second
    // slice's first wall meets the first slice's last one, so it begins where that one ends.
    let thickness = parts.parts.get(id.0).map_or(0.0, |p| p.size[2].to_mm());
    Lie { along: (all - from, -1.0), through: (2.0 * thickness + lost.to_mm(), -1.0) }
}

/// Distance of a board's middle from the pith: at least this far, millimeters (boards with the pith in them are
/// not used for fine work).
const NEAREST: f64 = 62.0;
/// And up to so much farther.
const SPREAD: f64 = 70.0;
/// Boards start somewhere within this length of the log, millimeters.
const LOG: f64 = 1800.0;

/// From the part frame to the log: the board set at its rings' angle, at a distance from the pith that its name picks.
fn in_log(part: &Part, board: &Board, lie: &Lie) -> [Short; 12] {
    let angle = part.rings.to_radians();
    let (sin, cos) = angle.sin_cos();
    let [width, thickness] = board.size;
    let [far, start] = chance(&board.name);
    // A quartersawn board reaches toward the pith by half its width.
    let radius = NEAREST + SPREAD * far + sin.abs() * width / 2.0;
    // Across the rings is (sin, cos) in (b, c), along them (cos, −sin).
    let (mid_b, mid_c) = (width / 2.0, thickness / 2.0);
    let (from_c, way_c) = lie.through;
    let across = |b: f64, c: f64, at: f64| [0.0, b, c * way_c, c * (from_c - mid_c) - b * mid_b + at];
    let x = [lie.along.1, 0.0, 0.0, lie.along.0 + LOG * start];
    let (y, z) = (across(cos, -sin, 0.0), across(sin, cos, radius));
    let mut out = [Short::default(); 12];
    for (to, value) in out.iter_mut().zip([x, y, z].as_flattened()) {
        *to = Short::of(*value);
    }
    out
}

/// Two numbers from 0 to 1 that a name picks, the same every time.
fn chance(name: &str) -> [f64; 2] {
    // FNV-1a, then one round of mixing, so that names that differ in a letter differ in all bits.
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for byte in name.bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    }
    hash = (hash ^ (hash >> 32)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    [hash >> 48, (hash >> 16) & 0xffff].map(|bits| bits as f64 / 65_535.0)
}
