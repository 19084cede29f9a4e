//! The program itself, on the demo workshop in a folder of its own.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use tempfile::TempDir;

/// A running bench; stopped at the end.
pub(crate) struct Bench {
    child: Child,
    /// Where it answers, without a slash at the end.
    pub(crate) address: String,
    _folder: TempDir,
}

impl Bench {
    pub(crate) fn start() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mut child = Command::new(env!("CARGO_BIN_EXE_keepwright"))
            .args(["bench", "--port", "0", "--no-browser", "--folder"])
            .arg(folder.path().join("shop"))
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let address =
            line.split_whitespace().find(|w| w.starts_with("http://")).unwrap_or_else(|| panic!("{line:?}"));
        Self { address: address.trim_end_matches('/').to_owned(), child, _folder: folder }
    }

    /// The address of a page.
    pub(crate) fn at(&self, path: &str) -> String {
        format!("{}{path}", self.address)
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
