//! The job as tasks with precedence: what follows what, and what must be waited for.

use super::finish::{Coats, FinishPlan, Side};
use super::glue::{GlueUp, Stage, StageKind};
use super::schedule::{Continuity, Task};
use super::settings::Settings;
use super::time::{Phase, Timing};
use crate::design::Finish;
use crate::parts::{BoxParts, Role};
use crate::units::Minutes;

/// Rest of milled wood before it is cut to size.
///
/// # Source
/// Common practice: a day or more, so that it moves before the last pass and not after.
const REST_AFTER_MILLING: Minutes = Minutes::hours(24.0);

/// What the tasks of a batch are made from.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// The parts of one box.
    pub parts: &'a BoxParts,
    /// The glue-ups of one box.
    pub glue_ups: &'a [GlueUp],
    /// The finish as stated.
    pub finish: &'a Finish,
    /// The finish plan of one box.
    pub coats: &'a FinishPlan,
    /// The time sheet of the batch.
    pub timing: &'a Timing,
    /// The shop.
    pub settings: &'a Settings,
}

struct List {
    tasks: Vec<Task>,
    /// One box: what cannot pause does not; a batch pauses between boxes.
    glue: Continuity,
    boxes: u32,
    clamp_sets: u32,
}

impl List {
    fn add(&mut self, (key, title): (&str, &str), hands_on: Minutes, after: &[usize]) -> usize {
        self.tasks.push(Task {
            key: key.into(),
            title: title.into(),
            hands_on,
            rounds: 1,
            between: Minutes::ZERO,
            continuity: Continuity::MayPause,
            wait: Minutes::ZERO,
            wait_for: String::new(),
            after: after.to_vec(),
            note: String::new(),
        });
        self.tasks.len() - 1
    }

    fn waits(&mut self, task: usize, wait: Minutes, wait_for: &str) {
        if let Some(t) = self.tasks.get_mut(task) {
            (t.wait, t.wait_for) = (wait, wait_for.into());
        }
    }

    /// A glue-up: in one go for a single box; in rounds where the boxes are more than the clamps.
    fn glued(&mut self, task: usize, clamp: Minutes) {
        let (glue, sets) = (self.glue, self.clamp_sets.max(1));
        let rounds = self.boxes.div_ceil(sets).max(1);
        if let Some(t) = self.tasks.get_mut(task) {
            t.continuity = glue;
            (t.rounds, t.between) = (rounds, clamp);
            if rounds > 1 {
                t.title = format!("{}, in {rounds} rounds of {sets} at once", t.title);
            }
        }
    }

    /// A task for a phase, where the phase takes any time; otherwise what it would have come after.
    fn phase(&mut self, timing: &Timing, phase: Phase, names: (&str, &str), after: Vec<usize>) -> Vec<usize> {
        let hands_on = timing.phase(phase);
        if hands_on.value() > 0.0 { vec![self.add(names, hands_on, &after)] } else { after }
    }
}

/// The tasks of a batch, in an order that can be worked; dates are given by [`super::schedule::forward`] or
/// [`super::schedule::backward`].
pub fn tasks(job: &Job<'_>) -> Vec<Task> {
    let timing = job.timing;
    let glue = if timing.boxes > 1 { Continuity::MayPause } else { Continuity::InOneGo };
    let mut list = List {
        tasks: Vec::with_capacity(32),
        glue,
        boxes: timing.boxes,
        clamp_sets: job.settings.clamp_sets,
    };
    let mut last = Vec::new();
    if job.settings.rest_days > 0 {
        let rest = list.add(("rest", "bring the wood into the shop, sticker it"), Minutes::ZERO, &[]);
        let days = Minutes::hours(24.0 * f64::from(job.settings.rest_days));
        list.waits(rest, days, "wood comes to the shop's humidity");
        last = vec![rest];
    }
    last = list.phase(timing, Phase::Stock, ("stock", "lay out, mill and cut the blanks"), last);
    if let Some(&stock) = last.last() {
        let days = list.tasks.get(stock).map_or(Minutes::ZERO, |t| t.wait).max(REST_AFTER_MILLING);
        list.waits(stock, days, "milled wood settles");
    }
    last = panels(&mut list, job, last);
    last =
        list.phase(timing, Phase::Parts, ("parts", "cut the parts to size, miters, rabbets, grooves"), last);
    last = list.phase(timing, Phase::SandBefore, ("sand.inside", "sand insides and panels"), last);
    if job.finish.inside_first {
        last = coats(&mut list, job, Side::Inside, last);
    }
    last = glue_ups(&mut list, job, &last);
    last = list.phase(timing, Phase::Trim, ("trim", &trims(timing)), last);
    last = list.phase(timing, Phase::Fit, ("fit", &fits(job)), last);
    last = list.phase(timing, Phase::SandAfter, ("sand.outside", "sand the outside"), last);
    if !job.finish.inside_first {
        last = coats(&mut list, job, Side::Inside, last);
    }
    last = coats(&mut list, job, Side::Outside, last);
    list.phase(timing, Phase::Last, ("last", finishing_touches(job.parts)), last);
    list.tasks
}

/// What the glued box is cut to: of keys and lids what it has.
fn trims(timing: &Timing) -> String {
    let has = |key| line(timing, key).value() > 0.0;
    let lids = if timing.boxes > 1 { "saw lids off" } else { "saw the lid off" };
    let work = [("flush", "trim keys flush"), ("saw_off", lids)];
    work.iter().filter(|(key, _)| has(key)).map(|(_, says)| *says).collect::<Vec<_>>().join(", ")
}

/// What is fitted into and onto the box: of lid, hinges, other hardware, tray and dividers what it has.
fn fits(job: &Job<'_>) -> String {
    let any = |roles: &[Role]| job.parts.parts.iter().any(|p| roles.contains(&p.role));
    let hinged = job.parts.hardware.iter().any(|h| h.name.contains("hinge"));
    let has = |key| line(job.timing, key).value() > 0.0;
    let things = [
        (any(&[Role::FrameMember, Role::LidPanel]), "lid"),
        (hinged, "hinges"),
        (!hinged && has("hardware"), "hardware"),
        (any(&[Role::TrayBottom]), "tray"),
        (any(&[Role::Divider]), "dividers"),
    ];
    let named: Vec<&str> = things.iter().filter(|(is, _)| *is).map(|(_, name)| *name).collect();
    if named.is_empty() { "fit what is loose".to_owned() } else { format!("fit {}", named.join(", ")) }
}

/// What is left when the finish has cured; lining is wood or cloth on card.
fn finishing_touches(parts: &BoxParts) -> &'static str {
    let cloth = parts.hardware.iter().any(|h| h.name.contains("card"));
    if cloth || parts.parts.iter().any(|p| p.role == Role::Lining) {
        "line, photograph, pack"
    } else {
        "photograph, pack"
    }
}

fn stages<'a>(job: &Job<'a>, pick: impl Fn(&Stage) -> bool) -> Vec<&'a Stage> {
    job.glue_ups.iter().flat_map(|g| &g.stages).filter(|s| pick(s)).collect()
}

/// A phase's minutes shared evenly among so many tasks.
fn share(minutes: Minutes, among: usize) -> Minutes {
    minutes / (among.max(1) as f64)
}

fn line(timing: &Timing, key: &str) -> Minutes {
    timing.lines.iter().filter(|l| l.key == key).map(|l| l.setup + l.pieces).sum()
}

fn panels(list: &mut List, job: &Job<'_>, after: Vec<usize>) -> Vec<usize> {
    let panels = stages(job, |s| s.kind == StageKind::Panel);
    if panels.is_empty() {
        return after;
    }
    let each = share(job.timing.phase(Phase::Panels), panels.len());
    let mut out = Vec::new();
    for (n, stage) in panels.iter().enumerate() {
        let task = list.add((&format!("panel.{}", n + 1), &stage.title), each, &after);
        list.glued(task, stage.clamp);
        list.waits(task, stage.clamp + stage.cure, "glue sets and cures");
        out.push(task);
    }
    out
}

/// Rings and what is added, assembly by assembly; then slots and keys where there are any.
fn glue_ups(list: &mut List, job: &Job<'_>, after: &[usize]) -> Vec<usize> {
    let timing = job.timing;
    let count = |kind| stages(job, |s| s.kind == kind).len();
    let each = |kind| match kind {
        StageKind::Ring => share(line(timing, "glue_ring"), count(kind)),
        StageKind::Added => share(line(timing, "glue_added"), count(kind)),
        StageKind::Keys => share(line(timing, "key"), count(kind)),
        StageKind::Panel => Minutes::ZERO,
    };
    let mut ends: Vec<usize> = Vec::new();
    let mut keyed: Vec<&Stage> = Vec::new();
    for (n, glue_up) in job.glue_ups.iter().enumerate() {
        let mut before = after.to_vec();
        let standing: Vec<&Stage> =
            glue_up.stages.iter().filter(|s| matches!(s.kind, StageKind::Ring | StageKind::Added)).collect();
        for (i, stage) in standing.iter().enumerate() {
            let key = format!("glue.{}.{}", n + 1, i + 1);
            let task = list.add((&key, &stage.title), each(stage.kind), &before);
            list.glued(task, stage.clamp);
            // The next stage may follow out of the clamps; machines wait for the cure.
            if i + 1 < standing.len() {
                list.waits(task, stage.clamp, "in clamps");
            } else {
                list.waits(task, stage.clamp.max(stage.cure), "glue cures");
            }
            before = vec![task];
        }
        ends.extend(before);
        keyed.extend(glue_up.stages.iter().filter(|s| s.kind == StageKind::Keys));
    }
    if ends.is_empty() {
        ends = after.to_vec();
    }
    ends.sort_unstable();
    ends.dedup();
    if keyed.is_empty() {
        return ends;
    }
    let slots = list.phase(timing, Phase::Slots, ("slots", "saw the key slots"), ends);
    let mut out = Vec::new();
    for (n, stage) in keyed.iter().enumerate() {
        let task = list.add((&format!("keys.{}", n + 1), &stage.title), each(StageKind::Keys), &slots);
        list.waits(task, stage.clamp.max(stage.cure), "glue cures");
        out.push(task);
    }
    out
}

/// The coats of a side, each with its wait, the last of a side with its cure.
fn coats(list: &mut List, job: &Job<'_>, side: Side, mut after: Vec<usize>) -> Vec<usize> {
    let of_side: Vec<&Coats> = job.coats.coats.iter().filter(|c| c.side == side).collect();
    let total: u32 = of_side.iter().map(|c| c.coats).sum();
    let mut number = 0;
    for coat in of_side {
        for of_product in 1..=coat.coats {
            number += 1;
            // Each product has its own row of coats in the finish chapter, and is counted as there.
            let which = match coat.coats {
                1 => "one coat".to_owned(),
                many => format!("coat {of_product} of {many}"),
            };
            let title = format!("{}, {}, {which}", coat.product.name, side.words());
            let hands_on = coat.each * f64::from(job.timing.boxes);
            let task = list.add((&format!("finish.{}.{number}", side.words()), &title), hands_on, &after);
            // Insides done before glue-up only need to be dry; the box cures as a whole at the end.
            if number == total && side == Side::Outside {
                list.waits(task, job.coats.cure, "finish cures");
            } else {
                list.waits(task, coat.product.wait, "dries");
            }
            after = vec![task];
        }
    }
    after
}

#[cfg(test)]
mod tests;
