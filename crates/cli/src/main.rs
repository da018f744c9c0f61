//! The one binary: a verb runs a stage on the command line; nothing, or a project
//! file, opens the desk.

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    let args: Vec<OsString> = std::env::args_os().collect();
    match file_for_the_desk(&args) {
        Some(file) => match hangtrue_desk::open(file) {
            Ok(()) => ExitCode::SUCCESS,
            Err(why) => {
                hangtrue_cli::complain(&format!("hangtrue: {why}"));
                ExitCode::FAILURE
            }
        },
        None => hangtrue_cli::run(args),
    }
}

/// What the desk is opened with: nothing at all, or the one project file named.
/// None when a verb or an option is given.
fn file_for_the_desk(args: &[OsString]) -> Option<Option<PathBuf>> {
    match args {
        [] | [_] => Some(None),
        [_, one] if hangtrue_cli::is_verb(one) => None,
        [_, one] => Some(Some(PathBuf::from(one))),
        _ => None,
    }
}
