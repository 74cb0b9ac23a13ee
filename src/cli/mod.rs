//! The command line: one file a verb. Results go to stdout, prompts and messages to stderr.

mod answer;
mod arguments;
mod ask;
mod calc;
mod completions;
mod exit;
mod given;
mod interviewing;
mod listing;
mod manual;
mod named_values;
mod opening;
mod out_file;
mod output;
mod packs;
mod pager;
mod recheck;
mod render;
mod replay;
mod sheet;
mod show;
mod signals;
mod slow_notice;
mod threads;
mod usage;
mod verb_pack;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Verb};
use exit::Exit;

/// Runs one command.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => return ended(usage::say(&error)),
    };
    threads::start();
    ended(dispatch(arguments))
}

fn ended(outcome: Result<Exit, exit::Failure>) -> ExitCode {
    outcome
        .unwrap_or_else(|failure| {
            output::message(failure.draw(packs::colour()));
            Exit::CouldNotRun
        })
        .into()
}

fn dispatch(arguments: Arguments) -> Result<Exit, exit::Failure> {
    let stack = &arguments.stack;
    match arguments.verb {
        Verb::Answer(options) => answer::run(&options, stack),
        Verb::Show(options) => show::run(&options, stack),
        Verb::Sheet(options) => sheet::run(&options, stack),
        Verb::Replay(options) => replay::run(&options, stack),
        Verb::Ask(options) => ask::run(&options, stack),
        Verb::Recheck(options) => recheck::run(&options, stack),
        Verb::Calc(options) => calc::run(&options),
        Verb::Pack(options) => verb_pack::run(&options, stack),
        Verb::Completions { shell } => completions::run(shell),
        Verb::Manual => manual::run(),
    }
}
