//! What is made from the arguments themselves: completions for shells, the manual page.

use clap::CommandFactory;
use clap_complete::Shell;

use super::arguments::Arguments;
use super::exit::{Exit, Failure};
use super::output;

pub(super) fn completions(shell: Shell) -> Result<Exit, Failure> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "boostwright", &mut text);
    output::result(String::from_utf8_lossy(&text).into_owned())?;
    Ok(Exit::Done)
}

/// The manual in troff, to be read with `man -l -`: the program first, then each verb.
pub(super) fn manual() -> Result<Exit, Failure> {
    let mut text = Vec::new();
    let mut command = Arguments::command();
    command.build();
    let mut render = |command: &clap::Command| {
        clap_mangen::Man::new(command.clone())
            .render(&mut text)
            .map_err(|error| Failure::Internal { doing: "the manual", error: error.into() })
    };
    render(&command)?;
    for verb in command.get_subcommands().filter(|verb| verb.get_name() != "help") {
        render(verb)?;
    }
    output::result(String::from_utf8_lossy(&text).into_owned())?;
    Ok(Exit::Done)
}
