//! Set-ups for cuts made to a glued assembly: key slots, the lid sawn off, flush trims.

use super::compound;
use super::flip;
use super::jig::{self, CradleCard, KeyAsked, LidCard};
use super::settings::{Settings, Side};
use super::setup::{Cutter, Guide, Holding, Lean, Member, Offcut, Pass, Purpose, Setup, Stage};
use crate::parts::{Assembly, AssemblyCut, AssemblyOperation, BoxParts, Part, Role};
use crate::units::{Angle, Length};

/// What the walls of an assembly (or the members of its lid frame) have in common.
#[derive(Clone, Copy, Debug)]
struct Ring {
    sides: u32,
    thickness: Length,
    /// Length of the corner's arris.
    edge: Length,
}

fn ring(parts: &BoxParts, assembly: &Assembly, in_lid: bool) -> Option<Ring> {
    let role = if in_lid { Role::FrameMember } else { Role::Wall };
    let all = || assembly.parts.iter().filter_map(|id| parts.parts.get(id.0));
    let members: Vec<&Part> =
        all().filter(|p| p.role == role || (!in_lid && p.role == Role::TrayWall)).collect();
    let first = members.first()?;
    let (thickness, edge) =
        if in_lid { (first.size[1], first.size[2]) } else { (first.size[2], first.size[1]) };
    Some(Ring { sides: u32::try_from(members.len()).ok()?.max(3), thickness, edge })
}

/// The set-up for one cut of an assembly.
pub(super) fn setup(
    settings: &Settings,
    parts: &BoxParts,
    assembly: &Assembly,
    index: usize,
    (box_index, count): (usize, u32),
) -> Option<Setup> {
    let cut = assembly.cuts.get(index)?;
    let (purpose, cutter, guide, side, at) = match cut.operation {
        AssemblyOperation::KeySlot { corner, in_lid, number, .. } => {
            let sides = ring(parts, assembly, in_lid).map_or(4, |r| r.sides);
            let at = format!("{} corner, key {number}", corner.words(sides));
            let cutter = Cutter::Blade { kerf: settings.table_saw.kerf, teeth: settings.table_saw.teeth };
            (Purpose::KeySlot, cutter, Guide::CradleStop, Side::Right, at)
        }
        AssemblyOperation::SawOff { .. } => {
            let cutter = Cutter::Blade { kerf: settings.table_saw.kerf, teeth: settings.table_saw.teeth };
            (Purpose::SawOff, cutter, Guide::Fence, Side::Right, "all round".to_owned())
        }
        AssemblyOperation::FlushTrim { count } => {
            let at = format!("{count} keys");
            (Purpose::FlushTrim, Cutter::Hand, Guide::Free, Side::Left, at)
        }
    };
    let mut setup = Setup {
        machine: cut.machine,
        purpose,
        stage: Stage::Assembly,
        cutter,
        tilt: Angle::ZERO,
        lean: Lean::Upright,
        gauge: Angle::ZERO,
        guide,
        side,
        passes: Vec::new(),
        more_stops: Vec::new(),
        members: vec![Member {
            box_index,
            part: None,
            cut: Some(index),
            name: assembly.name.clone(),
            count,
            at,
            size: parts.outside,
            placement: None,
            excess: Length::ZERO,
            turned: false,
            strip: None,
            in_strip: None,
            own_passes: Vec::new(),
            stopped: None,
        }],
        test_piece: purpose != Purpose::FlushTrim,
        holding: Vec::new(),
        offcut: Offcut::None,
        flip: flip::of(purpose),
        cautions: Vec::new(),
        reasons: Vec::new(),
    };
    fill(&mut setup, settings, parts, assembly, cut);
    Some(setup)
}

/// Passes, holding and reasons of an assembly set-up.
fn fill(setup: &mut Setup, settings: &Settings, parts: &BoxParts, assembly: &Assembly, cut: &AssemblyCut) {
    match cut.operation {
        AssemblyOperation::KeySlot { in_lid, height, thickness, depth, .. } => {
            setup.holding = vec![Holding::Cradle, Holding::Backing];
            let Some(ring) = ring(parts, assembly, in_lid) else {
                return;
            };
            let key = KeyAsked { height, thickness, depth };
            let card =
                jig::cradle(&[key], ring.edge, ring.thickness, compound::interior(ring.sides), settings);
            if let Some(row) = card.rows.first() {
                let passes = row.distances.iter();
                setup.passes = passes.map(|d| Pass { distance: *d, height: row.blade }).collect();
                if let (false, Some(m)) = (row.upper_on_stop.is_empty(), setup.members.first_mut()) {
                    m.at.push_str(", turned end for end");
                    m.turned = true;
                }
            }
            setup.reasons = card.reasons;
        }
        AssemblyOperation::SawOff { height, kerf, clean_up } => {
            let wall = ring(parts, assembly, false).map_or(Length::ZERO, |r| r.thickness);
            let card = jig::lid(height, kerf, clean_up, wall, settings.skin);
            setup.passes = vec![Pass { distance: card.fence, height: card.blade }];
            setup.holding = vec![Holding::TallFence, Holding::Shims];
            setup.offcut = if card.skin > Length::ZERO {
                Offcut::SkinHeld
            } else {
                Offcut::FreeSide(setup.side.other())
            };
            setup.reasons = card.reasons;
        }
        AssemblyOperation::FlushTrim { .. } => {}
    }
}

/// The cradle cards of one box: one for the corners of the walls, one for the lid's frame.
pub fn cradle_cards(parts: &BoxParts, settings: &Settings) -> Vec<CradleCard> {
    let mut cards = Vec::new();
    for assembly in &parts.assemblies {
        for lid in [false, true] {
            let keys: Vec<KeyAsked> = assembly
                .cuts
                .iter()
                .filter_map(|c| match c.operation {
                    AssemblyOperation::KeySlot { in_lid, height, thickness, depth, .. } if in_lid == lid => {
                        Some(KeyAsked { height, thickness, depth })
                    }
                    _ => None,
                })
                .collect();
            if let (false, Some(ring)) = (keys.is_empty(), ring(parts, assembly, lid)) {
                let interior = compound::interior(ring.sides);
                cards.push(jig::cradle(&keys, ring.edge, ring.thickness, interior, settings));
            }
        }
    }
    cards
}

/// The card for sawing the lid off, for boxes made that way.
pub fn lid_card(parts: &BoxParts, settings: &Settings) -> Option<LidCard> {
    parts.assemblies.iter().find_map(|a| {
        a.cuts.iter().find_map(|c| match c.operation {
            AssemblyOperation::SawOff { height, kerf, clean_up } => {
                let wall = ring(parts, a, false)?.thickness;
                Some(jig::lid(height, kerf, clean_up, wall, settings.skin))
            }
            _ => None,
        })
    })
}
