//! Corner keys: slots cut in the glued box (or lid frame), and the keys that fill them.

use super::ring::Ring;
use super::{Builder, DeriveError, NewPart};
use crate::design::{CornerJoint, CornerName, KeyDepth, KeyRow, Keys, Spacing};
use crate::parts::cut::{Cut, Machine, Operation};
use crate::parts::part::{AssemblyCut, AssemblyOperation, JointKind, Origin, PartId, Role, Seam};
use crate::reason::{Basis, Given, Reason, Value};
use crate::space::{Convex, Plane, Pose, Vec3};
use crate::units::Length;

/// One ring of members that keys go into: the box's walls or the lid's frame.
struct Keyed<'r> {
    ring: &'r Ring,
    /// Lower and upper edge of what the keys stand in.
    z: (f64, f64),
    /// Thickness of the members square to their outside face.
    thickness: f64,
    members: Vec<PartId>,
    in_lid: bool,
}

/// A key's center height, thickness and wood.
struct Placed<'k> {
    at: f64,
    row: &'k KeyRow,
}

impl Builder<'_> {
    pub(super) fn corners(&mut self) {
        match self.s.corners.clone() {
            CornerJoint::Miter => {}
            CornerJoint::Keyed(keys) => {
                let ring = self.shell.ring.clone();
                let top = self.wall_top(1).min(self.shell.height);
                let keyed = Keyed {
                    ring: &ring,
                    z: (0.0, top),
                    thickness: self.shell.thickness,
                    members: self.walls.clone(),
                    in_lid: false,
                };
                self.keys(&keys, &keyed);
            }
            CornerJoint::Tongue(tongue) => self.tongues(&tongue),
            CornerJoint::Fingers(joint) => self.fingers(joint),
        }
        self.shape_corner_arrises();
    }

    /// Keys in the miters of the lid's frame.
    pub(super) fn frame_keys(
        &mut self,
        keys: &Keys,
        ring: &Ring,
        z: (f64, f64),
        member: f64,
        ids: &[PartId],
    ) {
        let keyed = Keyed { ring, z, thickness: member, members: ids.to_vec(), in_lid: true };
        self.keys(keys, &keyed);
    }

    fn keys(&mut self, keys: &Keys, on: &Keyed<'_>) {
        let sides = on.ring.sides();
        for i in 0..sides {
            let corner = CornerName(u32::try_from(i).unwrap_or(u32::MAX));
            let rows = keys.per_corner.iter().find(|(c, _)| *c == corner).map_or(&keys.rows, |(_, r)| r);
            let mut placed = place(rows, on.z.1 - on.z.0);
            placed.sort_by(|a, b| a.at.total_cmp(&b.at));
            let Some(depth) = self.key_depth(keys.depth, on, i) else {
                return;
            };
            if let Err(e) = check_places(&placed, on.z.1 - on.z.0) {
                self.errors.push(e);
                return;
            }
            for (number, key) in placed.iter().enumerate() {
                self.one_key(on, i, number, key, depth);
            }
        }
    }

    /// Depth along the diagonal, checked against breaking through.
    fn key_depth(&mut self, depth: KeyDepth, on: &Keyed<'_>, i: usize) -> Option<f64> {
        let half = on.ring.interior_angle(i) / 2.0;
        let through = on.thickness / half.sin();
        let skin = self.set.skin.to_mm();
        let d = match depth {
            KeyDepth::Depth(d) => d.to_mm(),
            KeyDepth::LeaveSkin(s) => through - s.to_mm(),
        };
        let most = through
            - skin.min(match depth {
                KeyDepth::Depth(_) => skin,
                KeyDepth::LeaveSkin(s) => s.to_mm(),
            });
        if d > most + 1e-9 || d <= 0.0 {
            self.errors.push(DeriveError::KeyTooDeep {
                depth: Length::mm(d),
                through: Length::mm(through),
                most: Length::mm(most.max(0.0)),
                skin: Length::mm(skin),
            });
            return None;
        }
        let (leg, shortest) = (d / half.cos(), shortest_side(on.ring, on.z));
        if leg * 2.0 + 2.0 > shortest {
            self.errors.push(DeriveError::TooLarge {
                what: "the key's leg along the wall",
                key: "corners.depth",
                value: Length::mm(leg),
                most: Length::mm((shortest / 2.0 - 1.0).max(0.0)),
                why: "keys of neighboring corners would meet on the shortest wall; make them less deep",
            });
            return None;
        }
        if i == 0 {
            let key = if on.in_lid { "lid_key.depth" } else { "key.depth" };
            self.reasons.push(Reason {
                key: key.into(),
                title: "depth of the key slots along the corner's diagonal".into(),
                formula: "wall thickness ÷ sin(half the corner's angle) − wood left inside".into(),
                given: vec![
                    Given::new("thickness", Value::Length(Length::mm(on.thickness))),
                    Given::new("to break through", Value::Length(Length::mm(through))),
                    Given::new("wood left inside", Value::Length(Length::mm(through - d))),
                ],
                result: Value::Length(Length::mm(d)),
                basis: Basis::Derived("section of the corner through the slot, t·√2 for a square corner"),
            });
        }
        Some(d)
    }

    fn one_key(&mut self, on: &Keyed<'_>, i: usize, number: usize, key: &Placed<'_>, depth: f64) {
        let sides = on.ring.sides();
        let z = on.z.0 + key.at;
        let point = on.ring.corner(i, z);
        let up = (on.ring.corner(i, z + 1.0) - on.ring.corner(i, z)).unit();
        let (fa, fb) = (on.ring.face(i), on.ring.face(i + 1));
        let outward = (fa.n + fb.n).unit();
        let across = up.cross(outward).unit();
        let k = key.row.thickness.to_mm();
        let seat = Plane::through(point - outward * depth, -outward);
        let slab = [Plane::through(point + up * (k / 2.0), up), Plane::through(point - up * (k / 2.0), -up)];
        let slot = Convex::new(vec![seat, slab[0], slab[1]]);
        let members = [on.members[i], on.members[(i + 1) % sides]];
        let corner = CornerName(u32::try_from(i).unwrap_or(u32::MAX));
        let cut = AssemblyCut {
            operation: AssemblyOperation::KeySlot {
                corner,
                in_lid: on.in_lid,
                number: u32::try_from(number + 1).unwrap_or(u32::MAX),
                height: Length::mm(key.at / (up.z.abs().max(1e-9))),
                thickness: key.row.thickness,
                depth: Length::mm(depth),
            },
            machine: Machine::TableSaw,
            removes: vec![slot],
            parts: members.to_vec(),
        };
        if on.in_lid {
            self.lid_cuts.push(cut);
        } else {
            self.box_cuts.push(cut);
        }
        // The key: block with the grain (u) along its long edge, v outward, w up; two end cuts make the triangle.
        let half = on.ring.interior_angle(i) / 2.0;
        let long = 2.0 * depth * half.tan();
        let u = -across;
        let origin = point - outward * depth - u * (long / 2.0);
        let mut pose = Pose { origin, u, v: outward, w: u.cross(outward) };
        pose.origin = origin - pose.w * (k / 2.0);
        let size = [long, depth, k].map(Length::mm);
        let mut cuts = Vec::new();
        for face in [&fa, &fb] {
            let plane = pose.plane_back(face);
            let end =
                if plane.n.x > 0.0 { super::super::cut::End::Finish } else { super::super::cut::End::Start };
            cuts.push(Cut { operation: super::ring::end_cut(&plane, end, size), machine: Machine::TableSaw });
        }
        if !on.in_lid {
            for flat in self.arris_flats(i) {
                cuts.push(Cut {
                    operation: Operation::Bevel { plane: pose.plane_back(&flat) },
                    machine: Machine::HandTools,
                });
            }
        }
        let words = corner.words(u32::try_from(sides).unwrap_or(4));
        let prefix = if on.in_lid { "lid key" } else { "key" };
        let id = self.add(NewPart {
            name: format!("{prefix} {words} {}", number + 1),
            role: Role::Key,
            wood: &key.row.wood.wood,
            rings: key.row.wood.rings.angle(),
            size,
            pose,
            cuts,
            explode: Vec3::new(outward.x, outward.y, 0.0) * 75.0,
            origin: Origin::KeyStrip,
        });
        if on.in_lid {
            self.lid_parts.push(id);
        }
        // Glued on both faces, half of each in either member.
        let area = depth * depth * half.tan();
        for m in members {
            self.joint(id, m, JointKind::Glued, Seam::Key, area, 0.0);
        }
    }

    fn shape_corner_arrises(&mut self) {
        let sides = self.shell.ring.sides();
        for i in 0..sides {
            let flats = self.arris_flats(i);
            for id in
                [self.walls.get(i).copied(), self.walls.get((i + 1) % sides).copied()].into_iter().flatten()
            {
                for flat in &flats {
                    let plane = self.parts[id.0].pose.plane_back(flat);
                    self.cut_part(id, Operation::Bevel { plane });
                }
            }
        }
    }
}

/// Length of the shortest outside face, where it is shortest.
fn shortest_side(ring: &Ring, z: (f64, f64)) -> f64 {
    let n = ring.sides();
    [z.0, z.1]
        .into_iter()
        .flat_map(|z| (0..n).map(move |i| (ring.corner(i + 1, z) - ring.corner(i, z)).norm()))
        .fold(f64::INFINITY, f64::min)
}

/// Center heights of all keys of some rows, above the lower edge.
fn place(rows: &[KeyRow], height: f64) -> Vec<Placed<'_>> {
    let mut out = Vec::new();
    for row in rows {
        let mut push = |at: f64| out.push(Placed { at, row });
        match &row.place {
            Spacing::Even { count } => {
                for k in 0..*count {
                    push(height * (f64::from(k) + 0.5) / f64::from(*count));
                }
            }
            Spacing::Between { count, from_foot, from_rim } => {
                let (low, high) = (from_foot.to_mm(), height - from_rim.to_mm());
                for k in 0..*count {
                    let share = if *count < 2 { 0.5 } else { f64::from(k) / f64::from(count - 1) };
                    push(low + (high - low) * share);
                }
            }
            Spacing::Heights(heights) => heights.iter().for_each(|h| push(h.to_mm())),
        }
    }
    out
}

fn check_places(placed: &[Placed<'_>], height: f64) -> Result<(), DeriveError> {
    for key in placed {
        let half = key.row.thickness.to_mm() / 2.0;
        if key.at < half || key.at > height - half {
            return Err(DeriveError::KeyOutside {
                thickness: key.row.thickness,
                at: Length::mm(key.at),
                height: Length::mm(height),
                least: Length::mm(half),
                most: Length::mm(height - half),
            });
        }
    }
    for pair in placed.windows(2) {
        let apart = (pair[0].row.thickness + pair[1].row.thickness).to_mm() / 2.0;
        if pair[1].at - pair[0].at < apart {
            return Err(DeriveError::KeysOverlap {
                first: Length::mm(pair[0].at),
                second: Length::mm(pair[1].at),
                apart: Length::mm(apart),
            });
        }
    }
    Ok(())
}
