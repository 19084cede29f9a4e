//! Time for each operation: set-ups shared by a batch, minutes for each piece, learning where the shop has seen it.

use super::say::{number, reason};
use super::settings::{Settings, Share};
use crate::parts::{AssemblyOperation, BoxParts, NotchPurpose, Operation, Origin, Part, Role};
use crate::reason::{Basis, Reason, Value};
use crate::units::{Length, Minutes};
use crate::wood::plain;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// When in the job an operation belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phase {
    /// Boards become blanks.
    Stock,
    /// Strips and veneers become panels.
    Panels,
    /// Blanks become parts.
    Parts,
    /// Sanding before glue-up.
    SandBefore,
    /// Glue-up and keys.
    Glue,
    /// Key slots in the glued box.
    Slots,
    /// Keys flushed, lids sawn off.
    Trim,
    /// Hinges, lid, tray.
    Fit,
    /// Sanding after glue-up.
    SandAfter,
    /// Coats.
    Finish,
    /// Lining, packing.
    Last,
}

/// A row of the time table.
#[derive(Clone, Debug, PartialEq)]
pub struct OperationTime {
    /// What the shop file names to override it.
    pub key: String,
    /// In words.
    pub title: String,
    /// Once for each different setting.
    pub setup: Minutes,
    /// For each piece.
    pub each: Minutes,
    /// When.
    pub phase: Phase,
}

#[derive(Deserialize)]
struct Row {
    key: String,
    title: String,
    setup_min: f64,
    each_min: f64,
    phase: String,
}

#[derive(Default, Deserialize)]
struct Table {
    operation: Vec<Row>,
}

/// The time table, in the order of the job.
///
/// # Source
/// Common practice; the shop edits it to its own log.
pub fn operation_times() -> &'static [OperationTime] {
    static ROWS: OnceLock<Vec<OperationTime>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let table: Table =
            toml::from_str(include_str!("../../data/operation_times.toml")).unwrap_or_default();
        let row = |r: Row| OperationTime {
            key: r.key,
            title: r.title,
            setup: Minutes::minutes(r.setup_min),
            each: Minutes::minutes(r.each_min),
            phase: match r.phase.as_str() {
                "stock" => Phase::Stock,
                "panels" => Phase::Panels,
                "parts" => Phase::Parts,
                "glue" => Phase::Glue,
                "slots" => Phase::Slots,
                "trim" => Phase::Trim,
                "fit" => Phase::Fit,
                _ => Phase::Last,
            },
        };
        table.operation.into_iter().map(row).collect()
    })
}

/// The row that a maker means by an operation's name: its key, with blanks or underscores, or its title.
pub fn operation(written: &str) -> Option<&'static OperationTime> {
    let wanted = plain(written);
    operation_times().iter().find(|t| plain(&t.key) == wanted || plain(&t.title) == wanted)
}

/// How often an operation is done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Work {
    /// A key of the time table.
    pub operation: &'static str,
    /// Different settings, for the whole batch.
    pub setups: u32,
    /// Pieces in one box.
    pub pieces: u32,
}

/// Time that does not come from the table: sanding and coats, by area.
#[derive(Clone, Debug, PartialEq)]
pub struct ByArea {
    /// In words.
    pub title: String,
    /// When.
    pub phase: Phase,
    /// For one box.
    pub each: Minutes,
}

/// Counts the operations of a box from its parts and their cuts.
pub fn tally(parts: &BoxParts) -> Vec<Work> {
    let mut count = Tally::default();
    for p in &parts.parts {
        count.blank(parts, p);
        for cut in &p.cuts {
            if p.role != Role::Key {
                count.cut(&cut.operation, p);
            }
        }
    }
    for run in &parts.runs {
        let slices = if run.slices > 1 && run.mirrors.is_none() { run.slices } else { 0 };
        count.add("mill", &[run.strip_width], 1);
        count.add("rip", &[run.strip_width], 1);
        if slices > 0 {
            count.add("resaw", &[run.strip_width], slices);
        }
    }
    for cut in parts.assemblies.iter().flat_map(|a| &a.cuts) {
        match cut.operation {
            AssemblyOperation::KeySlot { in_lid, height, depth, .. } => {
                let lid = Length::mm(f64::from(u8::from(in_lid)));
                count.add("key_slot", &[height, depth, lid], 1);
                count.add("key", &[Length::ZERO], 1);
            }
            AssemblyOperation::SawOff { height, .. } => count.add("saw_off", &[height], 1),
            AssemblyOperation::FlushTrim { count: keys } => count.add("flush", &[Length::ZERO], keys),
        }
    }
    // Screws go in with what they hold; cloth belongs to the last line of the table.
    for hardware in parts.hardware.iter().filter(|h| !h.name.contains("screw") && !h.name.contains("card")) {
        count.add("hardware", &[Length::ZERO], hardware.count);
    }
    let loose = [Role::FrameMember, Role::LidPanel, Role::TrayBottom, Role::Divider];
    let fitted = loose.iter().filter(|r| parts.parts.iter().any(|p| p.role == **r)).count();
    count.add("fit_lid", &[Length::ZERO], u32::try_from(fitted).unwrap_or(0));
    count.add("lay_out", &[Length::ZERO], 1);
    count.add("last", &[Length::ZERO], 1);
    count.work()
}

/// Adds the glue-ups: one piece for each stage and box, one set-up for each stage.
pub fn tally_glue(work: &mut Vec<Work>, glue_ups: &[super::glue::GlueUp]) {
    for stage in glue_ups.iter().flat_map(|g| &g.stages) {
        let operation = match stage.kind {
            super::glue::StageKind::Panel => "glue_panel",
            super::glue::StageKind::Ring => "glue_ring",
            super::glue::StageKind::Added => "glue_added",
            // Keys are counted one by one, with their slots.
            super::glue::StageKind::Keys => continue,
        };
        match work.iter_mut().find(|w| w.operation == operation) {
            Some(w) => {
                w.setups += 1;
                w.pieces += 1;
            }
            None => work.push(Work { operation, setups: 1, pieces: 1 }),
        }
    }
}

/// A setting of a machine, to a hundredth of a millimeter or degree.
type Setting = Vec<i64>;

#[derive(Default)]
struct Tally {
    of: BTreeMap<&'static str, (BTreeSet<Setting>, u32)>,
}

impl Tally {
    #[expect(clippy::cast_possible_truncation, reason = "`as` saturates; lengths are bounded")]
    fn add(&mut self, operation: &'static str, setting: &[Length], pieces: u32) {
        if pieces > 0 {
            let entry = self.of.entry(operation).or_default();
            entry.0.insert(setting.iter().map(|l| (l.to_mm() * 100.0).round() as i64).collect());
            entry.1 = entry.1.saturating_add(pieces);
        }
    }

    fn blank(&mut self, parts: &BoxParts, p: &Part) {
        if p.origin != Origin::Board {
            return;
        }
        self.add("crosscut", &[p.blank.length()], 1);
        if p.run.is_none_or(|r| r >= parts.runs.len()) {
            self.add("mill", &[p.blank.thickness()], 1);
            self.add("rip", &[p.blank.width()], 1);
        }
    }

    fn cut(&mut self, operation: &Operation, p: &Part) {
        let degrees = |a: crate::units::Angle| Length::mm(a.to_degrees());
        match *operation {
            Operation::EndCut { gauge, tilt, .. } => {
                self.add("miter", &[p.size[0], degrees(gauge.abs()), degrees(tilt)], 1);
            }
            Operation::EdgeCut { at, tilt, .. } => self.add("edge", &[at, degrees(tilt)], 1),
            Operation::Rabbet { width, depth, .. } => self.add("rabbet", &[width, depth], 1),
            Operation::Groove { offset, width, depth, .. }
            | Operation::EdgeGroove { offset, width, depth, .. } => {
                self.add("groove", &[offset, width, depth], 1);
            }
            Operation::EndSlot { from_heel, width, depth, .. } => {
                self.add("end_slot", &[from_heel, width, depth], 1);
            }
            Operation::Notch { from, to, purpose } => {
                let key = match purpose {
                    NotchPurpose::HalfLap => "half_lap",
                    NotchPurpose::Finger => "finger",
                    NotchPurpose::HingeLeaf => "hinge_bed",
                    NotchPurpose::Opening => "opening",
                };
                // Fingers step over on one jig; the others need a setting each.
                let at = if purpose == NotchPurpose::Finger { Length::ZERO } else { from[0] };
                self.add(key, &[at, to[2] - from[2]], 1);
            }
            Operation::Chamfer { width, .. } => self.add("shape", &[width], 1),
            Operation::RoundOver { radius, .. } => self.add("shape", &[radius], 1),
            Operation::Bevel { .. } => self.add("shape", &[Length::ZERO], 1),
        }
    }

    fn work(self) -> Vec<Work> {
        let one = |(operation, (settings, pieces)): (&'static str, (BTreeSet<Setting>, u32))| Work {
            operation,
            setups: u32::try_from(settings.len()).unwrap_or(u32::MAX),
            pieces,
        };
        self.of.into_iter().map(one).collect()
    }
}

/// One line of the time sheet, for the batch.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeLine {
    /// Key of the time table, or empty for times by area.
    pub key: String,
    /// In words.
    pub title: String,
    /// When.
    pub phase: Phase,
    /// Set-ups of the whole batch.
    pub setup: Minutes,
    /// Pieces of the whole batch.
    pub pieces: Minutes,
}

/// The time sheet of a batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Timing {
    /// Its lines, in the order of the job.
    pub lines: Vec<TimeLine>,
    /// Boxes.
    pub boxes: u32,
    /// Set-ups together.
    pub setup: Minutes,
    /// Everything together.
    pub total: Minutes,
    /// For one box.
    pub per_box: Minutes,
    /// How the numbers came about.
    pub reasons: Vec<Reason>,
}

impl Timing {
    /// Minutes of a phase, for the batch.
    pub fn phase(&self, phase: Phase) -> Minutes {
        self.lines.iter().filter(|l| l.phase == phase).map(|l| l.setup + l.pieces).sum()
    }
}

/// Minutes for a batch: set-ups once, the rest for each box, less as the shop learns.
///
/// # Source
/// Learning: the n-th box takes T₁ × n^(log₂ b), b the share that doubling leaves; summed over the batch.
pub fn batch_minutes(setup: Minutes, each: Minutes, boxes: u32, learning: Option<Share>) -> Minutes {
    setup + each * boxes_worth(boxes, learning)
}

/// How many first boxes a batch is worth in time.
fn boxes_worth(boxes: u32, learning: Option<Share>) -> f64 {
    match learning.map(Share::value).filter(|b| (0.3..1.0).contains(b)) {
        Some(b) => (1..=boxes.min(10_000)).map(|n| f64::from(n).powf(b.log2())).sum(),
        None => f64::from(boxes),
    }
}

/// The time sheet of a batch of so many boxes.
pub fn timing(work: &[Work], by_area: &[ByArea], boxes: u32, settings: &Settings) -> Timing {
    let boxes = boxes.max(1);
    let worth = boxes_worth(boxes, settings.learning);
    let mut lines: Vec<TimeLine> = operation_times()
        .iter()
        .filter_map(|row| {
            let w = work.iter().find(|w| w.operation == row.key)?;
            let edited = settings.times.iter().find(|t| t.operation == row.key);
            let setup = edited.and_then(|t| t.setup).unwrap_or(row.setup);
            let each = edited.and_then(|t| t.each).unwrap_or(row.each);
            Some(TimeLine {
                key: row.key.clone(),
                title: row.title.clone(),
                phase: row.phase,
                setup: setup * f64::from(w.setups),
                pieces: each * (f64::from(w.pieces) * worth),
            })
        })
        .collect();
    lines.extend(by_area.iter().map(|a| TimeLine {
        key: String::new(),
        title: a.title.clone(),
        phase: a.phase,
        setup: Minutes::ZERO,
        pieces: a.each * worth,
    }));
    lines.sort_by_key(|l| l.phase);
    let setup: Minutes = lines.iter().map(|l| l.setup).sum();
    let pieces: Minutes = lines.iter().map(|l| l.pieces).sum();
    let total = setup + pieces;
    let per_box = total / f64::from(boxes);
    let reasons = vec![reason(
        "time.per_box",
        "hands-on time for one box",
        "(set-ups of the batch + pieces of one box × boxes, less what is learned) / boxes",
        [
            ("set-ups of the batch", Value::Minutes(setup)),
            ("pieces of the batch", Value::Minutes(pieces)),
            ("boxes", Value::Count(boxes.into())),
            ("first boxes that the batch is worth", number(worth, 2, "")),
        ],
        (Value::Minutes(per_box), Basis::CommonPractice),
    )];
    Timing { lines, boxes, setup, total, per_box, reasons }
}

#[cfg(test)]
mod tests;
