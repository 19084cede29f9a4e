//! The machines of the shop as the saw room needs them: kerfs, limits, jigs, minutes for a re-setting.

use crate::units::{Angle, Length, Minutes};

/// Left or right of the blade, seen by the maker who feeds the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Left of the blade.
    Left,
    /// Right of the blade.
    Right,
}

impl Side {
    /// The other side.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// The side in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// Form of the blade's teeth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Teeth {
    /// Flat-topped: the bottom of a slot is flat.
    FlatTop,
    /// Alternate top bevel of this angle: the bottom of a slot is a small V.
    AlternateBevel(Angle),
}

/// The table saw and its blade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TableSaw {
    /// Kerf of the blade.
    pub kerf: Length,
    /// Form of its teeth.
    pub teeth: Teeth,
    /// The side to which the top of the blade leans.
    pub tilts: Side,
    /// Highest the blade stands above the table when upright.
    pub max_height: Length,
    /// Furthest tilt from upright.
    pub max_tilt: Angle,
    /// How far the teeth stand above the work in a through cut, measured along the blade.
    pub tooth: Length,
}

/// The bandsaw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandSaw {
    /// Kerf of its blade.
    pub kerf: Length,
    /// Tallest stock it resaws.
    pub max_height: Length,
}

/// The V cradle that carries a glued box over the blade on its corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CradleBuild {
    /// Thickness of wood between the saw table and the bottom of the trough.
    pub floor: Length,
    /// Height of the trough's sides above its bottom.
    pub trough: Length,
}

/// Minutes that one re-setting takes, for weighing one order of set-ups against another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ResetMinutes {
    /// Walking to another machine, clearing it, opening the extraction.
    pub machine: Minutes,
    /// Tilting the blade and proving the angle on a test piece.
    pub tilt: Minutes,
    /// Swinging the miter gauge and proving it.
    pub gauge: Minutes,
    /// Raising or lowering the blade or the bit.
    pub height: Minutes,
    /// Moving fence or stop and proving it.
    pub guide: Minutes,
    /// Changing between fence, stop, cradle and finger jig.
    pub jig: Minutes,
    /// Changing the blade or the bit.
    pub cutter: Minutes,
}

/// Everything about the shop's machines that changes a set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// The table saw.
    pub table_saw: TableSaw,
    /// The bandsaw.
    pub band_saw: BandSaw,
    /// Shortest piece the planer's manual allows.
    pub planer_shortest: Length,
    /// Thinnest piece the planer takes without a board under it.
    pub planer_thinnest: Length,
    /// Straight router bits at hand, by diameter.
    pub router_bits: Vec<Length>,
    /// By how much neighboring saw passes overlap.
    pub overlap: Length,
    /// Skin left uncut when a lid is sawn off.
    pub skin: Length,
    /// Parts below this length get the short-part caution.
    pub short: Length,
    /// Parts below this length get the grave short-part caution.
    pub very_short: Length,
    /// The cradle.
    pub cradle: CradleBuild,
    /// What a re-setting costs.
    pub reset: ResetMinutes,
}

impl Settings {
    /// Values of an ordinary small shop, to start from.
    ///
    /// # Source
    /// Short parts: 300 mm from the Health and Safety Executive's push-stick rule (WIS16); 150 mm (6 in)
    /// from magazine safety articles. Planer: 300 mm (12 in), the usual figure of the manuals. Kerfs,
    /// overlap, skin 1/32 in and the minutes: common practice.
    pub fn small_shop() -> Self {
        Self {
            table_saw: TableSaw {
                kerf: Length::mm(3.2),
                teeth: Teeth::FlatTop,
                tilts: Side::Left,
                max_height: Length::mm(79.0),
                max_tilt: Angle::degrees(45.0),
                tooth: Length::mm(5.0),
            },
            band_saw: BandSaw { kerf: Length::mm(1.0), max_height: Length::mm(250.0) },
            planer_shortest: Length::mm(300.0),
            planer_thinnest: Length::mm(5.0),
            router_bits: [3.175, 6.0, 6.35, 12.0].map(Length::mm).to_vec(),
            overlap: Length::mm(0.5),
            skin: Length::inches(1.0 / 32.0),
            short: Length::mm(300.0),
            very_short: Length::mm(150.0),
            cradle: CradleBuild { floor: Length::mm(12.0), trough: Length::mm(90.0) },
            reset: ResetMinutes {
                machine: Minutes::minutes(2.0),
                tilt: Minutes::minutes(8.0),
                gauge: Minutes::minutes(5.0),
                height: Minutes::minutes(1.5),
                guide: Minutes::minutes(2.0),
                jig: Minutes::minutes(2.0),
                cutter: Minutes::minutes(4.0),
            },
        }
    }
}
