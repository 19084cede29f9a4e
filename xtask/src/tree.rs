//! The files of the repository, read once.

use crate::run::git;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Paths from the root, with slashes, and their text; `None` for what is not text.
#[derive(Debug, Default)]
pub(crate) struct Tree {
    files: BTreeMap<String, Option<String>>,
}

impl Tree {
    /// All files that git knows or would take; without git, all files outside hidden and build folders.
    ///
    /// # Errors
    /// Says which file could not be read.
    pub(crate) fn read(root: &Path) -> Result<Self, String> {
        let names = match git(root, &["ls-files", "-z", "--cached", "--others", "--exclude-standard"]) {
            Some(list) => split(&list),
            None => walk(root)?,
        };
        let mut files = BTreeMap::new();
        // What others wrote is kept as they published it; its checksums are in an ORIGIN.
        for name in names.into_iter().filter(|name| !name.split('/').any(|folder| folder == "vendor")) {
            let path = root.join(&name);
            if path.is_file() {
                let bytes = std::fs::read(&path).map_err(|problem| format!("{name}: {problem}"))?;
                files.insert(name, String::from_utf8(bytes).ok());
            }
        }
        if files.is_empty() { Err("no files found".to_owned()) } else { Ok(Self { files }) }
    }

    /// Every path.
    pub(crate) fn names(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }

    /// Every text with its path.
    pub(crate) fn texts(&self) -> impl Iterator<Item = (&str, &str)> {
        self.files.iter().filter_map(|(name, text)| Some((name.as_str(), text.as_deref()?)))
    }

    /// Every text whose name ends like this, such as `rs`.
    pub(crate) fn ending<'a>(&'a self, ending: &'a str) -> impl Iterator<Item = (&'a str, &'a str)> {
        self.texts().filter(move |(name, _)| name.rsplit_once('.').is_some_and(|(_, e)| e == ending))
    }

    /// The text of one file.
    pub(crate) fn text(&self, name: &str) -> Option<&str> {
        self.files.get(name)?.as_deref()
    }
}

#[cfg(test)]
impl Tree {
    /// A tree of a test: paths and texts.
    pub(crate) fn of(files: &[(&str, &str)]) -> Self {
        let files = files.iter().map(|(name, text)| ((*name).to_owned(), Some((*text).to_owned())));
        Self { files: files.collect() }
    }
}

fn split(list: &[u8]) -> Vec<String> {
    list.split(|byte| *byte == 0)
        .filter(|name| !name.is_empty())
        .map(|name| String::from_utf8_lossy(name).into_owned())
        .collect()
}

/// Build output that a folder without git may hold.
const NOT_OURS: [&str; 3] = ["target", "packet-out", "node_modules"];

fn walk(root: &Path) -> Result<Vec<String>, String> {
    let mut found = Vec::new();
    let mut ahead: Vec<PathBuf> = vec![PathBuf::new()];
    while let Some(folder) = ahead.pop() {
        let entries =
            root.join(&folder).read_dir().map_err(|problem| format!("{}: {problem}", folder.display()))?;
        for entry in entries {
            let entry = entry.map_err(|problem| format!("{}: {problem}", folder.display()))?;
            let name = entry.file_name().to_string_lossy().into_owned();
            let path = folder.join(&name);
            let hidden = name.starts_with('.') && name != ".ci" && name != ".cargo";
            if entry.path().is_dir() {
                if !hidden && !NOT_OURS.contains(&name.as_str()) {
                    ahead.push(path);
                }
            } else {
                let parts: Vec<_> = path.iter().map(|part| part.to_string_lossy()).collect();
                found.push(parts.join("/"));
            }
        }
    }
    Ok(found)
}
