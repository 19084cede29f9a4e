//! What the box stands on, and the pull on its lid.

use super::panel::Panel;
use super::ring::{Ring, normals};
use super::{Builder, NewPart, side_name, usual_machine};
use crate::design::{Base, LidKind, Pull};
use crate::parts::cut::{Cut, End, Machine, Operation};
use crate::parts::part::{JointKind, Origin, PartId, Role, Seam};
use crate::space::{Plane, Pose, Vec3};
use crate::units::{Angle, Length};

impl Builder<'_> {
    /// Lowest level of the box; zero or below.
    pub(super) fn base_height(&self) -> f64 {
        match &self.s.base {
            Base::None => 0.0,
            Base::Feet { height, .. } | Base::Plinth { height, .. } => -height.to_mm(),
        }
    }

    pub(super) fn stand(&mut self) {
        match self.s.base.clone() {
            Base::None => {}
            Base::Feet { wood, side, height, inset } => {
                self.feet(&wood.wood, wood.rings.angle(), [side, height, inset].map(Length::to_mm));
            }
            Base::Plinth { wood, thickness, height, proud } => {
                let ring = self.shell.ring.upright_at(0.0).offset(proud.to_mm());
                if ring.apothems.iter().any(|a| *a < thickness.to_mm() + 5.0) {
                    self.error(
                        "the plinth is set back so far that its members meet",
                        "base.proud",
                        "set it back less",
                    );
                    return;
                }
                for i in 0..ring.sides() {
                    let member = ring.upright_member(i, thickness.to_mm(), (-height.to_mm(), 0.0));
                    let cuts = member
                        .cuts
                        .into_iter()
                        .map(|operation| Cut { machine: usual_machine(&operation), operation })
                        .collect();
                    let out = ring.normals[i] * 25.0;
                    let id = self.add(NewPart {
                        name: format!("plinth {}", side_name(ring.sides(), i)),
                        role: Role::Plinth,
                        wood: &wood.wood,
                        rings: wood.rings.angle(),
                        size: member.size,
                        pose: member.pose,
                        cuts,
                        explode: Vec3::new(out.x, out.y, -100.0),
                        origin: Origin::Board,
                    });
                    let area = member.size[0].to_mm() * thickness.to_mm().min(self.shell.thickness);
                    self.joint(id, self.walls[i], JointKind::Glued, Seam::Flat, area, 0.0);
                }
            }
        }
        if let Some(pull) = self.s.pull.clone() {
            self.pull(&pull);
        }
    }

    fn feet(&mut self, wood: &str, rings: Angle, [side, height, inset]: [f64; 3]) {
        let ring = self.shell.ring.upright_at(0.0);
        for i in 0..ring.sides() {
            let corner = ring.corner(i, 0.0);
            let outward = self.corner_direction(i);
            // Square to the box for a rectangle, square to the corner's diagonal for a polygon.
            let (u, back) = if ring.sides() == 4 {
                let sx = if outward.x > 0.0 { 1.0 } else { -1.0 };
                let sy = if outward.y > 0.0 { 1.0 } else { -1.0 };
                (Vec3::X, Vec3::new(-sx, -sy, 0.0) * (inset + side / 2.0))
            } else {
                (Vec3::Z.cross(outward), outward * -(inset + side))
            };
            let middle = corner + back;
            let v = Vec3::Z.cross(u);
            let origin = middle - u * (side / 2.0) - v * (side / 2.0) - Vec3::Z * height;
            let size = [side, side, height].map(Length::mm);
            let cuts = [(End::Start, Length::ZERO), (End::Finish, size[0])]
                .map(|(end, at)| Cut {
                    operation: Operation::EndCut { end, at, gauge: Angle::ZERO, tilt: Angle::ZERO },
                    machine: Machine::TableSaw,
                })
                .to_vec();
            let id = self.add(NewPart {
                name: format!("foot {}", i + 1),
                role: Role::Foot,
                wood,
                rings,
                size,
                pose: Pose { origin, u, v, w: Vec3::Z },
                cuts,
                explode: Vec3::new(0.0, 0.0, -100.0),
                origin: Origin::Board,
            });
            self.joint(id, self.walls[i], JointKind::Glued, Seam::Flat, side * self.shell.thickness, 0.0);
        }
    }

    /// The upper face of the lid at its middle, and the part that the pull is glued to.
    fn pull_seat(&self) -> Option<(f64, PartId)> {
        self.parts
            .iter()
            .enumerate()
            .filter(|(_, p)| {
                matches!(p.role, Role::FramePanel | Role::LidPanel | Role::Top)
                    || (p.role == Role::Strip && !p.name.starts_with("bottom"))
                    || (p.role == Role::Veneer && !p.name.starts_with("bottom"))
            })
            .map(|(i, p)| (p.pose.origin.z + p.size[2].to_mm(), PartId(i)))
            .max_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Length and width of the panel that a part belongs to, less what its edges lose to grooves and frame.
    fn seat_size(&self, on: PartId) -> (f64, f64) {
        if let Some(opening) = self.frame_opening {
            return opening;
        }
        let part = &self.parts[on.0];
        let layers = self.parts.iter().filter(|p| part.layer_of.is_some() && p.layer_of == part.layer_of);
        let deep: f64 = layers.filter(|p| p.role == part.role).map(|p| p.size[1].to_mm()).sum();
        let hidden: f64 = self.floats.iter().map(|f| f.groove_depth.to_mm()).fold(0.0, f64::max);
        let whole = if deep > 0.0 { deep } else { part.size[1].to_mm() };
        (part.size[0].to_mm() - 2.0 * hidden, whole - 2.0 * hidden)
    }

    fn pull(&mut self, pull: &Pull) {
        let Some((seat, on)) = self.pull_seat() else {
            self.error("a pull needs a lid to sit on", "pull", "leave out the pull, or state a lid");
            return;
        };
        let [length, width, height] = [pull.length, pull.width, pull.height].map(Length::to_mm);
        let mut center = self.shell.ring.center;
        if matches!(self.s.lid.kind, LidKind::Sliding { .. }) {
            // Near the end that is drawn out, clear of the wall it passes over.
            center.x += self.shell.ring.apothems[1] - self.shell.thickness - length / 2.0 - 6.0;
        }
        let ring = Ring {
            center,
            normals: normals(4),
            apothems: vec![width / 2.0, length / 2.0, width / 2.0, length / 2.0],
            lean: 0.0,
        };
        let (wide, deep) = self.seat_size(on);
        for (what, key, value, most) in [
            ("the pull's length", "pull.length", pull.length, wide),
            ("the pull's width", "pull.width", pull.width, deep),
        ] {
            if value.to_mm() > most {
                self.errors.push(super::DeriveError::TooLarge {
                    what,
                    key,
                    value,
                    most: Length::mm(most),
                    why: "it must stand on the lid's panel",
                });
                return;
            }
        }
        let lid = self.lid_parts.is_empty();
        let ids = self.panel(&Panel {
            name: "pull",
            role: Role::Pull,
            build: &pull.build,
            ring,
            z: (seat, seat + height),
            explode: Vec3::new(0.0, 0.0, 175.0),
        });
        let bevel = pull.bevel.to_mm();
        if bevel >= width / 2.0 {
            self.errors.push(super::DeriveError::TooLarge {
                what: "the pull's bevel",
                key: "pull.bevel",
                value: pull.bevel,
                most: Length::mm(width / 2.0 - 0.5),
                why: "both sides together must leave wood at the top",
            });
            return;
        }
        for &id in &ids {
            for side in [-1.0, 1.0] {
                let foot = Vec3::new(center.x, center.y + side * width / 2.0, seat);
                let plane = Plane::through(foot, Vec3::new(0.0, side * height, bevel));
                let in_part = self.parts[id.0].pose.plane_back(&plane);
                let size = self.parts[id.0].size.map(Length::to_mm);
                let reach = in_part.n.y.max(0.0) * size[1] + in_part.n.z.max(0.0) * size[2] - in_part.d;
                if bevel > 0.0 && reach > 1e-6 {
                    self.cut_part(id, Operation::Bevel { plane: in_part });
                }
            }
        }
        if let Some(&id) = ids.first() {
            self.joint(id, on, JointKind::Glued, Seam::Flat, length * width, 0.0);
        }
        if !lid {
            self.lid_parts.extend(ids);
        }
        self.top = self.top.max(seat + height);
    }
}
