//! Completions for shells, made from the arguments themselves.

use clap::CommandFactory;
use clap_complete::Shell;

use super::arguments::Arguments;
use super::exit::{Exit, Failure};
use super::output;

pub(super) fn run(shell: Shell) -> Result<Exit, Failure> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "boostwright", &mut text);
    output::result(String::from_utf8_lossy(&text).into_owned())?;
    Ok(Exit::Done)
}
