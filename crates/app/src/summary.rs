//! The plan in the terminal: sentences first, then small tables.

use crate::columns::{Side, Table, paragraph};
use crate::job::Job;
use crate::report;
use crate::show::{Show, count_of, percent};
use keepwright_model::design::CornerName;
use keepwright_model::fit::Ring;
use keepwright_model::job::{Plan, Purchase};
use keepwright_model::parts::{Figure, Part};
use std::fmt::Write as _;

/// The whole summary.
pub(crate) fn text(job: &Job) -> String {
    let (plan, show) = (&job.plan, &job.show);
    let mut out = String::new();
    head(plan, show, &mut out);
    parts(plan, show, &mut out);
    strips(plan, show, &mut out);
    boards(plan, show, &mut out);
    shopping(plan, show, &mut out);
    setups(plan, show, &mut out);
    fit_and_seasons(plan, show, &mut out);
    bench(plan, show, &mut out);
    money(plan, show, &mut out);
    timeline(plan, &mut out);
    if !plan.cautions.is_empty() {
        title("Cautions", &mut out);
        out.push_str(&paragraph(&format!("{}.", report::tally(&plan.cautions)), 0));
        out.push_str(&report::cautions(&plan.cautions, show));
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
    let woods: Vec<&str> = plan.woods.iter().map(|(_, name)| name.as_str()).collect();
    let size = &plan.parts.outside;
    out.push_str(&paragraph(
        &format!(
            "Outside {} ({}); inside {}. Made of {}.",
            show.size(size),
            show.size_otherwise(size),
            show.size(&plan.parts.inside),
            woods.join(", ")
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

fn alike(a: &Part, b: &Part) -> bool {
    a.role == b.role && a.wood == b.wood && a.size.iter().zip(b.size).all(|(x, y)| x.same(y))
}

fn parts(plan: &Plan, show: &Show, out: &mut String) {
    title("Parts", out);
    let mut kinds: Vec<(&Part, usize)> = Vec::new();
    for part in &plan.parts.parts {
        match kinds.iter_mut().find(|(k, _)| alike(k, part)) {
            Some((_, n)) => *n += 1,
            None => kinds.push((part, 1)),
        }
    }
    let mut table = Table::new(&[
        ("each", Side::Right),
        ("part", Side::Left),
        ("finished length × width × thickness", Side::Right),
        ("in the other unit", Side::Right),
        ("wood", Side::Left),
    ]);
    for (part, n) in kinds {
        let wood =
            plan.woods.iter().find(|(id, _)| *id == part.wood).map_or(part.wood.as_str(), |w| w.1.as_str());
        table.row([
            n.to_string(),
            part.name.clone(),
            show.size(&part.size),
            show.size_otherwise(&part.size),
            wood.to_owned(),
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
            table.row([CornerName(c.corner.0).words(sides), figure.to_owned(), show.length(c.loss)]);
        }
        out.push_str(&table.text());
    }
}

fn boards(plan: &Plan, show: &Show, out: &mut String) {
    let stock = &plan.stock;
    if stock.cutting.layouts.is_empty() {
        return;
    }
    title("Boards", out);
    let least = stock.least_not_billets().map_or_else(String::new, |l| {
        format!("; no plan of these blanks on this rack leaves less than {}", percent(l))
    });
    out.push_str(&paragraph(
        &format!(
            "Uses {}; {} of them does not become blanks{least}. Kept offcuts taken off, {} is waste.",
            count_of(stock.cutting.layouts.len(), "board"),
            percent(stock.not_billets()),
            percent(stock.waste())
        ),
        0,
    ));
    for layout in &stock.cutting.layouts {
        let Some(board) = stock.demand.stock.get(layout.stock).and_then(|s| plan.rack.get(s.board)) else {
            continue;
        };
        let _ =
            writeln!(out, "  {}, {}", board.name, show.size(&[board.length, board.width, board.thickness]));
        let mut table = Table::new(&[
            ("from the left", Side::Right),
            ("from below", Side::Right),
            ("length", Side::Right),
            ("width", Side::Right),
            ("blank", Side::Left),
        ]);
        for p in &layout.parts {
            let name = stock.demand.items.get(p.item).map_or("", |i| i.id.as_str());
            table.row([
                show.length(p.x),
                show.length(p.y),
                show.length(p.length),
                show.length(p.width),
                name.to_owned(),
            ]);
        }
        out.push_str(&table.text());
        for o in &layout.offcuts {
            let _ = writeln!(out, "    keep the offcut {}", show.size(&[o.length, o.width]));
        }
    }
}

fn shopping(plan: &Plan, show: &Show, out: &mut String) {
    if plan.stock.shopping.is_empty() {
        return;
    }
    title("To buy", out);
    let name = |id: &str| plan.woods.iter().find(|(w, _)| w == id).map_or(id.to_owned(), |w| w.1.clone());
    for p in &plan.stock.shopping {
        let line = match p {
            Purchase::Lumber {
                wood,
                quarters,
                thickness,
                longest,
                widest,
                net_board_feet,
                board_feet,
                by_rule,
                pieces,
                ..
            } => {
                let sold = quarters
                    .map_or_else(|| format!("at least {} flat", show.length(*thickness)), |q| format!("{q}"));
                format!(
                    "{}, {sold}: {board_feet:.2} board feet with waste ({net_board_feet:.2} net), thickness × width × length ÷ 12; {by_rule:.1} by the NHLA rule of whole feet of surface measure. {}; the longest {}, the widest {}.",
                    name(wood),
                    count_of(*pieces, "blank"),
                    show.in_both(*longest),
                    show.in_both(*widest)
                )
            }
            Purchase::Sheet { id, thickness, area, largest, pieces } => format!(
                "{}, {} thick: {:.0} cm² net in {}; the largest {}.",
                name(id),
                show.in_both(*thickness),
                area.to_mm2() / 100.0,
                count_of(*pieces, "piece"),
                show.size(&[largest.0, largest.1])
            ),
            Purchase::Veneer { wood, area, pieces } => format!(
                "{} veneer: {:.0} cm² in {}.",
                name(wood),
                area.to_mm2() / 100.0,
                count_of(*pieces, "leaf kind")
            ),
        };
        out.push_str(&paragraph(&line, 2));
    }
}

fn setups(plan: &Plan, show: &Show, out: &mut String) {
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
        let angle = |a: keepwright_model::units::Angle| {
            if a.to_degrees().abs() < 1e-6 { String::new() } else { format!("{:.2}°", a.to_degrees()) }
        };
        let mut names: Vec<String> = Vec::new();
        for m in &s.members {
            let n = format!("{} ×{}", m.name, m.count);
            if !names.contains(&n) {
                names.push(n);
            }
        }
        table.row([
            (i + 1).to_string(),
            s.purpose.words().to_owned(),
            s.distance().map_or_else(String::new, |d| show.length(d)),
            s.height().filter(|h| h.to_mm() > 0.0).map_or_else(String::new, |h| show.length(h)),
            angle(s.tilt),
            angle(s.gauge),
            names.join(", "),
        ]);
    }
    out.push_str(&table.text());
}

fn fit_and_seasons(plan: &Plan, show: &Show, out: &mut String) {
    title("Will it close", out);
    let ring = |what: &str, ring: Option<&Ring>, out: &mut String| {
        let Some(r) = ring else { return };
        let gap = r.spread();
        out.push_str(&paragraph(
            &format!(
                "{what}: a miter is typically {:.2} mm open and hardly ever more than {:.2} mm; with all corners but one pulled tight the last misses by typically {:.2} mm.",
                gap.typical().to_mm(),
                gap.worst().to_mm(),
                r.last.typical().to_mm()
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
    for (name, f) in &plan.living.floats {
        out.push_str(&paragraph(
            &format!(
                "{name}: cut it {} wide today and leave {} on each side.",
                show.in_both(f.width),
                show.in_both(f.gap_today)
            ),
            2,
        ));
    }
}

fn bench(plan: &Plan, show: &Show, out: &mut String) {
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

fn money(plan: &Plan, show: &Show, out: &mut String) {
    title("Time and price", out);
    let batch = plan.statement.count;
    out.push_str(&paragraph(
        &format!(
            "{} of work for one box{}; {} each.",
            Show::time(plan.timing.per_box),
            if batch > 1 {
                format!(" in the batch of {batch} ({} alone)", Show::time(plan.timing_single.per_box))
            } else {
                String::new()
            },
            show.money(plan.price.price)
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

fn timeline(plan: &Plan, out: &mut String) {
    let Some(s) = &plan.schedule else { return };
    title("Timeline", out);
    out.push_str(&paragraph(&format!("From {} to {}.", s.first, s.last), 0));
    let mut table = Table::new(&[("from", Side::Left), ("to", Side::Left), ("what", Side::Left)]);
    for e in &s.events {
        table.row([e.first.to_string(), e.last.to_string(), e.title.clone()]);
    }
    out.push_str(&table.text());
}
