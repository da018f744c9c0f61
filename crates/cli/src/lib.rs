//! Every stage of a fitting without a window. Each verb is a file in `verbs`;
//! it reads the project, does one thing, and writes the project back whole.

mod args;
mod demo;
mod failure;
mod output;
mod project;
mod verbs;

pub use output::complain;

use clap::{CommandFactory, Parser};
use std::ffi::{OsStr, OsString};
use std::process::ExitCode;

/// Runs the command with its arguments, the program name first. The exit code is
/// 0 when all went well, 1 when something could not be done (said on standard
/// error), 2 when the command line cannot be understood.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let command = match args::Command::try_parse_from(args) {
        Ok(command) => command,
        Err(usage) => {
            // Help and version are no failure; clap knows which is which.
            // What was typed is repeated in the complaint; help is ours alone.
            if usage.use_stderr() {
                output::complain(usage.render().to_string().trim_end());
            } else {
                let _ = usage.print();
            }
            return ExitCode::from(u8::try_from(usage.exit_code()).unwrap_or(2));
        }
    };
    match verbs::run(command) {
        Ok(()) => ExitCode::SUCCESS,
        // Whoever read along (`| head`) has seen enough: there is nothing to tell, and
        // the code says, as that of other tools does, that not all was shown.
        Err(failure) if failure.is_closed_pipe() => ExitCode::FAILURE,
        Err(failure) => {
            output::complain(&format!("hangtrue: {}", failure.words()));
            ExitCode::FAILURE
        }
    }
}

/// Whether the word is a verb of the command, an option, or help; anything else
/// standing alone is a file for the desk.
pub fn is_verb(word: &OsStr) -> bool {
    let Some(word) = word.to_str() else { return false };
    let command = args::Command::command();
    let verb = command
        .get_subcommands()
        .any(|c| c.get_name() == word || c.get_all_aliases().any(|a| a == word));
    // A lone word that names no file is more likely a verb misspelt; the command
    // line then says which verbs there are.
    verb || word == "help" || word.starts_with('-') || !word.contains(['.', '/', '\\'])
}

#[cfg(test)]
mod tests {
    use super::is_verb;
    use std::ffi::OsStr;

    #[test]
    fn files_open_the_desk_and_everything_else_is_a_verb() {
        for verb in ["draft", "help", "--help", "-V", "drfat"] {
            assert!(is_verb(OsStr::new(verb)), "{verb}");
        }
        for file in ["my.ron", "./my", "/tmp/a b.ron"] {
            assert!(!is_verb(OsStr::new(file)), "{file}");
        }
    }
}
