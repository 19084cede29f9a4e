//! Glue, keys, sanding, finish, screws, time, price and timeline.

use super::numbers::{mass, minutes, mm, mm2, mm3, rounded};
use keepwright_model::job::Plan;
use keepwright_model::shop::glue::{Stage, StageKind};
use keepwright_model::shop::price::Price;
use keepwright_model::shop::sanding::When;
use keepwright_model::shop::schedule::{Moment, Schedule};
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct GlueUpLine<'a> {
    name: &'a str,
    glue: &'a str,
    volume_mm3: f64,
    stages: Vec<StageLine<'a>>,
}

#[derive(Serialize)]
struct StageLine<'a> {
    title: &'a str,
    kind: &'static str,
    surfaces: u32,
    needs_min: f64,
    open_min: f64,
    glued_area_mm2: f64,
    volume_mm3: f64,
    clamp_min: f64,
    cure_min: f64,
    band: Option<BandLine>,
    diagonals: Option<DiagonalsLine>,
    steps: Vec<&'a str>,
}

#[derive(Serialize)]
struct BandLine {
    tension_n: f64,
    at_corner_n: f64,
    pressure_mpa: f64,
    wanted_mpa: f64,
    tension_wanted_n: f64,
}

#[derive(Serialize)]
struct DiagonalsLine {
    each_mm: f64,
    count: u32,
    may_differ_mm: f64,
}

/// The glue-ups, stage by stage.
pub(super) fn glue(plan: &Plan) -> Vec<GlueUpLine<'_>> {
    let glue = &plan.shop.bench.gluing.glue.name;
    plan.glue
        .iter()
        .map(|g| GlueUpLine {
            name: &g.name,
            glue,
            volume_mm3: mm3(g.volume()),
            stages: g.stages.iter().map(stage).collect(),
        })
        .collect()
}

fn stage(s: &Stage) -> StageLine<'_> {
    StageLine {
        title: &s.title,
        kind: match s.kind {
            StageKind::Panel => "panel",
            StageKind::Ring => "ring",
            StageKind::Added => "added",
            StageKind::Keys => "keys",
        },
        surfaces: s.surfaces,
        needs_min: minutes(s.needs),
        open_min: minutes(s.open),
        glued_area_mm2: mm2(s.area),
        volume_mm3: mm3(s.volume),
        clamp_min: minutes(s.clamp),
        cure_min: minutes(s.cure),
        band: s.clamping.map(|c| BandLine {
            tension_n: rounded(c.tension.value(), 1),
            at_corner_n: rounded(c.corner.resultant.value(), 1),
            pressure_mpa: rounded(c.pressure.value(), 4),
            wanted_mpa: rounded(c.wanted.value(), 4),
            tension_wanted_n: rounded(c.tension_wanted.value(), 1),
        }),
        diagonals: s.diagonals.map(|d| DiagonalsLine {
            each_mm: mm(d.target),
            count: d.count,
            may_differ_mm: mm(d.limit),
        }),
        steps: s.steps.iter().map(|s| s.says.as_str()).collect(),
    }
}

#[derive(Serialize)]
pub(super) struct KeyLine<'a> {
    wood: &'a str,
    per_box: u32,
    needed: u32,
    spare: u32,
    thickness_mm: f64,
    strip_width_mm: f64,
    long_edge_mm: f64,
    strip_length_mm: f64,
}

/// Key stock of the batch.
pub(super) fn keys(plan: &Plan) -> Vec<KeyLine<'_>> {
    plan.keys
        .iter()
        .map(|k| KeyLine {
            wood: &k.wood,
            per_box: k.per_box,
            needed: k.needed,
            spare: k.spare,
            thickness_mm: mm(k.thickness),
            strip_width_mm: mm(k.width),
            long_edge_mm: mm(k.long_edge),
            strip_length_mm: mm(k.strip_length),
        })
        .collect()
}

#[derive(Serialize)]
pub(super) struct SandingLine<'a> {
    faces: &'a str,
    when: &'static str,
    area_mm2: f64,
    removes_mm: f64,
    time_min: f64,
    passes: Vec<GritLine>,
}

#[derive(Serialize)]
struct GritLine {
    grit: u32,
    removes_mm: f64,
    time_min: f64,
}

/// Sanding of one box.
pub(super) fn sanding(plan: &Plan) -> Vec<SandingLine<'_>> {
    plan.sanding
        .iter()
        .map(|s| SandingLine {
            faces: &s.faces.name,
            when: match s.faces.when {
                When::BeforeGlueUp => "before glue-up",
                When::AfterGlueUp => "after glue-up",
            },
            area_mm2: mm2(s.faces.area),
            removes_mm: mm(s.removes),
            time_min: minutes(s.minutes),
            passes: s
                .passes
                .iter()
                .map(|p| GritLine { grit: p.p, removes_mm: mm(p.removes), time_min: minutes(p.minutes) })
                .collect(),
        })
        .collect()
}

#[derive(Serialize)]
pub(super) struct FinishLine<'a> {
    coats: Vec<CoatLine<'a>>,
    cure_min: f64,
    shellac_mix: Option<ShellacLine>,
}

#[derive(Serialize)]
struct CoatLine<'a> {
    side: &'static str,
    product: &'a str,
    coats: u32,
    area_mm2: f64,
    volume_per_coat_mm3: f64,
    volume_mm3: f64,
    between_coats_min: f64,
    thin: &'a str,
    last_grit_before: u32,
}

#[derive(Serialize)]
struct ShellacLine {
    alcohol_mm3: f64,
    flakes_g: f64,
}

/// The finish of one box.
pub(super) fn finish(plan: &Plan) -> FinishLine<'_> {
    FinishLine {
        coats: plan
            .finish
            .coats
            .iter()
            .map(|c| CoatLine {
                side: c.side.words(),
                product: &c.product.name,
                coats: c.coats,
                area_mm2: mm2(c.area),
                volume_per_coat_mm3: mm3(c.per_coat),
                volume_mm3: mm3(c.volume()),
                between_coats_min: minutes(c.product.wait),
                thin: &c.product.thin,
                last_grit_before: c.product.grit,
            })
            .collect(),
        cure_min: minutes(plan.finish.cure),
        shellac_mix: plan
            .finish
            .shellac
            .as_ref()
            .map(|s| ShellacLine { alcohol_mm3: mm3(s.alcohol), flakes_g: mass(s.flakes) }),
    }
}

#[derive(Serialize)]
pub(super) struct ScrewLine<'a> {
    place: &'a str,
    count: u32,
    shank_mm: f64,
    pilot_mm: f64,
    pilot_depth_mm: f64,
    pulls_out_n: f64,
    allowed_n: f64,
}

/// Hinge screws by seat.
pub(super) fn screws(plan: &Plan) -> Vec<ScrewLine<'_>> {
    plan.screws
        .iter()
        .map(|s| ScrewLine {
            place: &s.place,
            count: s.count,
            shank_mm: mm(s.shank),
            pilot_mm: mm(s.pilot),
            pilot_depth_mm: mm(s.depth),
            pulls_out_n: rounded(s.pulls_out.value(), 1),
            allowed_n: rounded(s.allowed.value(), 1),
        })
        .collect()
}

#[derive(Serialize)]
pub(super) struct TimeLines<'a> {
    boxes: u32,
    setting_up_min: f64,
    hands_on_min: f64,
    per_box_min: f64,
    one_box_alone_min: f64,
    lines: Vec<TimeRow<'a>>,
}

#[derive(Serialize)]
struct TimeRow<'a> {
    what: &'a str,
    setting_up_min: f64,
    pieces_min: f64,
}

/// Hands-on time of the batch.
pub(super) fn time(plan: &Plan) -> TimeLines<'_> {
    let t = &plan.timing;
    TimeLines {
        boxes: t.boxes,
        setting_up_min: minutes(t.setup),
        hands_on_min: minutes(t.total),
        per_box_min: minutes(t.per_box),
        one_box_alone_min: minutes(plan.timing_single.per_box),
        lines: t
            .lines
            .iter()
            .map(|l| TimeRow {
                what: &l.title,
                setting_up_min: minutes(l.setup),
                pieces_min: minutes(l.pieces),
            })
            .collect(),
    }
}

#[derive(Serialize)]
pub(super) struct PriceLines<'a> {
    currency: String,
    each: PriceOf<'a>,
    one_box_alone: PriceOf<'a>,
    batch_price_minor: i64,
}

#[derive(Serialize)]
struct PriceOf<'a> {
    lines: Vec<PriceRow<'a>>,
    cost_minor: i64,
    price_minor: i64,
}

#[derive(Serialize)]
struct PriceRow<'a> {
    what: &'a str,
    amount_minor: i64,
}

/// The price of one box of the batch, of one made alone, and of the batch.
pub(super) fn price(plan: &Plan) -> PriceLines<'_> {
    PriceLines {
        currency: plan.shop.bench.currency.code().to_owned(),
        each: price_of(&plan.price),
        one_box_alone: price_of(&plan.price_single),
        batch_price_minor: plan.price.price.times(f64::from(plan.statement.count)).to_minor(),
    }
}

fn price_of(price: &Price) -> PriceOf<'_> {
    PriceOf {
        lines: price
            .lines
            .iter()
            .map(|l| PriceRow { what: &l.title, amount_minor: l.amount.to_minor() })
            .collect(),
        cost_minor: price.cost.to_minor(),
        price_minor: price.price.to_minor(),
    }
}

#[derive(Serialize)]
pub(super) struct Timeline<'a> {
    first: String,
    last: String,
    hands_on_min: f64,
    elapsed_min: f64,
    tasks: Vec<TaskLine<'a>>,
    events: Vec<EventLine<'a>>,
}

#[derive(Serialize)]
struct TaskLine<'a> {
    key: &'a str,
    title: &'a str,
    start: String,
    end: String,
    ready: String,
    hands_on_min: f64,
    rounds: u32,
    wait_min: f64,
    wait_for: &'a str,
    critical: bool,
}

#[derive(Serialize)]
struct EventLine<'a> {
    key: &'a str,
    title: &'a str,
    first: String,
    last: String,
    note: &'a str,
}

/// The work on the calendar.
pub(super) fn timeline<'a>(plan: &'a Plan, schedule: &'a Schedule) -> Timeline<'a> {
    Timeline {
        first: schedule.first.to_string(),
        last: schedule.last.to_string(),
        hands_on_min: minutes(schedule.hands_on),
        elapsed_min: minutes(schedule.elapsed),
        tasks: schedule
            .booked
            .iter()
            .filter_map(|b| {
                let task = plan.tasks.get(b.task)?;
                Some(TaskLine {
                    key: &task.key,
                    title: &task.title,
                    start: moment(b.start),
                    end: moment(b.end),
                    ready: moment(b.ready),
                    hands_on_min: minutes(task.hands_on),
                    rounds: task.rounds,
                    wait_min: minutes(task.wait),
                    wait_for: &task.wait_for,
                    critical: schedule.critical.contains(&b.task),
                })
            })
            .collect(),
        events: schedule
            .events
            .iter()
            .map(|e| EventLine {
                key: &e.key,
                title: &e.title,
                first: e.first.to_string(),
                last: e.last.to_string(),
                note: &e.note,
            })
            .collect(),
    }
}

/// A minute of shop time, as 2026-11-25T08:30.
fn moment(m: Moment) -> String {
    format!("{}T{:02}:{:02}", m.day(), m.minute() / 60, m.minute() % 60)
}
