//! The solids to be drawn: as they stand in the closed box, or each moved out of its place.

use keepwright_model::parts::{AssemblyOperation, BoxParts, PartId};
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
    /// From its place in the glued-up box to where it is drawn.
    pub(super) moved: Pose,
}

/// One solid of a box whose lid is off: a part, or the half of one that the saw divides.
#[derive(Clone, Debug, PartialEq)]
pub struct Sawn {
    /// The wood, where it stood in the glued-up box.
    pub solid: Solid,
    /// The part it is, or is a piece of: an index into the parts.
    pub part: usize,
    /// Whether it goes with the lid.
    pub lid: bool,
    /// How far it is let down when the lid closes over what the saw took; box frame, millimeters.
    pub closed: Vec3,
    /// How far it moves from there to its place in the drawing of the box apart.
    pub apart: Vec3,
}

/// Every solid of a box, with the lid parted from the box and the ways each one moves.
pub fn sawn(parts: &BoxParts, solids: &[Solid]) -> Vec<Sawn> {
    let explode = |i: usize| parts.parts.get(i).map_or(Vec3::ZERO, |p| p.explode);
    let Some((low, high)) = saw_band(parts) else {
        let of_lid: &[PartId] = parts.assemblies.iter().find(|a| a.name == "lid").map_or(&[], |a| &a.parts);
        let whole = |(part, solid): (usize, &Solid)| Sawn {
            solid: solid.clone(),
            part,
            lid: of_lid.contains(&PartId(part)),
            closed: Vec3::ZERO,
            apart: explode(part),
        };
        return solids.iter().enumerate().map(whole).collect();
    };
    let down = low - high;
    split(solids, low, high)
        .map(|(solid, part, lid)| {
            let closed = Vec3::Z * if lid { down } else { 0.0 };
            // From the closed box: what the saw took is part of the rise.
            let apart = explode(part) + Vec3::Z * if lid { LID_RISE - down } else { 0.0 };
            Sawn { solid, part, lid, closed, apart }
        })
        .collect()
}

/// Where a lid is sawn off: lower and upper side of what the saw and the clean-up take, box frame.
pub fn saw_band(parts: &BoxParts) -> Option<(f64, f64)> {
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
    sawn(parts, solids).into_iter().map(|s| piece(&s, shift(s.closed))).collect()
}

/// The parts moved out of their places.
pub(super) fn apart(parts: &BoxParts, solids: &[Solid]) -> Vec<Piece> {
    sawn(parts, solids).into_iter().map(|s| piece(&s, shift(s.closed + s.apart))).collect()
}

/// A move without a turn.
pub(super) const fn shift(by: Vec3) -> Pose {
    Pose { origin: by, ..Pose::IDENTITY }
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

/// A piece where a pose puts it.
pub(super) fn piece(sawn: &Sawn, moved: Pose) -> Piece {
    let solid = sawn.solid.posed(&moved);
    Piece { shell: solid.shell(), solid, part: sawn.part, moved }
}
