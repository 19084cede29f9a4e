//! Lining, tray, dividers, cloth.

use super::panel::Panel;
use super::ring::{Ring, normals};
use super::{Builder, DeriveError, NewPart, side_name, usual_machine};
use crate::design::{Build, Dividers, LidKind, Lining, Registration, Tray, TrayJoint};
use crate::parts::cut::{Arris, Cut, Edge, End, Face, Machine, NotchPurpose, Operation, Span};
use crate::parts::part::{Assembly, Hardware, JointKind, Origin, PartId, Role, Seam};
use crate::reason::{Basis, Given, Reason, Value};
use crate::space::{Pose, Vec3};
use crate::units::{Angle, Length};

impl Builder<'_> {
    pub(super) fn inside(&mut self) {
        let mut clear = self.shell.ring.offset(-self.shell.thickness);
        if let Some(lining) = self.s.inside.lining.clone() {
            self.lining(&lining, &clear);
            clear = clear.offset(-lining.thickness.to_mm());
        }
        let mut floor = self.shell.floor;
        if let Some(cloth) = self.s.inside.cloth.clone() {
            let (low, high) = clear.bounds(floor);
            let mut area = (high.x - low.x) * (high.y - low.y);
            floor += cloth.thickness.to_mm();
            if cloth.on_walls {
                area += 2.0 * ((high.x - low.x) + (high.y - low.y)) * (self.clear_top() - floor).max(0.0);
                clear = clear.offset(-cloth.thickness.to_mm());
            }
            self.hardware.push(Hardware {
                name: format!("{} on card, {:.0} cm² net", cloth.name, area / 100.0),
                count: 1,
            });
        }
        let limit = match self.s.inside.tray.clone() {
            Some(tray) => self.tray(&tray, &clear, floor),
            None => self.clear_top(),
        };
        if let Some(dividers) = self.s.inside.dividers.clone() {
            self.dividers(&dividers, &clear, floor, limit);
        }
    }

    /// Highest level that things inside may reach: the underside of lid or lip, the edge of the body.
    fn clear_top(&self) -> f64 {
        let lid = self.saw_line.map_or(self.lid_seat, |(low, _)| low);
        match (self.s.lid.registration, &self.s.lid.kind) {
            (Registration::Lip { height, .. }, LidKind::Frame(_) | LidKind::Slab { .. }) => {
                lid - height.to_mm()
            }
            _ => lid,
        }
    }

    fn lining(&mut self, lining: &Lining, ring: &Ring) {
        let proud = lining.proud.to_mm();
        let may_stand = self.saw_line.is_some() || self.s.lid.kind == LidKind::None;
        if proud > 0.0 && !may_stand {
            self.error(
                "a lining standing proud would meet the underside of this lid",
                "inside.lining.proud",
                "let it end level with the walls, or saw the lid from the box",
            );
            return;
        }
        let room = match self.saw_line {
            // Inside the sawn-off lid the lining may rise to the underside of its top.
            Some((_, high)) => self.lid_seat - high - 1.0,
            None => f64::INFINITY,
        };
        if proud > room {
            self.errors.push(DeriveError::TooLarge {
                what: "the lining's stand above the walls",
                key: "inside.lining.proud",
                value: lining.proud,
                most: Length::mm(room.max(0.0)),
                why: "the lid's top is in the way",
            });
            return;
        }
        let base = if self.s.lid.kind == LidKind::None { self.shell.height } else { self.clear_top() };
        // When the kerf has gone the lid comes down by it, so the lining's stand counts from the body's edge.
        let top = base + proud;
        for i in 0..ring.sides() {
            let member = ring.upright_member(i, lining.thickness.to_mm(), (self.shell.floor, top));
            let cuts = member
                .cuts
                .into_iter()
                .map(|operation| Cut { machine: usual_machine(&operation), operation })
                .collect();
            let out = ring.normals[i] * 22.0;
            let id = self.add(NewPart {
                name: format!("lining {}", side_name(ring.sides(), i)),
                role: Role::Lining,
                wood: &lining.wood.wood,
                rings: lining.wood.rings.angle(),
                size: member.size,
                pose: member.pose,
                cuts,
                explode: Vec3::new(out.x, out.y, 0.0),
                origin: Origin::Board,
            });
            self.loose.push(id);
            self.joint(id, self.walls[i], JointKind::Resting, Seam::Flat, 0.0, 0.0);
        }
    }

    /// Adds the tray; gives the level below which other things must stay.
    fn tray(&mut self, tray: &Tray, clear: &Ring, floor: f64) -> f64 {
        if clear.sides() != 4 || clear.lean != 0.0 {
            self.error(
                "a tray needs four upright walls to lift out of",
                "inside.tray",
                "leave out the tray, or state an upright rectangle",
            );
            return self.clear_top();
        }
        let (tt, h, play) = (tray.thickness.to_mm(), tray.height.to_mm(), tray.play.to_mm());
        let (bw, bh) = (tray.bearer.0.to_mm(), tray.bearer.1.to_mm());
        let top = self.clear_top() - 1.0;
        let z0 = top - h;
        if z0 - bh < floor {
            self.errors.push(DeriveError::NoHeight {
                what: "the tray with its bearers",
                key: "inside.tray.height",
                needs: Length::mm(h + bh + 1.0),
                has: Length::mm(self.clear_top() - floor),
            });
            return top;
        }
        let (low, high) = clear.bounds(z0);
        let length = (high.x - low.x) * f64::from(tray.covers_pct.clamp(1, 100)) / 100.0 - 2.0 * play;
        let depth = high.y - low.y - 2.0 * play;
        let center = Vec3::new(low.x + play + length / 2.0, f64::midpoint(low.y, high.y), 0.0);
        let ring = Ring {
            center,
            normals: normals(4),
            apothems: vec![depth / 2.0, length / 2.0, depth / 2.0, length / 2.0],
            lean: 0.0,
        };
        if length < 4.0 * tt || depth < 4.0 * tt {
            self.errors.push(DeriveError::TooLarge {
                what: "the tray's wall",
                key: "inside.tray.thickness",
                value: tray.thickness,
                most: Length::mm(length.min(depth) / 4.0),
                why: "the tray must keep an inside",
            });
            return top;
        }
        let parts = self.tray_walls(tray, &ring, (z0, top));
        self.bearers(clear, bw, (z0 - bh, z0), &tray.wood.wood);
        self.extra_assemblies.push(Assembly { name: "tray".into(), parts, cuts: Vec::new() });
        z0 - bh
    }

    fn tray_walls(&mut self, tray: &Tray, ring: &Ring, z: (f64, f64)) -> Vec<PartId> {
        let (tt, tb) = (tray.thickness.to_mm(), tray.bottom.to_mm());
        let fingers = matches!(tray.joint, TrayJoint::Fingers(_));
        let up = Vec3::new(0.0, 0.0, 55.0);
        let mut ids = Vec::new();
        for i in 0..4 {
            let mut member = ring.upright_member(i, tt, z);
            if fingers {
                member.cuts = [(End::Start, Length::ZERO), (End::Finish, member.size[0])]
                    .map(|(end, at)| Operation::EndCut { end, at, gauge: Angle::ZERO, tilt: Angle::ZERO })
                    .to_vec();
            }
            let from = Length::mm(tt / 2.0);
            let span = if fingers { Span::Stopped(from, member.size[0] - from) } else { Span::Through };
            member.cuts.push(Operation::Rabbet {
                arris: Arris::Long(Face::Back, Edge::Lower),
                width: tray.bottom,
                depth: Length::mm(tt / 2.0),
                span,
                lean: Angle::ZERO,
            });
            let cuts = member
                .cuts
                .into_iter()
                .map(|operation| Cut { machine: usual_machine(&operation), operation })
                .collect();
            ids.push(self.add(NewPart {
                name: format!("tray {}", side_name(4, i)),
                role: Role::TrayWall,
                wood: &tray.wood.wood,
                rings: tray.wood.rings.angle(),
                size: member.size,
                pose: member.pose,
                cuts,
                explode: up,
                origin: Origin::Board,
            }));
        }
        let height = z.1 - z.0;
        match tray.joint {
            TrayJoint::Miter => {
                for i in 0..4 {
                    let area = tt * core::f64::consts::SQRT_2 * height;
                    self.joint(ids[i], ids[(i + 1) % 4], JointKind::Glued, Seam::Miter, area, 0.0);
                }
            }
            TrayJoint::Fingers(width) => {
                self.cut_fingers(&ids, height, tt, width.to_mm(), 0.0);
            }
        }
        let build = Build::Sheet(tray.bottom_sheet.clone());
        let bottom = self.panel(&Panel {
            name: "tray bottom",
            role: Role::TrayBottom,
            build: &build,
            ring: ring.offset(-tt / 2.0),
            z: (z.0, z.0 + tb),
            explode: Vec3::new(0.0, 0.0, 40.0),
        });
        self.glue_round(&bottom, &build, &ids, tb + tt / 2.0);
        ids.extend(bottom);
        ids
    }

    fn bearers(&mut self, clear: &Ring, width: f64, z: (f64, f64), wood: &str) {
        for side in [0, 2] {
            let mut member = clear.upright_member(side, width, z);
            // Square ends between the end walls: a bearer is a plain strip.
            let length = member.size[0];
            member.cuts = [(End::Start, Length::ZERO), (End::Finish, length)]
                .map(|(end, at)| Operation::EndCut { end, at, gauge: Angle::ZERO, tilt: Angle::ZERO })
                .to_vec();
            let cuts = member
                .cuts
                .into_iter()
                .map(|operation| Cut { machine: usual_machine(&operation), operation })
                .collect();
            let id = self.add(NewPart {
                name: format!("bearer {}", side_name(4, side)),
                role: Role::Bearer,
                wood,
                rings: Angle::ZERO,
                size: member.size,
                pose: member.pose,
                cuts,
                explode: clear.normals[side] * 15.0,
                origin: Origin::Board,
            });
            let area = length.to_mm() * (z.1 - z.0);
            self.joint(id, self.walls[side], JointKind::Glued, Seam::Flat, area, 0.0);
        }
    }

    fn dividers(&mut self, d: &Dividers, clear: &Ring, floor: f64, limit: f64) {
        if clear.sides() != 4 || clear.lean != 0.0 {
            self.error(
                "dividers in half-laps need four upright walls",
                "inside.dividers",
                "leave out the dividers, or state an upright rectangle",
            );
            return;
        }
        let (t, h, play) = (d.thickness.to_mm(), d.height.to_mm(), d.play.to_mm());
        if floor + h > limit {
            self.errors.push(DeriveError::TooLarge {
                what: "the dividers' height",
                key: "inside.dividers.height",
                value: d.height,
                most: Length::mm((limit - floor).max(0.0)),
                why: "lid, tray or bearers are above them",
            });
            return;
        }
        let (low, high) = clear.bounds(floor);
        let cell =
            |room: f64, cells: u32| (room - f64::from(cells.saturating_sub(1)) * t) / f64::from(cells.max(1));
        let (cx, cy) = (cell(high.x - low.x, d.cells_along), cell(high.y - low.y, d.cells_across));
        if cx < 1.0 || cy < 1.0 {
            self.errors.push(DeriveError::TooLarge {
                what: "the dividers' thickness",
                key: "inside.dividers.thickness",
                value: d.thickness,
                most: Length::mm(((high.x - low.x) / f64::from(d.cells_along.max(1))).min(high.y - low.y)),
                why: "the cells between them vanish",
            });
            return;
        }
        let xs: Vec<f64> =
            (1..d.cells_along).map(|k| low.x + f64::from(k) * cx + f64::from(k - 1) * t).collect();
        let ys: Vec<f64> =
            (1..d.cells_across).map(|k| low.y + f64::from(k) * cy + f64::from(k - 1) * t).collect();
        // Those along the box are notched from above, those across it from below.
        for (k, &y) in ys.iter().enumerate() {
            let pose = Pose::new(Vec3::new(low.x + play, y + t, floor), Vec3::X, Vec3::Z);
            let crossings: Vec<f64> = xs.iter().map(|x| x - low.x - play).collect();
            let size = [high.x - low.x - 2.0 * play, h, t];
            self.divider(d, format!("divider along {}", k + 1), pose, size, &crossings, true);
        }
        for (k, &x) in xs.iter().enumerate() {
            let pose = Pose::new(Vec3::new(x, low.y + play, floor), Vec3::Y, Vec3::Z);
            let crossings: Vec<f64> = ys.iter().map(|y| y - low.y - play).collect();
            let size = [high.y - low.y - 2.0 * play, h, t];
            self.divider(d, format!("divider across {}", k + 1), pose, size, &crossings, false);
        }
        self.reasons.push(Reason {
            key: "dividers.cell".into(),
            title: "clear length of one cell along the box".into(),
            formula: "(inside length − (cells − 1) × divider) ÷ cells".into(),
            given: vec![
                Given::new("inside length", Value::Length(Length::mm(high.x - low.x))),
                Given::new("cells", Value::Count(u64::from(d.cells_along))),
                Given::new("divider", Value::Length(d.thickness)),
            ],
            result: Value::Length(Length::mm(cx)),
            basis: Basis::Derived("even division; notches from one reference end, so errors do not add up"),
        });
    }

    fn divider(
        &mut self,
        d: &Dividers,
        name: String,
        pose: Pose,
        size: [f64; 3],
        crossings: &[f64],
        from_above: bool,
    ) {
        let half = size[1] / 2.0;
        let (v0, v1) = if from_above { (half, size[1] + 1.0) } else { (-1.0, half) };
        let square =
            |end, at| Operation::EndCut { end, at: Length::mm(at), gauge: Angle::ZERO, tilt: Angle::ZERO };
        let mut operations = vec![square(End::Start, 0.0), square(End::Finish, size[0])];
        operations.extend(crossings.iter().map(|&u| Operation::Notch {
            from: [u, v0, -1.0].map(Length::mm),
            to: [u + size[2], v1, size[2] + 1.0].map(Length::mm),
            purpose: NotchPurpose::HalfLap,
        }));
        let cuts =
            operations.into_iter().map(|operation| Cut { operation, machine: Machine::TableSaw }).collect();
        let id = self.add(NewPart {
            name,
            role: Role::Divider,
            wood: &d.wood.wood,
            rings: d.wood.rings.angle(),
            size: size.map(Length::mm),
            pose,
            cuts,
            explode: Vec3::new(0.0, 0.0, if from_above { 25.0 } else { 35.0 }),
            origin: Origin::Board,
        });
        self.loose.push(id);
    }
}
