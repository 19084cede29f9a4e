//! The bottom and what holds it.

use super::panel::Panel;
use super::ring::Ring;
use super::size::{groove_above_edge, wall_depth};
use super::{Builder, DeriveError, NewPart, main_wood, side_name, usual_machine};
use crate::caution::{Caution, Weight};
use crate::design::{BottomHold, Build, CornerJoint};
use crate::parts::cut::{Arris, Cut, Edge, Face, Operation, Span};
use crate::parts::part::{Float, JointKind, Origin, PartId, Role, Seam};
use crate::reason::{Basis, Given, Reason, Value};
use crate::space::Vec3;
use crate::units::{Angle, Length};

impl Builder<'_> {
    pub(super) fn bottom(&mut self) {
        let explode = Vec3::new(0.0, 0.0, -60.0);
        let b = self.s.bottom.thickness.to_mm();
        let build = self.s.bottom.build.clone();
        let make = |ring: Ring, z: (f64, f64)| Panel {
            name: "bottom",
            role: Role::Bottom,
            build: &build,
            ring,
            z,
            explode,
        };
        match self.s.bottom.hold {
            BottomHold::Rabbet { depth, clearance } => {
                let r = wall_depth(self.s, depth);
                if !self.depth_fits("the bottom's rabbet", "bottom.depth", r) {
                    return;
                }
                let ring = self.shell.ring.offset(r - self.shell.thickness - clearance.to_mm());
                let ids = self.panel(&make(ring, (0.0, b)));
                self.rabbet_walls(b, r);
                let holders = self.walls.clone();
                self.glue_round(Self::facing(&ids, &build, true), &build, &holders, b + r);
                self.bottom_reason(r, clearance);
            }
            BottomHold::Groove { depth, above_edge, tongue } => {
                let d = wall_depth(self.s, depth);
                if !self.depth_fits("the bottom's groove", "bottom.depth", d) {
                    return;
                }
                let low = groove_above_edge(self.s, above_edge);
                let width = tongue.map_or(b, |t| t.to_mm().min(b));
                let inner = self.shell.ring.offset(-self.shell.thickness);
                let holders = self.walls.clone();
                let ids = self.floating_panel(make(inner.clone(), (low, low + b)), d, "bottom", &holders);
                self.groove_walls(low, width, d);
                if width < b {
                    if self.shell.ring.sides() != 4 || self.shell.ring.lean != 0.0 {
                        self.error(
                            "a tongue round the bottom needs an upright rectangle",
                            "bottom.tongue",
                            "let the whole bottom into the groove",
                        );
                        return;
                    }
                    // The raised field clears the walls by the clearance in the wettest season as well.
                    let widths = self.field_widths(&ids, &inner);
                    self.rabbet_round(&ids, Face::Show, widths, b - width, "bottom.strips");
                }
            }
            BottomHold::Ledge { width, height } => {
                let inner = self.shell.ring.offset(-self.shell.thickness);
                let h = height.to_mm();
                self.ledges(&inner, width.to_mm(), h);
                let ids = self.floating_panel(make(inner, (h, h + b)), 0.0, "bottom", &[]);
                let ledge = self.parts.iter().position(|p| p.role == Role::Ledge).map(PartId);
                if let (Some(&id), Some(ledge)) = (ids.first(), ledge) {
                    self.joint(id, ledge, JointKind::Resting, Seam::Flat, 0.0, 0.0);
                }
            }
        }
    }

    /// A depth into the wall's thickness must leave wood outside.
    pub(super) fn depth_fits(&mut self, what: &'static str, key: &'static str, depth: f64) -> bool {
        let most = self.shell.thickness - 1.5;
        if depth > most {
            self.errors.push(DeriveError::TooLarge {
                what,
                key,
                value: Length::mm(depth),
                most: Length::mm(most),
                why: "at least 1.5 mm of wall must stay outside it",
            });
            return false;
        }
        if depth > self.shell.thickness / 2.0 + 1e-9 {
            self.cautions.push(Caution {
                code: "deep-in-wall",
                weight: Weight::WorthKnowing,
                place: "walls".into(),
                says: format!(
                    "{what} is {depth:.1} mm deep in a wall of {:.1} mm; more than half weakens the wall and the miter.",
                    self.shell.thickness
                ),
                numbers: vec![Given::new("depth", Value::Length(Length::mm(depth)))],
                basis: Basis::CommonPractice,
                change: None,
            });
        }
        true
    }

    /// Stopped inside the corner where fingers would show it, else through: a miter hides it.
    pub(super) fn span_in_wall(&self, id: PartId, depth: f64) -> Span {
        if matches!(self.s.corners, CornerJoint::Fingers(_)) {
            let from = Length::mm(self.shell.thickness - depth);
            Span::Stopped(from, self.parts[id.0].size[0] - from)
        } else {
            Span::Through
        }
    }

    /// v of the back (inner) face of a wall at height z.
    pub(super) fn v_inside(&self, id: PartId, z: f64) -> f64 {
        let pose = &self.parts[id.0].pose;
        (z - pose.origin.z) / pose.v.z
    }

    fn rabbet_walls(&mut self, height: f64, depth: f64) {
        let lean = Angle::radians(self.shell.ring.lean);
        for id in self.walls.clone() {
            let span = self.span_in_wall(id, depth);
            let operation = Operation::Rabbet {
                arris: Arris::Long(Face::Back, Edge::Lower),
                width: Length::mm(self.v_inside(id, height)),
                depth: Length::mm(depth),
                span,
                lean,
            };
            self.cut_part(id, operation);
        }
        self.stopped_caution("rabbet");
    }

    /// A groove for a panel between heights `low` and `low + width`, in the inner faces of all walls.
    pub(super) fn groove_walls(&mut self, low: f64, width: f64, depth: f64) {
        for id in self.walls.clone() {
            self.groove_wall(id, low, width, depth);
        }
        self.stopped_caution("groove");
    }

    pub(super) fn groove_wall(&mut self, id: PartId, low: f64, width: f64, depth: f64) {
        let lean = self.shell.ring.lean;
        let operation = Operation::Groove {
            face: Face::Back,
            along_grain: true,
            offset: Length::mm(self.v_inside(id, low)),
            width: Length::mm(width / lean.cos()),
            depth: Length::mm(depth),
            span: self.span_in_wall(id, depth),
            lean: Angle::radians(lean),
        };
        self.cut_part(id, operation);
    }

    fn stopped_caution(&mut self, what: &str) {
        if matches!(self.s.corners, CornerJoint::Fingers(_))
            && !self.cautions.iter().any(|c| c.code == "stopped-at-fingers")
        {
            self.cautions.push(Caution {
                code: "stopped-at-fingers",
                weight: Weight::WorthKnowing,
                place: "walls, lower edge".into(),
                says: format!(
                    "A through {what} would show as a hole at the finger joints, so it is stopped inside the corners; cut through and plugged is the other way."
                ),
                numbers: Vec::new(),
                basis: Basis::CommonPractice,
                change: None,
            });
        }
    }

    /// A panel that floats in a groove `depth` deep beyond `inner` (0: it rests inside it).
    ///
    /// Across the grain each side has half the swelling to the wettest season plus the clearance;
    /// along the grain the clearance only.
    pub(super) fn floating_panel(
        &mut self,
        mut panel: Panel<'_>,
        depth: f64,
        key: &str,
        holders: &[PartId],
    ) -> Vec<PartId> {
        let (wood, rings) = main_wood(panel.build);
        let (swell, shrink) = (self.set.swing.swell(wood, rings), self.set.swing.shrink(wood, rings));
        let clearance = self.set.clearance.to_mm();
        let full = panel.ring.offset(depth);
        let (low, high) = full.bounds(panel.z.0);
        let opening = high.y - low.y;
        let width = (opening - 2.0 * clearance) / (1.0 + swell);
        let gap = (opening - width) / 2.0;
        let wood = wood.to_string();
        panel.ring = full.clone();
        for (apothem, normal) in panel.ring.apothems.iter_mut().zip(&full.normals) {
            *apothem -= clearance.max(gap * normal.y.abs());
        }
        self.reasons.push(Reason {
            key: format!("{key}.gap"),
            title: format!("gap to leave today on each side of the {key} across the grain"),
            formula: "(opening − (opening − 2 × clearance) ÷ (1 + swelling to the wettest season)) ÷ 2"
                .into(),
            given: vec![
                Given::new("opening, groove bottom to groove bottom", Value::Length(Length::mm(opening))),
                Given::new("clearance on each side", Value::Length(self.set.clearance)),
                Given::new("swelling from today to the wettest season", Value::Percent(swell)),
            ],
            result: Value::Length(Length::mm(gap)),
            basis: Basis::Published("Wood Handbook FPL-GTR-190, ch. 13, Eq. 13-2 with Table 13-5"),
        });
        self.reasons.push(Reason {
            key: format!("{key}.width"),
            title: format!("width to cut the {key} today, across the grain"),
            formula: "opening − 2 × gap".into(),
            given: vec![
                Given::new("opening", Value::Length(Length::mm(opening))),
                Given::new("gap on each side", Value::Length(Length::mm(gap))),
            ],
            result: Value::Length(Length::mm(opening - 2.0 * gap)),
            basis: Basis::Derived("what is left of the opening"),
        });
        let ids = self.panel(&panel);
        if let Some(&part) = ids.first() {
            self.floats.push(Float {
                name: key.to_string(),
                part,
                wood,
                rings,
                width: Length::mm(width),
                groove_depth: Length::mm(depth),
                gap: Length::mm(gap),
                shrinks_to: Length::mm(width * (1.0 - shrink)),
            });
            for &holder in holders {
                self.joint(part, holder, JointKind::Floating, Seam::Groove, 0.0, 0.0);
            }
        }
        ids
    }

    /// Width of the rabbet that leaves a field clear of the opening in every season:
    /// [at the ends, at the long edges].
    pub(super) fn field_widths(&self, ids: &[PartId], opening: &Ring) -> [f64; 2] {
        let clearance = self.set.clearance.to_mm();
        let Some(first) = ids.first() else { return [0.0; 2] };
        let edge = self.parts[first.0].pose.origin;
        let (low, _) = opening.bounds(0.0);
        let gap = self.floats.last().map_or(clearance, |f| f.gap.to_mm());
        [low.x - edge.x + clearance, low.y - edge.y + gap]
    }

    /// The layers of a panel that touch what lies above it (or below it): a veneered panel's leaf, else all of it.
    pub(super) fn facing<'i>(ids: &'i [PartId], build: &Build, above: bool) -> &'i [PartId] {
        match build {
            Build::Veneered { .. } if above => ids.get(2..3).unwrap_or(ids),
            Build::Veneered { .. } => ids.get(1..2).unwrap_or(ids),
            _ => ids,
        }
    }

    /// Glue joints of a panel let into the walls all round: `width` of glued face along each wall.
    pub(super) fn glue_round(&mut self, ids: &[PartId], build: &Build, holders: &[PartId], width: f64) {
        let sheet = matches!(build, Build::Sheet(_) | Build::Veneered { .. });
        let ids = if sheet { ids.get(..1).unwrap_or_default() } else { ids };
        let shared = ids.len();
        for &holder in holders {
            let length = self.parts[holder.0].size[0].to_mm();
            // The panel's grain runs along x: it fights members whose length runs front to back.
            let across = self.parts[holder.0].pose.u.y.abs();
            let cross = if sheet || across < 1e-6 { 0.0 } else { across * length };
            for &id in ids.iter().take(shared) {
                self.joint(id, holder, JointKind::Glued, Seam::Flat, length * width / shared as f64, cross);
            }
        }
    }

    fn bottom_reason(&mut self, r: f64, clearance: Length) {
        let inside = self.shell.ring.offset(-self.shell.thickness).bounds(0.0);
        let size = inside.1.x - inside.0.x;
        self.reasons.push(Reason {
            key: "bottom.length".into(),
            title: "length of the bottom".into(),
            formula: "inside length + 2 × rabbet depth − 2 × side clearance".into(),
            given: vec![
                Given::new("inside length", Value::Length(Length::mm(size))),
                Given::new("rabbet depth", Value::Length(Length::mm(r))),
                Given::new("side clearance", Value::Length(clearance)),
            ],
            result: Value::Length(Length::mm(size + 2.0 * r) - clearance * 2.0),
            basis: Basis::Derived(
                "section through the wall; rabbet half the wall unless stated (common practice)",
            ),
        });
    }

    fn ledges(&mut self, inner: &Ring, width: f64, height: f64) {
        let wood = self.s.walls.wood.clone();
        for i in 0..inner.sides() {
            let member = inner.upright_member(i, width, (0.0, height));
            let cuts = member
                .cuts
                .into_iter()
                .map(|operation| Cut { machine: usual_machine(&operation), operation })
                .collect();
            let id = self.add(NewPart {
                name: format!("ledge {}", side_name(inner.sides(), i)),
                role: Role::Ledge,
                wood: &wood.wood,
                rings: wood.rings.angle(),
                size: member.size,
                pose: member.pose,
                cuts,
                explode: Vec3::new(0.0, 0.0, -30.0),
                origin: Origin::Board,
            });
            let area = member.size[0].to_mm() * height;
            self.joint(id, self.walls[i], JointKind::Glued, Seam::Flat, area, 0.0);
        }
    }
}
