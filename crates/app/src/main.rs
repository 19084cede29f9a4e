//! The `keepwright` program: parse the command line, dispatch, turn errors into exit codes.

mod cli;
mod columns;
mod desk;
mod failure;
mod input;
mod job;
mod report;
mod show;
mod summary;

use clap::Parser;
use clap::error::ErrorKind;
use cli::Cli;
use desk::Desk;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut desk = Desk::standard();
    let parsed = match Cli::try_parse() {
        Ok(parsed) => parsed,
        Err(refusal) => {
            // Help and version are data that was asked for; everything else is talk about a mistake.
            let asked = matches!(refusal.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
            let text = refusal.render().to_string();
            let written = if asked { desk.data(&text) } else { desk.talk(&text) };
            return match written {
                Ok(()) if asked => ExitCode::SUCCESS,
                _ => ExitCode::from(failure::BAD_INPUT),
            };
        }
    };
    match cli::run(parsed, &mut desk) {
        Ok(verdict) => verdict.code(),
        Err(failure) => {
            // Where not even this can be said, the code still says it.
            let _ = desk.talk(&failure.text());
            failure.code()
        }
    }
}
