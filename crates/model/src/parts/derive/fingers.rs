//! Finger joints: sockets in both walls of every corner.

use super::Builder;
use crate::caution::{Caution, Change, Weight};
use crate::design::FingerJoint;
use crate::parts::cut::{NotchPurpose, Operation};
use crate::parts::part::{JointKind, PartId, Seam};
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::Length;

impl Builder<'_> {
    pub(super) fn fingers(&mut self, joint: FingerJoint) {
        if self.walls.len() != 4 {
            return;
        }
        let (pitch, play) = (joint.finger.to_mm(), joint.play.to_mm());
        let height = self.shell.height;
        if pitch * 3.0 > height {
            self.errors.push(super::DeriveError::TooLarge {
                what: "the finger",
                key: "corners.finger",
                value: joint.finger,
                most: Length::mm(height / 3.0),
                why: "a corner needs at least three fingers",
            });
            return;
        }
        if self.wall_top(1) < height {
            self.error(
                "a sliding lid passes over one lowered wall, which leaves a finger joint open there",
                "corners.joint",
                "state a miter for a box with a sliding lid",
            );
            return;
        }
        let walls = self.walls.clone();
        let count = self.cut_fingers(&walls, height, self.shell.thickness, pitch, play);
        let last = height - f64::from(count - 1) * pitch;
        self.reasons.push(Reason {
            key: "fingers.last".into(),
            title: "width of the topmost finger".into(),
            formula: "wall height − (fingers − 1) × finger".into(),
            given: vec![
                Given::new("wall height", Value::Length(Length::mm(height))),
                Given::new("fingers", Value::Count(u64::from(count))),
                Given::new("finger", Value::Length(joint.finger)),
            ],
            result: Value::Length(Length::mm(last)),
            basis: Basis::Derived("even division of the height"),
        });
        if last < pitch * 0.75 {
            // An odd number of equal fingers is symmetrical and leaves no sliver.
            let near = (height / pitch).round();
            let odd = if near % 2.0 == 0.0 { near + 1.0 } else { near };
            let even_finger = height / odd;
            self.cautions.push(Caution {
                code: "finger-sliver",
                weight: if last < pitch * 0.4 { Weight::LikelyToFail } else { Weight::WorthKnowing },
                place: "corners, topmost finger".into(),
                says: format!(
                    "The topmost finger is {last:.1} mm where the others are {pitch:.1} mm; {odd:.0} fingers of {even_finger:.2} mm leave no sliver."
                ),
                numbers: vec![
                    Given::new("topmost finger", Value::Length(Length::mm(last))),
                    Given::new("even finger", Value::Length(Length::mm(even_finger))),
                ],
                basis: Basis::Derived("even division of the height"),
                change: Some(Change::set(
                    format!("Make {odd:.0} equal fingers"),
                    "corners.finger",
                    format!("\"{even_finger:.3} mm\""),
                )),
            });
        }
    }

    /// Cuts the sockets of four walls that meet in finger joints; gives the number of fingers in a corner.
    pub(super) fn cut_fingers(
        &mut self,
        walls: &[PartId],
        height: f64,
        t: f64,
        pitch: f64,
        play: f64,
    ) -> u32 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small positive count")]
        let count = (height / pitch - 1e-9).ceil().clamp(1.0, 500.0) as u32;
        for (side, &id) in walls.iter().enumerate() {
            // Front and back own the even fingers from below, the sides the odd ones.
            let sockets_odd = side % 2 == 0;
            let length = self.parts[id.0].size[0].to_mm();
            for k in (0..count).filter(|k| (k % 2 == 1) == sockets_odd) {
                let low = f64::from(k) * pitch;
                let from = if k == 0 { -1.0 } else { low - play / 2.0 };
                let to = if k + 1 == count { height + 1.0 } else { low + pitch + play / 2.0 };
                for (u0, u1) in [(-1.0, t), (length - t, length + 1.0)] {
                    self.cut_part(
                        id,
                        Operation::Notch {
                            from: [u0, from, -1.0].map(Length::mm),
                            to: [u1, to, t + 1.0].map(Length::mm),
                            purpose: NotchPurpose::Finger,
                        },
                    );
                }
            }
        }
        // Every finger's flank is long-grain glue area: t × t on each of count − 1 flanks.
        let area = f64::from(count.saturating_sub(1)) * t * t;
        for i in 0..walls.len() {
            let next = walls[(i + 1) % walls.len()];
            self.joint(walls[i], next, JointKind::Glued, Seam::Fingers, area, 0.0);
        }
        count
    }
}
