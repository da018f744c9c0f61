//! Whether the program that keeps a file still runs.

use std::path::Path;

/// Whether the desk that keeps this file still runs, this one or another. Known only
/// where the system shows its processes as folders; elsewhere every kept file is
/// offered.
pub(crate) fn is_running(kept: &Path) -> bool {
    keeper(kept) == Some(std::process::id()) || another_is_running(kept)
}

/// Whether another desk than this one keeps the file and still runs.
pub(crate) fn another_is_running(kept: &Path) -> bool {
    keeper(kept).is_some_and(|p| p != std::process::id() && is_a_desk(p))
}

/// The process that keeps a file, by its name: the number of the process, and behind
/// a dash which of the files kept under that number it is.
fn keeper(kept: &Path) -> Option<u32> {
    kept.file_stem()?.to_str()?.split('-').next()?.parse().ok()
}

fn is_a_desk(process: u32) -> bool {
    let ours = std::env::current_exe().ok();
    let theirs = std::fs::read_link(format!("/proc/{process}/exe")).ok();
    // The same number may by now belong to another program.
    theirs.is_some() && theirs == ours
}
