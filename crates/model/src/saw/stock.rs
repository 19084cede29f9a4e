//! From board to blank: milling, resawing, ripping strips, crosscutting blanks.

use super::derive::key;
use super::settings::{Settings, Side};
use super::setup::{Cutter, Guide, Holding, Lean, Member, Offcut, Pass, Purpose, Setup, Stage};
use crate::parts::{AllowanceKind, BoxParts, Machine, Origin, Part, PartId};
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Angle, Length};

/// A stock set-up with one member.
struct Rough<'a> {
    settings: &'a Settings,
    part: &'a Part,
    id: PartId,
    box_index: usize,
    count: u32,
}

/// Whether the ends of a part are mitered straight from its strip: it lies in a run and has no trim
/// allowance along its length.
pub(super) fn from_strip(part: &Part) -> bool {
    let trims = part.blank.allowances.iter();
    let trim: f64 = trims.filter(|a| a.kind == AllowanceKind::Trim).map(|a| a.length.to_mm()).sum();
    part.run.is_some() && trim <= 0.0
}

/// The stock set-ups of a part in their order: mill (for boards), resaw where slices are wanted, rip to
/// the strip's width, and crosscut unless its miters are cut straight from the strip.
pub(super) fn setups(
    settings: &Settings,
    parts: &BoxParts,
    id: PartId,
    box_index: usize,
    count: u32,
) -> Vec<Setup> {
    let Some(part) = parts.parts.get(id.0) else {
        return Vec::new();
    };
    let rough = Rough { settings, part, id, box_index, count };
    let slices = part.run.and_then(|r| parts.runs.get(r)).map_or(1, |r| r.slices);
    match part.origin {
        Origin::VeneerLeaf => Vec::new(),
        Origin::Sheet => vec![rough.rip(), rough.crosscut()],
        Origin::KeyStrip => vec![rough.mill()],
        Origin::Board => {
            let resawn = part.blank.allowances.iter();
            let mut list = Vec::new();
            if slices > 1 || resawn.clone().any(|a| a.kind == AllowanceKind::Resawing) {
                list.push(rough.resaw());
            }
            list.push(rough.mill());
            list.push(rough.rip());
            if !from_strip(part) {
                list.push(rough.crosscut());
            }
            list
        }
    }
}

impl Rough<'_> {
    /// An upright set-up for the blank, its numbers still to come.
    fn base(&self, purpose: Purpose, machine: Machine, cutter: Cutter, guide: Guide, side: Side) -> Setup {
        Setup {
            machine,
            purpose,
            stage: Stage::Stock,
            cutter,
            tilt: Angle::ZERO,
            lean: Lean::Upright,
            gauge: Angle::ZERO,
            guide,
            side,
            passes: Vec::new(),
            more_stops: Vec::new(),
            members: vec![Member {
                box_index: self.box_index,
                part: Some(self.id),
                cut: None,
                name: self.part.name.clone(),
                count: self.count,
                at: "blank".into(),
                size: [self.part.blank.length(), self.part.blank.width(), self.part.blank.thickness()],
                placement: None,
                excess: Length::ZERO,
                turned: false,
                strip: None,
                in_strip: None,
                own_passes: Vec::new(),
                stopped: None,
            }],
            test_piece: false,
            holding: Vec::new(),
            offcut: Offcut::None,
            flip: None,
            cautions: Vec::new(),
            reasons: Vec::new(),
        }
    }

    /// Finished size plus the allowances that are still to come off after this stage.
    fn left(&self, axis: usize, gone: &[AllowanceKind]) -> (Length, Vec<Given>) {
        let finished = self.part.blank.finished.get(axis).copied().unwrap_or(Length::ZERO);
        let mut given = vec![Given::new("finished", Value::Length(finished))];
        let mut sum = finished;
        for a in &self.part.blank.allowances {
            let amount = [a.length, a.width, a.thickness].get(axis).copied().unwrap_or(Length::ZERO);
            if !gone.contains(&a.kind) && amount > Length::ZERO {
                given.push(Given::new(format!("{:?}", a.kind).to_lowercase(), Value::Length(amount)));
                sum += amount;
            }
        }
        (sum, given)
    }

    fn sized(
        mut setup: Setup,
        number: &str,
        title: &str,
        size: (Length, Vec<Given>),
        height: Length,
    ) -> Setup {
        let (result, given) = size;
        let knives = setup.cutter == Cutter::Knives;
        setup.passes.push(Pass {
            distance: if knives { Length::ZERO } else { result },
            height: if knives { result } else { height },
        });
        setup.reasons.push(Reason {
            key: key(setup.purpose, number),
            title: title.into(),
            formula: "finished size + allowances still to come off".into(),
            given,
            result: Value::Length(result),
            basis: Basis::Derived("the blank's allowances, line by line"),
        });
        setup
    }

    fn mill(&self) -> Setup {
        let gone = [AllowanceKind::Milling, AllowanceKind::Resawing, AllowanceKind::Kerf];
        let mut setup = self.base(Purpose::Mill, Machine::Planer, Cutter::Knives, Guide::Free, Side::Left);
        let size = self.left(2, &gone);
        if size.0 < self.settings.planer_thinnest {
            setup.holding.push(Holding::CarrierBoard);
        }
        Self::sized(setup, "thickness", "planed thickness", size, Length::ZERO)
    }

    fn resaw(&self) -> Setup {
        let band = Cutter::Band(self.settings.band_saw.kerf);
        let mut setup = self.base(Purpose::Resaw, Machine::BandSaw, band, Guide::Fence, Side::Left);
        setup.holding = vec![Holding::TallFence, Holding::PushBlock];
        setup.offcut = Offcut::Kept;
        setup.test_piece = true;
        // The slice keeps half of what milling takes: the sawn side is planed after.
        let size = self.left(2, &[AllowanceKind::Resawing, AllowanceKind::Kerf]);
        let width = self.part.blank.width();
        Self::sized(setup, "distance", "fence to blade: thickness of the slice", size, width)
    }

    fn blade(&self) -> Cutter {
        Cutter::Blade { kerf: self.settings.table_saw.kerf, teeth: self.settings.table_saw.teeth }
    }

    fn blade_height(&self) -> Length {
        self.left(2, &[AllowanceKind::Milling, AllowanceKind::Resawing, AllowanceKind::Kerf]).0
            + self.settings.table_saw.tooth
    }

    fn rip(&self) -> Setup {
        let mut setup =
            self.base(Purpose::RipStrip, Machine::TableSaw, self.blade(), Guide::Fence, Side::Right);
        setup.holding = vec![Holding::PushBlock];
        setup.offcut = Offcut::FreeSide(Side::Left);
        let size = self.left(1, &[AllowanceKind::Kerf]);
        Self::sized(setup, "distance", "fence to blade: width of the strip", size, self.blade_height())
    }

    fn crosscut(&self) -> Setup {
        let side = self.settings.table_saw.tilts.other();
        let mut setup = self.base(Purpose::CrosscutBlank, Machine::TableSaw, self.blade(), Guide::Stop, side);
        setup.holding = vec![Holding::GaugeWithFence];
        setup.offcut = Offcut::FreeSide(side.other());
        let size = self.left(0, &[AllowanceKind::Kerf]);
        Self::sized(setup, "distance", "stop to blade: length of the blank", size, self.blade_height())
    }
}
