//! Fit, seasons, cautions and reasons.

#![expect(clippy::struct_field_names, reason = "the unit stands in every field's name")]

use super::numbers::{Any, GivenLine, any, degrees, givens, mm, percent, rounded};
use keepwright_model::caution::Caution;
use keepwright_model::fit::{Arris, Budget, Ring, Verdict};
use keepwright_model::job::{Living, Plan};
use keepwright_model::reason::Reason;
use keepwright_model::seasons::{FloatingPanel, Load, MiterOpening, Season};
use keepwright_model::units::Currency;
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct FitLine {
    walls: Option<RingLine>,
    lid_frame: Option<RingLine>,
}

#[derive(Serialize)]
struct RingLine {
    verdict: &'static str,
    held_square: BudgetLine,
    last_corner: BudgetLine,
    spread_round: BudgetLine,
}

#[derive(Serialize)]
struct BudgetLine {
    bias_mm: f64,
    spread_mm: f64,
    typical_mm: f64,
    worst_mm: f64,
}

/// Whether the miters close.
pub(super) fn fit(plan: &Plan) -> FitLine {
    FitLine { walls: plan.fit.walls.as_ref().map(ring), lid_frame: plan.fit.frame.as_ref().map(ring) }
}

fn ring(ring: &Ring) -> RingLine {
    RingLine {
        verdict: match ring.verdict() {
            Verdict::NotSeen => "not seen",
            Verdict::MayShow => "may show",
            Verdict::Shows => "shows",
        },
        held_square: budget(ring.held),
        last_corner: budget(ring.last),
        spread_round: budget(ring.spread()),
    }
}

fn budget(b: Budget) -> BudgetLine {
    BudgetLine {
        bias_mm: mm(b.bias),
        spread_mm: mm(b.spread),
        typical_mm: mm(b.typical()),
        worst_mm: mm(b.worst()),
    }
}

#[derive(Serialize)]
pub(super) struct SeasonsLine<'a> {
    home: &'a str,
    verdict: &'a str,
    moisture_today_percent: f64,
    driest: EndLine,
    wettest: EndLine,
    months: Vec<MonthLine>,
    movements: Vec<MovementLine<'a>>,
    floating: Vec<FloatLine<'a>>,
    frame_miter: Option<[OpeningLine; 2]>,
    wall_miter: Option<[OpeningLine; 2]>,
    glued_across: Vec<GluedLine<'a>>,
    bows: Vec<BowLine<'a>>,
}

#[derive(Serialize)]
struct EndLine {
    month: &'static str,
    moisture_percent: f64,
}

#[derive(Serialize)]
struct MonthLine {
    humidity_percent: f64,
    temperature_c: f64,
    moisture_percent: f64,
}

#[derive(Serialize)]
struct MovementLine<'a> {
    part: &'a str,
    across_mm: f64,
    across_driest_mm: f64,
    across_wettest_mm: f64,
    along_mm: f64,
    along_driest_mm: f64,
    along_wettest_mm: f64,
}

#[derive(Serialize)]
struct FloatLine<'a> {
    part: &'a str,
    width_mm: f64,
    gap_today_mm: f64,
    gap_driest_mm: f64,
    gap_wettest_mm: f64,
    held_pushed_mm: Option<f64>,
    groove_mm: Option<f64>,
    groove_needed_mm: Option<f64>,
    binds: bool,
    drops_out: bool,
}

#[derive(Serialize)]
struct OpeningLine {
    wedge_deg: f64,
    gap_mm: f64,
    opens_at: Option<&'static str>,
}

#[derive(Serialize)]
struct GluedLine<'a> {
    part: &'a str,
    load: &'static str,
    stress_mpa: f64,
    strength_mpa: f64,
    strength_of_nineteen_in_twenty_mpa: f64,
}

#[derive(Serialize)]
struct BowLine<'a> {
    part: &'a str,
    cause: &'static str,
    span_mm: f64,
    bow_mm: f64,
}

/// What the year does.
pub(super) fn seasons(living: &Living) -> SeasonsLine<'_> {
    let end = |season| {
        let (month, air) = living.year.end(season);
        EndLine { month, moisture_percent: percent(air.moisture.value()) }
    };
    SeasonsLine {
        home: &living.year.home,
        verdict: &living.verdict,
        moisture_today_percent: percent(living.today.value()),
        driest: end(Season::Driest),
        wettest: end(Season::Wettest),
        months: living
            .year
            .months
            .iter()
            .map(|m| MonthLine {
                humidity_percent: percent(m.humidity.value()),
                temperature_c: rounded(m.temperature.value(), 2),
                moisture_percent: percent(m.moisture.value()),
            })
            .collect(),
        movements: living
            .movements
            .iter()
            .map(|m| MovementLine {
                part: &m.name,
                across_mm: mm(m.across),
                across_driest_mm: mm(m.driest),
                across_wettest_mm: mm(m.wettest),
                along_mm: mm(m.along),
                along_driest_mm: mm(m.along_driest),
                along_wettest_mm: mm(m.along_wettest),
            })
            .collect(),
        floating: living.floats.iter().map(|(part, f)| floating(part, f)).collect(),
        frame_miter: living.frame_miter.map(|(dry, wet)| [opening(&dry), opening(&wet)]),
        wall_miter: living.wall_miter.map(|(dry, wet)| [opening(&dry), opening(&wet)]),
        glued_across: living
            .glued
            .iter()
            .map(|(part, g)| GluedLine {
                part,
                load: match g.load {
                    Load::Tension => "tension",
                    Load::Compression => "compression",
                },
                stress_mpa: rounded(g.stress.value(), 4),
                strength_mpa: rounded(g.strength.value(), 4),
                strength_of_nineteen_in_twenty_mpa: rounded(g.strength_low.value(), 4),
            })
            .collect(),
        bows: living
            .bows
            .iter()
            .map(|b| BowLine { part: &b.name, cause: b.cause, span_mm: mm(b.span), bow_mm: mm(b.bow) })
            .collect(),
    }
}

fn floating<'a>(part: &'a str, f: &FloatingPanel) -> FloatLine<'a> {
    let grooved = |l| f.in_groove().then(|| mm(l));
    FloatLine {
        part,
        width_mm: mm(f.width),
        gap_today_mm: mm(f.gap_today),
        gap_driest_mm: mm(f.gap_driest),
        gap_wettest_mm: mm(f.gap_wettest),
        held_pushed_mm: grooved(f.held_pushed),
        groove_mm: grooved(f.given.groove),
        groove_needed_mm: grooved(f.groove_needed),
        binds: f.binds(),
        drops_out: f.drops_out(),
    }
}

fn opening(m: &MiterOpening) -> OpeningLine {
    OpeningLine {
        wedge_deg: degrees(m.angle),
        gap_mm: mm(m.gap),
        opens_at: m.opens_at.map(|end| match end {
            Arris::Heel => "heel",
            Arris::Toe => "toe",
        }),
    }
}

#[derive(Serialize)]
pub(super) struct CautionLine<'a> {
    code: &'a str,
    weight: &'static str,
    r#where: &'a str,
    says: &'a str,
    numbers: Vec<GivenLine<'a>>,
    why: String,
    change: Option<ChangeLine<'a>>,
}

#[derive(Serialize)]
struct ChangeLine<'a> {
    says: &'a str,
    sets: Vec<SetLine<'a>>,
}

#[derive(Serialize)]
struct SetLine<'a> {
    key: &'a str,
    value: &'a str,
}

/// A caution.
pub(super) fn caution(c: &Caution, currency: Currency) -> CautionLine<'_> {
    CautionLine {
        code: c.code,
        weight: c.weight.words(),
        r#where: &c.place,
        says: &c.says,
        numbers: givens(&c.numbers, currency),
        why: c.basis.to_string(),
        change: c.change.as_ref().map(|change| ChangeLine {
            says: &change.says,
            sets: change.sets.iter().map(|s| SetLine { key: &s.key, value: &s.value }).collect(),
        }),
    }
}

#[derive(Serialize)]
pub(super) struct ReasonLine<'a> {
    key: &'a str,
    title: &'a str,
    formula: &'a str,
    given: Vec<GivenLine<'a>>,
    result: Any<'a>,
    source: String,
}

/// How a number came about.
pub(super) fn reason(r: &Reason, currency: Currency) -> ReasonLine<'_> {
    ReasonLine {
        key: &r.key,
        title: &r.title,
        formula: &r.formula,
        given: givens(&r.given, currency),
        result: any(&r.result, currency),
        source: r.basis.to_string(),
    }
}
