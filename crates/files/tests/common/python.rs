//! The independent renderer: a Python environment under target/, its packages
//! pinned in tests/requirements-print.txt. Made when it is missing; a machine
//! without Python fails the test, it does not skip it.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

/// The root of the workspace.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The Python of the environment.
pub fn python() -> &'static Path {
    static PYTHON: OnceLock<PathBuf> = OnceLock::new();
    PYTHON.get_or_init(|| {
        let folder = root().join("target/venv-print");
        let python = folder.join("bin/python");
        let list = root().join("tests/requirements-print.txt");
        let wanted = std::fs::read_to_string(&list).expect("tests/requirements-print.txt");
        let stamp = folder.join("installed.txt");
        if std::fs::read_to_string(&stamp).is_ok_and(|have| have == wanted) {
            return python;
        }
        run(Command::new("python3").args(["-m", "venv"]).arg(&folder));
        run(Command::new(&python).args(["-m", "pip", "install", "-q", "-r"]).arg(&list));
        std::fs::write(&stamp, wanted).expect("the stamp of the environment");
        python
    })
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
    let folder = root().join("target/print-tests").join(name);
    std::fs::create_dir_all(&folder).expect("a folder under target/");
    folder
}
