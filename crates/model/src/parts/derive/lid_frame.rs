//! The framed lid: its members, its panel, how it finds its place.

use super::lid::LID_EXPLODE;
use super::panel::Panel;
use super::ring::Ring;
use super::{Builder, DeriveError, NewPart, side_name, usual_machine};
use crate::design::{Frame, PanelHold, Profile, Registration};
use crate::parts::cut::{Arris, Cut, Edge, Face, Operation, Span};
use crate::parts::part::{JointKind, Origin, PartId, Role, Seam};
use crate::space::Vec3;
use crate::units::{Angle, Length};

impl Builder<'_> {
    pub(super) fn frame(&mut self, f: &Frame) {
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

    pub(super) fn shape_lid_edge(&mut self, id: PartId, edge: Edge) {
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
}
