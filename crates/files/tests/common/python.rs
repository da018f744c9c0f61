//! The independent renderer runs in the Python environment of all outside checks
//! (tests/requirements.txt); a machine without Python fails the test, it does not
//! skip it.

use std::path::PathBuf;
use std::process::Command;

/// The Python of the environment.
pub fn python() -> PathBuf {
    hangtrue_tests::python().expect("the Python environment")
}

/// Runs a program to its end and returns what it printed.
pub fn run(command: &mut Command) -> String {
    let output = command.output().unwrap_or_else(|e| panic!("{command:?} did not start: {e}"));
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    let complained = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{command:?} failed:\n{said}\n{complained}");
    said
}

/// A folder for what the tests write, under target/.
pub fn out_folder(name: &str) -> PathBuf {
    let folder = hangtrue_tests::workspace_root().join("target/print-tests").join(name);
    std::fs::create_dir_all(&folder).expect("a folder under target/");
    folder
}
