//! The hinges: where they sit, the beds of their leaves, their screws.

use super::Builder;
use crate::design::Hinges;
use crate::parts::cut::{NotchPurpose, Operation};
use crate::parts::part::{Hardware, PartId, Role};
use crate::space::Vec3;
use crate::units::Length;

impl Builder<'_> {
    pub(super) fn hinges(&mut self) {
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
