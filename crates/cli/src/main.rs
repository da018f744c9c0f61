//! The one binary.

fn main() -> std::process::ExitCode {
    hangtrue_cli::run(std::env::args_os())
}
