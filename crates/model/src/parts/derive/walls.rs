//! The walls, the strips they come from, and their shaped arrises.

use super::{Builder, NewPart, side_name, usual_machine};
use crate::design::{CornerJoint, CornerName, LidKind, Profile, StripMethod, WallCut};
use crate::parts::cut::{Arris, Cut, Edge, End, Face, Operation};
use crate::parts::part::{CornerLoss, Figure, JointKind, Origin, PartId, Role, Run, Seam};
use crate::reason::{Basis, Given, Reason, Value};
use crate::space::{Plane, Vec3};
use crate::units::{Angle, Length};

/// How far walls stand off in the exploded drawing, millimeters.
const WALL_EXPLODE: f64 = 45.0;

impl Builder<'_> {
    /// Height of one wall: all alike, but for the wall that a sliding lid passes over.
    pub(super) fn wall_top(&self, side: usize) -> f64 {
        match &self.s.lid.kind {
            LidKind::Sliding { .. } if side == 1 => self.sliding_seat(),
            _ => self.shell.height,
        }
    }

    /// Underside of a sliding lid.
    pub(super) fn sliding_seat(&self) -> f64 {
        match &self.s.lid.kind {
            LidKind::Sliding { thickness, thickness_play, below_rim, .. } => {
                self.shell.height - (*thickness + *thickness_play + *below_rim).to_mm()
            }
            _ => self.shell.height,
        }
    }

    pub(super) fn walls(&mut self) {
        let sides = self.shell.ring.sides();
        let fingers = matches!(self.s.corners, CornerJoint::Fingers(_));
        if fingers && (sides != 4 || self.shell.ring.lean != 0.0) {
            self.error(
                "finger joints need four upright walls",
                "corners.joint",
                "state a miter, with keys if you like, or an upright rectangle",
            );
            return;
        }
        let wood = self.s.walls.wood.clone();
        for i in 0..sides {
            let mut member = self.shell.ring.upright_member(i, self.shell.thickness, (0.0, self.wall_top(i)));
            if fingers {
                member.cuts = [(End::Start, Length::ZERO), (End::Finish, member.size[0])]
                    .map(|(end, at)| Operation::EndCut { end, at, gauge: Angle::ZERO, tilt: Angle::ZERO })
                    .to_vec();
            }
            let cuts = member
                .cuts
                .into_iter()
                .map(|operation| Cut { machine: usual_machine(&operation), operation })
                .collect();
            let id = self.add(NewPart {
                name: side_name(sides, i),
                role: Role::Wall,
                wood: &wood.wood,
                rings: wood.rings.angle(),
                size: member.size,
                pose: member.pose,
                cuts,
                explode: self.shell.ring.normals[i] * WALL_EXPLODE,
                origin: Origin::Board,
            });
            self.walls.push(id);
        }
        let slant = self.shell.height / self.shell.ring.lean.cos();
        for i in 0..sides {
            let half = (core::f64::consts::PI - self.shell.ring.interior_angle(i)) / 2.0;
            let area = self.shell.thickness / half.cos() * slant;
            if !fingers {
                self.joint(
                    self.walls[i],
                    self.walls[(i + 1) % sides],
                    JointKind::Glued,
                    Seam::Miter,
                    area,
                    0.0,
                );
            }
        }
        self.shape_rims();
        self.runs();
    }

    fn shape_rims(&mut self) {
        let rims = [(self.s.edges.rim, Edge::Upper), (self.s.edges.foot, Edge::Lower)];
        for (profile, edge) in rims {
            let arris = Arris::Long(Face::Show, edge);
            for id in self.walls.clone() {
                match profile {
                    Profile::Sharp => {}
                    Profile::Chamfer(width) => self.cut_part(id, Operation::Chamfer { arris, width }),
                    Profile::RoundOver(radius) => self.cut_part(id, Operation::RoundOver { arris, radius }),
                }
            }
        }
    }

    /// The flats that shape the upright arris at corner i, box frame, normals outward.
    pub(super) fn arris_flats(&self, i: usize) -> Vec<Plane> {
        let ring = &self.shell.ring;
        let (a, b) = (ring.face(i).n, ring.face(i + 1).n);
        let point = ring.corner(i, 0.0);
        let half = ring.interior_angle(i) / 2.0;
        match self.s.edges.corners {
            Profile::Sharp => Vec::new(),
            Profile::Chamfer(width) => {
                let n = (a + b).unit();
                vec![Plane::through(point - n * (width.to_mm() * half.cos()), n)]
            }
            Profile::RoundOver(radius) => {
                let r = radius.to_mm();
                // The circle touches both faces; its center lies r / sin(half) from the arris.
                let center = point - (a + b).unit() * (r / half.sin());
                let turn = core::f64::consts::PI - 2.0 * half;
                let toward = (b - a * a.dot(b)).unit();
                (0..Operation::ROUND_FACETS)
                    .map(|k| {
                        let t = turn * (f64::from(k) + 0.5) / f64::from(Operation::ROUND_FACETS);
                        let n = a * t.cos() + toward * t.sin();
                        Plane { n, d: n.dot(center) + r }
                    })
                    .collect()
            }
        }
    }

    /// Figure lost on the show face between neighbors, measured along the strip.
    fn corner_loss(&self, i: usize) -> f64 {
        let k = self.set.kerf.to_mm();
        if matches!(self.s.corners, CornerJoint::Fingers(_)) {
            // Square ends: one kerf between neighbors, whatever the statement says of miters.
            return k;
        }
        match self.s.walls.method {
            StripMethod::SquareFirst { trim } => k + 2.0 * trim.to_mm(),
            StripMethod::MiterFromStrip => {
                let ring = &self.shell.ring;
                let tilt = (core::f64::consts::PI - ring.interior_angle(i)) / 2.0;
                let half = core::f64::consts::PI / ring.sides() as f64;
                let gauge = (half.tan() * ring.lean.sin()).atan();
                k / (tilt.cos() * gauge.cos())
            }
        }
    }

    fn closing_corner(&mut self) -> usize {
        let sides = self.shell.ring.sides();
        // The corner seen least: back left of a rectangle, the one behind of a polygon (common practice).
        let stated = self.s.walls.closing_corner.map(|c| c.0 as usize);
        match stated {
            Some(c) if c >= sides => {
                self.error(
                    "the closing corner is not a corner of this box",
                    "walls.closing_corner",
                    "name one of its corners",
                );
                0
            }
            Some(c) => c,
            None => sides / 2,
        }
    }

    fn runs(&mut self) {
        let sides = self.shell.ring.sides();
        let closing = self.closing_corner();
        let name = |i: usize| CornerName(u32::try_from(i).unwrap_or(u32::MAX));
        match self.s.walls.cut {
            WallCut::Loose => {}
            WallCut::OneStrip => {
                let order: Vec<usize> = (1..=sides).map(|k| (closing + k) % sides).collect();
                let corners = order
                    .iter()
                    .map(|&i| CornerLoss {
                        corner: name(i),
                        loss: Length::mm(if i == closing { 0.0 } else { self.corner_loss(i) }),
                        figure: if i == closing { Figure::Closes } else { Figure::RunsOn },
                    })
                    .collect();
                self.push_run("walls", &order, corners, 1, None);
            }
            WallCut::BookmatchedPair => {
                if sides != 4 || self.shell.ring.lean != 0.0 {
                    self.error(
                        "a bookmatched pair gives two walls from each slice, so it needs an upright rectangle",
                        "walls.cut",
                        "state one strip, or a box with four upright walls",
                    );
                    return;
                }
                for (slice, order) in [[0, 1], [2, 3]].into_iter().enumerate() {
                    let corners = vec![
                        CornerLoss {
                            corner: name(order[0]),
                            loss: Length::mm(self.corner_loss(order[0])),
                            figure: Figure::RunsOn,
                        },
                        CornerLoss { corner: name(order[1]), loss: Length::ZERO, figure: Figure::Mirrors },
                    ];
                    let label = if slice == 0 { "walls, slice A" } else { "walls, slice B" };
                    self.push_run(label, &order, corners, 2, (slice == 1).then_some(0));
                }
                self.mirror_reason();
            }
        }
    }

    fn push_run(
        &mut self,
        name: &str,
        order: &[usize],
        corners: Vec<CornerLoss>,
        slices: u32,
        mirrors: Option<usize>,
    ) {
        let index = self.runs.len();
        let parts: Vec<PartId> = order.iter().map(|&i| self.walls[i]).collect();
        let lengths: Length = parts.iter().map(|p| self.parts[p.0].size[0]).sum();
        let losses: Length = corners.iter().map(|c| c.loss).sum();
        let trim = self.set.end_trim;
        let strip_length = lengths + losses + trim * 2.0;
        let strip_width = parts.iter().map(|p| self.parts[p.0].blank.width()).fold(Length::ZERO, Length::max);
        for id in &parts {
            let part = &mut self.parts[id.0];
            part.run = Some(index);
            // Ends are trimmed once for the whole strip; between neighbors the corner loss is the trim.
            for a in &mut part.blank.allowances {
                a.length = Length::ZERO;
            }
        }
        if index == 0 {
            self.reasons.push(Reason {
                key: "run.length".into(),
                title: "length of the strip that the walls come from, in order".into(),
                formula: "sum of outside lengths + losses at the corners between them + trim at both ends"
                    .into(),
                given: vec![
                    Given::new("sum of outside lengths", Value::Length(lengths)),
                    Given::new(
                        "corners within the strip",
                        Value::Count(order.len().saturating_sub(1) as u64),
                    ),
                    Given::new("lost at each", Value::Length(Length::mm(self.corner_loss(order[0])))),
                    Given::new("trim at each end", Value::Length(trim)),
                ],
                result: Value::Length(strip_length),
                basis: Basis::Derived(
                    "kerf measured along the face: kerf ÷ (cos tilt × cos gauge), k·√2 at 45°",
                ),
            });
        }
        self.runs.push(Run {
            name: name.into(),
            parts,
            corners,
            strip_length,
            strip_width,
            end_trim: trim,
            slices,
            mirrors,
        });
    }

    fn mirror_reason(&mut self) {
        let lost = self.set.resaw_kerf + self.set.resaw_clean_up * 2.0;
        let from_square = Angle::SQUARE - self.s.walls.wood.rings.angle();
        let shift = if from_square.to_degrees() > 89.0 { None } else { Some(lost * from_square.tan()) };
        self.reasons.push(Reason {
            key: "run.mirror_shift".into(),
            title: "shift of the figure at the two mirrored corners".into(),
            formula:
                "(resaw kerf + clean-up of both sawn faces) × tan(lean of the rings from square to the face)"
                    .into(),
            given: vec![
                Given::new("lost between the show faces", Value::Length(lost)),
                Given::new("lean of the rings from square", Value::Angle(from_square)),
            ],
            result: shift.map_or(
                Value::Text("rings lie flat: the figure changes freely from slice to slice".into()),
                Value::Length,
            ),
            basis: Basis::Derived("rings as planes leaning through the thickness"),
        });
    }

    /// Outward direction of corner i in plan.
    pub(super) fn corner_direction(&self, i: usize) -> Vec3 {
        let n = &self.shell.ring.normals;
        (n[i % n.len()] + n[(i + 1) % n.len()]).unit()
    }
}
