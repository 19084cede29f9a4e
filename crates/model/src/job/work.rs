//! The work in order: set-ups, glue-ups, keys, sanding, coats and waits as operations with precedence.

use super::measure::Faces;
use crate::design::{LidKind, Registration, Statement};
use crate::parts::{BoxParts, Origin, Role};
use crate::saw::{Purpose, SawPlan, Stage};
use crate::shop::{FinishPlan, GlueUp, Operation, Sanding, Settings, operation_time};
use crate::units::Minutes;

/// The table's key for a machine set-up.
const fn key_of(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Mill => "mill",
        Purpose::Resaw => "resaw",
        Purpose::RipStrip | Purpose::Rip | Purpose::BevelRip => "rip",
        Purpose::CrosscutBlank | Purpose::Crosscut => "crosscut",
        Purpose::MiterFromStrip | Purpose::BladeMiter | Purpose::GaugeMiter | Purpose::CompoundMiter => "miter",
        Purpose::Rabbet => "rabbet",
        Purpose::Groove => "groove",
        Purpose::EndSlot => "end-slot",
        Purpose::HalfLap | Purpose::Finger | Purpose::Opening => "notch",
        Purpose::HingeBed => "hinge",
        Purpose::Chamfer | Purpose::RoundOver | Purpose::Bevel => "shape-edge",
        Purpose::KeySlot => "key-slot",
        Purpose::SawOff => "saw-off",
        Purpose::FlushTrim => "flush-trim",
    }
}

/// A list of operations under way; each follows the one before, as one pair of hands works.
struct Line<'a> {
    set: &'a Settings,
    ops: Vec<Operation>,
}

impl Line<'_> {
    fn push(&mut self, key: &str, title: String, pieces: u32, wait: Minutes, stage: &'static str) {
        let time = operation_time(key, self.set);
        let after = self.ops.len().checked_sub(1).into_iter().collect();
        self.ops.push(Operation {
            key: key.to_string(),
            title,
            setup: time.setup,
            per_piece: time.per_piece,
            pieces,
            wait_after: wait,
            after,
            stage,
        });
    }
}

/// Everything the operations follow from.
pub(super) struct Work<'a> {
    pub(super) s: &'a Statement,
    pub(super) parts: &'a BoxParts,
    pub(super) saw: &'a SawPlan,
    pub(super) glue: &'a [GlueUp],
    pub(super) sanding: &'a Sanding,
    pub(super) finish: &'a FinishPlan,
    pub(super) faces: Faces,
    pub(super) set: &'a Settings,
}

/// All operations of a batch, first to last.
pub(super) fn operations(w: &Work<'_>) -> Vec<Operation> {
    let count = w.s.count;
    let mut line = Line { set: w.set, ops: Vec::new() };
    let rest = Minutes::hours(24.0 * f64::from(w.set.rest_days));
    line.push("select", "choose boards, lay out, mark show faces".into(), 1, rest, "stock");
    setups(&mut line, w.saw, Stage::Stock);
    let panels = w.parts.parts.iter().filter(|p| p.layer_of.is_some() && p.role == Role::Strip).count();
    if panels > 0 {
        let strips = u32::try_from(panels).unwrap_or(u32::MAX).saturating_mul(count);
        let wait = w.set.glue.cure;
        line.push("panel-glue-up", "edge-glue the striped panels".into(), strips, wait, "stock");
    }
    setups(&mut line, w.saw, Stage::Parts);
    let wooden = w.parts.parts.iter().filter(|p| p.origin == Origin::Board).count();
    let pieces = u32::try_from(wooden).unwrap_or(u32::MAX).saturating_mul(count);
    for stage in w.sanding.stages.iter().filter(|s| s.before_glue_up) {
        line.push("sand-stage", format!("sand inside faces, P{}", stage.grit), pieces, Minutes::ZERO, "sand");
    }
    for coat in w.finish.coats.iter().filter(|c| w.s.finish.inside_first && c.inside) {
        line.push("coat", format!("inside: {}", coat.what), count, coat.wait, "finish");
    }
    for glue in w.glue {
        for (i, stage) in glue.stages.iter().enumerate() {
            let label =
                if glue.stages.len() > 1 { format!(", part {} of {}", i + 1, glue.stages.len()) } else { String::new() };
            let wait = w.set.glue.clamp
                + if i + 1 == glue.stages.len() { w.set.glue.cure } else { Minutes::ZERO };
            let _ = stage;
            line.push("glue-up", format!("dry-fit and glue the {}{label}", glue.name), count, wait, "glue");
        }
    }
    assembly(&mut line, w);
    for stage in w.sanding.stages.iter().filter(|s| !s.before_glue_up) {
        line.push("sand-stage", format!("sand outside faces, P{}", stage.grit), count, Minutes::ZERO, "sand");
    }
    for coat in w.finish.coats.iter().filter(|c| !(w.s.finish.inside_first && c.inside)) {
        let side = if coat.inside { "inside" } else { "outside" };
        line.push("coat", format!("{side}: {}", coat.what), count, coat.wait, "finish");
    }
    last_touches(&mut line, w, count);
    line.ops
}

fn setups(line: &mut Line<'_>, saw: &SawPlan, stage: Stage) {
    for setup in saw.setups.iter().filter(|s| s.stage == stage) {
        let title = format!("{} ({})", setup.purpose.words(), crate::job::plural_of(setup.pieces(), "cut"));
        let stage = if stage == Stage::Stock { "stock" } else { "saw" };
        line.push(key_of(setup.purpose), title, setup.pieces(), Minutes::ZERO, stage);
    }
}

/// Cuts to the glued assemblies, keys between slots and trim.
fn assembly(line: &mut Line<'_>, w: &Work<'_>) {
    let keys = w.parts.parts.iter().filter(|p| p.role == Role::Key).count();
    let keys = u32::try_from(keys).unwrap_or(u32::MAX).saturating_mul(w.s.count);
    let mut fitted = false;
    for setup in w.saw.setups.iter().filter(|s| s.stage == Stage::Assembly) {
        if keys > 0 && !fitted && !matches!(setup.purpose, Purpose::KeySlot) {
            line.push("key-cut", format!("cut {} one at a time", crate::job::plural_of(keys, "key")), keys, Minutes::ZERO, "keys");
            line.push("key-fit", "glue the keys in".into(), keys, w.set.glue.cure, "keys");
            fitted = true;
        }
        let title = format!("{} ({})", setup.purpose.words(), crate::job::plural_of(setup.pieces(), "cut"));
        line.push(key_of(setup.purpose), title, setup.pieces(), Minutes::ZERO, "keys");
    }
}

fn last_touches(line: &mut Line<'_>, w: &Work<'_>, count: u32) {
    if w.s.lid.kind != LidKind::None {
        line.push("fit-lid", "fit the lid".into(), count, Minutes::ZERO, "fit");
    }
    if w.s.lid.registration == Registration::Hinges {
        let hinges = w.s.hinges.map_or(0, |h| h.count).saturating_mul(count);
        line.push("hinge", "fit the hinges".into(), hinges, Minutes::ZERO, "fit");
    }
    if w.s.inside.lining.is_some() || w.s.inside.cloth.is_some() {
        line.push("line", "fit lining and cloth".into(), count, Minutes::ZERO, "fit");
    }
    if w.s.inside.tray.is_some() || w.s.inside.dividers.is_some() {
        line.push("assemble-inside", "fit tray and dividers".into(), count, Minutes::ZERO, "fit");
    }
    let _ = w.faces;
    line.push("pack", "look over, write the card, pack".into(), count, Minutes::ZERO, "pack");
}
