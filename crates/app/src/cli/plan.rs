//! `keepwright plan`: the whole job as a readable summary, or as JSON.

use crate::desk::Desk;
use crate::failure::{Failure, Verdict};
use crate::job::JobArgs;
use crate::summary;
use clap::Args;

/// Show the whole plan: parts, boards, set-ups, fit, seasons, glue, finish, time, price
#[derive(Debug, Args)]
pub(crate) struct Plan {
    #[command(flatten)]
    job: JobArgs,
    /// The whole plan as JSON (its fields are described in docs/plan-json.md)
    #[arg(long)]
    json: bool,
}

impl Plan {
    /// Plans the box and prints the plan.
    ///
    /// # Errors
    /// When the box cannot be planned.
    pub(super) fn run(&self, desk: &mut Desk) -> Result<Verdict, Failure> {
        let job = self.job.plan()?;
        let text = if self.json {
            keepwright_packet::json::write(&job.plan, &job.today.to_string())
                .map_err(|e| Failure::Output { says: e.to_string() })?
        } else {
            summary::text(&job)
        };
        desk.data(&text)?;
        Ok(Verdict::of(job.plan.worst(), self.job.fail_on()))
    }
}
