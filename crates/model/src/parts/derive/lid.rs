//! The lid: which kind it is, how it finds its place; slab, sawn off, sliding.

use super::panel::Panel;
use super::ring::{Ring, normals};
use super::{Builder, DeriveError, NewPart, main_wood, side_name, usual_machine};
use crate::design::{Build, LidKind, PanelHold, Registration, SawnTop};
use crate::parts::cut::{Arris, Cut, Edge, Face, Machine, Operation};
use crate::parts::part::{AssemblyCut, AssemblyOperation, Float, JointKind, Origin, Role, Seam};
use crate::space::{Convex, Plane, Vec3};
use crate::units::{Angle, Length};

/// How far the lid lifts in the exploded drawing, millimeters.
pub(super) const LID_EXPLODE: f64 = 90.0;

impl Builder<'_> {
    pub(super) fn lid(&mut self) {
        let h = self.shell.height;
        let drop = match self.s.lid.registration {
            Registration::Rabbet { depth, .. } => depth.to_mm(),
            _ => 0.0,
        };
        (self.lid_seat, self.top) = (h - drop, h);
        let sawn = matches!(self.s.lid.kind, LidKind::Sawn { .. });
        if self.s.lid.registration == Registration::Lining && !sawn {
            self.error(
                "a lining standing proud would meet the underside of this lid",
                "lid.registration",
                "state a lip or a rabbet, or saw the lid from the box",
            );
        }
        match self.s.lid.kind.clone() {
            LidKind::None => {}
            LidKind::Frame(frame) => self.frame(&frame),
            LidKind::Slab { build, thickness } => self.slab(&build, thickness.to_mm()),
            LidKind::Sawn { height, kerf, clean_up, top } => {
                self.sawn_top(&top);
                self.saw_off(height, kerf, clean_up);
            }
            LidKind::Sliding { build, thickness, groove_depth, side_play, thickness_play, .. } => {
                self.sliding(&build, [thickness, groove_depth, side_play, thickness_play].map(Length::to_mm));
            }
        }
        let lies_on_rim = matches!(self.s.lid.kind, LidKind::Frame(_) | LidKind::Slab { .. });
        if let (Registration::Lip { height, thickness, play }, true) = (self.s.lid.registration, lies_on_rim)
        {
            self.lip(height.to_mm(), thickness.to_mm(), play.to_mm());
        }
        if self.hinged() {
            self.hinges();
        }
    }

    /// Outside faces of a lid that lies on the rim.
    pub(super) fn lid_ring(&self) -> Ring {
        self.shell.ring.upright_at(self.shell.height).offset(self.s.lid.overhang.to_mm())
    }

    /// The clear opening of the walls at the level where something drops in.
    pub(super) fn opening_at(&self, z: f64) -> Ring {
        let inner = self.shell.ring.offset(-self.shell.thickness);
        let low = if inner.lean >= 0.0 { z } else { self.shell.height };
        inner.upright_at(low)
    }

    fn slab(&mut self, build: &Build, thickness: f64) {
        let ring = self.lid_ring();
        let z = (self.lid_seat, self.lid_seat + thickness);
        let ids = self.panel(&Panel {
            name: "lid",
            role: Role::LidPanel,
            build,
            ring: ring.clone(),
            z,
            explode: Vec3::new(0.0, 0.0, LID_EXPLODE),
        });
        if let Registration::Rabbet { depth, play } = self.s.lid.registration {
            if ring.sides() == 4 {
                let opening = self.opening_at(self.lid_seat).offset(-play.to_mm());
                let width = ring.apothems[0] - opening.apothems[0];
                self.rabbet_round(&ids, Face::Back, [width; 2], depth.to_mm(), "lid.strips");
            } else {
                self.error(
                    "a rabbet round a slab lid needs four sides",
                    "lid.registration",
                    "state a lip for a polygon",
                );
            }
        }
        if let Some((&first, &last)) = ids.first().zip(ids.last()) {
            self.shape_lid_edge(first, Edge::Lower);
            self.shape_lid_edge(last, Edge::Upper);
        }
        self.lid_parts.extend(ids);
        self.top = z.1;
    }

    fn lip(&mut self, height: f64, thickness: f64, play: f64) {
        let seat = self.lid_seat;
        if seat - height < self.shell.floor + 1.0 {
            self.errors.push(DeriveError::NoHeight {
                what: "the lip under the lid",
                key: "lid.registration",
                needs: Length::mm(height),
                has: Length::mm(seat - self.shell.floor),
            });
            return;
        }
        let ring = self.opening_at(seat - height).offset(-play);
        let wood = self.s.walls.wood.clone();
        let holders = self.lid_parts.clone();
        let framed = matches!(self.s.lid.kind, LidKind::Frame(_));
        for i in 0..ring.sides() {
            // Each lip under its own frame member; all under the one slab.
            let holder = holders.get(if framed { i } else { 0 }).copied();
            let member = ring.upright_member(i, thickness, (seat - height, seat));
            let cuts = member
                .cuts
                .into_iter()
                .map(|operation| Cut { machine: usual_machine(&operation), operation })
                .collect();
            let id = self.add(NewPart {
                name: format!("lip {}", side_name(ring.sides(), i)),
                role: Role::Lip,
                wood: &wood.wood,
                rings: wood.rings.angle(),
                size: member.size,
                pose: member.pose,
                cuts,
                explode: Vec3::new(0.0, 0.0, LID_EXPLODE - 30.0),
                origin: Origin::Board,
            });
            self.lid_parts.push(id);
            if let Some(holder) = holder {
                let area = member.size[0].to_mm() * thickness;
                self.joint(id, holder, JointKind::Glued, Seam::Flat, area, 0.0);
            }
        }
    }

    fn sawn_top(&mut self, top: &SawnTop) {
        let (h, p, t) = (self.shell.height, top.thickness.to_mm(), self.shell.thickness);
        let panel = |ring: Ring, z: (f64, f64)| Panel {
            name: "top",
            role: Role::Top,
            build: &top.build,
            ring,
            z,
            explode: Vec3::new(0.0, 0.0, LID_EXPLODE),
        };
        let walls = self.walls.clone();
        match top.hold {
            PanelHold::GluedBetween => {
                self.error(
                    "a top glued edge to edge between the walls has no shelf to lie on",
                    "lid.top.hold",
                    "state a rabbet or a groove",
                );
            }
            PanelHold::Rabbeted { depth } => {
                let d = depth.to_mm();
                if !self.depth_fits("the top's rabbet", "lid.top.depth", d) {
                    return;
                }
                let ring = self.shell.ring.offset(d - t);
                let ids = self.panel(&panel(ring, (h - p, h)));
                for &id in &walls {
                    let width = self.parts[id.0].size[1].to_mm() - self.v_inside(id, h - p);
                    let span = self.span_in_wall(id, d);
                    self.cut_part(
                        id,
                        Operation::Rabbet {
                            arris: Arris::Long(Face::Back, Edge::Upper),
                            width: Length::mm(width),
                            depth,
                            span,
                            lean: Angle::radians(-self.shell.ring.lean),
                        },
                    );
                }
                self.glue_round(Self::facing(&ids, &top.build, false), &top.build, &walls, p + d);
                self.lid_seat = h - p;
            }
            PanelHold::Groove { depth } => {
                let d = depth.to_mm();
                if !self.depth_fits("the top's groove", "lid.top.depth", d) {
                    return;
                }
                let low = h - t / 2.0 - p;
                let inner = self.shell.ring.offset(-t);
                self.floating_panel(panel(inner, (low, low + p)), d, "top", &walls);
                self.groove_walls(low, p, d);
                self.lid_seat = low;
            }
        }
    }

    fn saw_off(&mut self, height: Length, kerf: Length, clean_up: Length) {
        let band = (kerf + clean_up * 2.0).to_mm();
        let low = self.shell.height - height.to_mm() - band;
        let top_needs = self.shell.height - self.lid_seat + 2.0;
        if height.to_mm() < top_needs {
            self.errors.push(DeriveError::NoHeight {
                what: "the sawn-off lid's top",
                key: "lid.height",
                needs: Length::mm(top_needs),
                has: height,
            });
            return;
        }
        if low < self.shell.floor + 2.0 {
            self.errors.push(DeriveError::NoHeight {
                what: "the box below a sawn-off lid",
                key: "lid.height",
                needs: Length::mm(self.shell.floor + 2.0),
                has: Length::mm(low),
            });
            return;
        }
        let region = Convex::new(vec![Plane { n: -Vec3::Z, d: -low }, Plane { n: Vec3::Z, d: low + band }]);
        self.saw_line = Some((low, low + band));
        self.saw_cut = Some(AssemblyCut {
            operation: AssemblyOperation::SawOff { height: Length::mm(low) + clean_up, kerf, clean_up },
            machine: Machine::TableSaw,
            removes: vec![region],
            parts: self.walls.clone(),
        });
    }

    fn sliding(&mut self, build: &Build, [thickness, depth, side_play, play]: [f64; 4]) {
        let ring = self.shell.ring.clone();
        if ring.sides() != 4 || ring.lean != 0.0 {
            self.error(
                "a sliding lid needs four upright walls",
                "lid.kind",
                "state a lift-off lid, or an upright rectangle",
            );
            return;
        }
        if !self.depth_fits("the sliding lid's groove", "lid.groove_depth", depth) {
            return;
        }
        let seat = self.sliding_seat();
        let t = self.shell.thickness;
        let half = [ring.apothems[0], ring.apothems[1]];
        let lid_ring = Ring {
            center: ring.center,
            normals: normals(4),
            apothems: vec![
                half[0] - t + depth - side_play / 2.0,
                half[1],
                half[0] - t + depth - side_play / 2.0,
                half[1] - t + depth - self.set.clearance.to_mm(),
            ],
            lean: 0.0,
        };
        for side in [0, 2, 3] {
            self.groove_wall(self.walls[side], seat, thickness + play, depth);
        }
        let ids = self.panel(&Panel {
            name: "lid",
            role: Role::LidPanel,
            build,
            ring: lid_ring,
            z: (seat, seat + thickness),
            explode: Vec3::new(110.0, 0.0, 20.0),
        });
        if let Some(&part) = ids.first() {
            let (wood, rings) = main_wood(build);
            let width = 2.0 * (half[0] - t + depth) - side_play;
            let shrink = self.set.swing.shrink(wood, rings);
            self.floats.push(Float {
                name: "sliding lid".into(),
                part,
                wood: wood.to_string(),
                rings,
                width: Length::mm(width),
                groove_depth: Length::mm(depth),
                gap: Length::mm(side_play / 2.0),
                shrinks_to: Length::mm(width * (1.0 - shrink)),
            });
            for side in [0, 2, 3] {
                self.joint(part, self.walls[side], JointKind::Sliding, Seam::Groove, 0.0, 0.0);
            }
        }
        self.lid_parts.extend(ids);
        self.lid_seat = seat;
    }
}
