//! The dated timeline: tasks with hands-on time and waits, one person, a working week.

mod day;
mod plan;

pub use day::{Day, DayError, Moment, Week, Weekday};
pub use plan::{Because, Booked, Event, Schedule, ScheduleError, backward, forward};

use crate::units::Minutes;

/// Whether a task may be laid down for the night.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Continuity {
    /// It may pause and go on the next working day.
    MayPause,
    /// Once begun it must be finished: glue is open.
    InOneGo,
}

/// One task: hands-on time, then a wait that needs nobody (glue, finish, rest) and runs through nights and
/// weekends.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// Stable key, such as `glue.box.1`; unique in the list.
    pub key: String,
    /// What is done.
    pub title: String,
    /// Hands-on time of all rounds.
    pub hands_on: Minutes,
    /// How many rounds it is done in, at least one: a batch has more boxes than the shop has clamps.
    pub rounds: u32,
    /// From the end of one round to the next: in clamps. The maker is booked through it, with no other task.
    pub between: Minutes,
    /// Whether a round may pause.
    pub continuity: Continuity,
    /// How long what follows must wait after it.
    pub wait: Minutes,
    /// What the wait is for, such as "glue sets"; empty when there is none.
    pub wait_for: String,
    /// Indices of the tasks that must be done, and waited for, before it begins.
    pub after: Vec<usize>,
    /// A note for the calendar.
    pub note: String,
}
