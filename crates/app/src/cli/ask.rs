//! Questions on a terminal: asked on standard error, answered on standard input.

use crate::desk::Desk;
use crate::failure::Failure;
use clap::ValueEnum;
use std::io::{self, BufRead};

/// One question, asked again until the answer can be used; an empty answer takes the usual.
pub(super) fn question(
    desk: &mut Desk,
    prompt: &str,
    usual: &str,
    check: impl Fn(&str) -> Result<(), String>,
) -> Result<String, Failure> {
    loop {
        desk.talk(&format!("{prompt} [{usual}] "))?;
        let mut line = String::new();
        let read = io::stdin().lock().read_line(&mut line).map_err(|error| {
            Failure::input(
                format!("the answer cannot be read: {error}"),
                "give the flags instead; see --help",
            )
        })?;
        let answer = match line.trim() {
            "" => usual,
            answer => answer,
        };
        match check(answer) {
            Ok(()) => return Ok(answer.to_owned()),
            // The terminal was closed: asking on would never end.
            Err(says) if read == 0 => return Err(Failure::input(says, "give the flags instead; see --help")),
            Err(says) => desk.talk(&format!("  {says}\n"))?,
        }
    }
}

/// One question with a few answers.
pub(super) fn choice<T: ValueEnum + Copy + PartialEq>(
    desk: &mut Desk,
    prompt: &str,
    usual: T,
) -> Result<T, Failure> {
    let name = |v: &T| v.to_possible_value().map(|p| p.get_name().to_owned()).unwrap_or_default();
    let names: Vec<String> = T::value_variants().iter().map(name).collect();
    let asked = format!("{prompt}: {}?", names.join(", "));
    let answer = question(desk, &asked, &name(&usual), |text| {
        T::from_str(&dashed(text), true).map(|_| ()).map_err(|_| format!("write one of {}", names.join(", ")))
    })?;
    Ok(T::from_str(&dashed(&answer), true).unwrap_or(usual))
}

fn dashed(text: &str) -> String {
    text.trim().replace(' ', "-")
}
