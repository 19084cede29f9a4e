//! All set-ups of a batch: derived, grouped, ordered, with the cautions each calls for.

use super::derive::{self, Asked};
use super::group::Groups;
use super::order::{self, Effort, Sequence};
use super::settings::Settings;
use super::setup::{Guide, Purpose, Setup, Strip};
use super::{assembly, key_strip, stock, warn};
use crate::parts::{BoxParts, PartId, Role};
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::Minutes;

/// One statement of a batch and how many boxes are made from it.
#[derive(Clone, Copy, Debug)]
pub struct Lot<'a> {
    /// The parts of one box.
    pub parts: &'a BoxParts,
    /// How many boxes alike.
    pub count: u32,
}

/// Set-ups in the order to work them.
#[derive(Clone, Debug, PartialEq)]
pub struct SawPlan {
    /// The set-ups, first to last.
    pub setups: Vec<Setup>,
    /// Which must come before which, as indices into `setups`.
    pub before: Vec<(usize, usize)>,
    /// Minutes of setting and re-setting in this order.
    pub minutes: Minutes,
    /// No order can take fewer minutes than this.
    pub bound: Minutes,
    /// How many single settings (machine, tilt, gauge, height, guide, jig, cutter) are changed.
    pub resets: u32,
}

impl SawPlan {
    /// How far this order may be from the best one, as a share of the bound; zero when it is proven best.
    pub fn gap(&self) -> f64 {
        let bound = self.bound.value();
        if bound > 0.0 { ((self.minutes.value() - bound) / bound).max(0.0) } else { 0.0 }
    }

    /// How the minutes of re-setting came about, with the proven minimum beside them.
    pub fn reason(&self) -> Reason {
        Reason {
            key: "saw.minutes".into(),
            title: "setting and re-setting, all boxes".into(),
            formula: "sum over the order of what changes from one set-up to the next".into(),
            given: vec![
                Given::new("set-ups", Value::Count(self.setups.len() as u64)),
                Given::new("settings changed", Value::Count(u64::from(self.resets))),
                Given::new("no order takes less than", Value::Minutes(self.bound)),
                Given::new("at most above the minimum", Value::Percent(self.gap())),
            ],
            result: Value::Minutes(self.minutes),
            basis: Basis::Derived(
                "sequential ordering under the precedences; minutes per setting: common practice",
            ),
        }
    }

    /// Whether no order takes fewer minutes.
    pub fn proven(&self) -> bool {
        self.minutes.value() <= self.bound.value() + 1e-9
    }
}

/// The whole plan for a batch.
pub fn plan(batch: &[Lot<'_>], settings: &Settings, effort: Effort) -> SawPlan {
    let mut groups = Groups::default();
    for (index, lot) in batch.iter().enumerate() {
        add_lot(&mut groups, lot, index, settings);
    }
    let Groups { mut setups, before, .. } = groups;
    for setup in &mut setups {
        warn::hold_short(setup, settings);
        setup.cautions = warn::cautions(setup, settings);
    }
    let Sequence { order, minutes, bound, resets } = order::order(&setups, &before, &settings.reset, effort);
    let mut place = vec![0; setups.len()];
    for (at, old) in order.iter().enumerate() {
        if let Some(p) = place.get_mut(*old) {
            *p = at;
        }
    }
    let now = |i: usize| place.get(i).copied().unwrap_or(i);
    let before = before.iter().map(|(a, b)| (now(*a), now(*b))).collect();
    let mut slots: Vec<Option<Setup>> = setups.into_iter().map(Some).collect();
    let setups = order.iter().filter_map(|i| slots.get_mut(*i).and_then(Option::take)).collect();
    SawPlan { setups, before, minutes, bound, resets }
}

fn add_lot(groups: &mut Groups, lot: &Lot<'_>, box_index: usize, settings: &Settings) {
    let boxes = lot.count.max(1);
    let mut last: Vec<Option<usize>> = vec![None; lot.parts.parts.len()];
    for (i, part) in lot.parts.parts.iter().enumerate() {
        let id = PartId(i);
        let mut at: Option<usize> = None;
        let keys = key_strip::of(lot.parts, part, boxes, settings.table_saw.kerf)
            .map(|length| Strip { name: "key strip", length });
        // What follows one another in a run comes off its board as one strip, and is planed as that.
        let run = part
            .run
            .and_then(|run| lot.parts.runs.get(run))
            .map(|run| Strip { name: "strip", length: run.strip_length });
        let mut push = |groups: &mut Groups, mut setup: Setup| {
            let strip = keys.or(run.filter(|_| setup.purpose == Purpose::Mill));
            for m in &mut setup.members {
                m.in_strip = strip;
            }
            let after: Vec<usize> = at.into_iter().collect();
            at = Some(groups.add(setup, &after));
        };
        for setup in stock::setups(settings, lot.parts, id, box_index, boxes) {
            push(groups, setup);
        }
        for cut in 0..part.cuts.len() {
            let asked = Asked { settings, part, id, cut, box_index, count: boxes };
            if let Some(mut setup) = derive::setup(&asked) {
                if setup.purpose == Purpose::BladeMiter && stock::from_strip(part) {
                    straight_from_strip(&mut setup, part.run);
                }
                push(groups, setup);
            }
        }
        if let Some(slot) = last.get_mut(i) {
            *slot = at;
        }
    }
    for assembly in &lot.parts.assemblies {
        let is_key = |id: &PartId| lot.parts.parts.get(id.0).is_some_and(|p| p.role == Role::Key);
        let walls = assembly.parts.iter().filter(|id| !is_key(id));
        let mut after: Vec<usize> = walls.filter_map(|id| last.get(id.0).copied().flatten()).collect();
        // Cuts of one kind (all key slots) may be made in any order among themselves: they share `after`.
        let mut block: Vec<usize> = Vec::new();
        let mut kind = None;
        for index in 0..assembly.cuts.len() {
            let Some(setup) = assembly::setup(settings, lot.parts, assembly, index, (box_index, boxes))
            else {
                continue;
            };
            if kind != Some(setup.purpose) && !block.is_empty() {
                after = core::mem::take(&mut block);
            }
            kind = Some(setup.purpose);
            if setup.purpose == Purpose::FlushTrim {
                let keys = assembly.parts.iter().filter(|id| is_key(id));
                after.extend(keys.filter_map(|id| last.get(id.0).copied().flatten()));
            }
            after.sort_unstable();
            after.dedup();
            block.push(groups.add(setup, &after));
        }
        for id in &assembly.parts {
            if let (Some(slot), [.., at]) = (last.get_mut(id.0), block.as_slice()) {
                *slot = Some(*at);
            }
        }
    }
}

/// A miter cut straight from the strip: both ends of all walls of the run in one set-up, with a stop for
/// each length, in the order of the run.
fn straight_from_strip(setup: &mut Setup, run: Option<usize>) {
    setup.purpose = Purpose::MiterFromStrip;
    let own = if setup.guide == Guide::Mark { Vec::new() } else { setup.passes.clone() };
    setup.guide = Guide::Stop;
    for m in &mut setup.members {
        m.strip = run;
        m.own_passes.clone_from(&own);
    }
    setup.passes = own;
    for r in &mut setup.reasons {
        r.key = r.key.replace("blademiter", "miterfromstrip");
    }
}
