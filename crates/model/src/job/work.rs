//! The work in order: phases of the time sheet, glue-ups, coats and waits as tasks with precedence.

use super::stock::StockPlan;
use crate::design::Statement;
use crate::shop::Settings;
use crate::shop::finish::{Coats, FinishPlan, Side};
use crate::shop::glue::{GlueUp, Stage, StageKind};
use crate::shop::schedule::{Continuity, Task};
use crate::shop::time::{Phase, Timing};
use crate::units::Minutes;

/// Everything the tasks follow from.
pub(super) struct Work<'a> {
    pub(super) s: &'a Statement,
    pub(super) timing: &'a Timing,
    pub(super) glue: &'a [GlueUp],
    pub(super) finish: &'a FinishPlan,
    pub(super) stock: &'a StockPlan,
    pub(super) set: &'a Settings,
}

/// Tasks under way; each follows the one before, as one pair of hands works.
#[derive(Default)]
struct Line {
    tasks: Vec<Task>,
}

impl Line {
    fn push(&mut self, key: &str, title: impl Into<String>, hands_on: Minutes, wait: (Minutes, &str)) {
        let after = self.tasks.len().checked_sub(1).into_iter().collect();
        self.tasks.push(Task {
            key: key.to_string(),
            title: title.into(),
            hands_on,
            continuity: Continuity::MayPause,
            wait: wait.0,
            wait_for: wait.1.to_string(),
            after,
            note: String::new(),
        });
    }

    /// A phase of the time sheet, if it has any work.
    fn phase(&mut self, w: &Work<'_>, phase: Phase, key: &str, title: &str, wait: (Minutes, &str)) {
        let hands_on = w.timing.phase(phase);
        if hands_on > Minutes::ZERO {
            self.push(key, title, hands_on, wait);
        }
    }
}

/// All tasks of a batch, first to last.
pub(super) fn tasks(w: &Work<'_>) -> Vec<Task> {
    let mut line = Line::default();
    let none = (Minutes::ZERO, "");
    if !w.stock.shopping.is_empty() && w.set.rest_days > 0 {
        let rest = Minutes::hours(24.0 * f64::from(w.set.rest_days));
        line.push(
            "rest",
            "bring in and sticker the bought wood",
            Minutes::minutes(20.0),
            (rest, "wood comes to the shop's air"),
        );
    }
    line.phase(w, Phase::Stock, "stock", "choose boards, mill, resaw, rip, crosscut", none);
    let panel_cure =
        stages(w).filter(|s| s.kind == StageKind::Panel).map(|s| s.cure).fold(Minutes::ZERO, Minutes::max);
    line.phase(w, Phase::Panels, "panels", "glue up the panels", (panel_cure, "panel glue cures"));
    line.phase(w, Phase::Parts, "parts", "cut the parts: miters, rabbets, grooves", none);
    line.phase(w, Phase::SandBefore, "sand-inside", "sand what cannot be reached later", none);
    let first = w.s.finish.inside_first;
    if first {
        coats(&mut line, w, Side::Inside);
    }
    glue(&mut line, w);
    line.phase(w, Phase::Slots, "slots", "saw the key slots in the cradle", none);
    let keys: Vec<&Stage> = stages(w).filter(|s| s.kind == StageKind::Keys).collect();
    if let Some(stage) = keys.first() {
        let hands_on = keys.iter().map(|s| s.needs).sum::<Minutes>() * f64::from(w.s.count);
        line.push("keys", "glue the keys in", hands_on, (stage.clamp + stage.cure, "key glue cures"));
    }
    line.phase(w, Phase::Trim, "trim", "trim keys flush, saw off the lid, clean up", none);
    line.phase(w, Phase::Fit, "fit", "fit lid, hinges, tray", none);
    line.phase(w, Phase::SandAfter, "sand-outside", "sand the outside", none);
    if !first {
        coats(&mut line, w, Side::Inside);
    }
    coats(&mut line, w, Side::Outside);
    if let Some(last) = line.tasks.last_mut().filter(|t| t.key.starts_with("coat")) {
        last.wait = last.wait.max(w.finish.cure);
        last.wait_for = "finish cures".into();
    }
    line.phase(w, Phase::Last, "last", "line, look over, pack", none);
    line.tasks
}

fn stages<'a>(w: &Work<'a>) -> impl Iterator<Item = &'a Stage> {
    w.glue.iter().flat_map(|g| &g.stages)
}

/// One task for each stage of gluing, its share of the phase by the time it needs.
fn glue(line: &mut Line, w: &Work<'_>) {
    let ours: Vec<&Stage> =
        stages(w).filter(|s| matches!(s.kind, StageKind::Ring | StageKind::Added)).collect();
    let needs: f64 = ours.iter().map(|s| s.needs.value()).sum();
    let all = w.timing.phase(Phase::Glue);
    for (i, stage) in ours.iter().enumerate() {
        let share = if needs > 0.0 { stage.needs.value() / needs } else { 1.0 / ours.len().max(1) as f64 };
        // The last stage cures before anything is sawn; between stages the clamp time is enough.
        let last = i + 1 == ours.len();
        let wait = if last { stage.clamp + stage.cure } else { stage.clamp };
        line.push(&format!("glue.{}", i + 1), stage.title.clone(), all * share, (wait, "glue sets"));
        if let Some(task) = line.tasks.last_mut() {
            task.continuity = if w.s.count == 1 { Continuity::InOneGo } else { Continuity::MayPause };
        }
    }
}

fn coats(line: &mut Line, w: &Work<'_>, side: Side) {
    for c in w.finish.coats.iter().filter(|c| c.side == side) {
        for number in 1..=c.coats {
            line.push(
                &format!("coat.{}.{}.{number}", side.words(), c.product.id),
                coat_title(c, number),
                c.each * f64::from(w.s.count),
                (c.product.wait, "coat dries"),
            );
        }
    }
}

fn coat_title(c: &Coats, number: u32) -> String {
    if c.coats > 1 {
        format!("{}: {}, coat {number} of {}", c.side.words(), c.product.name, c.coats)
    } else {
        format!("{}: {}", c.side.words(), c.product.name)
    }
}
