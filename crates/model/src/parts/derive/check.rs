//! Collisions between joints, and the cuts that come last.

use super::Builder;
use super::hinges::{hinge_starts, leaf_bed};
use crate::caution::{Caution, Change, Weight};
use crate::design::LidKind;
use crate::parts::cut::{Arris, Face, Machine, Operation};
use crate::parts::part::{AssemblyCut, AssemblyOperation, PartId, Role};
use crate::reason::{Basis, Given, Value};
use crate::units::Length;

/// A weakening of the inner face of the walls: heights between which it lies, and its depth.
pub(super) struct Hollow {
    what: &'static str,
    pub(super) z: (f64, f64),
    pub(super) depth: f64,
}

/// One key slot as the checks see it.
struct Slot {
    place: String,
    z: (f64, f64),
    depth: f64,
    /// Half the interior angle of its corner.
    half: f64,
    /// Touches the back wall.
    at_back: bool,
}

fn length(name: &str, mm: f64) -> Given {
    Given::new(name, Value::Length(Length::mm(mm)))
}

impl Builder<'_> {
    pub(super) fn check(&mut self) {
        let slots = self.slots();
        let hollows = self.hollows();
        for slot in &slots {
            self.slot_against_hollows(slot, &hollows);
            self.slot_against_saw_line(slot);
            self.slot_against_hinges(slot);
        }
        self.hinge_checks();
        self.tray_checks();
        if !slots.is_empty() {
            let count = u32::try_from(slots.len()).unwrap_or(u32::MAX);
            self.box_cuts.push(trim(count));
        }
        let lid_keys = self.parts.iter().filter(|p| p.role == Role::Key).count() - slots.len();
        if lid_keys > 0 {
            self.lid_cuts.push(trim(u32::try_from(lid_keys).unwrap_or(u32::MAX)));
        }
        if let Some(mut cut) = self.saw_cut.take() {
            // Loose tongues are sawn through with the walls; keys keep clear of the line.
            let tongues =
                (0..self.parts.len()).map(PartId).filter(|id| self.parts[id.0].role == Role::Tongue);
            cut.parts.extend(tongues);
            self.box_cuts.push(cut);
        }
    }

    fn slots(&self) -> Vec<Slot> {
        let sides = self.shell.ring.sides();
        self.box_cuts
            .iter()
            .filter_map(|c| match c.operation {
                AssemblyOperation::KeySlot { corner, number, height, thickness, depth, .. } => {
                    let i = corner.0 as usize;
                    let words = corner.words(u32::try_from(sides).unwrap_or(4));
                    let (z, t) = (height.to_mm() * self.shell.ring.lean.cos(), thickness.to_mm() / 2.0);
                    Some(Slot {
                        place: format!("{words} corner, key {number}"),
                        z: (z - t, z + t),
                        depth: depth.to_mm(),
                        half: self.shell.ring.interior_angle(i) / 2.0,
                        at_back: sides == 4 && (i == 1 || i == 2),
                    })
                }
                _ => None,
            })
            .collect()
    }

    pub(super) fn hollows(&self) -> Vec<Hollow> {
        let Some(first) = self.walls.first() else {
            return Vec::new();
        };
        let part = &self.parts[first.0];
        let z_of = |v: f64| part.pose.origin.z + v * part.pose.v.z;
        let top = part.size[1].to_mm();
        part.cuts
            .iter()
            .filter_map(|c| match &c.operation {
                Operation::Rabbet { arris: Arris::Long(Face::Back, edge), width, depth, .. } => {
                    let w = width.to_mm();
                    let z = if *edge == crate::parts::cut::Edge::Lower {
                        (0.0, z_of(w))
                    } else {
                        (z_of(top - w), self.shell.height)
                    };
                    Some(Hollow { what: "rabbet", z, depth: depth.to_mm() })
                }
                Operation::Groove { face: Face::Back, offset, width, depth, .. } => Some(Hollow {
                    what: "groove",
                    z: (z_of(offset.to_mm()), z_of((*offset + *width).to_mm())),
                    depth: depth.to_mm(),
                }),
                _ => None,
            })
            .collect()
    }

    fn slot_against_hollows(&mut self, slot: &Slot, hollows: &[Hollow]) {
        for hollow in hollows.iter().filter(|h| h.z.0 < slot.z.1 && h.z.1 > slot.z.0) {
            let left = self.shell.thickness - hollow.depth;
            let through = left / slot.half.sin();
            let skin = self.set.skin.to_mm();
            if slot.depth <= through - skin {
                continue;
            }
            let open = slot.depth > through;
            let most = (through - skin).max(0.0);
            self.cautions.push(Caution {
                code: if open { "key-through-hollow" } else { "key-near-hollow" },
                weight: if open { Weight::Cannot } else { Weight::LikelyToFail },
                place: slot.place.clone(),
                says: format!(
                    "The slot is {:.1} mm deep, but at the {} only {through:.1} mm of corner are left along the diagonal: {}.",
                    slot.depth,
                    hollow.what,
                    if open { "it breaks through to the inside" } else { "too little wood stays between them" }
                ),
                numbers: vec![
                    length("slot depth", slot.depth),
                    length("to break through here", through),
                    length("deepest with skin left", most),
                ],
                basis: Basis::Derived("(thickness − rabbet depth) ÷ sin(half the corner's angle)"),
                change: Some(if most > 1.0 {
                    Change::set(
                        format!("Make the keys {most:.1} mm deep"),
                        "corners.depth",
                        format!("\"{most:.1} mm\""),
                    )
                } else {
                    Change::words(format!(
                        "Move this key clear of the {} ({:.1} to {:.1} mm above the lower edge)",
                        hollow.what, hollow.z.0, hollow.z.1
                    ))
                }),
            });
        }
    }

    fn slot_against_saw_line(&mut self, slot: &Slot) {
        let Some((low, high)) = self.saw_line else { return };
        // One kerf and the sanding stay between key and saw line (common practice).
        let margin = 1.0;
        let met = slot.z.1 > low && slot.z.0 < high;
        let near = slot.z.1 > low - margin && slot.z.0 < high + margin;
        if !near {
            return;
        }
        self.cautions.push(Caution {
            code: if met { "key-on-saw-line" } else { "key-near-saw-line" },
            weight: if met { Weight::Cannot } else { Weight::LikelyToFail },
            place: slot.place.clone(),
            says: format!(
                "The key lies from {:.1} to {:.1} mm above the lower edge; the lid is sawn off between {low:.1} and {high:.1} mm.",
                slot.z.0, slot.z.1
            ),
            numbers: vec![length("saw line from", low), length("saw line to", high)],
            basis: Basis::CommonPractice,
            change: Some(Change::words(format!(
                "Move the key below {:.1} mm or above {:.1} mm",
                low - margin - (slot.z.1 - slot.z.0) / 2.0,
                high + margin + (slot.z.1 - slot.z.0) / 2.0
            ))),
        });
    }

    fn slot_against_hinges(&mut self, slot: &Slot) {
        let Some(h) = self.s.hinges.filter(|_| self.hinged() && slot.at_back) else {
            return;
        };
        let bed = leaf_bed(&h);
        let (low, high) = self.saw_line.unwrap_or((self.shell.height, self.shell.height));
        let leg = slot.depth / slot.half.cos();
        let clear = slot.z.1 < low - bed || slot.z.0 > high + bed;
        if clear || h.from_end.to_mm() > leg + 1.0 {
            return;
        }
        self.cautions.push(Caution {
            code: "key-meets-hinge",
            weight: Weight::Cannot,
            place: slot.place.clone(),
            says: format!(
                "The key reaches {leg:.1} mm along the back wall and the hinge leaf begins {:.1} mm from its end at the same height.",
                h.from_end.to_mm()
            ),
            numbers: vec![length("key's leg", leg), length("hinge from the end", h.from_end.to_mm())],
            basis: Basis::Derived("leg of the key = depth ÷ cos(half the corner's angle)"),
            change: Some(Change::set(
                format!("Set the hinges {:.0} mm from the ends", (leg + 3.0).ceil()),
                "hinges.from_end",
                format!("\"{:.0} mm\"", (leg + 3.0).ceil()),
            )),
        });
    }

    fn hinge_checks(&mut self) {
        let Some(h) = self.s.hinges.filter(|_| self.hinged()) else {
            return;
        };
        let t = self.shell.thickness;
        let width = h.leaf_width.to_mm();
        if width > t - 1.5 {
            self.cautions.push(Caution {
                code: "wall-thin-for-leaf",
                weight: if width > t { Weight::Cannot } else { Weight::LikelyToFail },
                place: "back wall, hinges".into(),
                says: format!(
                    "The leaf is {width:.1} mm wide and the wall {t:.1} mm thick: less than 1.5 mm of wood stays in front of it."
                ),
                numbers: vec![length("leaf width", width), length("wall", t)],
                basis: Basis::CommonPractice,
                change: Some(Change::set(
                    format!("Take a leaf {:.0} mm wide", (t - 2.0).floor().max(3.0)),
                    "hinges.leaf_width",
                    format!("\"{:.0} mm\"", (t - 2.0).floor().max(3.0)),
                )),
            });
        }
        let lid = match &self.s.lid.kind {
            LidKind::Frame(f) => Some(f.thickness.to_mm()),
            LidKind::Slab { thickness, .. } => Some(thickness.to_mm()),
            LidKind::Sawn { height, .. } => Some(height.to_mm()),
            LidKind::None | LidKind::Sliding { .. } => None,
        };
        let bed = leaf_bed(&h);
        if let Some(thickness) = lid {
            let room = thickness - bed - 1.0;
            let screw = h.screw_length.to_mm() - h.leaf_thickness.to_mm();
            if screw > room {
                self.cautions.push(Caution {
                    code: "screw-through-lid",
                    weight: Weight::Cannot,
                    place: "lid, hinges".into(),
                    says: format!(
                        "A screw {:.1} mm long goes {screw:.1} mm into wood; above the leaf's bed the lid has {room:.1} mm with a millimeter left.",
                        h.screw_length.to_mm()
                    ),
                    numbers: vec![length("screw in wood", screw), length("room in the lid", room)],
                    basis: Basis::Derived("lid thickness − bed − 1 mm"),
                    change: Some(Change::set(
                        format!("Take screws {:.0} mm long", (room + h.leaf_thickness.to_mm()).floor().max(3.0)),
                        "hinges.screw_length",
                        format!("\"{:.0} mm\"", (room + h.leaf_thickness.to_mm()).floor().max(3.0)),
                    )),
                });
            }
        }
        if self.s.lid.overhang.to_mm() > 0.0 && h.opens_to.to_degrees() > 90.0 {
            self.cautions.push(Caution {
                code: "lid-cannot-open",
                weight: Weight::Cannot,
                place: "lid, back edge".into(),
                says: format!(
                    "The lid overhangs the back by {:.1} mm; past 90° that edge turns into the back wall, so it cannot open to {:.0}°.",
                    self.s.lid.overhang.to_mm(),
                    h.opens_to.to_degrees()
                ),
                numbers: vec![
                    length("overhang", self.s.lid.overhang.to_mm()),
                    Given::new("opens to", Value::Angle(h.opens_to)),
                ],
                basis: Basis::Derived("arc of the lid's back edge about the pin"),
                change: Some(Change::set("Make the lid flush", "lid.overhang", "\"0 mm\"")),
            });
        }
        let wall = self.walls.get(2).map_or(0.0, |w| self.parts[w.0].size[0].to_mm());
        let room = hinge_starts(&h, wall).windows(2).any(|w| w[1] < w[0]);
        if room {
            self.error("the hinges lie outside the back wall", "hinges.from_end", "set them nearer the ends");
        }
    }

    fn tray_checks(&mut self) {
        let Some(tray) = &self.s.inside.tray else { return };
        if tray.play.to_mm() < 0.25 {
            self.cautions.push(Caution {
                code: "tray-tight",
                weight: Weight::LikelyToFail,
                place: "tray".into(),
                says: format!(
                    "The tray has {:.2} mm of play on each side; with finish on, and in a damp season, it will not lift.",
                    tray.play.to_mm()
                ),
                numbers: vec![length("play", tray.play.to_mm())],
                basis: Basis::CommonPractice,
                change: Some(Change::set("Give the tray 0.5 mm each side", "inside.tray.play", "\"0.5 mm\"")),
            });
        }
        if tray.covers_pct >= 97 {
            self.cautions.push(Caution {
                code: "tray-no-finger-room",
                weight: Weight::WorthKnowing,
                place: "tray".into(),
                says: "The tray fills the box from end to end and leaves no room for fingers to lift it."
                    .into(),
                numbers: vec![Given::new("covers", Value::Percent(f64::from(tray.covers_pct) / 100.0))],
                basis: Basis::CommonPractice,
                change: Some(Change::set("Let it cover 85 %", "inside.tray.covers_pct", "85")),
            });
        }
    }
}

fn trim(count: u32) -> AssemblyCut {
    AssemblyCut {
        operation: AssemblyOperation::FlushTrim { count },
        machine: Machine::HandTools,
        removes: Vec::new(),
        parts: Vec::new(),
    }
}
