//! The lid: frame, slab, sawn off, sliding; how it finds its place; its hinges.

use super::panel::Panel;
use super::ring::{Ring, normals};
use super::{Builder, DeriveError, NewPart, main_wood, side_name, usual_machine};
use crate::design::{Build, Frame, Hinges, LidKind, PanelHold, Profile, Registration, SawnTop};
use crate::parts::cut::{Arris, Cut, Edge, Face, Machine, NotchPurpose, Operation, Span};
use crate::parts::part::{
    AssemblyCut, AssemblyOperation, Float, Hardware, JointKind, Origin, PartId, Role, Seam,
};
use crate::space::{Convex, Plane, Vec3};
use crate::units::{Angle, Length};

/// How far the lid lifts in the exploded drawing, millimeters.
const LID_EXPLODE: f64 = 90.0;

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
    fn lid_ring(&self) -> Ring {
        self.shell.ring.upright_at(self.shell.height).offset(self.s.lid.overhang.to_mm())
    }

    /// The clear opening of the walls at the level where something drops in.
    fn opening_at(&self, z: f64) -> Ring {
        let inner = self.shell.ring.offset(-self.shell.thickness);
        let low = if inner.lean >= 0.0 { z } else { self.shell.height };
        inner.upright_at(low)
    }

    fn frame(&mut self, f: &Frame) {
        let ring = self.lid_ring();
        let (m, th) = (f.member.to_mm(), f.thickness.to_mm());
        let z = (self.lid_seat, self.lid_seat + th);
        let least = ring.apothems.iter().copied().fold(f64::INFINITY, f64::min);
        if m > least - 5.0 {
            self.errors.push(DeriveError::TooLarge {
                what: "the frame's member",
                key: "lid.member",
                value: f.member,
                most: Length::mm((least - 5.0).max(0.0)),
                why: "opposite members must leave room for a panel between them",
            });
            return;
        }
        let sides = ring.sides();
        let mut ids = Vec::with_capacity(sides);
        for i in 0..sides {
            let member = ring.flat_member(i, m, z);
            let Some(wood) = f.woods.get(i % f.woods.len().max(1)) else {
                continue;
            };
            let cuts = member
                .cuts
                .into_iter()
                .map(|operation| Cut { machine: usual_machine(&operation), operation })
                .collect();
            let out = ring.normals[i] * 40.0;
            ids.push(self.add(NewPart {
                name: format!("lid frame {}", side_name(sides, i)),
                role: Role::FrameMember,
                wood: &wood.wood,
                rings: wood.rings.angle(),
                size: member.size,
                pose: member.pose,
                cuts,
                explode: Vec3::new(out.x, out.y, LID_EXPLODE),
                origin: Origin::Board,
            }));
        }
        if ids.len() < sides {
            return;
        }
        let face = m / (core::f64::consts::PI / sides as f64).cos() * th;
        for i in 0..sides {
            self.joint(ids[i], ids[(i + 1) % sides], JointKind::Glued, Seam::Miter, face, 0.0);
        }
        self.lid_parts.extend(ids.iter().copied());
        self.frame_registration(&ring, &ids, m, th);
        let (low, high) = ring.offset(-m).bounds(0.0);
        self.frame_opening = Some((high.x - low.x, high.y - low.y));
        self.frame_panel(f, &ring.offset(-m), z, &ids);
        if let Some(keys) = &f.keys {
            self.frame_keys(keys, &ring, z, m, &ids);
        }
        for id in ids {
            self.shape_lid_edge(id, Edge::Lower);
        }
        self.top = z.1;
    }

    fn shape_lid_edge(&mut self, id: PartId, edge: Edge) {
        let arris = Arris::Long(Face::Show, edge);
        match self.s.edges.lid_top {
            Profile::Sharp => {}
            Profile::Chamfer(width) => self.cut_part(id, Operation::Chamfer { arris, width }),
            Profile::RoundOver(radius) => self.cut_part(id, Operation::RoundOver { arris, radius }),
        }
    }

    /// The rabbet under a frame that drops inside the walls.
    fn frame_registration(&mut self, ring: &Ring, ids: &[PartId], member: f64, thickness: f64) {
        let Registration::Rabbet { depth, play } = self.s.lid.registration else {
            return;
        };
        let opening = self.opening_at(self.lid_seat).offset(-play.to_mm());
        let width = ring.apothems[0] - opening.apothems[0];
        if width > member - 2.0 || depth.to_mm() > thickness - 2.0 {
            self.errors.push(DeriveError::TooLarge {
                what: "the rabbet that seats the lid",
                key: "lid.registration",
                value: Length::mm(width),
                most: Length::mm(member - 2.0),
                why: "the frame's member must keep wood inside and above it; make the member wider or thicker",
            });
            return;
        }
        for &id in ids {
            self.cut_part(
                id,
                Operation::Rabbet {
                    arris: Arris::Long(Face::Back, Edge::Lower),
                    width: Length::mm(width),
                    depth,
                    span: Span::Through,
                    lean: Angle::ZERO,
                },
            );
        }
    }

    fn frame_panel(&mut self, f: &Frame, opening: &Ring, z: (f64, f64), members: &[PartId]) {
        let p = f.panel.thickness.to_mm();
        let th = z.1 - z.0;
        let most = match f.panel.hold {
            PanelHold::GluedBetween => th,
            PanelHold::Groove { .. } => th * 0.8,
            PanelHold::Rabbeted { .. } => th - 2.0,
        };
        if p > most {
            self.errors.push(DeriveError::TooLarge {
                what: "the lid's panel",
                key: "lid.panel.thickness",
                value: f.panel.thickness,
                most: Length::mm(most),
                why: "the frame must hold it",
            });
            return;
        }
        let panel = |ring: Ring, z: (f64, f64)| Panel {
            name: "lid panel",
            role: Role::FramePanel,
            build: &f.panel.build,
            ring,
            z,
            explode: Vec3::new(0.0, 0.0, LID_EXPLODE + 45.0),
        };
        let ids = match f.panel.hold {
            PanelHold::GluedBetween => {
                let ids = self.panel(&panel(opening.clone(), (z.1 - p, z.1)));
                self.glue_round(&ids, &f.panel.build, members, p);
                ids
            }
            PanelHold::Rabbeted { depth } => {
                let ring = opening.offset(depth.to_mm() - self.set.clearance.to_mm());
                let ids = self.panel(&panel(ring, (z.0, z.0 + p)));
                for &id in members {
                    self.cut_part(
                        id,
                        Operation::Rabbet {
                            arris: Arris::Long(Face::Back, Edge::Upper),
                            width: depth,
                            depth: f.panel.thickness,
                            span: Span::Through,
                            lean: Angle::ZERO,
                        },
                    );
                }
                let up = Self::facing(&ids, &f.panel.build, true);
                self.glue_round(up, &f.panel.build, members, p + depth.to_mm());
                ids
            }
            PanelHold::Groove { depth } => {
                self.grooved_panel(&panel, opening, z, [p, depth.to_mm()], members)
            }
        };
        self.lid_parts.extend(ids);
    }

    /// A floating panel: thin ones lie whole in a groove amid the frame's thickness, thick ones have a
    /// tongue and a field flush with the frame's upper face.
    fn grooved_panel<'p>(
        &mut self,
        panel: &dyn Fn(Ring, (f64, f64)) -> Panel<'p>,
        opening: &Ring,
        z: (f64, f64),
        [p, depth]: [f64; 2],
        members: &[PartId],
    ) -> Vec<PartId> {
        let th = z.1 - z.0;
        let thin = p <= th * 0.6;
        let (offset, tongue) = if thin { ((th - p) / 2.0, p) } else { (th - p, th / 3.0) };
        let at = z.0 + offset;
        let ids = self.floating_panel(panel(opening.clone(), (at, at + p)), depth, "lid panel", members);
        for &id in members {
            self.cut_part(
                id,
                Operation::EdgeGroove {
                    edge: Edge::Upper,
                    offset: Length::mm(offset),
                    width: Length::mm(tongue),
                    depth: Length::mm(depth),
                    span: Span::Through,
                },
            );
        }
        if !thin {
            if opening.sides() == 4 {
                let widths = self.field_widths(&ids, opening);
                self.rabbet_round(&ids, Face::Show, widths, p - tongue, "lid.panel.strips");
            } else {
                self.errors.push(DeriveError::TooLarge {
                    what: "the lid's panel",
                    key: "lid.panel.thickness",
                    value: Length::mm(p),
                    most: Length::mm(th * 0.6),
                    why: "a polygon's panel goes whole into its groove",
                });
            }
        }
        ids
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

    fn hinges(&mut self) {
        let Some(h) = self.s.hinges else { return };
        let ring = &self.shell.ring;
        if ring.sides() != 4 || ring.lean != 0.0 {
            self.error(
                "hinges need an upright back wall of a rectangle",
                "lid.registration",
                "state a lip, or an upright rectangle",
            );
            return;
        }
        let depth = leaf_bed(&h);
        let length = self.parts[self.walls[2].0].size[0].to_mm();
        let starts = hinge_starts(&h, length);
        if starts.windows(2).any(|w| w[1] - w[0] < h.leaf_length.to_mm() + 2.0)
            || starts.first().is_some_and(|s| *s < 0.0)
        {
            self.error(
                "the hinges do not fit side by side on the back wall",
                "hinges.count",
                "take fewer or shorter hinges, or set them nearer the ends",
            );
            return;
        }
        let over = self.s.lid.overhang.to_mm();
        let (wall, t) = (self.walls[2], self.shell.thickness);
        let (low, high) = self.saw_line.unwrap_or((self.shell.height, self.shell.height));
        let width = h.leaf_width.to_mm();
        for &start in &starts {
            let end = start + h.leaf_length.to_mm();
            self.leaf(wall, [start, low - depth, t - width], [end, low, t + 1.0]);
            if self.saw_line.is_some() {
                self.leaf(wall, [start, high, t - width], [end, high + depth, t + 1.0]);
            }
        }
        // The lid's beds: u of the back wall runs from right to left, seen from the front.
        let lid = self.lid_parts.clone();
        for id in lid {
            let (role, pose) = (self.parts[id.0].role, self.parts[id.0].pose);
            let size = self.parts[id.0].size.map(Length::to_mm);
            for &start in &starts {
                let (x1, x0) = (length - start, length - start - h.leaf_length.to_mm());
                match role {
                    Role::FrameMember if (pose.v - -Vec3::Y).norm() < 1e-9 => {
                        let u = pose.origin.x - x1;
                        self.leaf(id, [u, -1.0, -1.0], [u + (x1 - x0), width + over, depth]);
                    }
                    Role::LidPanel | Role::Strip if (pose.origin.z - self.lid_seat).abs() < 1e-9 => {
                        let edge = self.shell.ring.center.y + self.shell.ring.apothems[2] + over;
                        let v = edge - width - over - pose.origin.y;
                        if v < size[1] {
                            let u = x0 - pose.origin.x;
                            self.leaf(id, [u, v, -1.0], [u + (x1 - x0), size[1] + 1.0, depth]);
                        }
                    }
                    _ => {}
                }
            }
        }
        let screws = h.count * h.screws_per_leaf * 2;
        self.hardware.push(Hardware {
            name: format!("butt hinge, leaf {:.0} × {:.0} mm", h.leaf_length.to_mm(), h.leaf_width.to_mm()),
            count: h.count,
        });
        self.hardware.push(Hardware {
            name: format!("wood screw No. {} × {:.0} mm", h.screw_gauge, h.screw_length.to_mm()),
            count: screws,
        });
    }

    fn leaf(&mut self, id: PartId, from: [f64; 3], to: [f64; 3]) {
        self.cut_part(
            id,
            Operation::Notch {
                from: from.map(Length::mm),
                to: to.map(Length::mm),
                purpose: NotchPurpose::HingeLeaf,
            },
        );
    }
}

/// Depth of a leaf's bed: a hair under half the knuckle, never less than the leaf (published how-tos on
/// small hinge mortises; the hair is 0.1 mm).
pub(super) fn leaf_bed(h: &Hinges) -> f64 {
    (h.knuckle.to_mm() / 2.0 - 0.1).max(h.leaf_thickness.to_mm())
}

/// Where each hinge starts along the back wall, from its end.
pub(super) fn hinge_starts(h: &Hinges, length: f64) -> Vec<f64> {
    let (first, leaf) = (h.from_end.to_mm(), h.leaf_length.to_mm());
    let last = length - first - leaf;
    (0..h.count)
        .map(|k| {
            if h.count < 2 {
                (length - leaf) / 2.0
            } else {
                first + (last - first) * f64::from(k) / f64::from(h.count - 1)
            }
        })
        .collect()
}
