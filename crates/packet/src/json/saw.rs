//! Machine set-ups and jig cards.

#![expect(clippy::struct_field_names, reason = "the unit stands in every field's name")]

use super::numbers::{degrees, minutes, mm, percent};
use super::seasons::{CautionLine, caution};
use keepwright_model::job::Plan;
use keepwright_model::parts::Machine;
use keepwright_model::saw::{
    CradleCard, Cutter, Guide, Lean, LidCard, LidOrder, Member, Offcut, Pass, Placement, Setup, Stage, Teeth,
};
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct SetupLine<'a> {
    number: usize,
    purpose: &'static str,
    stage: &'static str,
    machine: &'static str,
    cutter: CutterLine,
    tilt_deg: f64,
    lean: &'static str,
    gauge_deg: f64,
    guide: &'static str,
    guide_side: &'static str,
    distance_mm: Option<f64>,
    height_mm: Option<f64>,
    passes: Vec<PassLine>,
    more_stops_mm: Vec<f64>,
    members: Vec<MemberLine<'a>>,
    test_piece: bool,
    holding: Vec<&'static str>,
    offcut: &'static str,
    turn_second: Option<FlipLine>,
    after: Vec<usize>,
    cautions: Vec<CautionLine<'a>>,
}

#[derive(Serialize)]
struct CutterLine {
    kind: &'static str,
    width_mm: Option<f64>,
    top_bevel_deg: Option<f64>,
}

#[derive(Serialize)]
struct PassLine {
    distance_mm: f64,
    height_mm: f64,
}

#[derive(Serialize)]
struct MemberLine<'a> {
    name: &'a str,
    at: &'a str,
    count: u32,
    length_mm: f64,
    width_mm: f64,
    thickness_mm: f64,
    placed: Option<PlacementLine>,
    excess_mm: f64,
    upper_edge_on_stop: bool,
    passes: Vec<PassLine>,
    stopped_mm: Option<[f64; 2]>,
}

#[derive(Serialize)]
struct PlacementLine {
    down: &'static str,
    toward_guide: &'static str,
    pushed: &'static str,
}

#[derive(Serialize)]
struct FlipLine {
    says: &'static str,
    cancels: &'static str,
}

/// The set-ups in order.
pub(super) fn setups(plan: &Plan) -> Vec<SetupLine<'_>> {
    plan.saw.setups.iter().enumerate().map(|(i, s)| setup(plan, i, s)).collect()
}

fn setup<'a>(plan: &'a Plan, index: usize, s: &'a Setup) -> SetupLine<'a> {
    let currency = plan.shop.bench.currency;
    let mut after: Vec<usize> =
        plan.saw.before.iter().filter(|(_, b)| *b == index).map(|(a, _)| a + 1).collect();
    after.sort_unstable();
    after.dedup();
    SetupLine {
        number: index + 1,
        purpose: s.purpose.words(),
        stage: match s.stage {
            Stage::Stock => "stock",
            Stage::Parts => "parts",
            Stage::Assembly => "assembly",
        },
        machine: machine(s.machine),
        cutter: cutter(s.cutter),
        tilt_deg: degrees(s.tilt),
        lean: match s.lean {
            Lean::Upright => "upright",
            Lean::Away => "away from the guide",
            Lean::Toward => "toward the guide",
        },
        gauge_deg: degrees(s.gauge),
        guide: match s.guide {
            Guide::Free => "none",
            guide => guide.words(),
        },
        guide_side: s.side.words(),
        distance_mm: s.distance().map(mm),
        height_mm: s.height().map(mm),
        passes: passes(&s.passes),
        more_stops_mm: s.more_stops.iter().map(|l| mm(*l)).collect(),
        members: s.members.iter().map(member).collect(),
        test_piece: s.test_piece,
        holding: s.holding.iter().map(|h| h.words()).collect(),
        offcut: match s.offcut {
            Offcut::None => "chips only",
            Offcut::FreeSide(side) => match side.words() {
                "left" => "falls free, left",
                _ => "falls free, right",
            },
            Offcut::SkinHeld => "held by a skin",
            Offcut::Kept => "both halves kept",
        },
        turn_second: s.flip.map(|f| FlipLine { says: f.says, cancels: f.cancels }),
        after,
        cautions: s.cautions.iter().map(|c| caution(c, currency)).collect(),
    }
}

fn passes(passes: &[Pass]) -> Vec<PassLine> {
    passes.iter().map(|p| PassLine { distance_mm: mm(p.distance), height_mm: mm(p.height) }).collect()
}

fn member(m: &Member) -> MemberLine<'_> {
    let [length, width, thickness] = m.size;
    MemberLine {
        name: &m.name,
        at: &m.at,
        count: m.count,
        length_mm: mm(length),
        width_mm: mm(width),
        thickness_mm: mm(thickness),
        placed: m.placement.map(|Placement { down, toward, pushed }| PlacementLine {
            down: down.words(),
            toward_guide: toward.words(),
            pushed: pushed.words(),
        }),
        excess_mm: mm(m.excess),
        upper_edge_on_stop: m.turned,
        passes: passes(&m.own_passes),
        stopped_mm: m.stopped.map(|(a, b)| [mm(a), mm(b)]),
    }
}

fn cutter(cutter: Cutter) -> CutterLine {
    let (kind, width, bevel) = match cutter {
        Cutter::Blade { kerf, teeth: Teeth::FlatTop } => ("blade, flat-top teeth", Some(kerf), None),
        Cutter::Blade { kerf, teeth: Teeth::AlternateBevel(bevel) } => {
            ("blade, alternate top bevel", Some(kerf), Some(bevel))
        }
        Cutter::Band(kerf) => ("bandsaw blade", Some(kerf), None),
        Cutter::StraightBit(width) => ("straight bit", Some(width), None),
        Cutter::ChamferBit => ("chamfer bit", None, None),
        Cutter::RoundBit(radius) => ("round-over bit", Some(radius), None),
        Cutter::Knives => ("planer knives", None, None),
        Cutter::Hand => ("hand tool", None, None),
    };
    CutterLine { kind, width_mm: width.map(mm), top_bevel_deg: bevel.map(degrees) }
}

const fn machine(machine: Machine) -> &'static str {
    match machine {
        Machine::TableSaw => "table saw",
        Machine::BandSaw => "bandsaw",
        Machine::RouterTable => "router table",
        Machine::Planer => "jointer and planer",
        Machine::Drill => "drill",
        Machine::HandTools => "hand tools",
    }
}

#[derive(Serialize)]
pub(super) struct OrderLine {
    setups: usize,
    settings_changed: u32,
    resetting_min: f64,
    least_resetting_min: f64,
    above_least_percent: f64,
    proven: bool,
}

/// How far the order of set-ups is from the proven least.
pub(super) fn order(plan: &Plan) -> OrderLine {
    OrderLine {
        setups: plan.saw.setups.len(),
        settings_changed: plan.saw.resets,
        resetting_min: minutes(plan.saw.minutes),
        least_resetting_min: minutes(plan.saw.bound),
        above_least_percent: percent(plan.saw.gap()),
        proven: plan.saw.proven(),
    }
}

#[derive(Serialize)]
pub(super) struct CradleLine {
    opens_deg: f64,
    side_from_table_deg: f64,
    trough_mm: f64,
    floor_mm: f64,
    breaks_through_at_mm: f64,
    v_at_bottom_mm: f64,
    rows: Vec<CradleRowLine>,
}

#[derive(Serialize)]
struct CradleRowLine {
    distances_mm: Vec<f64>,
    blade_height_mm: f64,
    lower_edge_on_stop_mm: Vec<f64>,
    upper_edge_on_stop_mm: Vec<f64>,
}

/// Cards of the V cradle.
pub(super) fn cradle(plan: &Plan) -> Vec<CradleLine> {
    plan.cradle.iter().map(cradle_card).collect()
}

fn cradle_card(card: &CradleCard) -> CradleLine {
    CradleLine {
        opens_deg: degrees(card.opens),
        side_from_table_deg: degrees(card.side_from_table),
        trough_mm: mm(card.trough),
        floor_mm: mm(card.floor),
        breaks_through_at_mm: mm(card.break_through),
        v_at_bottom_mm: mm(card.v_at_bottom),
        rows: card
            .rows
            .iter()
            .map(|r| CradleRowLine {
                distances_mm: r.distances.iter().map(|l| mm(*l)).collect(),
                blade_height_mm: mm(r.blade),
                lower_edge_on_stop_mm: r.lower_on_stop.iter().map(|l| mm(*l)).collect(),
                upper_edge_on_stop_mm: r.upper_on_stop.iter().map(|l| mm(*l)).collect(),
            })
            .collect(),
    }
}

#[derive(Serialize)]
pub(super) struct LidLine {
    fence_mm: f64,
    blade_height_mm: f64,
    skin_mm: f64,
    shims_mm: f64,
    clean_up_mm: f64,
    first: &'static str,
    why: &'static str,
}

/// The card for sawing the lid off.
pub(super) fn lid(card: &LidCard) -> LidLine {
    LidLine {
        fence_mm: mm(card.fence),
        blade_height_mm: mm(card.blade),
        skin_mm: mm(card.skin),
        shims_mm: mm(card.shims),
        clean_up_mm: mm(card.clean_up),
        first: match card.order {
            LidOrder::LongFirst => "long walls",
            LidOrder::ShortFirst => "short walls",
        },
        why: card.why,
    }
}
