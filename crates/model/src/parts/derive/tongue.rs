//! Hidden loose tongues along the miters.

use super::{Builder, DeriveError, NewPart};
use crate::design::LooseTongue;
use crate::parts::cut::{Cut, End, Machine, Operation, Span};
use crate::parts::part::{JointKind, Origin, Role, Seam};
use crate::space::{Pose, Vec3};
use crate::units::Length;

/// Least wood between the slot and the outside face, millimeters (common practice).
const COVER: f64 = 2.0;

impl Builder<'_> {
    pub(super) fn tongues(&mut self, tongue: &LooseTongue) {
        let sides = self.shell.ring.sides();
        if self.shell.ring.lean != 0.0 {
            self.error(
                "a loose tongue in splayed walls needs a slot at a compound angle that one saw set-up cannot cut",
                "corners.joint",
                "state keys, or upright walls",
            );
            return;
        }
        let t = self.shell.thickness;
        let tilt = core::f64::consts::PI / sides as f64;
        let (thick, depth) = (tongue.thickness.to_mm(), tongue.width.to_mm() / 2.0);
        let face = t / tilt.cos();
        // As near the heel as the slot's own half width and a little shoulder allow: there the wood is deepest.
        let from_heel = (thick / 2.0 + 0.15 * face).max(0.3 * face).min(face - thick);
        let cover = t - (from_heel + thick / 2.0) * tilt.cos() - depth * tilt.sin();
        if cover < COVER {
            let most = (t - (from_heel + thick / 2.0) * tilt.cos() - COVER) / tilt.sin() * 2.0;
            self.errors.push(DeriveError::TooLarge {
                what: "the loose tongue's width",
                key: "corners.width",
                value: tongue.width,
                most: Length::mm(most.max(0.0)),
                why: "its slot would come within 2 mm of the outside face",
            });
            return;
        }
        // Where a rabbet or groove reaches the slot the tongue ends at it, above the bottom and below a top;
        // the slot itself may run on, for there the panel hides it.
        let reach = (from_heel - thick / 2.0) * tilt.cos();
        let mut span = (0.0, self.wall_top(1).min(self.shell.height) - tongue.stopped.to_mm());
        for hollow in self.hollows().iter().filter(|h| h.depth > reach) {
            if hollow.z.0 < self.shell.height / 2.0 {
                span.0 = f64::max(span.0, hollow.z.1);
            } else {
                span.1 = f64::min(span.1, hollow.z.0);
            }
        }
        if span.1 - span.0 < thick {
            self.errors.push(DeriveError::NoHeight {
                what: "the loose tongue between bottom and rim",
                key: "corners.stopped",
                needs: tongue.thickness,
                has: Length::mm((span.1 - span.0).max(0.0)),
            });
            return;
        }
        for (i, id) in self.walls.clone().into_iter().enumerate() {
            let length = self.parts[id.0].size[0];
            for (end, at) in [(End::Start, Length::ZERO), (End::Finish, length)] {
                let operation = Operation::EndSlot {
                    end,
                    at,
                    tilt: crate::units::Angle::radians(tilt),
                    from_heel: Length::mm(from_heel),
                    width: tongue.thickness,
                    depth: Length::mm(depth),
                    span: Span::Stopped(Length::mm(-1.0), Length::mm(span.1)),
                };
                self.cut_part(id, operation);
            }
            self.tongue_part(tongue, i, from_heel, span);
        }
    }

    /// The tongue at corner i: grain across the joint, so that it cannot split along it.
    fn tongue_part(&mut self, tongue: &LooseTongue, i: usize, from_heel: f64, span: (f64, f64)) {
        let (width, thick) = (tongue.width.to_mm(), tongue.thickness.to_mm());
        let inner = self.shell.ring.offset(-self.shell.thickness);
        let outward = self.corner_direction(i);
        let across = self.shell.ring.miter(i).n;
        let middle = inner.corner(i, span.0) + outward * from_heel;
        let origin = middle - across * (width / 2.0) - outward * (thick / 2.0);
        // u across the joint, v up, w = u × v.
        let mut pose = Pose { origin, u: across, v: Vec3::Z, w: across.cross(Vec3::Z) };
        if pose.w.dot(outward) < 0.0 {
            pose.origin = origin + outward * thick;
        }
        let size = [width, span.1 - span.0, thick].map(Length::mm);
        let sides = self.shell.ring.sides();
        let corner = crate::design::CornerName(u32::try_from(i).unwrap_or(0));
        let cuts = [(End::Start, Length::ZERO), (End::Finish, size[0])]
            .map(|(end, at)| Cut {
                operation: Operation::EndCut {
                    end,
                    at,
                    gauge: crate::units::Angle::ZERO,
                    tilt: crate::units::Angle::ZERO,
                },
                machine: Machine::TableSaw,
            })
            .to_vec();
        let id = self.add(NewPart {
            name: format!("tongue {}", corner.words(u32::try_from(sides).unwrap_or(4))),
            role: Role::Tongue,
            wood: &tongue.wood.wood,
            rings: tongue.wood.rings.angle(),
            size,
            pose,
            cuts,
            explode: outward * 30.0,
            origin: Origin::Board,
        });
        let area = width * (span.1 - span.0);
        for wall in [self.walls[i], self.walls[(i + 1) % sides]] {
            self.joint(id, wall, JointKind::Glued, Seam::Tongue, area, 0.0);
        }
    }
}
