//! Whether the program that keeps a file still runs.

use std::path::Path;

/// Whether the desk that keeps this file still runs. Known only where the system
/// shows its processes as folders; elsewhere every kept file is offered.
pub(crate) fn is_running(kept: &Path) -> bool {
    let process = kept.file_stem().and_then(|s| s.to_str()).and_then(|s| s.parse::<u32>().ok());
    process.is_some_and(|p| p == std::process::id() || is_a_desk(p))
}

fn is_a_desk(process: u32) -> bool {
    let ours = std::env::current_exe().ok();
    let theirs = std::fs::read_link(format!("/proc/{process}/exe")).ok();
    // The same number may by now belong to another program.
    theirs.is_some() && theirs == ours
}
