//! `keepwright new`: asks a few questions or takes flags, and writes a first statement.

use super::ask::{choice, question};
use crate::desk::Desk;
use crate::failure::{Failure, Verdict};
use crate::input::Source;
use crate::job::plannable;
use clap::{Args, ValueEnum};
use keepwright_model::design::{Defaults, Statement, read_statement, write_statement};
use keepwright_model::units::{LengthUnit, parse_length_in};
use keepwright_model::wood;
use std::fmt::Write as _;
use std::fs::OpenOptions;
use std::io::{self, IsTerminal, Write as _};
use std::path::{Path, PathBuf};

/// Write a first statement of a box, from flags or a few questions
///
/// What the flags leave open is asked on a terminal; elsewhere the size and the wood must be given.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  keepwright new pencils.toml --name 'Pencil box' --outside '9 x 4 1/2 x 2 3/4' --units in --wood cherry --lid slab"
)]
pub(crate) struct New {
    /// The file to write, or - for standard output
    file: PathBuf,
    /// What the box is called
    #[arg(long)]
    name: Option<String>,
    /// Unit of numbers that name none
    #[arg(long, value_enum)]
    units: Option<Unit>,
    /// Outside size: length x depth x height
    #[arg(long, value_name = "SIZE", conflicts_with = "inside", allow_hyphen_values = true)]
    outside: Option<String>,
    /// Inside size: length x depth x height
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true)]
    inside: Option<String>,
    /// Wood of the walls
    #[arg(long)]
    wood: Option<String>,
    /// Thickness of the walls
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    thickness: Option<String>,
    /// Joint at the corners
    #[arg(long, value_enum)]
    joint: Option<Joint>,
    /// Wood of keys or tongues
    #[arg(long, value_name = "WOOD")]
    joint_wood: Option<String>,
    /// Kind of lid
    #[arg(long, value_enum)]
    lid: Option<LidChoice>,
    /// What the bottom is made of
    #[arg(long, value_enum)]
    bottom: Option<BottomChoice>,
    /// How many alike
    #[arg(long)]
    count: Option<u32>,
    /// Ask nothing: take the usual for whatever the flags leave open
    #[arg(long)]
    no_questions: bool,
    /// Overwrite a file that is there
    #[arg(long)]
    force: bool,
}

/// A unit of length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Unit {
    /// Millimeters
    Mm,
    /// Inches
    In,
}

impl Unit {
    /// As the model has it.
    pub(crate) const fn length_unit(self) -> LengthUnit {
        match self {
            Self::Mm => LengthUnit::Millimeter,
            Self::In => LengthUnit::Inch,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
#[expect(clippy::enum_variant_names, reason = "a finger joint is called that in the trade")]
enum Joint {
    /// Plain miters
    Miter,
    /// Miters with keys let in from outside
    KeyedMiter,
    /// Miters with a hidden loose tongue
    LooseTongue,
    /// Finger joints
    FingerJoint,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum LidChoice {
    /// An open box
    None,
    /// A mitered frame with a panel
    Frame,
    /// One slab
    Slab,
    /// Sawn from the glued-up box
    Sawn,
    /// Sliding in grooves
    Sliding,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum BottomChoice {
    /// Plywood in a rabbet
    Sheet,
    /// Solid wood, floating in a groove
    Solid,
}

impl New {
    /// Asks what is missing and writes the file.
    ///
    /// # Errors
    /// When something needed is missing or cannot be read, or the file is there already or cannot be written.
    pub(super) fn run(mut self, desk: &mut Desk) -> Result<Verdict, Failure> {
        let to_file = self.file.as_os_str() != "-";
        if to_file && self.file.exists() && !self.force {
            return Err(already_there(&self.file));
        }
        if !self.no_questions && io::stdin().is_terminal() {
            self.ask(desk)?;
        }
        self.complete()?;
        let source = Source { name: "the statement as answered".to_owned(), text: self.draft() };
        let statement = read_statement(&source.text, &Defaults::default(), &wood::named)
            .map_err(|problems| source.problems(&problems))?;
        plannable(&source, &statement)?;
        let text = with_comments(&write_statement(&statement, self.unit()), &statement);
        if !to_file {
            desk.data(&text)?;
            return Ok(Verdict::Fine);
        }
        write_new(&self.file, &text, self.force)?;
        let file = self.file.display();
        desk.talk(&format!("wrote {file}; `keepwright check {file}` says what to know about it\n"))?;
        Ok(Verdict::Fine)
    }

    fn unit(&self) -> LengthUnit {
        self.units.unwrap_or(Unit::Mm).length_unit()
    }

    /// Asks for what the flags left open.
    fn ask(&mut self, desk: &mut Desk) -> Result<(), Failure> {
        if self.name.is_none() {
            self.name = Some(question(desk, "What is the box called?", "Box", |_| Ok(()))?);
        }
        if self.units.is_none() {
            self.units = Some(choice(desk, "Unit of your numbers", Unit::Mm)?);
        }
        let unit = self.unit();
        if self.outside.is_none() && self.inside.is_none() {
            let usual = if unit == LengthUnit::Inch { "9 x 5 x 3" } else { "230 x 130 x 75" };
            let prompt = "Outside size, length x depth x height?";
            self.outside = Some(question(desk, prompt, usual, |t| sides(t, unit))?);
        }
        if self.wood.is_none() {
            self.wood = Some(question(desk, "Wood of the walls?", "cherry", known_wood)?);
        }
        if self.thickness.is_none() {
            let length = |t: &str| parse_length_in(t, unit).map(|_| ()).map_err(|e| e.to_string());
            self.thickness = Some(question(desk, "Thickness of the walls?", "3/8 in", length)?);
        }
        if self.joint.is_none() {
            self.joint = Some(choice(desk, "Joint at the corners", Joint::Miter)?);
        }
        let keyed = matches!(self.joint, Some(Joint::KeyedMiter | Joint::LooseTongue));
        if keyed && self.joint_wood.is_none() {
            let walls = self.wood.clone().unwrap_or_default();
            self.joint_wood = Some(question(desk, "Wood of the keys or tongues?", &walls, known_wood)?);
        }
        if self.bottom.is_none() {
            self.bottom = Some(choice(desk, "Bottom", BottomChoice::Sheet)?);
        }
        if self.lid.is_none() {
            self.lid = Some(choice(desk, "Lid", LidChoice::Frame)?);
        }
        Ok(())
    }

    /// Refuses what nobody can guess: size and wood.
    fn complete(&self) -> Result<(), Failure> {
        let mut missing = Vec::new();
        if self.outside.is_none() && self.inside.is_none() {
            missing.push("--outside or --inside");
        }
        if self.wood.is_none() {
            missing.push("--wood");
        }
        if missing.is_empty() {
            return Ok(());
        }
        Err(Failure::input(
            format!("{} not given, and nobody is there to ask", missing.join(" and ")),
            "give the flags, such as --outside '230 x 130 x 75 mm' --wood cherry, or run this in a terminal",
        ))
    }

    /// The answers as the text of a statement; read and written again, so that only what is unusual stays.
    fn draft(&self) -> String {
        let mut out = String::from("keepwright = 1\n");
        // Writing into a string cannot fail.
        let _ = writeln!(out, "name = {}", quoted(self.name.as_deref().unwrap_or("Box")));
        if let Some(count) = self.count {
            let _ = writeln!(out, "count = {count}");
        }
        let _ =
            writeln!(out, "units = {}", if self.unit() == LengthUnit::Inch { "\"in\"" } else { "\"mm\"" });
        let (key, size) = match (&self.outside, &self.inside) {
            (None, Some(inside)) => ("inside", inside.as_str()),
            (outside, _) => ("outside", outside.as_deref().unwrap_or_default()),
        };
        let parts = split_size(size);
        let names = ["length", "depth", "height"];
        let fields: Vec<String> =
            names.iter().zip(&parts).map(|(n, v)| format!("{n} = {}", quoted(v))).collect();
        let _ = writeln!(out, "[size]\n{key} = {{ {} }}", fields.join(", "));
        let _ = writeln!(out, "[walls]\nwood = {}", quoted(self.wood.as_deref().unwrap_or("")));
        if let Some(thickness) = &self.thickness {
            let _ = writeln!(out, "thickness = {}", quoted(thickness));
        }
        let joint = match self.joint.unwrap_or(Joint::Miter) {
            Joint::Miter => "miter",
            Joint::KeyedMiter => "keyed miter",
            Joint::LooseTongue => "loose tongue",
            Joint::FingerJoint => "finger joint",
        };
        let _ = writeln!(out, "[corners]\njoint = {}", quoted(joint));
        if let Some(wood) = &self.joint_wood {
            let _ = writeln!(out, "wood = {}", quoted(wood));
        }
        if self.bottom == Some(BottomChoice::Solid) {
            let _ = writeln!(
                out,
                "[bottom]\nhold = \"groove\"\nwood = {}",
                quoted(self.wood.as_deref().unwrap_or(""))
            );
        }
        let lid = match self.lid.unwrap_or(LidChoice::None) {
            LidChoice::None => return out,
            LidChoice::Frame => "frame",
            LidChoice::Slab => "slab",
            LidChoice::Sawn => "sawn",
            LidChoice::Sliding => "sliding",
        };
        let _ = writeln!(out, "[lid]\nkind = {}", quoted(lid));
        out
    }
}

/// The three parts of a size: `9 x 4 1/2 x 2 3/4`; a unit named only at the end counts for all three.
fn split_size(size: &str) -> Vec<String> {
    let mut parts: Vec<String> =
        size.split(['x', 'X', '×']).map(|p| p.trim().to_owned()).filter(|p| !p.is_empty()).collect();
    let unit = parts.last().map(|last| last.chars().skip_while(|c| !c.is_alphabetic()).collect::<String>());
    if let Some(unit) = unit.filter(|u| !u.is_empty()) {
        let named = |p: &String| p.chars().any(|c| c.is_alphabetic() || "\"'′″".contains(c));
        if parts.iter().rev().skip(1).all(|p| !named(p)) {
            for part in parts.iter_mut().rev().skip(1) {
                *part = format!("{part} {unit}");
            }
        }
    }
    parts
}

/// Whether a text is a size.
fn sides(text: &str, unit: LengthUnit) -> Result<(), String> {
    let parts = split_size(text);
    if parts.len() != 3 {
        return Err("write three lengths with an x between, such as 9 x 4 1/2 x 2 3/4".to_owned());
    }
    parts.iter().try_for_each(|p| parse_length_in(p, unit).map(|_| ()).map_err(|e| e.to_string()))
}

/// Whether a wood is known.
fn known_wood(text: &str) -> Result<(), String> {
    wood::named(text).map(|_| ()).map_err(|nearest| {
        if nearest.is_empty() {
            format!("no wood `{text}` is known")
        } else {
            format!("no wood `{text}` is known; did you mean {}?", nearest.join(" or "))
        }
    })
}

/// A text as TOML wants it.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// The written statement with a line above each section that says what else may stand in it.
fn with_comments(text: &str, statement: &Statement) -> String {
    let mut out = format!(
        "# {}: what is left out is the usual; docs/statement.md lists every key.\n",
        statement.name.replace(char::is_control, " ")
    );
    for line in text.lines() {
        let about = match line {
            "[size]" => "# One of outside, inside and contents.",
            "[walls]" => {
                "# Also: rings, from (one strip, bookmatched pair, loose boards), ends, closing_corner."
            }
            "[corners]" => "# joint: miter, keyed miter, loose tongue, finger joint.",
            "[bottom]" => "# hold: rabbet, groove, ledge; made of wood, strips, sheet or veneered.",
            "[lid]" => {
                "# kind: none, frame, slab, sawn, sliding; registration: none, lip, rabbet, lining, hinges."
            }
            "[finish]" => "# none, oil, wax, oil and wax, shellac, wiping varnish, water borne.",
            _ => "",
        };
        if !about.is_empty() {
            out.push_str(about);
            out.push('\n');
        }
        out.push_str(line);
        out.push('\n');
    }
    out
}

fn already_there(path: &Path) -> Failure {
    Failure::input(
        format!("{} is there already and is left as it is", path.display()),
        "give another name, or --force to overwrite it",
    )
}

/// Writes a file; without `force` it must not be there, not even since it was looked for.
fn write_new(path: &Path, text: &str, force: bool) -> Result<(), Failure> {
    let mut options = OpenOptions::new();
    options.write(true);
    if force {
        options.create(true).truncate(true);
    } else {
        options.create_new(true);
    }
    options.open(path).and_then(|mut f| f.write_all(text.as_bytes())).map_err(|error| {
        if error.kind() == io::ErrorKind::AlreadyExists {
            already_there(path)
        } else {
            Failure::input(
                format!("{} cannot be written: {error}", path.display()),
                "check the folder and its rights, or give another one",
            )
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_may_name_its_unit_once() {
        for (size, want) in [
            ("9 x 4 1/2 x 2 3/4", vec!["9", "4 1/2", "2 3/4"]),
            ("230x130×75 mm", vec!["230 mm", "130 mm", "75 mm"]),
            ("9 in x 4 in x 70 mm", vec!["9 in", "4 in", "70 mm"]),
            ("9\" x 4\" x 70 mm", vec!["9\"", "4\"", "70 mm"]),
            ("", vec![]),
        ] {
            assert_eq!(split_size(size), want, "{size}");
        }
    }

    #[test]
    fn any_text_is_quoted_for_toml() {
        for text in ["plain", "7\"", "back\\slash", "line\nbreak", "é\u{7}"] {
            let draft = format!(
                "keepwright = 1\nname = {}\n[size]\noutside = {{length=9,depth=9,height=9}}\n[walls]\nwood=\"cherry\"",
                quoted(text)
            );
            let problems = read_statement(&draft, &Defaults { length_unit: LengthUnit::Inch }, &wood::named);
            assert_eq!(problems.map(|s| s.name), Ok(text.to_owned()), "{draft}");
        }
    }
}
