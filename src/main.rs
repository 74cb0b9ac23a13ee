//! Hands the arguments over and turns the result into an exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    boostwright::cli::run(std::env::args_os())
}
