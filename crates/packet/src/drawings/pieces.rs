//! The solids to be drawn: as they stand in the closed box, or each moved out of its place.

use keepwright_model::parts::{AssemblyOperation, BoxParts};
use keepwright_model::solids::{Shell, Solid, block_face};
use keepwright_model::space::{Convex, Plane, Pose, Vec3};

/// How far the walls of a sawn-off lid rise in the drawing of the box apart, millimeters.
const LID_RISE: f64 = 70.0;

/// One solid as it is drawn.
#[derive(Debug)]
pub(super) struct Piece {
    /// Its surface where it is drawn.
    pub(super) shell: Shell,
    /// Its solid where it is drawn.
    pub(super) solid: Solid,
    /// The part it is, or is a piece of.
    pub(super) part: usize,
    /// How far it was moved from its place in the glued-up box.
    pub(super) moved: Vec3,
}

/// Where a lid is sawn off: lower and upper side of what the saw and the clean-up take, box frame.
pub(super) fn saw_band(parts: &BoxParts) -> Option<(f64, f64)> {
    let cuts = parts.assemblies.iter().flat_map(|a| &a.cuts);
    let sawn =
        |c: &&keepwright_model::parts::AssemblyCut| matches!(c.operation, AssemblyOperation::SawOff { .. });
    let region = cuts.filter(sawn).find_map(|c| c.removes.first())?;
    let low = region.planes.iter().find(|p| p.n.z < -0.5)?;
    let high = region.planes.iter().find(|p| p.n.z > 0.5)?;
    Some((-low.d, high.d))
}

/// The parts of the closed box; what lies above a saw cut is let down by what the saw took.
pub(super) fn closed(parts: &BoxParts, solids: &[Solid]) -> Vec<Piece> {
    let Some((low, high)) = saw_band(parts) else {
        return solids.iter().enumerate().map(|(i, s)| piece(s, i, Vec3::ZERO)).collect();
    };
    split(solids, low, high)
        .map(|(s, i, lid)| piece(&s, i, Vec3::Z * if lid { low - high } else { 0.0 }))
        .collect()
}

/// The parts moved out of their places.
pub(super) fn apart(parts: &BoxParts, solids: &[Solid]) -> Vec<Piece> {
    let out = |i: usize| parts.parts.get(i).map_or(Vec3::ZERO, |p| p.explode);
    match saw_band(parts) {
        None => solids.iter().enumerate().map(|(i, s)| piece(s, i, out(i))).collect(),
        Some((low, high)) => split(solids, low, high)
            .map(|(s, i, lid)| piece(&s, i, out(i) + Vec3::Z * if lid { LID_RISE } else { 0.0 }))
            .collect(),
    }
}

/// Solids parted where the lid is sawn off: the piece, its part, whether it belongs to the lid.
fn split(solids: &[Solid], low: f64, high: f64) -> impl Iterator<Item = (Solid, usize, bool)> {
    let middle = f64::midpoint(low, high);
    solids.iter().enumerate().flat_map(move |(i, solid)| {
        let Some(bounds) = solid.bounds() else { return Vec::new() };
        if bounds.min.z >= high - 1e-6 {
            return vec![(solid.clone(), i, true)];
        }
        // What stands in the band is not sawn (a lining): it stays whole with the box.
        let stands_in = solid.cells().iter().any(|c| {
            let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
            for p in c.points() {
                (least, most) = (least.min(p.z), most.max(p.z));
            }
            least < middle && most > middle
        });
        if bounds.max.z <= high - 1e-6 || stands_in {
            return vec![(solid.clone(), i, false)];
        }
        [Plane { n: Vec3::Z, d: middle }, Plane { n: -Vec3::Z, d: -middle }]
            .into_iter()
            .zip([false, true])
            .map(|(plane, lid)| {
                let mut half = solid.clone();
                half.keep(&Convex::new(vec![plane]), block_face::SEAM - 1);
                (half, i, lid)
            })
            .collect()
    })
}

fn piece(solid: &Solid, part: usize, moved: Vec3) -> Piece {
    let solid = solid.posed(&Pose { origin: moved, ..Pose::IDENTITY });
    Piece { shell: solid.shell(), solid, part, moved }
}
