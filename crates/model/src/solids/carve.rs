//! A part's cuts applied to its block, and an assembly's cuts applied to its parts.

use super::Solid;
use super::solid::block_face;
use crate::parts::{BoxParts, Part};

/// Tags of assembly cuts begin here; those of a part's own cuts begin at [`block_face::FIRST_CUT`].
pub const FIRST_ASSEMBLY_CUT: u32 = 10_000;

/// The part as its own cuts leave it, in the part frame.
pub fn carve(part: &Part) -> Solid {
    let [length, width, thickness] = part.size;
    let mut solid = Solid::block(length, width, thickness);
    for (i, cut) in part.cuts.iter().enumerate() {
        let tag = block_face::FIRST_CUT.saturating_add(u32::try_from(i).unwrap_or(u32::MAX));
        for region in cut.operation.regions(part.size) {
            solid.cut(&region, tag);
        }
    }
    solid
}

/// All parts of a box as finished, in the box frame, in the order of [`BoxParts::parts`].
///
/// A wall whose lid has been sawn off stays one solid with a gap.
pub fn finished(parts: &BoxParts) -> Vec<Solid> {
    let mut solids: Vec<Solid> = parts.parts.iter().map(|p| carve(p).posed(&p.pose)).collect();
    for assembly in &parts.assemblies {
        for (i, cut) in assembly.cuts.iter().enumerate() {
            let tag = FIRST_ASSEMBLY_CUT.saturating_add(u32::try_from(i).unwrap_or(u32::MAX));
            for id in &cut.parts {
                let Some(solid) = solids.get_mut(id.0) else { continue };
                for region in &cut.removes {
                    solid.cut(region, tag);
                }
            }
        }
    }
    solids
}
