//! The judge of the set-ups: the saw moved as the maker moves it, back to the faces of the part.
//!
//! It knows only what a set-up says (how the part lies, guide side and distance, tilt, lean, gauge,
//! height, kerf) and turns a real blade, a slab of one kerf, about the table line; it shares no geometry
//! with the derivation of the set-ups.
//!
//! # Frame
//! Saw frame: x to the maker's right, y the way of the feed, z up from the table; the guide at x = 0.

use super::settings::Side;
use super::setup::{Cutter, Guide, Lean, Member, Pass, Placement, Purpose, Setup, Surface};
use crate::parts::{Edge, End, Face, Operation, Part};
use crate::space::{Convex, Plane, Pose, Vec3};
use crate::units::Length;

/// What a set-up does to a part, in the part frame.
#[derive(Clone, Debug, PartialEq)]
pub enum Sawn {
    /// A through cut: the face left on the part, its normal pointing to the wood that goes.
    Face(Plane),
    /// Kerfs, one for each pass: near side, far side, floor (normals out of the kerf).
    Kerfs(Vec<Convex>),
    /// A profile's flat (chamfer) as a region.
    Flat(Convex),
}

/// How a simulated cut misses the cut asked for.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Miss {
    /// The set-up gives no settings to simulate.
    #[error("{part}: this set-up has nothing to simulate")]
    NothingSet {
        /// The part.
        part: String,
    },
    /// The gauge would have to touch another surface than the one named.
    #[error("{part}: laid like this, another surface than the one named is pushed")]
    WrongWayRound {
        /// The part.
        part: String,
    },
    /// A face comes out elsewhere.
    #[error("{part}: the face comes out {off:.6} mm or radians away")]
    Elsewhere {
        /// The part.
        part: String,
        /// Largest difference of normal (radians) or offset (millimeters).
        off: f64,
    },
}

fn out_of(surface: Surface) -> Vec3 {
    match surface {
        Surface::Face(f) => Vec3::new(0.0, 0.0, if f == Face::Show { 1.0 } else { -1.0 }),
        Surface::Edge(e) => Vec3::new(0.0, if e == Edge::Upper { 1.0 } else { -1.0 }, 0.0),
        Surface::End(e) => Vec3::new(if e == End::Finish { 1.0 } else { -1.0 }, 0.0, 0.0),
    }
}

/// Corners of the block with its excess, after the end and edge cuts made before.
fn corners(part: &Part, cut: usize, placement: Placement, excess: f64) -> Vec<Vec3> {
    let size = part.size.map(Length::to_mm);
    let mut planes = Vec::new();
    for (axis, reach) in [(Vec3::X, size[0]), (Vec3::Y, size[1]), (Vec3::Z, size[2])] {
        for (n, d) in [(axis, reach), (-axis, 0.0)] {
            let more = if n == out_of(placement.toward) { excess } else { 0.0 };
            planes.push(Plane { n, d: d + more });
        }
    }
    for earlier in part.cuts.iter().take(cut) {
        match earlier.operation {
            Operation::Bevel { plane } => planes.push(plane),
            ref o => planes.extend(o.plane(part.size)),
        }
    }
    let mut found = Vec::new();
    for (i, a) in planes.iter().enumerate() {
        for (j, b) in planes.iter().enumerate().skip(i + 1) {
            for c in planes.iter().skip(j + 1) {
                let bc = b.n.cross(c.n);
                let det = a.n.dot(bc);
                if det.abs() < 1e-9 {
                    continue;
                }
                let p = (bc * a.d + c.n.cross(a.n) * b.d + a.n.cross(b.n) * c.d) * (1.0 / det);
                if planes.iter().all(|h| h.distance(p) < 1e-7) {
                    found.push(p);
                }
            }
        }
    }
    found
}

/// The part frame seen in the saw frame: part resting on the table, pushed surface at y = 0, touching the
/// guide at x = 0.
fn stand(part: &Part, cut: usize, placement: Placement, side: Side, excess: f64) -> Option<Pose> {
    let (down, toward, pushed) = (out_of(placement.down), out_of(placement.toward), out_of(placement.pushed));
    // Rows of the turn: where the saw's axes lie in the part.
    let z = -down;
    let x = if side == Side::Left { -toward } else { toward };
    let y = -pushed;
    if (x.cross(y) - z).norm() > 1e-9 {
        return None;
    }
    let least = |axis: Vec3| {
        let all = corners(part, cut, placement, excess);
        all.iter().map(|p| p.dot(axis)).fold(f64::INFINITY, f64::min)
    };
    let guide = least(-toward);
    let origin_x = if side == Side::Left { -guide } else { guide };
    // The pushed side rests where the block does: what earlier cuts bared there is behind the gauge's line.
    let size = part.size.map(Length::to_mm);
    let block = |axis: Vec3| -> f64 {
        let far = axis.x * size[0] + axis.y * size[1] + axis.z * size[2];
        far.min(0.0)
    };
    let origin = Vec3::new(origin_x, -block(y), -block(z));
    let column = |f: fn(Vec3) -> f64| Vec3::new(f(x), f(y), f(z));
    Some(Pose { origin, u: column(|a| a.x), v: column(|a| a.y), w: column(|a| a.z) })
}

/// The blade in the saw frame after turning: near side, far side, top, as a region of three half-spaces.
fn blade(setup: &Setup, pass: Pass, kerf: f64) -> [Plane; 3] {
    let away = if setup.side == Side::Left { 1.0 } else { -1.0 };
    let tilt = match setup.lean {
        Lean::Toward => -setup.tilt.to_radians(),
        Lean::Upright | Lean::Away => setup.tilt.to_radians(),
    };
    let gauge = setup.gauge.to_radians();
    // Upright blade: thickness along +away, tips along z. Tilt turns it about the table line of its near
    // side; the gauge turns the work, which is the blade turned the other way about the same place.
    let turn = |across: f64, up: f64| {
        let (s, c) = tilt.sin_cos();
        let (x, z) = (across * c + up * s, -across * s + up * c);
        Vec3::new(x * gauge.cos() * away, x * gauge.sin(), z)
    };
    let pivot = Vec3::new(pass.distance.to_mm() * away, 0.0, 0.0);
    let thick = turn(1.0, 0.0);
    let tips = turn(0.0, 1.0);
    // The tips stand square to the blade; the higher corner of the tip line is at the height set.
    let corner = (kerf * thick.z).max(0.0);
    let rise = (pass.height.to_mm() - corner) / tilt.cos();
    [
        Plane::through(pivot, -thick),
        Plane::through(pivot + thick * kerf, thick),
        Plane::through(pivot + tips * rise, tips),
    ]
}

/// Plays a set-up on one of its members.
///
/// # Errors
/// [`Miss::NothingSet`] for hand work and stock, [`Miss::WrongWayRound`] when the placement is impossible.
pub fn simulate(setup: &Setup, member: &Member, part: &Part) -> Result<Sawn, Miss> {
    let nothing = || Miss::NothingSet { part: member.name.clone() };
    let placement = member.placement.ok_or_else(nothing)?;
    let cut = member.cut.ok_or_else(nothing)?;
    let passes = if member.own_passes.is_empty() { &setup.passes } else { &member.own_passes };
    let pose = stand(part, cut, placement, setup.side, member.excess.to_mm())
        .ok_or_else(|| Miss::WrongWayRound { part: member.name.clone() })?;
    if setup.cutter == Cutter::ChamferBit || matches!(setup.cutter, Cutter::RoundBit(_)) {
        return profile(setup, &pose).ok_or_else(nothing);
    }
    let kerf = match setup.cutter {
        Cutter::Blade { kerf, .. } => kerf,
        Cutter::Band(k) | Cutter::StraightBit(k) => k,
        Cutter::ChamferBit | Cutter::RoundBit(_) | Cutter::Knives | Cutter::Hand => return Err(nothing()),
    };
    let through = !matches!(
        setup.purpose,
        Purpose::Rabbet
            | Purpose::Groove
            | Purpose::EndSlot
            | Purpose::HalfLap
            | Purpose::Finger
            | Purpose::Opening
    );
    if !through {
        let kerfs = passes.iter().map(|p| {
            let planes = blade(setup, *p, kerf.to_mm());
            Convex::new(planes.iter().map(|h| pose.plane_back(h)).collect())
        });
        return Ok(Sawn::Kerfs(kerfs.collect()));
    }
    let marked = setup.guide == Guide::Mark
        || (setup.purpose == Purpose::MiterFromStrip && member.own_passes.is_empty());
    let pass = passes.first().copied();
    let pass = if marked {
        Pass { distance: Length::ZERO, height: pass.map_or(Length::ZERO, |p| p.height) }
    } else {
        pass.ok_or_else(nothing)?
    };
    let mut face = pose.plane_back(&blade(setup, pass, kerf.to_mm())[0].flipped());
    if marked {
        // To the knife line: the part is slid along the gauge until the face meets the line.
        let Some(Operation::EndCut { at, .. }) = part.cuts.get(cut).map(|c| &c.operation) else {
            return Err(nothing());
        };
        face = Plane::through(Vec3::new(at.to_mm(), 0.0, part.size[2].to_mm()), face.n);
    }
    Ok(Sawn::Face(face))
}

/// The slots that a cradle set-up cuts in a corner, in the corner's frame: x from the arris along the
/// diagonal into the box, z along the arris from the lower edge; the arris rests on the trough's bottom.
///
/// # Units
/// `edge` is the arris' length, `floor` the wood between table and trough.
pub fn cradle_slots(setup: &Setup, member: &Member, edge: Length, floor: Length) -> Vec<Convex> {
    let Cutter::Blade { kerf, .. } = setup.cutter else {
        return Vec::new();
    };
    let slots = setup.passes.iter().map(|p| {
        let (near, far) = (p.distance, p.distance + kerf);
        let (low, high) = if member.turned { (edge - far, edge - near) } else { (near, far) };
        let plane = |n: Vec3, d: Length| Plane { n, d: d.to_mm() };
        Convex::new(vec![plane(Vec3::X, p.height - floor), plane(Vec3::Z, high), plane(-Vec3::Z, -low)])
    });
    slots.collect()
}

/// A bit with its bearing flush with the fence: the flat (or the quarter circle's middle flat) at its height.
fn profile(setup: &Setup, pose: &Pose) -> Option<Sawn> {
    let height = setup.height()?.to_mm();
    let away = if setup.side == Side::Left { 1.0 } else { -1.0 };
    let out = Vec3::new(-away, 0.0, -1.0);
    let point = match setup.cutter {
        Cutter::RoundBit(_) => {
            let center = Vec3::new(away * height, 0.0, height);
            center + out.unit() * height
        }
        _ => Vec3::new(0.0, 0.0, height),
    };
    let flat = Plane::through(point, out);
    Some(Sawn::Flat(Convex::beyond(pose.plane_back(&flat))))
}

/// How far two planes are apart: normals in radians, offsets in millimeters.
fn apart(a: &Plane, b: &Plane) -> f64 {
    (a.n - b.n).norm().max((a.d - b.d).abs())
}

/// The nearest plane of a region to a plane.
fn nearest(region: &Convex, plane: &Plane) -> f64 {
    region.planes.iter().map(|p| apart(p, plane)).fold(f64::INFINITY, f64::min)
}

/// Plays a set-up and compares the faces with those that the part's own cut asks for.
///
/// Grooves and rabbets: the sides must be those of the region, the passes must leave nothing standing
/// between them, and the highest tooth must just reach the floor (a leaning blade leaves small steps there).
///
/// # Errors
/// [`Miss`], with the size of the difference.
pub fn judge(setup: &Setup, member: &Member, part: &Part, within: f64) -> Result<(), Miss> {
    let elsewhere = |off: f64| Miss::Elsewhere { part: member.name.clone(), off };
    let sawn = simulate(setup, member, part)?;
    let cut = member.cut.and_then(|c| part.cuts.get(c));
    let Some(cut) = cut else {
        return Err(Miss::NothingSet { part: member.name.clone() });
    };
    let regions = cut.operation.regions(part.size);
    let off = match &sawn {
        Sawn::Face(face) => {
            // A lowered wall is a block; its floor is the face that the saw leaves.
            let planes = regions.first().map(|r| r.planes.as_slice()).unwrap_or_default();
            let asked = planes.iter().map(|w| apart(face, &w.flipped()));
            asked.fold(f64::INFINITY, f64::min)
        }
        Sawn::Flat(flat) => {
            // A round-over is carried by several flats; the middle of the circle lies between two of them.
            let plane = flat.planes.first();
            let normals = regions.iter().filter_map(|r| r.planes.first());
            match (plane, &cut.operation) {
                (Some(p), Operation::RoundOver { .. }) => round_off(p, regions.iter()),
                (Some(p), _) => normals.map(|w| apart(p, w)).fold(f64::INFINITY, f64::min),
                (None, _) => f64::INFINITY,
            }
        }
        Sawn::Kerfs(kerfs) => {
            if let (Operation::Notch { .. }, Some(p)) = (&cut.operation, member.placement) {
                let trench = regions.first().map(|r| notch_as_trench(r, p));
                kerfs_off(kerfs, trench.as_ref(), part, &[])
            } else {
                // A stopped cut is lifted off at its marks: they are the last two planes of its region.
                let planes = regions.first().map(|r| r.planes.as_slice()).unwrap_or_default();
                let marks =
                    if member.stopped.is_some() { planes.len().saturating_sub(2) } else { planes.len() };
                kerfs_off(kerfs, regions.first(), part, planes.get(marks..).unwrap_or_default())
            }
        }
    };
    if off <= within { Ok(()) } else { Err(elsewhere(off)) }
}

/// The tangent at 45° of the circle that the flats are tangent to: all have one center and radius.
fn round_off<'a>(plane: &Plane, flats: impl Iterator<Item = &'a Convex>) -> f64 {
    let planes: Vec<&Plane> = flats.filter_map(|r| r.planes.first()).collect();
    let sum = planes.iter().fold(Vec3::ZERO, |s, p| s + p.n);
    // Flats are symmetric about 45°, so the mean of a mirrored pair scales back to the tangent there.
    let (Some(a), Some(b)) = (planes.first(), planes.last()) else {
        return f64::INFINITY;
    };
    let half = (a.n + b.n) * 0.5;
    let middle = sum.unit();
    let spread = half.norm();
    // a.d = n·c + r for outward normals (here flipped): solve for the tangent plane at the middle.
    let mean = (a.d + b.d) * 0.5;
    let inner = planes.get(1).zip(planes.get(2)).map(|(p, q)| ((p.n + q.n) * 0.5, (p.d + q.d) * 0.5));
    let Some((inner_n, inner_d)) = inner else {
        return f64::INFINITY;
    };
    // mean = spread·m + k and inner_d = |inner_n|·m + k, with m = middle·center and k = −r.
    let m = (mean - inner_d) / (spread - inner_n.norm());
    let k = mean - spread * m;
    let wanted = Plane { n: middle, d: m + k };
    apart(plane, &wanted)
}

/// A notch's block with its floor first, then its two sides: the planes that the blade makes.
fn notch_as_trench(block: &Convex, lies: Placement) -> Convex {
    let (floor, side) = (-out_of(lies.down), out_of(lies.toward));
    let wanted = [floor, side, -side];
    let found = wanted.iter().filter_map(|n| block.planes.iter().find(|p| (p.n - *n).norm() < 1e-9).copied());
    Convex::new(found.collect())
}

fn kerfs_off(kerfs: &[Convex], wanted: Option<&Convex>, part: &Part, marks: &[Plane]) -> f64 {
    let Some(wanted) = wanted else {
        return f64::INFINITY;
    };
    let size = part.size.map(Length::to_mm);
    let block = Convex::block(Vec3::ZERO, Vec3::new(size[0], size[1], size[2]));
    let mut off: f64 = 0.0;
    // The wanted region's own planes lie first: floor and side, then (for grooves and slots) the other side.
    let sides = if wanted.planes.len() == 2 || is_rabbet(wanted) { 1..2 } else { 1..3 };
    for side in wanted.planes.get(sides).unwrap_or_default() {
        let best = kerfs.iter().map(|k| nearest(k, side)).fold(f64::INFINITY, f64::min);
        off = off.max(best);
    }
    // Points all over the wanted region must be in some kerf (or, above a leaning floor, within its steps);
    // points of the kerfs inside the block must be wanted.
    for p in grid(size) {
        let inside = wanted.contains(p, -1e-6);
        let cut = kerfs.iter().any(|k| k.contains(p, 1e-6));
        let outside = !wanted.contains(p, 1e-6);
        let run = marks.iter().all(|m| m.distance(p) <= -1e-6);
        let bitten = run && kerfs.iter().any(|k| k.contains(p, -1e-6)) && block.contains(p, 0.0);
        let step = steps(kerfs, wanted);
        if inside && !cut && !near_floor(wanted, p, step) {
            off = f64::INFINITY;
        }
        if outside && bitten {
            off = f64::INFINITY;
        }
    }
    off.max(floor_off(kerfs, wanted))
}

/// Whether a region has a floor and one side only (besides stops along its length).
fn is_rabbet(wanted: &Convex) -> bool {
    match (wanted.planes.get(1), wanted.planes.get(2)) {
        (Some(a), Some(b)) => (a.n + b.n).norm() > 1e-9,
        _ => true,
    }
}

/// Tallest step that a leaning flat-topped blade leaves on the floor.
fn steps(kerfs: &[Convex], wanted: &Convex) -> f64 {
    let (Some(floor), Some(k)) = (wanted.planes.first(), kerfs.first()) else {
        return 0.0;
    };
    match (k.planes.first(), k.planes.get(1)) {
        (Some(near), Some(far)) => {
            let thick = far.d + near.d;
            thick * floor.n.dot(near.n).abs() + 1e-6
        }
        _ => 0.0,
    }
}

fn near_floor(wanted: &Convex, p: Vec3, step: f64) -> bool {
    wanted.planes.first().is_some_and(|f| f.distance(p) > -step)
}

/// Distance by which the deepest corner of the kerfs misses the floor.
fn floor_off(kerfs: &[Convex], wanted: &Convex) -> f64 {
    let Some(floor) = wanted.planes.first() else {
        return f64::INFINITY;
    };
    let mut deepest = f64::NEG_INFINITY;
    for k in kerfs {
        let [near, far, tip] = k.planes.as_slice() else {
            return f64::INFINITY;
        };
        for side in [near, far] {
            // The corner line of side and tip, at the point nearest the origin.
            let p = side.n * side.d + tip.n * tip.d;
            deepest = deepest.max(floor.distance(p));
        }
    }
    deepest.abs()
}

/// Points spread over the block by steps that share no factor with usual sizes.
fn grid(size: [f64; 3]) -> impl Iterator<Item = Vec3> {
    (0..600u32).map(move |i| {
        let i = f64::from(i) + 0.5;
        // Fractions of the square roots of 2, 3 and 5 fill the block evenly.
        let part = |r: f64| (i * r).fract();
        Vec3::new(
            size[0] * part(core::f64::consts::SQRT_2),
            size[1] * part(1.732_050_807_568_877_2),
            size[2] * part(2.236_067_977_499_79),
        )
    })
}
