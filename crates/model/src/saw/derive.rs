//! From one cut of one part to the set-up that makes it.

use super::lay::{EPS, Lay, normal};
use super::settings::{Settings, Side};
use super::setup::{
    Cutter, Guide, Holding, Lean, Member, Offcut, Pass, Placement, Purpose, Setup, Stage, Surface,
};
use super::{derive_trench, flat, flip};
use crate::parts::{AllowanceKind, Edge, End, Face, Machine, NotchPurpose, Operation, Part, PartId};
use crate::reason::{Basis, Given, Reason, Value};
use crate::space::Plane;
use crate::units::{Angle, Length};

/// One cut in its place: the part, which cut, and what the shop has.
#[derive(Clone, Copy, Debug)]
pub(super) struct Asked<'a> {
    pub(super) settings: &'a Settings,
    pub(super) part: &'a Part,
    pub(super) id: PartId,
    pub(super) cut: usize,
    pub(super) box_index: usize,
    pub(super) count: u32,
}

/// The set-up for one cut; `None` only for an index that the part does not have.
pub(super) fn setup(asked: &Asked<'_>) -> Option<Setup> {
    let cut = asked.part.cuts.get(asked.cut)?;
    if cut.machine == Machine::HandTools || cut.machine == Machine::Drill {
        return Some(asked.by_hand(&cut.operation, cut.machine));
    }
    let by_plane = |plane: Plane| {
        through(asked, plane, surface_of(&plane))
            .unwrap_or_else(|| asked.by_hand(&cut.operation, cut.machine))
    };
    Some(match cut.operation {
        Operation::EndCut { end, .. } => cut
            .operation
            .plane(asked.part.size)
            .and_then(|p| through(asked, p, Surface::End(end)))
            .unwrap_or_else(|| asked.by_hand(&cut.operation, cut.machine)),
        Operation::EdgeCut { edge, .. } => cut
            .operation
            .plane(asked.part.size)
            .and_then(|p| through(asked, p, Surface::Edge(edge)))
            .unwrap_or_else(|| asked.by_hand(&cut.operation, cut.machine)),
        Operation::Bevel { plane } => by_plane(plane),
        Operation::Notch { from, to, purpose: NotchPurpose::Opening }
            if derive_trench::lowered(from, to, asked.part.size).is_some() =>
        {
            let plane = derive_trench::lowered(from, to, asked.part.size);
            plane.map_or_else(|| asked.by_hand(&cut.operation, cut.machine), by_plane)
        }
        _ => derive_trench::setup(asked, &cut.operation, cut.machine)
            .unwrap_or_else(|| asked.by_hand(&cut.operation, cut.machine)),
    })
}

/// The end or edge that a free plane mostly cuts.
fn surface_of(plane: &Plane) -> Surface {
    if plane.n.x.abs() >= plane.n.y.abs() {
        Surface::End(if plane.n.x > 0.0 { End::Finish } else { End::Start })
    } else {
        Surface::Edge(if plane.n.y > 0.0 { Edge::Upper } else { Edge::Lower })
    }
}

impl Asked<'_> {
    /// The cut's own member, lying as placed.
    pub(super) fn member(&self, at: &str, placement: Option<Placement>, excess: f64) -> Member {
        Member {
            box_index: self.box_index,
            part: Some(self.id),
            cut: Some(self.cut),
            name: self.part.name.clone(),
            count: self.count,
            at: at.to_owned(),
            size: self.part.size,
            placement,
            excess: Length::mm(excess),
            turned: false,
            strip: None,
            in_strip: None,
            own_passes: Vec::new(),
            stopped: None,
        }
    }

    /// The blade or bit that a machine carries.
    pub(super) fn cutter(&self, machine: Machine) -> Cutter {
        match machine {
            Machine::BandSaw => Cutter::Band(self.settings.band_saw.kerf),
            Machine::Planer => Cutter::Knives,
            Machine::HandTools | Machine::Drill => Cutter::Hand,
            Machine::TableSaw | Machine::RouterTable => {
                Cutter::Blade { kerf: self.settings.table_saw.kerf, teeth: self.settings.table_saw.teeth }
            }
        }
    }

    /// Planes of the end and edge cuts already made to the part.
    pub(super) fn done(&self) -> Vec<Plane> {
        let before = self.part.cuts.iter().take(self.cut);
        before
            .filter_map(|c| match c.operation {
                Operation::Bevel { plane } => Some(plane),
                ref o => o.plane(self.part.size),
            })
            .collect()
    }

    /// Whether a later cut of this part trims that surface: it is still rough now.
    fn still_rough(&self, surface: Surface) -> bool {
        self.part.cuts.iter().skip(self.cut + 1).any(|c| match c.operation {
            Operation::EndCut { end, .. } => Surface::End(end) == surface,
            Operation::EdgeCut { edge, .. } => Surface::Edge(edge) == surface,
            _ => false,
        })
    }

    /// Trim allowance left on one end or edge of the blank, millimeters.
    pub(super) fn trim(&self, surface: Surface) -> f64 {
        let lines = self.part.blank.allowances.iter();
        let trims = lines.filter(|a| a.kind == AllowanceKind::Trim);
        trims
            .map(|a| match surface {
                Surface::End(_) => a.length.to_mm() / 2.0,
                Surface::Edge(_) => a.width.to_mm() / 2.0,
                Surface::Face(_) => 0.0,
            })
            .sum()
    }

    /// How deep hand tools go, where the cut says it: a hinge's bed, a pared flat.
    fn hand_depth(&self, operation: &Operation) -> Option<Length> {
        match operation {
            Operation::Bevel { plane } => flat::depth(self.part.size, &self.done(), plane),
            other => derive_trench::bed_depth(other, self.part.size),
        }
    }

    /// A set-up with nothing to set but the knife line.
    fn by_hand(&self, operation: &Operation, machine: Machine) -> Setup {
        let (purpose, at) = match *operation {
            Operation::Notch { purpose, .. } => derive_trench::notch_words(purpose),
            Operation::Bevel { .. } => (Purpose::Bevel, "flat"),
            Operation::Chamfer { .. } => (Purpose::Chamfer, "arris"),
            Operation::RoundOver { .. } => (Purpose::RoundOver, "arris"),
            Operation::Rabbet { .. } => (Purpose::Rabbet, "rabbet"),
            Operation::Groove { .. } | Operation::EdgeGroove { .. } => (Purpose::Groove, "groove"),
            Operation::EndSlot { .. } => (Purpose::EndSlot, "end"),
            Operation::EndCut { end, .. } => (Purpose::Crosscut, Surface::End(end).words()),
            Operation::EdgeCut { edge, .. } => (Purpose::Rip, Surface::Edge(edge).words()),
        };
        Setup {
            machine,
            purpose,
            stage: Stage::Parts,
            cutter: self.cutter(machine),
            tilt: Angle::ZERO,
            lean: Lean::Upright,
            gauge: Angle::ZERO,
            guide: Guide::Mark,
            side: Side::Left,
            passes: self
                .hand_depth(operation)
                .map(|height| Pass { distance: Length::ZERO, height })
                .into_iter()
                .collect(),
            more_stops: Vec::new(),
            members: vec![self.member(at, None, 0.0)],
            test_piece: false,
            holding: Vec::new(),
            offcut: Offcut::None,
            flip: None,
            cautions: Vec::new(),
            reasons: Vec::new(),
        }
    }
}

/// The longer wide face goes up, so that the tip is up, the blade leans away from the held piece and
/// the waste lies free; a flat miter lies so that its long edge meets the gauge.
fn lie(plane: &Plane, surface: Surface, side: Side, size: [Length; 3]) -> Lay {
    let toward = surface.opposite();
    let back_down = Lay::new(Surface::Face(Face::Back), toward, side, size);
    if plane.n.z.abs() > EPS {
        return if plane.n.z < 0.0 {
            back_down
        } else {
            Lay::new(Surface::Face(Face::Show), toward, side, size)
        };
    }
    if back_down.angles(plane.n).1 < -EPS {
        Lay::new(Surface::Face(Face::Show), toward, side, size)
    } else {
        back_down
    }
}

/// A through cut: an end on the gauge or an edge along the fence.
fn through(asked: &Asked<'_>, plane: Plane, surface: Surface) -> Option<Setup> {
    let s = asked.settings;
    if plane.n.dot(normal(surface)) < 0.1 {
        return None;
    }
    let is_end = matches!(surface, Surface::End(_));
    let tilted = plane.n.z.abs() > EPS;
    let side = if is_end || tilted { s.table_saw.tilts.other() } else { Side::Right };
    let lay = lie(&plane, surface, side, asked.part.size);
    let (tilt, gauge) = lay.angles(plane.n);
    if !is_end && gauge.abs() > EPS {
        return None;
    }
    let rough = asked.still_rough(surface.opposite());
    let guide = match (is_end, rough) {
        (true, true) => Guide::Mark,
        (true, false) => Guide::Stop,
        (false, _) => Guide::Fence,
    };
    let excess = if rough { asked.trim(surface.opposite()) } else { 0.0 };
    let distance =
        if guide == Guide::Mark { 0.0 } else { lay.distance(&plane, &asked.done(), excess, is_end) };
    let height = lay.stands() + s.table_saw.tooth.to_mm() * tilt.cos();
    let purpose = match (is_end, tilt > EPS, gauge.abs() > EPS) {
        (true, false, false) => Purpose::Crosscut,
        (true, true, false) => Purpose::BladeMiter,
        (true, false, true) => Purpose::GaugeMiter,
        (true, true, true) => Purpose::CompoundMiter,
        (false, false, _) => Purpose::Rip,
        (false, true, _) => Purpose::BevelRip,
    };
    let machine = asked.part.cuts.get(asked.cut)?.machine;
    let pass = Pass { distance: Length::mm(distance), height: Length::mm(height) };
    let mut reasons = vec![height_reason(purpose, &lay, tilt, s, pass.height)];
    reasons.extend(angle_reasons(purpose, tilt, gauge));
    if guide != Guide::Mark {
        reasons.push(distance_reason(purpose, asked, &lay, tilt, pass.distance, excess));
    }
    Some(Setup {
        machine,
        purpose,
        stage: Stage::Parts,
        cutter: asked.cutter(machine),
        tilt: Angle::radians(tilt),
        lean: if tilt > EPS { Lean::Away } else { Lean::Upright },
        gauge: Angle::radians(if gauge.abs() > EPS { gauge } else { 0.0 }),
        guide,
        side,
        passes: vec![pass],
        more_stops: Vec::new(),
        members: vec![asked.member(surface.words(), Some(lay.placement), excess)],
        test_piece: true,
        holding: if is_end {
            vec![Holding::GaugeWithFence, Holding::Backing]
        } else {
            vec![Holding::PushBlock]
        },
        offcut: Offcut::FreeSide(side.other()),
        flip: flip::of(purpose),
        cautions: Vec::new(),
        reasons,
    })
}

/// The key under which a number of a set-up is asked for.
pub(super) fn key(purpose: Purpose, number: &str) -> String {
    format!("saw.{}.{number}", format!("{purpose:?}").to_lowercase())
}

fn height_reason(purpose: Purpose, lay: &Lay, tilt: f64, s: &Settings, result: Length) -> Reason {
    Reason {
        key: key(purpose, "height"),
        title: "blade height".into(),
        formula:
            "thickness as it lies + tooth above the work × cos(tilt); along the blade: thickness / cos(tilt) \
                  + tooth"
                .into(),
        given: vec![
            Given::new("thickness as it lies", Value::Length(Length::mm(lay.stands()))),
            Given::new("tooth above the work", Value::Length(s.table_saw.tooth)),
            Given::new("tilt", Value::Angle(Angle::radians(tilt))),
        ],
        result: Value::Length(result),
        basis: Basis::CommonPractice,
    }
}

/// Reasons for tilt and gauge where they are not square.
fn angle_reasons(purpose: Purpose, tilt: f64, gauge: f64) -> Vec<Reason> {
    let basis =
        Basis::Derived("the cut's plane turned into the saw's frame, the part lying on its shorter face");
    let one = |name: &str, title: &str, formula: &str, value: f64| Reason {
        key: key(purpose, name),
        title: title.into(),
        formula: formula.into(),
        given: Vec::new(),
        result: Value::Angle(Angle::radians(value)),
        basis: basis.clone(),
    };
    let mut reasons = Vec::new();
    if tilt > EPS {
        reasons.push(one("tilt", "blade tilt", "angle between the cut and a line plumb to the table", tilt));
    }
    if gauge.abs() > EPS {
        reasons.push(one(
            "gauge",
            "gauge angle from square",
            "angle between the cut's line on the table and a square crosscut; positive when the edge on the \
             gauge is the longer",
            gauge,
        ));
    }
    reasons
}

fn distance_reason(
    purpose: Purpose,
    asked: &Asked<'_>,
    lay: &Lay,
    tilt: f64,
    result: Length,
    excess: f64,
) -> Reason {
    let tip = result.to_mm() + lay.stands() * tilt.tan();
    Reason {
        key: key(purpose, "distance"),
        title: "guide to the near side of the blade, at the table".into(),
        formula:
            "length at the upper face (tip to tip) − thickness × tan(tilt); at a swung gauge measured along \
                  its fence"
                .into(),
        given: vec![
            Given::new("part", Value::Text(asked.part.name.clone())),
            Given::new("at the upper face along the guide line", Value::Length(Length::mm(tip))),
            Given::new("thickness as it lies", Value::Length(Length::mm(lay.stands()))),
            Given::new("tilt", Value::Angle(Angle::radians(tilt))),
            Given::new("still rough at the guide", Value::Length(Length::mm(excess))),
        ],
        result: Value::Length(result),
        basis: Basis::Derived("plane geometry: the cut's plane met with the table"),
    }
}
