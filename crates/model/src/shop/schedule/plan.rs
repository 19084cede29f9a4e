//! Forward from a start, backward from a due date.

use super::super::say::{caution, reason};
use super::day::{Day, Moment, Week, whole};
use super::{Continuity, Task};
use crate::caution::{Caution, Change, Checked, Weight};
use crate::reason::{Basis, Reason, Value};
use crate::units::Minutes;

/// Why there is no timeline.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ScheduleError {
    /// The week has no working day or no working hours.
    #[error("the shop's week has no working time: name at least one working day and its hours")]
    NoWorkingTime,
    /// A task waits for a task that is not in the list.
    #[error("{title} waits for task number {after}, and there are only {tasks}")]
    NoSuchTask {
        /// The waiting task.
        title: String,
        /// What it waits for.
        after: usize,
        /// How many tasks there are.
        tasks: usize,
    },
    /// Tasks wait for each other in a ring.
    #[error("{title} waits, by way of other tasks, for itself")]
    Ring {
        /// One of the tasks in or behind the ring.
        title: String,
    },
}

/// What held a task back until it began.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Because {
    /// Nothing: it begins with the job.
    Start,
    /// This task had to be done and waited for.
    After(usize),
    /// The maker was busy with this task.
    Busy(usize),
}

/// A task with its dates.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Booked {
    /// Index of the task.
    pub task: usize,
    /// Hands on.
    pub start: Moment,
    /// Hands off.
    pub end: Moment,
    /// End of its wait.
    pub ready: Moment,
    /// What held it back.
    pub because: Because,
}

/// An entry for a calendar of whole days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// Stable key, unique in the timeline.
    pub key: String,
    /// What happens.
    pub title: String,
    /// First day.
    pub first: Day,
    /// Last day, included.
    pub last: Day,
    /// A note.
    pub note: String,
}

/// The dated timeline.
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// The tasks in the order they are begun.
    pub booked: Vec<Booked>,
    /// The day on which the first task begins.
    pub first: Day,
    /// The day on which the last wait ends.
    pub last: Day,
    /// Hands-on time of all tasks.
    pub hands_on: Minutes,
    /// From the first minute to the last, by the clock.
    pub elapsed: Minutes,
    /// The chain of tasks that fixes the end: each held back the next.
    pub critical: Vec<usize>,
    /// The calendar's entries, by day.
    pub events: Vec<Event>,
    /// How the dates came about.
    pub reasons: Vec<Reason>,
}

/// A task that begins within so many minutes of the earliest possible may be preferred if more hangs on it.
const LOOK_AHEAD: [i64; 4] = [0, 30, 120, 360];

/// The timeline from a start day: each task as early as one pair of hands, the order and the waits allow.
///
/// # Errors
/// [`ScheduleError`] for a closed shop or an impossible order.
pub fn forward(tasks: &[Task], week: &Week, start: Day) -> Result<Checked<Schedule>, ScheduleError> {
    let tails = tails(tasks, week)?;
    let booked = best(tasks, week, start, &tails);
    Ok(Checked { value: finish(tasks, booked, start), cautions: too_long(tasks, week) })
}

/// The timeline that begins as late as it can and still ends, waits and all, on or before the due day; `today` is
/// for the caution when it would have had to begin before.
///
/// # Errors
/// As [`forward`].
pub fn backward(
    tasks: &[Task],
    week: &Week,
    due: Day,
    today: Option<Day>,
) -> Result<Checked<Schedule>, ScheduleError> {
    let tails = tails(tasks, week)?;
    let ends = |start: Day| best(tasks, week, start, &tails);
    let last = |booked: &[Booked]| last_ready(booked).map_or(due, Moment::day);
    // Nothing ends later by beginning earlier, so step back by what is still over, then forward again.
    let mut start = due;
    let mut booked = ends(start);
    for _ in 0..64 {
        let over = last(&booked).to_days() - due.to_days();
        if over <= 0 {
            break;
        }
        start = start.plus(-over);
        booked = ends(start);
    }
    // Days off between may let a later start end just as early.
    for later in 1..=14 {
        let trial = ends(start.plus(later));
        if last(&trial) <= due {
            booked = trial;
        }
    }
    let schedule = finish(tasks, booked, due);
    let mut cautions = too_long(tasks, week);
    if last_is_over(&schedule, due) {
        cautions.push(caution(
            ("does-not-end-in-time", Weight::Cannot),
            "timeline",
            format!("No start brings the job to its end by {due}."),
            [],
            (Basis::Derived("the shop's working days"), None),
        ));
    }
    if let Some(today) = today.filter(|t| schedule.first < *t) {
        cautions.push(starts_in_the_past(&schedule, due, today));
    }
    Ok(Checked { value: schedule, cautions })
}

fn last_is_over(schedule: &Schedule, due: Day) -> bool {
    schedule.last > due
}

fn starts_in_the_past(schedule: &Schedule, due: Day, today: Day) -> Caution {
    let days = today.to_days() - schedule.first.to_days();
    caution(
        ("starts-in-the-past", Weight::Cannot),
        "timeline",
        format!(
            "To be done and cured by {due} the job should have begun on {}, {days} days before {today}.",
            schedule.first
        ),
        [("days too late", Value::Count(u64::try_from(days).unwrap_or(0)))],
        (
            Basis::Derived("working back from the due date through the waits"),
            Some(Change::words(format!(
                "Promise it {days} days or more later, make fewer in this batch, or take a finish with shorter waits"
            ))),
        ),
    )
}

fn too_long(tasks: &[Task], week: &Week) -> Vec<Caution> {
    let long = |t: &&Task| t.continuity == Continuity::InOneGo && whole(t.hands_on) > week.length();
    let one = |t: &Task| {
        caution(
            ("longer-than-a-day", Weight::LikelyToFail),
            t.title.clone(),
            format!(
                "It cannot pause and takes {:.0} minutes; a working day has {}.",
                t.hands_on.value(),
                week.length()
            ),
            [("hands-on", Value::Minutes(t.hands_on))],
            (
                Basis::Derived("the shop's working hours"),
                Some(Change::words("Make fewer in this batch, or split the task")),
            ),
        )
    };
    tasks.iter().filter(long).map(one).collect()
}

/// For each task the least time from its start to the end of everything that hangs on it, nights counted.
fn tails(tasks: &[Task], week: &Week) -> Result<Vec<i64>, ScheduleError> {
    if !week.is_open() {
        return Err(ScheduleError::NoWorkingTime);
    }
    for t in tasks {
        if let Some(&after) = t.after.iter().find(|&&a| a >= tasks.len()) {
            return Err(ScheduleError::NoSuchTask { title: t.title.clone(), after, tasks: tasks.len() });
        }
    }
    // Walk from the ends: a task is settled when all that wait for it are.
    let mut waiting_for: Vec<usize> = vec![0; tasks.len()];
    for &a in tasks.iter().flat_map(|t| &t.after) {
        waiting_for[a] += 1;
    }
    let mut behind = vec![0i64; tasks.len()];
    let mut tails = vec![0i64; tasks.len()];
    let mut open: Vec<usize> = (0..tasks.len()).filter(|&i| waiting_for[i] == 0).collect();
    let mut settled = 0;
    let stretch = 24 * 60 / week.length().max(1);
    while let Some(i) = open.pop() {
        settled += 1;
        tails[i] = whole(tasks[i].hands_on) * stretch.max(1)
            + whole(tasks[i].between) * i64::from(tasks[i].rounds.saturating_sub(1))
            + whole(tasks[i].wait)
            + behind[i];
        for &a in &tasks[i].after {
            behind[a] = behind[a].max(tails[i]);
            waiting_for[a] -= 1;
            if waiting_for[a] == 0 {
                open.push(a);
            }
        }
    }
    if settled < tasks.len() {
        let title = tasks
            .iter()
            .zip(&waiting_for)
            .find(|(_, w)| **w > 0)
            .map_or(String::new(), |(t, _)| t.title.clone());
        return Err(ScheduleError::Ring { title });
    }
    Ok(tails)
}

/// The best of a few rules for what to do next.
fn best(tasks: &[Task], week: &Week, start: Day, tails: &[i64]) -> Vec<Booked> {
    LOOK_AHEAD
        .iter()
        .map(|ahead| book(tasks, week, start, (tails, *ahead)))
        .min_by_key(|booked| last_ready(booked))
        .unwrap_or_default()
}

fn last_ready(booked: &[Booked]) -> Option<Moment> {
    booked.iter().map(|b| b.ready).max()
}

fn book(tasks: &[Task], week: &Week, start: Day, (tails, ahead): (&[i64], i64)) -> Vec<Booked> {
    let begin = Moment::on(start, 0);
    let mut done: Vec<Option<Booked>> = vec![None; tasks.len()];
    let mut order: Vec<Booked> = Vec::with_capacity(tasks.len());
    while order.len() < tasks.len() {
        let hands = order.last().map(|b| (b.end, b.task));
        let candidates: Vec<Booked> = (0..tasks.len())
            .filter(|&i| done[i].is_none())
            .filter_map(|i| place(tasks, week, &done, (i, begin, hands)))
            .collect();
        let Some(earliest) = candidates.iter().map(|b| b.start).min() else { break };
        let within = candidates.into_iter().filter(|b| b.start.since(earliest) <= ahead);
        let Some(next) = within.max_by_key(|b| (tails[b.task], core::cmp::Reverse(b.task))) else { break };
        done[next.task] = Some(next);
        order.push(next);
    }
    order
}

/// Where a task would go now; `None` while one that it waits for is not booked.
fn place(
    tasks: &[Task],
    week: &Week,
    done: &[Option<Booked>],
    (i, begin, hands): (usize, Moment, Option<(Moment, usize)>),
) -> Option<Booked> {
    let task = &tasks[i];
    let (mut from, mut because) = (begin, Because::Start);
    for &a in &task.after {
        let before = done[a]?;
        if before.ready > from {
            (from, because) = (before.ready, Because::After(a));
        }
    }
    if let Some((free, busy)) = hands
        && free > from
    {
        (from, because) = (free, Because::Busy(busy));
    }
    let (need, rounds) = (whole(task.hands_on), i64::from(task.rounds.max(1)));
    if need == 0 {
        let ready = from.plus(whole(task.wait));
        return Some(Booked { task: i, start: from, end: from, ready, because });
    }
    let round = |r: i64| need * (r + 1) / rounds - need * r / rounds;
    let (start, mut end) = work(week, from, round(0), task.continuity);
    for r in 1..rounds {
        (_, end) = work(week, end.plus(whole(task.between)), round(r), task.continuity);
    }
    Some(Booked { task: i, start, end, ready: end.plus(whole(task.wait)), because })
}

/// Start and end of so many minutes' work, not before a moment.
fn work(week: &Week, from: Moment, mut need: i64, continuity: Continuity) -> (Moment, Moment) {
    let mut at = week.open_at(from);
    if continuity == Continuity::InOneGo && need <= week.length() && need > week.left(at) {
        at = week.open_at(Moment::on(at.day().plus(1), 0));
    }
    let start = at;
    loop {
        let now = need.min(week.left(at));
        need -= now;
        let end = at.plus(now);
        if need == 0 {
            return (start, end);
        }
        at = week.open_at(Moment::on(at.day().plus(1), 0));
    }
}

fn finish(tasks: &[Task], booked: Vec<Booked>, fallback: Day) -> Schedule {
    let first_moment = booked.iter().map(|b| b.start).min();
    let last_moment = last_ready(&booked);
    let first = first_moment.map_or(fallback, Moment::day);
    let last = last_moment.map_or(fallback, Moment::day);
    let elapsed = match (first_moment, last_moment) {
        (Some(a), Some(b)) => b.since(a),
        _ => 0,
    };
    let hands_on: Minutes = tasks.iter().map(|t| t.hands_on).sum();
    let elapsed = Minutes::minutes(elapsed as f64);
    let critical = chain(&booked, tasks.len());
    let reasons = vec![
        reason(
            "time.hands_on",
            "hands-on time",
            "sum over the tasks",
            [("tasks", Value::Count(tasks.len() as u64))],
            (Value::Minutes(hands_on), Basis::Derived("the task list")),
        ),
        reason(
            "time.elapsed",
            "from the first cut to the last cure",
            "the chain that fixes the end, nights and weekends included",
            [
                ("begins", Value::Text(first.to_string())),
                ("ends", Value::Text(last.to_string())),
                ("tasks in the chain", Value::Count(critical.len() as u64)),
            ],
            (Value::Minutes(elapsed), Basis::Derived("one person, the order of the tasks, the waits")),
        ),
    ];
    let events = events(tasks, &booked);
    Schedule { booked, first, last, hands_on, elapsed, critical, events, reasons }
}

/// Back from the task that is ready last, through what held each one back.
fn chain(booked: &[Booked], tasks: usize) -> Vec<usize> {
    let of = |task: usize| booked.iter().find(|b| b.task == task);
    let mut at = booked.iter().max_by_key(|b| (b.ready, core::cmp::Reverse(b.task)));
    let mut chain = Vec::new();
    while let Some(b) = at {
        chain.push(b.task);
        at = match b.because {
            Because::After(t) | Because::Busy(t) if chain.len() < tasks => of(t),
            _ => None,
        };
    }
    chain.reverse();
    chain
}

fn events(tasks: &[Task], booked: &[Booked]) -> Vec<Event> {
    let mut events = Vec::new();
    for b in booked {
        let Some(task) = tasks.get(b.task) else { continue };
        if b.end > b.start {
            events.push(Event {
                key: task.key.clone(),
                title: task.title.clone(),
                first: b.start.day(),
                last: b.end.plus(-1).day(),
                note: task.note.clone(),
            });
        }
        let over_night = b.ready.day() > b.end.day();
        if over_night && b.ready > b.end {
            events.push(Event {
                key: format!("{}.wait", task.key),
                title: if task.wait_for.is_empty() {
                    format!("{}: wait", task.title)
                } else {
                    format!("{}: {}", task.title, task.wait_for)
                },
                first: b.end.day(),
                last: b.ready.day(),
                note: format!("until {}", b.ready),
            });
        }
    }
    events.sort_by(|a, b| (a.first, a.last, &a.key).cmp(&(b.first, b.last, &b.key)));
    events
}

#[cfg(test)]
mod tests;
