//! Outside checks: asks an independent Python library the question Hangtrue has
//! just answered.
//!
//! A script in `tests/oracle` reads one JSON value on its standard input and
//! writes one on its standard output. The scripts run in a Python environment
//! of their own under the target folder, made from `tests/requirements.txt` on
//! first use and remade when that file changes.

pub mod block_figures;
pub mod bodies;
pub mod catalogue_page;
pub mod contrast;
pub mod handbook;
pub mod home_figures;
mod listed;
mod venv;

use hangtrue_geometry::{BezPath, PathEl, Point};
use serde::{Serialize, de::DeserializeOwned};
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};

pub use listed::tests_not_run;
pub use venv::python;

/// Why an outside check could not be made. Never a verdict on Hangtrue.
#[derive(Clone, thiserror::Error)]
pub enum OracleError {
    /// The Python environment could not be made.
    #[error(
        "the Python environment for the outside checks could not be made while {doing}: {reason}\n\
         It needs python3 (3.11 or newer) with its venv module (on Debian: apt-get install \
         python3-venv) and a way to install packages with pip."
    )]
    Environment {
        /// The step that failed.
        doing: &'static str,
        /// What was reported.
        reason: String,
    },
    /// A script could not be started or fed.
    #[error("the script {script} could not be run: {reason}")]
    NotRun {
        /// Name of the script.
        script: String,
        /// What was reported.
        reason: String,
    },
    /// A script ended with a failure.
    #[error("the script {script} failed:\n{stderr}")]
    Failed {
        /// Name of the script.
        script: String,
        /// What it wrote on its standard error.
        stderr: String,
    },
    /// A question or an answer is not the JSON that was agreed.
    #[error("the script {script} and its test disagree on the JSON: {reason}")]
    Json {
        /// Name of the script.
        script: String,
        /// What was reported.
        reason: String,
    },
}

/// The same words as shown: a test that unwraps prints this form.
impl std::fmt::Debug for OracleError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{self}")
    }
}

/// The top folder of the repository.
pub fn workspace_root() -> PathBuf {
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    here.parent().map(PathBuf::from).unwrap_or(here)
}

/// Runs `tests/oracle/<script>` with `question` as JSON on its standard input
/// and reads its standard output as JSON.
///
/// # Errors
/// [`OracleError`] when the environment cannot be made, the script fails, or its
/// answer does not have the shape of `A`.
pub fn ask<A: DeserializeOwned>(script: &str, question: &impl Serialize) -> Result<A, OracleError> {
    let python = python()?;
    let json = |e: serde_json::Error| OracleError::Json {
        script: script.to_owned(),
        reason: e.to_string(),
    };
    let not_run = |e: std::io::Error| OracleError::NotRun {
        script: script.to_owned(),
        reason: e.to_string(),
    };
    let question = serde_json::to_vec(question).map_err(json)?;
    let mut child = Command::new(python)
        .arg(workspace_root().join("tests/oracle").join(script))
        .env("PYTHONDONTWRITEBYTECODE", "1")
        // The libraries would start a thread a core in every test at once.
        .env("OPENBLAS_NUM_THREADS", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(not_run)?;
    // Scripts read all their input before they write, so this cannot block
    // against a full output pipe. A script that died early is told by its
    // standard error, not by the broken pipe.
    let fed = child.stdin.take().map(|mut pipe| pipe.write_all(&question));
    let output = child.wait_with_output().map_err(not_run)?;
    if !output.status.success() {
        let stderr = String::from_utf8_lossy(&output.stderr).into_owned();
        return Err(OracleError::Failed { script: script.to_owned(), stderr });
    }
    fed.unwrap_or(Ok(())).map_err(not_run)?;
    serde_json::from_slice(&output.stdout).map_err(json)
}

/// The control points of each segment of a path, as the oracles are asked about them.
pub fn points_of(path: &BezPath) -> Vec<Vec<(f64, f64)>> {
    let (mut at, mut found) = (Point::ORIGIN, Vec::new());
    for el in path.elements() {
        let mut segment = vec![at];
        match *el {
            PathEl::LineTo(p) => segment.push(p),
            PathEl::QuadTo(a, p) => segment.extend([a, p]),
            PathEl::CurveTo(a, b, p) => segment.extend([a, b, p]),
            PathEl::MoveTo(_) | PathEl::ClosePath => {}
        }
        at = el.end_point().unwrap_or(at);
        if segment.len() > 1 {
            found.push(segment.iter().map(|p| (p.x, p.y)).collect());
        }
    }
    found
}
