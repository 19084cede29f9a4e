//! `keepwright why`: how a number came about.

use crate::columns::{Side, Table, paragraph};
use crate::desk::Desk;
use crate::failure::{Failure, Verdict};
use crate::job::JobArgs;
use crate::show::Show;
use clap::Args;
use keepwright_model::reason::Reason;
use keepwright_model::wood::nearest_of;

/// Say how a number came about: formula in trade words, the values put in, the source
#[derive(Debug, Args)]
#[command(
    after_help = "Without KEY it lists every number it can explain. A KEY may be the beginning of several."
)]
pub(crate) struct Why {
    #[command(flatten)]
    job: JobArgs,
    /// The number to explain, such as key.depth or bottom.width
    key: Option<String>,
}

impl Why {
    /// Lists what can be asked, or explains.
    ///
    /// # Errors
    /// When the box cannot be planned, or nothing is called that.
    pub(super) fn run(&self, desk: &mut Desk) -> Result<Verdict, Failure> {
        let job = self.job.plan()?;
        let reasons = &job.plan.reasons;
        let text = match &self.key {
            None => list(reasons.iter(), &job.show),
            Some(key) => {
                let asked = key.to_lowercase();
                let is_asked = |r: &Reason| r.key.to_lowercase() == asked;
                let exact: Vec<&Reason> = reasons.iter().filter(|r| is_asked(r)).collect();
                let found = if exact.is_empty() {
                    reasons.iter().filter(|r| r.key.to_lowercase().starts_with(&asked)).collect()
                } else {
                    exact
                };
                match found.as_slice() {
                    [] => return Err(unknown(key, reasons)),
                    [one] => explain(one, &job.show),
                    several if several.iter().all(|r| is_asked(r)) => {
                        several.iter().map(|r| explain(r, &job.show)).collect::<Vec<_>>().join("\n")
                    }
                    several => list(several.iter().copied(), &job.show),
                }
            }
        };
        desk.data(&text)?;
        Ok(Verdict::of(job.plan.worst(), self.job.fail_on()))
    }
}

fn unknown(key: &str, reasons: &[Reason]) -> Failure {
    let keys: Vec<&str> = reasons.iter().map(|r| r.key.as_str()).collect();
    let near = nearest_of(key, keys.into_iter(), 3);
    let remedy = if near.is_empty() {
        "leave the key out to see every number that can be explained".to_owned()
    } else {
        format!("did you mean {}? Leave the key out to see them all", near.join(", "))
    };
    Failure::input(format!("no number of this box is called `{key}`"), remedy)
}

fn list<'r>(reasons: impl Iterator<Item = &'r Reason>, show: &Show) -> String {
    let mut table = Table::new(&[("key", Side::Left), ("result", Side::Right), ("what it is", Side::Left)]);
    for r in reasons {
        table.row([r.key.clone(), show.brief(&r.result), r.title.clone()]);
    }
    table.text()
}

fn explain(r: &Reason, show: &Show) -> String {
    let mut out = paragraph(&format!("{}: {}", r.title, show.value(&r.result)), 0);
    out.push_str(&paragraph(&format!("key      {}", r.key), 2));
    out.push_str(&paragraph(&format!("formula  {}", r.formula), 2));
    if !r.given.is_empty() {
        let mut table = Table::new(&[("", Side::Left), ("", Side::Right)]);
        for g in &r.given {
            table.row([format!("  {}", g.name), show.value(&g.value)]);
        }
        out.push_str("  with\n");
        out.push_str(&table.text());
    }
    out.push_str(&paragraph(&format!("source   {}", r.basis), 2));
    out
}
