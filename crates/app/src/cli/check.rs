//! `keepwright check`: what to know about a box before wood is cut.

use crate::columns::paragraph;
use crate::desk::Desk;
use crate::failure::{Failure, Verdict};
use crate::job::JobArgs;
use crate::report;
use clap::Args;

/// Say what is wrong with a box, or what to know about it
#[derive(Debug, Args)]
pub(crate) struct Check {
    #[command(flatten)]
    job: JobArgs,
}

impl Check {
    /// Plans the box and prints its cautions.
    ///
    /// # Errors
    /// When the box cannot be planned.
    pub(super) fn run(&self, desk: &mut Desk) -> Result<Verdict, Failure> {
        let job = self.job.plan()?;
        let plan = &job.plan;
        let cautions = report::to_know(plan);
        let mut out = paragraph(&format!("{}: {}.", plan.statement.name, report::tally(&cautions)), 0);
        if !cautions.is_empty() {
            out.push('\n');
            out.push_str(&report::cautions(&cautions, &job.show));
        }
        desk.data(&out)?;
        Ok(Verdict::of(plan.worst(), self.job.fail_on()))
    }
}
