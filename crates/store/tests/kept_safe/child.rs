//! The test program run again as another process: to be killed, to be another user, to have another disk.

use std::path::Path;
use std::process::Command;

/// Set in the other process; its value is the folder to work in.
const FOLDER: &str = "KEEPWRIGHT_TEST_FOLDER";

/// The folder to work in, if this is the other process.
pub(crate) fn folder() -> Option<std::path::PathBuf> {
    std::env::var_os(FOLDER).map(Into::into)
}

/// The command that runs one test of this program again, in the other process.
pub(crate) fn again(program: &Path, test: &str, folder: &Path) -> Command {
    let mut command = Command::new(program);
    command.args(["--exact", test, "--nocapture", "--test-threads=1"]).env(FOLDER, folder);
    command
}

/// Runs one test of this program again with a small disk of its own at the folder, which only that process sees.
/// As root or with user namespaces; where there is neither, this fails and says so.
#[cfg(target_os = "linux")]
pub(crate) fn again_on_a_small_disk(test: &str, folder: &Path) {
    let program = std::env::current_exe().expect("this program");
    let script =
        r#"mount -t tmpfs -o size=2m tmpfs "$1" && exec "$2" --exact "$3" --nocapture --test-threads=1"#;
    let done = Command::new("unshare")
        .args(["--mount", "--map-root-user", "sh", "-c", script, "sh"])
        .args([folder.as_os_str(), program.as_os_str(), test.as_ref()])
        .env(FOLDER, folder)
        .output()
        .expect("the program `unshare` of util-linux is needed for this test: install it");
    assert!(
        done.status.success() && String::from_utf8_lossy(&done.stdout).contains("1 passed"),
        "in the other process (it needs root or user namespaces):\n{}\n{}",
        String::from_utf8_lossy(&done.stdout),
        String::from_utf8_lossy(&done.stderr)
    );
}
