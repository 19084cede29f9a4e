//! The plan in the terminal: sentences first, then small tables.

mod stock;
mod work;

use crate::columns::{Side, Table, paragraph};
use crate::job::Job;
use crate::report;
use crate::show::{Show, list};
use keepwright_model::design::CornerName;
use keepwright_model::fit::Ring;
use keepwright_model::job::Plan;
use keepwright_model::parts::Figure;
use keepwright_packet::json::alike;
use std::fmt::Write as _;

/// The whole summary.
pub(crate) fn text(job: &Job) -> String {
    let (plan, show) = (&job.plan, &job.show);
    let mut out = String::new();
    head(plan, show, &mut out);
    parts(plan, show, &mut out);
    strips(plan, show, &mut out);
    stock::boards(plan, show, &mut out);
    stock::shopping(plan, show, &mut out);
    work::setups(plan, show, &mut out);
    fit_and_seasons(plan, show, &mut out);
    work::bench(plan, show, &mut out);
    work::money(plan, show, &mut out);
    work::timeline(plan, &mut out);
    let cautions = report::to_know(plan);
    if !cautions.is_empty() {
        title("Cautions", &mut out);
        out.push_str(&paragraph(&format!("{}.", report::tally(&cautions)), 0));
        out.push_str(&report::cautions(&cautions, show));
    }
    out
}

fn title(words: &str, out: &mut String) {
    let _ = writeln!(out, "\n{words}\n{}", "-".repeat(words.chars().count()));
}

fn head(plan: &Plan, show: &Show, out: &mut String) {
    let s = &plan.statement;
    let _ = writeln!(out, "{}\n{}", s.name, "=".repeat(s.name.chars().count()));
    if !s.note.is_empty() {
        out.push_str(&paragraph(&s.note, 0));
    }
    let woods: Vec<String> = plan.woods.iter().map(|(_, name)| name.clone()).collect();
    let size = &plan.parts.outside;
    out.push_str(&paragraph(
        &format!(
            "Outside {} ({}); inside {}. Made of {}.",
            show.size(size),
            show.size_otherwise(size),
            show.size(&plan.parts.inside),
            list(&woods)
        ),
        0,
    ));
    if let Some(mass) = plan.mass() {
        out.push_str(&paragraph(&format!("It weighs about {:.0} g.", mass.value()), 0));
    }
    if s.count > 1 {
        out.push_str(&paragraph(&format!("{} alike are made in one batch.", s.count), 0));
    }
}

/// A wood's name as it is said.
fn wood(plan: &Plan, id: &str) -> String {
    plan.woods.iter().find(|(w, _)| w == id).map_or_else(|| id.to_owned(), |w| w.1.clone())
}

fn parts(plan: &Plan, show: &Show, out: &mut String) {
    title("Parts of one box", out);
    let mut table = Table::new(&[
        ("", Side::Right),
        ("length", Side::Right),
        ("width", Side::Right),
        ("thick", Side::Right),
        ("in the other unit", Side::Left),
        ("part (wood)", Side::Left),
    ]);
    for group in alike(plan) {
        let Some(part) = group.first(plan) else { continue };
        let [length, width, thickness] = part.size;
        table.row([
            group.parts.len().to_string(),
            show.length(length),
            show.length(width),
            show.length(thickness),
            show.size_otherwise(&part.size),
            format!("{} ({})", group.name, wood(plan, &part.wood)),
        ]);
    }
    out.push_str(&table.text());
}

fn strips(plan: &Plan, show: &Show, out: &mut String) {
    let sides = plan.statement.shape.sides;
    for run in &plan.parts.runs {
        let names: Vec<&str> =
            run.parts.iter().filter_map(|id| plan.parts.parts.get(id.0)).map(|p| p.name.as_str()).collect();
        title(&format!("Strip: {}", run.name), out);
        out.push_str(&paragraph(
            &format!(
                "In order {}, show face up: {} long and {} wide.",
                names.join(", "),
                show.in_both(run.strip_length),
                show.in_both(run.strip_width)
            ),
            0,
        ));
        let mut table = Table::new(&[("corner", Side::Left), ("figure", Side::Left), ("lost", Side::Right)]);
        for c in &run.corners {
            let figure = match c.figure {
                Figure::RunsOn => "runs on",
                Figure::Mirrors => "mirrors",
                Figure::Closes => "closes here, does not match",
                Figure::Unmatched => "not matched",
            };
            table.row([CornerName(c.corner.0).words(sides), figure.to_owned(), show.small(c.loss)]);
        }
        out.push_str(&table.text());
    }
}

fn fit_and_seasons(plan: &Plan, show: &Show, out: &mut String) {
    title("Will it close", out);
    let ring = |what: &str, ring: Option<&Ring>, out: &mut String| {
        let Some(r) = ring else { return };
        let gap = r.spread();
        out.push_str(&paragraph(
            &format!(
                "{what}: a miter is typically {} open and hardly ever more than {}; with all corners but one pulled tight the last misses by typically {}.",
                show.small(gap.typical()),
                show.small(gap.worst()),
                show.small(r.last.typical())
            ),
            0,
        ));
    };
    ring("Walls", plan.fit.walls.as_ref(), out);
    ring("Lid frame", plan.fit.frame.as_ref(), out);
    if plan.fit.walls.is_none() && plan.fit.frame.is_none() {
        out.push_str("There is no miter to open.\n");
    }
    title("Will it live", out);
    out.push_str(&paragraph(&plan.living.verdict, 0));
    if plan.living.floats.is_empty() {
        return;
    }
    let mut table = Table::new(&[
        ("floating", Side::Left),
        ("cut today", Side::Right),
        ("gap today", Side::Right),
        ("driest month", Side::Right),
        ("wettest month", Side::Right),
        ("groove", Side::Right),
    ]);
    for (name, f) in &plan.living.floats {
        table.row([
            name.clone(),
            show.length(f.width),
            show.small(f.gap_today),
            show.small(f.gap_driest),
            show.small(f.gap_wettest),
            if f.in_groove() { show.small(f.given.groove) } else { "none, a ledge".to_owned() },
        ]);
    }
    out.push_str("Gaps are those on each side when the panel stands in the middle.\n");
    out.push_str(&table.text());
}
