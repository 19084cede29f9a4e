//! What a set-up's card says, in the shop's numbers: settings, passes, how the work lies, what is ticked off. The sheet
//! on paper and the card on a screen beside the saw say the same.

use keepwright_model::parts::{BoxParts, Machine, Role};
use keepwright_model::saw::{
    Cutter, Guide, Holding, Lean, Member, Offcut, Pass, Placement, Setup, Surface, Teeth,
};
use keepwright_model::units::{Length, LengthUnit};

use crate::flow::Setting;
use crate::shown::{Showing, and, angle};

/// More members than this are ticked off by kind, not one by one.
const MOST_TICKS: usize = 14;

/// Machine and cutter: `table saw, flat-top blade, kerf 3.2 mm`.
pub fn with(show: &Showing, setup: &Setup) -> String {
    format!("{}{}", machine(setup.machine), cutter(show, setup.cutter))
}

/// Everything that is set before the first piece is cut, the guide first.
pub fn settings(show: &Showing, setup: &Setup) -> Vec<Setting> {
    let mut all = Vec::new();
    if let Some(distance) = setup.distance().filter(|d| d.to_mm().abs() > 1e-9) {
        let (name, remark) = guide(setup);
        if distance.to_mm() < 0.0 {
            all.push(setting(show, "blade inside the auxiliary fence by", -distance, remark));
        } else {
            all.push(setting(show, &name, distance, remark));
        }
    }
    for stop in &setup.more_stops {
        all.push(setting(show, "another stop at", *stop, ""));
    }
    if let Some(height) = setup.height().filter(|h| h.to_mm() > 1e-9) {
        all.push(setting(show, height_name(setup), height, ""));
    }
    if matches!(setup.cutter, Cutter::Blade { .. }) {
        let leans = match setup.lean {
            Lean::Upright => "blade upright",
            Lean::Away => "the blade leans away from the guide",
            Lean::Toward => "the blade leans toward the guide",
        };
        all.push(Setting::new("tilt", angle(setup.tilt), leans));
        if setup.gauge.to_degrees().abs() > 1e-6 || matches!(setup.guide, Guide::Stop | Guide::Mark) {
            let says = if setup.gauge.to_degrees().abs() < 1e-6 {
                "from square: gauge square"
            } else if setup.gauge.to_degrees() > 0.0 {
                "from square, the longer edge on it"
            } else {
                "from square, the shorter edge on it"
            };
            all.push(Setting::new("gauge", angle(setup.gauge.abs()), says));
        }
    }
    all
}

/// A length as a setting: the shop's unit big, the other one beside it.
pub fn setting(show: &Showing, name: &str, length: Length, remark: &str) -> Setting {
    let remark = if remark.is_empty() { String::new() } else { format!(", {remark}") };
    let (value, unit) = match show.shown.unit {
        LengthUnit::Inch => (show.length(length), format!("{}{remark}", show.other(length))),
        LengthUnit::Millimeter => (show.bare(length), format!("mm · {}{remark}", show.other(length))),
    };
    Setting::new(name, value, unit)
}

/// The machine in words.
pub const fn machine(machine: Machine) -> &'static str {
    match machine {
        Machine::TableSaw => "table saw",
        Machine::BandSaw => "bandsaw",
        Machine::RouterTable => "router table",
        Machine::Planer => "jointer and planer",
        Machine::Drill => "drill",
        Machine::HandTools => "by hand",
    }
}

fn cutter(show: &Showing, cutter: Cutter) -> String {
    match cutter {
        Cutter::Blade { kerf, teeth } => {
            let teeth = match teeth {
                Teeth::FlatTop => "flat-top".to_owned(),
                Teeth::AlternateBevel(bevel) => format!("alternate-bevel ({})", angle(bevel)),
            };
            format!(", {teeth} blade, kerf {}", show.both(kerf))
        }
        Cutter::Band(kerf) => format!(", kerf {}", show.both(kerf)),
        Cutter::StraightBit(diameter) => format!(", straight bit {}", show.both(diameter)),
        Cutter::ChamferBit => ", 45° chamfer bit".into(),
        Cutter::RoundBit(radius) => format!(", round-over bit, radius {}", show.both(radius)),
        Cutter::Knives | Cutter::Hand => String::new(),
    }
}

/// What the height is called at this machine.
pub const fn height_name(setup: &Setup) -> &'static str {
    match setup.machine {
        Machine::Planer => "thickness",
        Machine::BandSaw => "height of the stock",
        Machine::RouterTable => "bit height",
        Machine::HandTools => "depth",
        Machine::TableSaw | Machine::Drill => "blade height",
    }
}

/// What the distance is measured from, and on which side that stands.
pub fn guide(setup: &Setup) -> (String, &'static str) {
    let side = setup.side.words();
    let remark = if side == "left" { "left of the blade" } else { "right of the blade" };
    let remark = if setup.machine == Machine::TableSaw { remark } else { "" };
    let cutter = match setup.machine {
        Machine::RouterTable => "bit",
        _ => "blade",
    };
    let name = match setup.guide {
        Guide::CradleStop => "cradle stop to blade".to_owned(),
        Guide::FingerPin => "pin to blade".to_owned(),
        other => format!("{} to {cutter}", other.words()),
    };
    (name, remark)
}

/// How the work lies, said once for each different way; empty where nothing lies.
pub fn lies(setup: &Setup) -> String {
    let mut ways: Vec<(Placement, Vec<&str>)> = Vec::new();
    for m in &setup.members {
        let Some(p) = m.placement else { continue };
        match ways.iter_mut().find(|(have, _)| *have == p) {
            Some((_, names)) => {
                if !names.contains(&m.at.as_str()) {
                    names.push(&m.at);
                }
            }
            None => ways.push((p, vec![&m.at])),
        }
    }
    let one = ways.len() == 1;
    let said: Vec<String> = ways
        .iter()
        .map(|(p, at)| {
            let which = if one { String::new() } else { format!("{}: ", and(at)) };
            format!("{which}{}", way(setup.guide, *p))
        })
        .collect();
    said.join("; ")
}

fn way(guide: Guide, p: Placement) -> String {
    let name = |s: Surface| s.words();
    match guide {
        Guide::Fence => {
            format!("{} down, {} along the fence, {} trailing", name(p.down), name(p.toward), name(p.pushed))
        }
        Guide::Stop | Guide::FingerPin => format!(
            "{} down, {} against the gauge, {} at the {}",
            name(p.down),
            name(p.pushed),
            name(p.toward),
            if guide == Guide::Stop { "stop" } else { "pin" }
        ),
        Guide::CradleStop => format!("corner down in the cradle, {} on the stop", name(p.toward)),
        Guide::Mark | Guide::Free => format!("{} down, {} against the gauge", name(p.down), name(p.pushed)),
    }
}

/// What holds and feeds the work; empty where hands alone do.
///
/// A gauge and a sled are never used at once: the sled takes the gauge's place for short parts.
pub fn held_by(setup: &Setup) -> String {
    let sled = Holding::SledWithClamp;
    let gauge_or_sled = setup.holding.contains(&sled) && setup.holding.contains(&Holding::GaugeWithFence);
    let words = |h: Holding| match h {
        Holding::GaugeWithFence if gauge_or_sled => {
            format!("{} or, for short parts, {}", h.words(), sled.words())
        }
        _ => h.words().to_owned(),
    };
    let by = setup.holding.iter().filter(|h| !(gauge_or_sled && **h == sled)).map(|h| words(*h));
    and(&by.collect::<Vec<_>>())
}

/// Where the wood goes that is cut off, as the rest of a sentence that begins with what it is about.
pub fn offcut(setup: &Setup) -> Option<(&'static str, String)> {
    match setup.offcut {
        Offcut::None => None,
        Offcut::FreeSide(side) => Some(("The offcut", format!("falls free on the {}", side.words()))),
        Offcut::SkinHeld => Some(("The offcut", "stays held by a skin, knifed through by hand".into())),
        Offcut::Kept => Some(("Both halves", "are kept".into())),
    }
}

/// Passes that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct PassList {
    /// The pieces that are cut so; empty for the passes that all pieces share.
    pub of: Vec<String>,
    /// The passes, in the order cut.
    pub passes: Vec<Pass>,
}

/// The passes where there is more than one, then those of pieces that are cut otherwise.
pub fn pass_lists(setup: &Setup) -> Vec<PassList> {
    let mut out = Vec::new();
    if setup.passes.len() > 1 {
        out.push(PassList { of: Vec::new(), passes: setup.passes.clone() });
    }
    let shared = out.len();
    for m in setup.members.iter().filter(|m| !m.own_passes.is_empty() && !alike(&m.own_passes, &setup.passes))
    {
        match out.iter_mut().skip(shared).find(|list| alike(&list.passes, &m.own_passes)) {
            Some(list) => list.of.push(label(m)),
            None => out.push(PassList { of: vec![label(m)], passes: m.own_passes.clone() }),
        }
    }
    out
}

/// Whether two lists of passes set the same.
fn alike(a: &[Pass], b: &[Pass]) -> bool {
    let same = |(x, y): (&Pass, &Pass)| x.distance.same(y.distance) && x.height.same(y.height);
    a.len() == b.len() && a.iter().zip(b).all(same)
}

/// Between which marks each stopped cut runs; empty where none is stopped.
pub fn stopped(show: &Showing, setup: &Setup) -> Vec<String> {
    let marks = |m: &Member| m.stopped.map(|(a, b)| (label(m), a, b));
    let said = |(name, a, b)| format!("{name} from {} to {}", show.both(a), show.both(b));
    setup.members.iter().filter_map(marks).map(said).collect()
}

/// A piece by its name and the place that is cut.
fn label(m: &Member) -> String {
    let turned = if m.turned && !m.at.contains("turned") { ", turned end for end" } else { "" };
    if m.at.is_empty() || m.at == "blank" {
        format!("{}{turned}", m.name)
    } else {
        format!("{}, {}{turned}", m.name, m.at)
    }
}

/// What is ticked off: the test piece first, then every piece, or every kind where there are many.
pub fn ticks(parts: &BoxParts, setup: &Setup) -> Vec<String> {
    let mut ticks = Vec::new();
    if setup.test_piece {
        ticks.push("test piece, measured".to_owned());
    }
    let times = |n: u32| if n > 1 { format!(" × {n}") } else { String::new() };
    if setup.members.len() <= MOST_TICKS {
        ticks.extend(setup.members.iter().map(|m| format!("{}{}", label(m), times(m.count))));
        return ticks;
    }
    let mut kinds: Vec<(String, u32)> = Vec::new();
    for m in &setup.members {
        let role = m.part.and_then(|id| parts.parts.get(id.0)).map(|p| p.role);
        let name = match role {
            // Walls and frame members have names that a maker knows them by.
            Some(Role::Wall | Role::FrameMember) | None => m.name.clone(),
            Some(role) => role.words().to_owned(),
        };
        match kinds.iter_mut().find(|(have, _)| *have == name) {
            Some((_, count)) => *count += m.count,
            None => kinds.push((name, m.count)),
        }
    }
    ticks.extend(kinds.into_iter().map(|(name, count)| format!("{name}{}", times(count))));
    ticks
}
