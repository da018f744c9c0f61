//! The Python environment of the outside checks.

use crate::{OracleError, workspace_root};
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

/// The Python of the environment, which is made first if it is missing, broken,
/// or was made from another `tests/requirements.txt`.
///
/// Several test programs may ask at once: the first makes it under a file lock,
/// the others wait. The system's Python is the one named by the environment
/// variable `PYTHON`, or `python3`.
///
/// # Errors
/// [`OracleError::Environment`] with the step that failed.
pub fn python() -> Result<PathBuf, OracleError> {
    // A failure is kept too: one slow try a test program is enough.
    static MADE: OnceLock<Result<PathBuf, OracleError>> = OnceLock::new();
    MADE.get_or_init(ready).clone()
}

fn ready() -> Result<PathBuf, OracleError> {
    let target = target_folder();
    fs::create_dir_all(&target).map_err(failed("making the target folder"))?;
    let lock = File::create(target.join("oracle-venv.lock")).map_err(failed("locking it"))?;
    // Held until `lock` is dropped, also when this process is killed.
    lock.lock().map_err(failed("locking it"))?;
    let folder = target.join("oracle-venv");
    let python = folder.join("bin/python");
    let requirements = workspace_root().join("tests/requirements.txt");
    let wanted = fs::read(&requirements).map_err(failed("reading tests/requirements.txt"))?;
    // The stamp is a copy of the requirements it was made from, written last.
    let stamp = folder.join("made-from.txt");
    let current = fs::read(&stamp).is_ok_and(|made| made == wanted);
    if !(current && runs(&python)) {
        make(&folder, &python, &requirements)?;
        fs::write(&stamp, &wanted).map_err(failed("writing its stamp"))?;
    }
    Ok(python)
}

fn make(folder: &Path, python: &Path, requirements: &Path) -> Result<(), OracleError> {
    if folder.exists() {
        fs::remove_dir_all(folder).map_err(failed("removing the old one"))?;
    }
    let system = std::env::var_os("PYTHON").unwrap_or_else(|| "python3".into());
    run("calling python3 -m venv", Command::new(system).args(["-m", "venv"]).arg(folder))?;
    let pip = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-input"];
    // Wheels only: a bare machine has no compiler for these libraries.
    let packages = ["--only-binary", ":all:", "--requirement"];
    run(
        "installing tests/requirements.txt",
        Command::new(python).args(pip).args(packages).arg(requirements),
    )
}

fn target_folder() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR")
        .map_or_else(|| workspace_root().join("target"), |t| workspace_root().join(t))
}

fn runs(python: &Path) -> bool {
    let mut version = Command::new(python);
    version.arg("--version").stdout(Stdio::null()).stderr(Stdio::null());
    version.status().is_ok_and(|status| status.success())
}

fn run(doing: &'static str, command: &mut Command) -> Result<(), OracleError> {
    let output = command.stdin(Stdio::null()).output().map_err(failed(doing))?;
    if output.status.success() {
        return Ok(());
    }
    // `venv` explains a missing system package on its standard output.
    let said = [output.stdout, output.stderr].concat();
    let reason = String::from_utf8_lossy(&said).trim().to_owned();
    Err(OracleError::Environment { doing, reason })
}

fn failed(doing: &'static str) -> impl Fn(std::io::Error) -> OracleError {
    move |e| OracleError::Environment { doing, reason: e.to_string() }
}
