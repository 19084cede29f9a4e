//! The work: set-ups, glue, keys, sanding, finish, time, price, timeline.

use super::title;
use crate::columns::{Side, Table, paragraph};
use crate::show::{Show, count_of, percent};
use keepwright_model::job::Plan;
use keepwright_model::saw::Setup;
use keepwright_model::units::Angle;
use keepwright_packet::json::together;
use std::fmt::Write as _;

/// The set-ups in order.
pub(super) fn setups(plan: &Plan, show: &Show, out: &mut String) {
    title("At the saw", out);
    let saw = &plan.saw;
    let proof = if saw.proven() {
        "no order takes less".to_owned()
    } else {
        format!("at most {} over the least that any order can take", percent(saw.gap()))
    };
    out.push_str(&paragraph(
        &format!(
            "{}; re-setting takes about {}, {proof}.",
            count_of(saw.setups.len(), "set-up"),
            Show::time(saw.minutes)
        ),
        0,
    ));
    let mut table = Table::new(&[
        ("", Side::Right),
        ("what", Side::Left),
        ("guide", Side::Right),
        ("height", Side::Right),
        ("tilt", Side::Right),
        ("gauge", Side::Right),
        ("pieces", Side::Left),
    ]);
    for (i, s) in saw.setups.iter().enumerate() {
        let angle = |a: Angle| {
            if a.to_degrees().abs() < 1e-6 { String::new() } else { format!("{:.2}°", a.to_degrees()) }
        };
        table.row([
            (i + 1).to_string(),
            s.purpose.words().to_owned(),
            s.distance().map_or_else(String::new, |d| show.length(d)),
            s.height().filter(|h| h.to_mm() > 0.0).map_or_else(String::new, |h| show.length(h)),
            angle(s.tilt),
            angle(s.gauge),
            pieces(s),
        ]);
    }
    out.push_str(&table.text());
}

/// What is cut: each name once, with how many of each where it is more than one.
fn pieces(setup: &Setup) -> String {
    let mut kinds: Vec<(u32, Vec<&str>)> = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    for m in &setup.members {
        // Both ends of a part at one setting are two cuts to one piece: said as pieces.
        if seen.contains(&m.name.as_str()) {
            continue;
        }
        seen.push(&m.name);
        match kinds.iter_mut().find(|(n, names)| *n == m.count && begin_alike(names, &m.name)) {
            Some((_, names)) => names.push(&m.name),
            None => kinds.push((m.count, vec![&m.name])),
        }
    }
    let words: Vec<String> = kinds
        .iter()
        .map(|(n, names)| {
            let many = together(names, "");
            if names.len() > 4 && !many.is_empty() {
                return format!("{} × {many}", u64::from(*n) * names.len() as u64);
            }
            let named: Vec<String> = names.chunks(4).map(|some| together(some, "")).collect();
            match (*n, names.len()) {
                (1, _) => named.join(", "),
                (n, 1) => format!("{n} × {}", named.join(", ")),
                (n, _) => format!("{}, {n} of each", named.join(", ")),
            }
        })
        .collect();
    words.join("; ")
}

/// Whether a name belongs with the others: walls by one word each, or the same first word.
fn begin_alike(names: &[&str], name: &str) -> bool {
    let head = |n: &str| n.split_once(' ').map(|(first, _)| first.to_owned());
    names.first().is_some_and(|first| head(first) == head(name))
}

/// Glue, keys, sanding, finish.
pub(super) fn bench(plan: &Plan, show: &Show, out: &mut String) {
    title("Glue, keys, sanding, finish", out);
    for stage in plan.glue.iter().flat_map(|g| &g.stages) {
        out.push_str(&paragraph(
            &format!(
                "Glue {}: {}, {:.1} ml, {} of {} open time, in clamps {}.",
                stage.title,
                count_of(stage.surfaces as usize, "surface"),
                stage.volume.to_ml(),
                Show::time(stage.needs),
                Show::time(stage.open),
                Show::time(stage.clamp)
            ),
            2,
        ));
    }
    for k in &plan.keys {
        out.push_str(&paragraph(
            &format!(
                "Keys: {} and {} to spare from a strip {} × {} × {}.",
                k.needed,
                k.spare,
                show.length(k.strip_length),
                show.length(k.width),
                show.length(k.thickness)
            ),
            2,
        ));
    }
    for g in &plan.sanding {
        let grits: Vec<String> = g.passes.iter().map(|p| format!("P{}", p.p)).collect();
        out.push_str(&paragraph(
            &format!("Sand {}: {}; {} for one box.", g.faces.name, grits.join(", "), Show::time(g.minutes)),
            2,
        ));
    }
    for c in &plan.finish.coats {
        out.push_str(&paragraph(
            &format!(
                "Finish {}: {} of {}, {:.1} ml each, {} between.",
                c.side.words(),
                count_of(c.coats as usize, "coat"),
                c.product.name,
                c.per_coat.to_ml(),
                Show::time(c.product.wait)
            ),
            2,
        ));
    }
}

/// Time and price.
pub(super) fn money(plan: &Plan, show: &Show, out: &mut String) {
    title("Time and price", out);
    let batch = plan.statement.count;
    out.push_str(&paragraph(
        &format!(
            "{} of work for one box{}; {} each{}.",
            Show::time(plan.timing.per_box),
            if batch > 1 {
                format!(" in the batch of {batch} ({} alone)", Show::time(plan.timing_single.per_box))
            } else {
                String::new()
            },
            show.money(plan.price.price),
            if batch > 1 {
                format!(", {} for the batch", show.money(plan.price.price.times(f64::from(batch))))
            } else {
                String::new()
            }
        ),
        0,
    ));
    let mut table = Table::new(&[("one box", Side::Left), ("", Side::Right)]);
    for l in &plan.price.lines {
        table.row([l.title.clone(), show.money(l.amount)]);
    }
    out.push_str(&table.text());
    if batch > 1 {
        let _ = writeln!(out, "  one made alone: {}", show.money(plan.price_single.price));
    }
}

/// The work on the calendar.
pub(super) fn timeline(plan: &Plan, out: &mut String) {
    let Some(s) = &plan.schedule else { return };
    title("Timeline", out);
    out.push_str(&paragraph(&format!("From {} to {}.", s.first, s.last), 0));
    let mut table = Table::new(&[("from", Side::Left), ("to", Side::Left), ("what", Side::Left)]);
    for e in &s.events {
        table.row([e.first.to_string(), e.last.to_string(), e.title.clone()]);
    }
    out.push_str(&table.text());
}
