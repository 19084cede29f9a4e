//! What stops a command, in words, and the exit code that each ends in: the only place that knows the codes.

use keepwright_model::caution::Weight;
use std::process::ExitCode;

/// All is well, or no caution is as grave as asked for.
const FINE: u8 = 0;
/// Cautions at the weight asked for with `--fail-on`, or graver.
const CAUTIONS: u8 = 1;
/// Bad input: a file, a value or a folder that cannot be used, or a mistake on the command line.
pub(crate) const BAD_INPUT: u8 = 2;

/// The codes as the help and the man page print them.
pub(crate) const CODES: &str = "\
Exit codes:
  0  fine
  1  there are cautions at the weight asked for with --fail-on, or graver
  2  bad input: the command line, a file, a value in it, or a place that cannot be written";

/// Why a command could not do its work.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    /// Something that the maker gave cannot be used.
    #[error("keepwright: {says}\n  remedy: {remedy}\n")]
    Input {
        /// What is wrong, with the value given.
        says: String,
        /// What to do about it.
        remedy: String,
    },
    /// Problems in a file, already set out with their places.
    #[error("{0}")]
    Problems(String),
    /// Something cannot be written.
    #[error("keepwright: {says}\n")]
    Output {
        /// What is wrong.
        says: String,
    },
    /// Whoever read standard output has gone: `keepwright plan box.toml | head`.
    #[error("")]
    OutputClosed,
}

impl Failure {
    /// Something given that cannot be used.
    pub(crate) fn input(says: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::Input { says: says.into(), remedy: remedy.into() }
    }

    /// What to say on standard error.
    pub(crate) fn text(&self) -> String {
        self.to_string()
    }

    /// The exit code.
    pub(crate) fn code(&self) -> ExitCode {
        ExitCode::from(match self {
            Self::OutputClosed => FINE,
            Self::Input { .. } | Self::Problems(_) | Self::Output { .. } => BAD_INPUT,
        })
    }
}

/// How a command that did its work ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// Nothing to complain of.
    Fine,
    /// Cautions as grave as asked for.
    Cautions,
}

impl Verdict {
    /// By the gravest caution found and the weight to fail on, if one was asked for.
    pub(crate) fn of(worst: Option<Weight>, fail_on: Option<Weight>) -> Self {
        match (worst, fail_on) {
            (Some(worst), Some(limit)) if worst >= limit => Self::Cautions,
            _ => Self::Fine,
        }
    }

    /// The exit code.
    pub(crate) fn code(self) -> ExitCode {
        ExitCode::from(match self {
            Self::Fine => FINE,
            Self::Cautions => CAUTIONS,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fails_only_on_what_was_asked_for() {
        use Weight::{Cannot, LikelyToFail, WorthKnowing};
        for (worst, fail_on, want) in [
            (None, None, Verdict::Fine),
            (Some(Cannot), None, Verdict::Fine),
            (None, Some(WorthKnowing), Verdict::Fine),
            (Some(WorthKnowing), Some(LikelyToFail), Verdict::Fine),
            (Some(LikelyToFail), Some(LikelyToFail), Verdict::Cautions),
            (Some(Cannot), Some(WorthKnowing), Verdict::Cautions),
        ] {
            assert_eq!(Verdict::of(worst, fail_on), want, "{worst:?} {fail_on:?}");
        }
    }
}
