//! What the tests of the page need beside cargo: Chromium with its driver, and node for the script's own tests.

use crate::run::{Outcome, say};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A program under any of its names, and the Debian package that has it.
struct Need {
    names: &'static [&'static str],
    package: &'static str,
}

const NEEDS: [Need; 3] = [
    Need { names: &["chromium", "chromium-browser", "google-chrome"], package: "chromium" },
    Need { names: &["chromedriver"], package: "chromium-driver" },
    Need { names: &["node"], package: "nodejs" },
];

/// Sees that all is there; installs what is missing where that is possible without asking (Debian, as root), else says
/// what to install.
pub(crate) fn ready() -> Outcome {
    let missing: Vec<&str> = NEEDS.iter().filter(|n| on_path(n.names).is_none()).map(|n| n.package).collect();
    if missing.is_empty() {
        return Outcome::Passed;
    }
    let wanted = missing.join(" ");
    if on_path(&["apt-get"]).is_some() && is_root() {
        say(&format!("  installing {wanted}"));
        let update = quiet(Command::new("apt-get").args(["update"]));
        let install = quiet(
            Command::new("apt-get")
                .args(["install", "-y", "--no-install-recommends"])
                .args(&missing)
                .env("DEBIAN_FRONTEND", "noninteractive"),
        );
        if update && install && NEEDS.iter().all(|n| on_path(n.names).is_some()) {
            return Outcome::Passed;
        }
    }
    say(&format!(
        "  the tests of the page need {wanted}: apt-get install {wanted}, or your system's packages of it"
    ));
    Outcome::Failed
}

/// The script's own tests.
pub(crate) fn script(root: &Path) -> Outcome {
    let Some(node) = on_path(&["node"]) else {
        say("  node is not installed");
        return Outcome::Failed;
    };
    let mut tests: Vec<PathBuf> = std::fs::read_dir(root.join("crates/web/tests/js"))
        .map(|all| all.flatten().map(|e| e.path()).collect())
        .unwrap_or_default();
    tests.retain(|t| t.to_string_lossy().ends_with(".test.mjs"));
    tests.sort();
    if tests.is_empty() {
        say("  there are no tests of the script in crates/web/tests/js");
        return Outcome::Failed;
    }
    say(&format!("  node --test, {} files", tests.len()));
    let status = Command::new(node).arg("--test").args(tests).current_dir(root).stdin(Stdio::null()).status();
    status.is_ok_and(|s| s.success()).into()
}

fn on_path(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .flat_map(|dir| names.iter().map(move |n| dir.join(n)))
        .find(|file| file.is_file())
}

fn is_root() -> bool {
    let id = Command::new("id").arg("-u").stdin(Stdio::null()).output();
    id.is_ok_and(|out| out.stdout.trim_ascii() == b"0")
}

fn quiet(command: &mut Command) -> bool {
    command.stdin(Stdio::null()).stdout(Stdio::null()).status().is_ok_and(|s| s.success())
}
