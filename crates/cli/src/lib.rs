//! Every stage of a fitting without a window. Each verb is a file in `verbs`;
//! it reads the project, does one thing, and writes the project back whole.

mod args;
mod demo;
mod failure;
mod output;
mod project;
mod verbs;

use clap::Parser;
use std::ffi::OsString;
use std::process::ExitCode;

/// Runs the command with its arguments, the program name first. The exit code is
/// 0 when all went well, 1 when something could not be done (said on standard
/// error), 2 when the command line cannot be understood.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let command = match args::Command::try_parse_from(args) {
        Ok(command) => command,
        Err(usage) => {
            // Help and version are no failure; clap knows which is which.
            let _ = usage.print();
            return ExitCode::from(u8::try_from(usage.exit_code()).unwrap_or(2));
        }
    };
    match verbs::run(command) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("hangtrue: {failure}");
            ExitCode::FAILURE
        }
    }
}
