//! Reading what the maker gives: files with their limits, and names of woods.

use crate::failure::Failure;
use keepwright_model::design::{
    Defaults, Problem, RackFile, ShopFile, Statement, read_rack, read_shop, read_statement, show_problems,
    text_of,
};
use keepwright_model::units::Currency;
use keepwright_model::wood;
use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// The largest file that is read: a statement of a thousand lines takes a thirtieth of it.
const LARGEST: u64 = 1 << 20;

/// A text file as it was given.
#[derive(Debug)]
pub(crate) struct Source {
    /// What it is called in messages.
    pub(crate) name: String,
    /// What it says.
    pub(crate) text: String,
}

impl Source {
    /// Reads a file, or standard input for `-`.
    ///
    /// # Errors
    /// [`Failure::Input`] if it is not there, not a file, too large or not readable; [`Failure::Problems`] with line
    /// and column if it is not UTF-8.
    pub(crate) fn read(path: &Path) -> Result<Self, Failure> {
        let (name, bytes) = if path.as_os_str() == "-" {
            ("standard input".to_owned(), limited(&mut io::stdin().lock(), "standard input")?)
        } else {
            let name = path.display().to_string();
            let bytes = bytes_of(path, &name)?;
            (name, bytes)
        };
        match text_of(&bytes) {
            Ok(text) => Ok(Self { text: text.to_owned(), name }),
            Err(problems) => {
                let shown = String::from_utf8_lossy(&bytes);
                Err(Failure::Problems(show_problems(&problems, &name, &shown)))
            }
        }
    }

    /// Problems found in it.
    pub(crate) fn problems(&self, problems: &[Problem]) -> Failure {
        Failure::Problems(show_problems(problems, &self.name, &self.text))
    }
}

fn bytes_of(path: &Path, name: &str) -> Result<Vec<u8>, Failure> {
    let refused = |error: &io::Error| match error.kind() {
        ErrorKind::NotFound => Failure::input(
            format!("there is no file {name}"),
            "check the name and the folder; `keepwright new` writes a first statement",
        ),
        ErrorKind::PermissionDenied => {
            Failure::input(format!("{name} may not be read"), "ask for the right to read it, or copy it")
        }
        _ => Failure::input(format!("{name} cannot be read: {error}"), "check the name and the disk"),
    };
    let mut file = File::open(path).map_err(|e| refused(&e))?;
    let about = file.metadata().map_err(|e| refused(&e))?;
    if about.is_dir() {
        return Err(Failure::input(format!("{name} is a folder, not a file"), "give the file in it"));
    }
    if about.len() > LARGEST {
        return Err(Failure::input(
            format!("{name} has {} bytes, but at most 1 MiB ({LARGEST} bytes) is read", about.len()),
            "check that this is the right file",
        ));
    }
    limited(&mut file, name)
}

/// All there is, but never much more than the limit: a pipe does not tell its size beforehand.
fn limited(from: &mut dyn Read, name: &str) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    from.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|error| {
        Failure::input(format!("{name} cannot be read: {error}"), "check the name and the disk")
    })?;
    if bytes.len() as u64 > LARGEST {
        return Err(Failure::input(
            format!("{name} has more than 1 MiB ({LARGEST} bytes), which is the most that is read"),
            "check that this is the right file",
        ));
    }
    Ok(bytes)
}

/// Reads a statement.
///
/// # Errors
/// As [`Source::read`], and every problem in it.
pub(crate) fn statement(path: &Path, defaults: Defaults) -> Result<(Source, Statement), Failure> {
    let source = Source::read(path)?;
    let statement = read_statement(&source.text, &defaults, &wood::named)
        .map_err(|problems| source.problems(&problems))?;
    Ok((source, statement))
}

/// Reads a shop file, if there is one.
///
/// # Errors
/// As [`statement`].
pub(crate) fn shop(path: Option<&PathBuf>) -> Result<Option<(Source, ShopFile)>, Failure> {
    let Some(path) = path else { return Ok(None) };
    let source = Source::read(path)?;
    let file =
        read_shop(&source.text, &Defaults::default()).map_err(|problems| source.problems(&problems))?;
    Ok(Some((source, file)))
}

/// Reads a rack file, if there is one.
///
/// # Errors
/// As [`statement`]; a rack without boards is refused, for an empty rack is left out.
pub(crate) fn rack(
    path: Option<&PathBuf>,
    defaults: Defaults,
    currency: Currency,
) -> Result<Option<RackFile>, Failure> {
    let Some(path) = path else { return Ok(None) };
    let source = Source::read(path)?;
    let file = read_rack(&source.text, &defaults, currency, &wood::named)
        .map_err(|problems| source.problems(&problems))?;
    Ok(Some(file))
}
