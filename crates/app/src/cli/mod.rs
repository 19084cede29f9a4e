//! The command line: what may be asked, one file for each subcommand.

mod ask;
mod bench;
mod check;
mod complete;
mod man;
pub(crate) mod new;
mod packet;
mod plan;
mod why;
mod words;

use crate::desk::Desk;
use crate::failure::{CODES, Failure, Verdict};
use clap::{Parser, Subcommand};

/// How wide help is printed, whatever the terminal.
const HELP_WIDTH: usize = 100;

/// From a stated box and a rack of boards to everything the bench needs.
#[derive(Debug, Parser)]
#[command(
    name = "keepwright",
    version,
    about = "The whole job of making a fine wooden box, from stated box and rack of boards to shop packet",
    long_about = "States a box, finds its parts, cuts them from the boards on the rack, orders the set-ups at the saw, \
                  judges how the box closes and lives through the seasons, and reckons glue, finish, time and price.\n\n\
                  What was asked for is written to standard output; talk goes to standard error.",
    after_help = CODES,
    after_long_help = CODES,
    term_width = HELP_WIDTH,
    disable_help_subcommand = true,
    subcommand_help_heading = "Commands"
)]
pub(crate) struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    Bench(bench::BenchArgs),
    New(new::New),
    Check(check::Check),
    Plan(Box<plan::Plan>),
    Packet(Box<packet::Packet>),
    Why(Box<why::Why>),
    Words(words::Words),
    Completions(complete::Completions),
    Man(man::Man),
}

/// Does what was asked.
///
/// # Errors
/// Whatever stops the subcommand.
pub(crate) fn run(cli: Cli, desk: &mut Desk) -> Result<Verdict, Failure> {
    match cli.command {
        None => bench::BenchArgs::default().run(desk),
        Some(Command::Bench(asked)) => asked.run(desk),
        Some(Command::New(asked)) => asked.run(desk),
        Some(Command::Check(asked)) => asked.run(desk),
        Some(Command::Plan(asked)) => asked.run(desk),
        Some(Command::Packet(asked)) => asked.run(desk),
        Some(Command::Why(asked)) => asked.run(desk),
        Some(Command::Words(asked)) => asked.run(desk),
        Some(Command::Completions(asked)) => asked.run(desk),
        Some(Command::Man(man::Man {})) => man::Man::run(desk),
    }
}
