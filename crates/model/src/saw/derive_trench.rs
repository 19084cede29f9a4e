//! Cuts that do not go through: rabbets, grooves, slots, notches, and arrises at the router table.

use super::derive::{Asked, key};
use super::lay::{EPS, Lay, reach};
use super::settings::Side;
use super::setup::{Cutter, Guide, Holding, Lean, Offcut, Pass, Purpose, Setup, Stage, Surface};
use super::{flip, passes};
use crate::parts::{Arris, Edge, End, Face, Machine, NotchPurpose, Operation, Span};
use crate::reason::{Basis, Given, Reason, Value};
use crate::space::{Plane, Vec3};
use crate::units::{Angle, Length};

/// A trench: down surface, the surface its place is measured from, from/width on the down surface, depth, lean.
struct Trench {
    purpose: Purpose,
    down: Surface,
    from: Surface,
    offset: f64,
    width: f64,
    depth: f64,
    /// Positive: the floor lies further from `from` than the opening does.
    lean: f64,
    span: Span,
    /// The trench begins at the surface it is measured from (a rabbet).
    open: bool,
    at: &'static str,
}

/// The purpose of a notch and the word for its place.
pub(super) const fn notch_words(purpose: NotchPurpose) -> (Purpose, &'static str) {
    match purpose {
        NotchPurpose::HalfLap => (Purpose::HalfLap, "half-lap"),
        NotchPurpose::Finger => (Purpose::Finger, "socket"),
        NotchPurpose::HingeLeaf => (Purpose::HingeBed, "hinge bed"),
        NotchPurpose::Opening => (Purpose::Opening, "opening"),
    }
}

/// Depth to set for a hinge bed: the least of its extents that reach one surface of the block only.
pub(super) fn bed_depth(operation: &Operation, size: [Length; 3]) -> Option<Length> {
    let Operation::Notch { from, to, purpose: NotchPurpose::HingeLeaf } = *operation else {
        return None;
    };
    let open = from.iter().zip(&to).zip(&size).filter_map(|((a, b), s)| {
        let (low, high) = (a.to_mm() <= EPS, b.to_mm() >= s.to_mm() - EPS);
        (low != high).then_some(*b - *a)
    });
    open.reduce(Length::min)
}

/// The plane left by an opening that runs the whole length and thickness: a lowered wall.
pub(super) fn lowered(from: [Length; 3], to: [Length; 3], size: [Length; 3]) -> Option<Plane> {
    let whole = |a: Length, b: Length, s: Length| a.to_mm() <= EPS && b.to_mm() >= s.to_mm() - EPS;
    let [a, b, s] = [from, to, size];
    if !whole(a[0], b[0], s[0]) || !whole(a[2], b[2], s[2]) || whole(a[1], b[1], s[1]) {
        return None;
    }
    if b[1].to_mm() >= s[1].to_mm() - EPS {
        Some(Plane { n: Vec3::Y, d: a[1].to_mm() })
    } else if a[1].to_mm() <= EPS {
        Some(Plane { n: -Vec3::Y, d: -b[1].to_mm() })
    } else {
        None
    }
}

/// The set-up for a cut that does not go through; `None` when it is a job for hand tools.
pub(super) fn setup(asked: &Asked<'_>, operation: &Operation, machine: Machine) -> Option<Setup> {
    let size = asked.part.size.map(Length::to_mm);
    match *operation {
        Operation::Rabbet { arris, width, depth, span, lean } => {
            let (down, from) = surfaces(arris);
            let trench = Trench {
                purpose: Purpose::Rabbet,
                down,
                from,
                offset: 0.0,
                width: width.to_mm(),
                depth: depth.to_mm(),
                lean: lean.to_radians(),
                span,
                open: true,
                at: from.words(),
            };
            cut_trench(asked, &trench, machine)
        }
        Operation::Groove { face, along_grain, offset, width, depth, span, lean } => {
            let from = if along_grain { Surface::Edge(Edge::Lower) } else { Surface::End(End::Start) };
            let trench = Trench {
                purpose: Purpose::Groove,
                down: Surface::Face(face),
                from,
                offset: offset.to_mm(),
                width: width.to_mm(),
                depth: depth.to_mm(),
                lean: lean.to_radians(),
                span,
                open: false,
                at: Surface::Face(face).words(),
            };
            cut_trench(asked, &trench, machine)
        }
        Operation::EdgeGroove { edge, offset, width, depth, span } => {
            let trench = Trench {
                purpose: Purpose::Groove,
                down: Surface::Edge(edge),
                from: Surface::Face(Face::Back),
                offset: offset.to_mm(),
                width: width.to_mm(),
                depth: depth.to_mm(),
                lean: 0.0,
                span,
                open: false,
                at: Surface::Edge(edge).words(),
            };
            cut_trench(asked, &trench, machine)
        }
        Operation::EndSlot { .. } => super::derive_slot::setup(asked, operation, machine),
        Operation::Notch { from, to, purpose } => {
            notch(asked, from.map(Length::to_mm), to.map(Length::to_mm), purpose, size, machine)
        }
        Operation::Chamfer { arris, width } => {
            Some(shaped(asked, arris, width, Purpose::Chamfer, Cutter::ChamferBit, machine))
        }
        Operation::RoundOver { arris, radius } => {
            Some(shaped(asked, arris, radius, Purpose::RoundOver, Cutter::RoundBit(radius), machine))
        }
        Operation::EndCut { .. } | Operation::EdgeCut { .. } | Operation::Bevel { .. } => None,
    }
}

/// The two surfaces that meet at an arris: the one that the depth goes into, then the one the width runs from.
const fn surfaces(arris: Arris) -> (Surface, Surface) {
    match arris {
        Arris::Long(f, e) => (Surface::Face(f), Surface::Edge(e)),
        Arris::Cross(f, e) => (Surface::Face(f), Surface::End(e)),
        Arris::Short(g, e) => (Surface::Edge(g), Surface::End(e)),
    }
}

/// A notch as a trench: half-laps stand on the edge they open to, fingers on their end.
fn notch(
    asked: &Asked<'_>,
    from: [f64; 3],
    to: [f64; 3],
    purpose: NotchPurpose,
    size: [f64; 3],
    machine: Machine,
) -> Option<Setup> {
    let whole = |i: usize| from.get(i) <= Some(&EPS) && to.get(i) >= size.get(i).map(|s| s - EPS).as_ref();
    let (kind, at) = notch_words(purpose);
    let low = from[1] <= EPS;
    let (down, measured, offset, width, depth) = match purpose {
        NotchPurpose::HalfLap | NotchPurpose::Opening if whole(2) && (low || to[1] >= size[1] - EPS) => {
            let down = if low { Edge::Lower } else { Edge::Upper };
            let depth = if low { to[1] } else { size[1] - from[1] };
            let start = Surface::End(End::Start);
            (Surface::Edge(down), start, from[0], to[0] - from[0], depth)
        }
        NotchPurpose::Finger if whole(2) && (from[0] <= EPS || to[0] >= size[0] - EPS) => {
            let start = from[0] <= EPS;
            let down = if start { End::Start } else { End::Finish };
            let depth = if start { to[0] } else { size[0] - from[0] };
            let lower = Surface::Edge(Edge::Lower);
            (Surface::End(down), lower, from[1], to[1] - from[1], depth)
        }
        _ => return None,
    };
    if purpose == NotchPurpose::Opening && whole(0) {
        return None;
    }
    let trench = Trench {
        purpose: kind,
        down,
        from: measured,
        offset,
        width,
        depth,
        lean: 0.0,
        span: Span::Through,
        open: false,
        at,
    };
    cut_trench(asked, &trench, machine)
}

/// The cutter for a trench and its width: the blade, or the largest straight bit that goes in.
fn cutter_for(asked: &Asked<'_>, width: f64, machine: Machine) -> Option<(Cutter, Length)> {
    if machine == Machine::RouterTable {
        let fits = asked.settings.router_bits.iter().copied();
        let bit = fits.filter(|b| b.to_mm() <= width + 1e-6).reduce(Length::max)?;
        return Some((Cutter::StraightBit(bit), bit));
    }
    Some((asked.cutter(machine), asked.settings.table_saw.kerf))
}

/// The set-up of a trench by one or several passes.
fn cut_trench(asked: &Asked<'_>, t: &Trench, machine: Machine) -> Option<Setup> {
    let size = asked.part.size.map(Length::to_mm);
    let extent = reach(t.from, size) + reach(t.from.opposite(), size);
    let on_end = matches!(t.from, Surface::End(_));
    // The blade must lean away from the guide; an upright rabbet at an end is measured from the other end,
    // so that the stop stands on the held side.
    let near = t.lean > EPS || (t.lean >= -EPS && !(t.open && on_end));
    let (toward, start) =
        if near { (t.from, t.offset) } else { (t.from.opposite(), extent - t.offset - t.width) };
    let lean = t.lean.abs();
    let tilted = lean > EPS;
    let saw = &asked.settings.table_saw;
    let side = if tilted || on_end { saw.tilts.other() } else { Side::Right };
    let lay = Lay::new(t.down, toward, side, asked.part.size);
    let (cutter, kerf) = cutter_for(asked, t.width, machine)?;
    let slant = 1.0 / lean.cos();
    let (on_table, overlap) = (kerf * slant, asked.settings.overlap.min(kerf * 0.5) * slant);
    let (start, width) = (Length::mm(start), Length::mm(t.width));
    let distances = if t.open && near {
        passes::rabbet(width, Length::mm(t.depth * lean.tan()), on_table, overlap)?
    } else if t.open && width < on_table {
        vec![start]
    } else {
        passes::trench(start, width, on_table, overlap)?
    };
    let guide = match t.purpose {
        Purpose::Finger => Guide::FingerPin,
        _ if on_end => Guide::Stop,
        _ => Guide::Fence,
    };
    let shift = guide_shift(asked, &lay, guide == Guide::Stop);
    let heights = Length::mm(t.depth);
    let list: Vec<Pass> = distances.iter().map(|d| Pass { distance: *d + shift, height: heights }).collect();
    let mut member = asked.member(t.at, Some(lay.placement), 0.0);
    if let Span::Stopped(a, b) = t.span {
        member.stopped = Some((a, b));
    }
    if t.purpose == Purpose::Finger {
        member.own_passes.clone_from(&list);
    }
    Some(Setup {
        machine,
        purpose: t.purpose,
        stage: Stage::Parts,
        cutter,
        tilt: Angle::radians(lean),
        lean: if tilted { Lean::Away } else { Lean::Upright },
        gauge: Angle::ZERO,
        guide,
        side,
        holding: holding(t, guide, list.iter().any(|p| p.distance < Length::mm(EPS))),
        reasons: reasons(t, &list, kerf, overlap),
        passes: list,
        more_stops: Vec::new(),
        members: vec![member],
        test_piece: true,
        offcut: Offcut::None,
        flip: flip::of(t.purpose),
        cautions: Vec::new(),
    })
}

/// What earlier end or edge cuts take away where the part meets its guide shortens every distance.
fn guide_shift(asked: &Asked<'_>, lay: &Lay, at_gauge: bool) -> Length {
    let toward = lay.placement.toward;
    let block_end = Plane { n: lay.across, d: -reach(toward, asked.part.size.map(Length::to_mm)) };
    Length::mm(lay.distance(&block_end, &asked.done(), 0.0, at_gauge))
}

fn holding(t: &Trench, guide: Guide, buried: bool) -> Vec<Holding> {
    let mut list = match guide {
        Guide::FingerPin => vec![Holding::FingerJig, Holding::Backing],
        Guide::Stop => vec![Holding::GaugeWithFence, Holding::Backing],
        _ => vec![Holding::PushBlock, Holding::HoldDowns],
    };
    if buried && t.open {
        list.push(Holding::AuxiliaryFence);
    }
    list
}

fn reasons(t: &Trench, list: &[Pass], kerf: Length, overlap: Length) -> Vec<Reason> {
    let places = list.iter().map(|p| format!("{:.2}", p.distance.to_mm()));
    vec![
        Reason {
            key: key(t.purpose, "height"),
            title: "cutter height".into(),
            formula: "depth of the cut".into(),
            given: Vec::new(),
            result: Value::Length(Length::mm(t.depth)),
            basis: Basis::Derived("the cut does not go through, so the highest tooth stands at its floor"),
        },
        Reason {
            key: key(t.purpose, "passes"),
            title: "passes".into(),
            formula: "(width − overlap) / (kerf − overlap), rounded up".into(),
            given: vec![
                Given::new("width", Value::Length(Length::mm(t.width))),
                Given::new("kerf", Value::Length(kerf)),
                Given::new("overlap", Value::Length(overlap)),
                Given::new(
                    "guide to near side of the cutter, mm",
                    Value::Text(places.collect::<Vec<_>>().join(", ")),
                ),
            ],
            result: Value::Count(list.len() as u64),
            basis: Basis::Derived("neighboring passes overlap by at least the overlap"),
        },
    ]
}

/// A chamfer or round-over at the router table: bit height equals its size, fence flush with the bearing.
fn shaped(
    asked: &Asked<'_>,
    arris: Arris,
    amount: Length,
    purpose: Purpose,
    cutter: Cutter,
    machine: Machine,
) -> Setup {
    let (down, toward) = surfaces(arris);
    let lay = Lay::new(down, toward, Side::Right, asked.part.size);
    let across_grain = matches!(toward, Surface::End(_));
    let mut holding = vec![Holding::PushBlock];
    if across_grain {
        holding.push(Holding::Backing);
    }
    let pass = Pass { distance: Length::ZERO, height: amount };
    Setup {
        machine,
        purpose,
        stage: Stage::Parts,
        cutter,
        tilt: Angle::ZERO,
        lean: Lean::Upright,
        gauge: Angle::ZERO,
        guide: Guide::Fence,
        side: Side::Right,
        passes: vec![pass],
        more_stops: Vec::new(),
        members: vec![asked.member(toward.words(), Some(lay.placement), 0.0)],
        test_piece: true,
        holding,
        offcut: Offcut::None,
        flip: None,
        cautions: Vec::new(),
        reasons: vec![Reason {
            key: key(purpose, "height"),
            title: "bit height".into(),
            formula: "size of the profile on each face; fence flush with the bearing".into(),
            given: Vec::new(),
            result: Value::Length(amount),
            basis: Basis::CommonPractice,
        }],
    }
}
