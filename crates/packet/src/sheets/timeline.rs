//! The work day by day: on the calendar where a date is given, else in its order with the waits.

use keepwright_model::shop::schedule::{Day, Moment, Schedule, Task};

use super::draft::{Chapter, Draft, numbers, title};
use crate::document::Sheet;
use crate::flow::{Block, Column, Table, Words};
use crate::shown::{capital, counted, hours, minutes};

/// Months, January first.
const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let plan = draft.plan;
    let mut blocks = vec![title("Timeline")];
    match &plan.schedule {
        Some(schedule) => blocks.extend(dated(schedule, &plan.tasks)),
        None => blocks.extend(undated(&plan.tasks)),
    }
    blocks.extend(draft.cautions(Chapter::Timeline));
    Sheet::new("Timeline", blocks)
}

/// `Mon 9 Mar 2026`.
pub(crate) fn day(day: Day) -> String {
    let (year, ..) = day.to_civil();
    format!("{}\u{a0}{year}", short(day))
}

/// `Mon 9 Mar`.
fn short(day: Day) -> String {
    let (_, month, of_month) = day.to_civil();
    let name =
        usize::try_from(month).ok().and_then(|m| MONTHS.get(m.wrapping_sub(1))).copied().unwrap_or("?");
    let week: String = day.weekday().words().chars().take(3).collect();
    format!("{week}\u{a0}{of_month}\u{a0}{name}")
}

fn hour(moment: Moment) -> String {
    let minute = moment.minute();
    format!("{}:{:02}", minute / 60, minute % 60)
}

pub(crate) fn dated(schedule: &Schedule, tasks: &[Task]) -> Vec<Block> {
    let lead = format!(
        "Begun on **{}**, the work ends on **{}**: **{}** at the bench in {}.",
        day(schedule.first),
        day(schedule.last),
        hours(schedule.hands_on),
        minutes(schedule.elapsed)
    );
    let mut before: Option<Day> = None;
    let rows = schedule
        .booked
        .iter()
        .filter_map(|b| {
            let task = tasks.get(b.task)?;
            let fixes = if schedule.critical.contains(&b.task) { "•" } else { "" };
            let date = if before == Some(b.start.day()) { String::new() } else { short(b.start.day()) };
            before = Some(b.start.day());
            let ends = if b.end.day() == b.start.day() {
                hour(b.end)
            } else {
                format!("{} {}", short(b.end.day()), hour(b.end))
            };
            Some(vec![
                Words::bold(date),
                Words::plain(format!("{}–{ends}", hour(b.start))),
                Words::plain(capital(&task.title)),
                Words::plain(hours(task.hands_on)),
                Words::plain(wait(task, Some(b.ready))),
                Words::plain(fixes),
            ])
        })
        .collect();
    let columns = vec![
        Column::narrow("day"),
        Column::narrow("hours"),
        Column::words("work"),
        numbers("hands-on"),
        Column::words("then wait"),
        Column::narrow("fixes the end"),
    ];
    vec![Block::Lead(Words::marked(&lead)), Block::Table(Table::new(columns, rows))]
}

fn wait(task: &Task, ready: Option<Moment>) -> String {
    if task.wait.value() <= 0.0 {
        return String::new();
    }
    let until = ready.map_or_else(String::new, |r| format!(", until {} {}", short(r.day()), hour(r)));
    format!("{}: {}{until}", minutes(task.wait), task.wait_for)
}

pub(crate) fn undated(tasks: &[Task]) -> Vec<Block> {
    let hands_on = tasks.iter().map(|t| t.hands_on).sum();
    let waits = tasks.iter().filter(|t| t.wait.value() > 0.0).count();
    let lead = format!(
        "**{}** in this order take **{}** at the bench, with **{}** between them; give a day to begin or to be done by, and they \
         get dates.",
        counted(tasks.len(), "task", "tasks"),
        hours(hands_on),
        counted(waits, "wait", "waits")
    );
    let rows = tasks
        .iter()
        .enumerate()
        .map(|(i, task)| {
            vec![
                Words::plain((i + 1).to_string()),
                Words::plain(capital(&task.title)),
                Words::plain(hours(task.hands_on)),
                Words::plain(wait(task, None)),
                Words::plain("________"),
            ]
        })
        .collect();
    let columns = vec![
        numbers("no."),
        Column::words("work"),
        numbers("hands-on"),
        Column::words("then wait"),
        Column::narrow("done on"),
    ];
    vec![Block::Lead(Words::marked(&lead)), Block::Table(Table::new(columns, rows))]
}
