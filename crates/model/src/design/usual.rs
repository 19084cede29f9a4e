//! What is usual in the trade: the value of every length that a statement leaves out.
//!
//! Each is common practice unless another source stands beside it. The table in `docs/statement.md` lists the
//! same values; a test compares the two.

use crate::units::Length;

/// Values that a statement leaves out, with the key that would state them.
macro_rules! usual {
    ($($(#[$doc:meta])* $name:ident, $key:literal = $value:expr;)*) => {
        $($(#[$doc])* pub(super) const $name: Length = $value;)*

        /// Every usual length by its key.
        #[cfg(test)]
        pub(super) const ALL: &[(&str, Length)] = &[$(($key, $name)),*];
    };
}

usual! {
    /// Small boxes have walls of 1/4 to 3/8 in, larger ones 7/16 to 5/8 in.
    WALL_THICKNESS, "walls.thickness" = Length::inches(0.375);
    /// A sixteenth at each end is enough to square a crosscut end into a clean miter.
    SQUARE_TRIM, "walls.square_trim" = Length::inches(0.0625);
    /// Two to five millimeters round a loose thing let fingers and cloth in.
    SLACK, "size.contents.slack" = Length::mm(3.0);
    /// So that the lid clears the things.
    ABOVE, "size.contents.above" = Length::mm(5.0);
    /// The slot of a full-kerf blade.
    KEY_THICKNESS, "corners.thickness (keys)" = Length::inches(0.125);
    /// Enough wood behind the key that sanding the inside does not reach it.
    KEY_SKIN, "corners.skin" = Length::mm(2.0);
    /// The slot of a full-kerf blade.
    TONGUE_THICKNESS, "corners.thickness (loose tongue)" = Length::inches(0.125);
    /// Fits into the miter of a 3/8 in wall.
    TONGUE_WIDTH, "corners.width" = Length::mm(6.0);
    /// Keeps the tongue's end out of sight.
    TONGUE_STOPPED, "corners.stopped" = Length::mm(10.0);
    /// The usual small finger.
    FINGER, "corners.finger" = Length::inches(0.25);
    /// A push fit that leaves room for the glue.
    FINGER_PLAY, "corners.play" = Length::mm(0.1);
    /// A quarter-inch sheet; many measure less: measure yours and say so.
    BOTTOM_THICKNESS, "bottom.thickness" = Length::mm(6.0);
    /// Lets a glued bottom drop in.
    BOTTOM_CLEARANCE, "bottom.clearance" = Length::mm(0.2);
    /// A ledge wide enough to carry a loose bottom.
    LEDGE_WIDTH, "bottom.ledge_width" = Length::mm(6.0);
    /// A ledge stiff enough to stay straight.
    LEDGE_HEIGHT, "bottom.ledge_height" = Length::mm(6.0);
    /// Sliced veneer is about a fortieth of an inch.
    VENEER, "veneered.veneer" = Length::mm(0.6);
    /// Narrow members open a mitered frame less; the seasons say how much.
    FRAME_MEMBER, "lid.member" = Length::inches(1.25);
    /// A lid a little stouter than the walls.
    LID_THICKNESS, "lid.thickness (frame, slab)" = Length::inches(0.5);
    /// A panel that leaves room for its rabbet or groove in a half-inch frame.
    PANEL_THICKNESS, "lid.panel.thickness" = Length::mm(6.0);
    /// Depth of a groove or rabbet that holds a panel: half of a 1/2 in member.
    PANEL_DEPTH, "lid.panel.depth" = Length::inches(0.25);
    /// The top of a box whose lid is sawn off.
    TOP_THICKNESS, "lid.top.thickness" = Length::mm(6.0);
    /// Into a 3/8 in wall: half of it.
    TOP_DEPTH, "lid.top.depth" = Length::inches(0.1875);
    /// A lid deep enough for its hinges and its screws.
    SAWN_HEIGHT, "lid.height" = Length::inches(1.0);
    /// The kerf of a full-kerf blade.
    SAWN_KERF, "lid.kerf" = Length::inches(0.125);
    /// Rubbing a sawn edge flat on abrasive takes 0.2 to 0.5 mm.
    SAWN_CLEAN_UP, "lid.clean_up" = Length::mm(0.4);
    /// A sliding lid is thin.
    SLIDING_THICKNESS, "lid.thickness (sliding)" = Length::inches(0.25);
    /// Half of a 3/8 in wall, less a little.
    SLIDING_GROOVE, "lid.groove_depth" = Length::inches(0.1875);
    /// Small sliding lids have 0.4 to 0.8 mm in all.
    SIDE_PLAY, "lid.side_play" = Length::mm(0.6);
    /// 0.2 to 0.4 mm, waxed.
    THICKNESS_PLAY, "lid.thickness_play" = Length::mm(0.3);
    /// As much wood above the groove as the groove is wide.
    BELOW_RIM, "lid.below_rim" = Length::inches(0.25);
    /// A lip deep enough to hold, short enough not to catch.
    LIP_HEIGHT, "lid.lip_height" = Length::inches(0.25);
    /// A thin strip.
    LIP_THICKNESS, "lid.lip_thickness" = Length::inches(0.25);
    /// Slides on without a rattle.
    LIP_PLAY, "lid.lip_play" = Length::mm(0.4);
    /// Half of a half-inch slab.
    LID_RABBET_DEPTH, "lid.rabbet_depth" = Length::inches(0.25);
    /// Slides on without a rattle.
    LID_RABBET_PLAY, "lid.rabbet_play" = Length::mm(0.4);
    /// Linings are 1/8 in stuff.
    LINING_THICKNESS, "inside.lining.thickness" = Length::inches(0.125);
    /// Stands 3 to 6 mm above the rim where a lid fits over it.
    LINING_PROUD, "inside.lining.proud" = Length::mm(4.0);
    /// Tray walls are thin.
    TRAY_THICKNESS, "inside.tray.thickness" = Length::mm(6.0);
    /// Deep enough for rings and cufflinks.
    TRAY_HEIGHT, "inside.tray.height" = Length::inches(1.0);
    /// Thin plywood.
    TRAY_BOTTOM, "inside.tray.bottom" = Length::mm(3.0);
    /// The usual small finger.
    TRAY_FINGER, "inside.tray.finger" = Length::inches(0.25);
    /// Lifts out without a rattle.
    TRAY_PLAY, "inside.tray.play" = Length::mm(0.5);
    /// A bearer the tray's wall can stand on.
    BEARER_WIDTH, "inside.tray.bearer_width" = Length::mm(6.0);
    /// Bearers are about 3/4 in tall.
    BEARER_HEIGHT, "inside.tray.bearer_height" = Length::inches(0.75);
    /// Dividers are 1/8 in stuff.
    DIVIDER_THICKNESS, "inside.dividers.thickness" = Length::inches(0.125);
    /// Deep enough to part small things.
    DIVIDER_HEIGHT, "inside.dividers.height" = Length::inches(1.0);
    /// Drops in without force.
    DIVIDER_PLAY, "inside.dividers.play" = Length::mm(0.25);
    /// Cloth on card takes 1.5 to 3 mm per face.
    CLOTH_THICKNESS, "inside.cloth.thickness" = Length::mm(2.0);
    /// A block foot.
    FOOT_SIDE, "base.side" = Length::inches(0.75);
    /// A block foot.
    FOOT_HEIGHT, "base.height (feet)" = Length::inches(0.375);
    /// Flush with the walls.
    FOOT_INSET, "base.inset" = Length::ZERO;
    /// Like the walls.
    PLINTH_THICKNESS, "base.thickness" = Length::inches(0.375);
    /// A low plinth.
    PLINTH_HEIGHT, "base.height (plinth)" = Length::inches(0.75);
    /// A small step outside the walls.
    PLINTH_PROUD, "base.proud" = Length::mm(3.0);
    /// Two fingers.
    PULL_LENGTH, "pull.length" = Length::inches(1.5);
    /// A fingertip's depth.
    PULL_WIDTH, "pull.width" = Length::inches(0.5);
    /// A fingertip's depth.
    PULL_HEIGHT, "pull.height" = Length::inches(0.5);
    /// A gentle shape.
    PULL_BEVEL, "pull.bevel" = Length::mm(2.0);
    /// A small butt hinge.
    LEAF_LENGTH, "hinges.leaf_length" = Length::inches(1.0);
    /// A leaf as wide as the wall is thick, or less.
    LEAF_WIDTH, "hinges.leaf_width" = Length::inches(0.375);
    /// Small extruded hinges.
    LEAF_THICKNESS, "hinges.leaf_thickness" = Length::mm(1.5);
    /// Small extruded hinges.
    KNUCKLE, "hinges.knuckle" = Length::mm(4.0);
    /// No. 2 by 3/8 in is the least of the usual screws (No. 2 to 5 by 3/8 to 3/4 in).
    SCREW_LENGTH, "hinges.screw_length" = Length::inches(0.375);
    /// About a hinge's length in from the end.
    FROM_END, "hinges.from_end" = Length::inches(1.5);
}

/// Sheet id of every bottom and panel that is not stated otherwise.
pub(super) const SHEET: &str = "baltic_birch";
/// Keys in each corner: two to five are usual.
pub(super) const KEY_COUNT: u32 = 3;
/// Butt hinges on a small box.
pub(super) const HINGE_COUNT: u32 = 2;
/// Wood screws of a small hinge.
pub(super) const SCREW_GAUGE: u32 = 2;
/// Screws in each leaf of a small hinge.
pub(super) const SCREWS_PER_LEAF: u32 = 2;
/// A lid opens to just past upright: 90 to 105 degrees, 95 is usual.
pub(super) const OPENS_TO_DEGREES: f64 = 95.0;
/// What a box is called that has no name.
pub(super) const NAME: &str = "Box";
/// What a lining of cloth is called that has no name.
pub(super) const CLOTH_NAME: &str = "cloth on card";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::parse_length;

    /// The table that makers read and the values that the program takes are the same.
    #[test]
    fn the_reference_lists_the_same_values() {
        let reference = include_str!("../../../../docs/statement.md");
        for (key, value) in ALL {
            let row = reference
                .lines()
                .filter(|line| line.starts_with("| `"))
                .map(|line| line.split(" | ").collect::<Vec<_>>())
                .find(|cells| cells[0].trim_start_matches("| ").replace('`', "") == *key);
            let Some(cells) = row else {
                panic!("`{key}` is not in the reference");
            };
            let stated = parse_length(cells[2].trim_matches('`'));
            assert_eq!(stated, Ok(*value), "{key}");
        }
    }
}
