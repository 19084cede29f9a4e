//! Other programs run as steps, and what is said about them.

use std::ffi::OsString;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

/// How a step ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// All well.
    Passed,
    /// Not run; says why.
    Skipped(String),
    /// Something is wrong; it has been said what.
    Failed,
}

impl From<bool> for Outcome {
    fn from(well: bool) -> Self {
        if well { Self::Passed } else { Self::Failed }
    }
}

/// One line to standard output. A closed pipe is no reason to stop checking.
pub(crate) fn say(text: &str) {
    let _ = writeln!(std::io::stdout(), "{text}");
}

/// The cargo that runs this program, or the one on the path.
fn cargo() -> OsString {
    std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into())
}

/// Whether a cargo subcommand is installed.
pub(crate) fn has(subcommand: &str) -> bool {
    let quiet = Command::new(cargo())
        .args([subcommand, "--version"])
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    quiet.is_ok_and(|status| status.success())
}

/// Runs cargo in the workspace; what it prints goes straight through.
pub(crate) fn run(root: &Path, arguments: &[&str], settings: &[(&str, OsString)]) -> Outcome {
    say(&format!("  cargo {}", arguments.join(" ")));
    let begun = Instant::now();
    let status = Command::new(cargo())
        .args(arguments)
        .envs(settings.iter().map(|(name, value)| (name, value)))
        .current_dir(root)
        .stdin(Stdio::null())
        .status();
    say(&format!("  {:.0} s", begun.elapsed().as_secs_f64()));
    match status {
        Ok(status) => status.success().into(),
        Err(problem) => {
            say(&format!("  cargo could not be started: {problem}"));
            Outcome::Failed
        }
    }
}

/// What git prints, or `None` where there is no git or no repository.
pub(crate) fn git(root: &Path, arguments: &[&str]) -> Option<Vec<u8>> {
    let output = Command::new("git").args(arguments).current_dir(root).stdin(Stdio::null()).output().ok()?;
    output.status.success().then_some(output.stdout)
}
