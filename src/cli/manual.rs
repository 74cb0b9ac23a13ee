//! The manual as one page of troff, to be read with `man -l -`: the program, each verb in a section of
//! its own, then keys, exit codes, files and examples. It names no other page, since there is none.

use clap::{Command, CommandFactory};
use clap_mangen::Man;

use super::arguments::Arguments;
use super::exit::{Exit, Failure};
use super::output;

/// What stands behind the verbs.
const END: &str = include_str!("manual_end.roff");

pub(super) fn run() -> Result<Exit, Failure> {
    let mut command = Arguments::command();
    command.build();
    let man = Man::new(command.clone());
    let mut text = rendered(|out| man.render_title(out))?;
    text += &rendered(|out| man.render_name_section(out))?;
    text += &rendered(|out| man.render_synopsis_section(out))?;
    text += &rendered(|out| man.render_description_section(out))?;
    text += &rendered(|out| man.render_options_section(out))?;
    for verb in verbs(&command) {
        text += &section(verb)?;
    }
    text += END;
    output::result(text)?;
    Ok(Exit::Done)
}

/// Every verb that does something, those of verbs behind their own; all but help.
fn verbs(command: &Command) -> Vec<&Command> {
    let own = command.get_subcommands().filter(|verb| verb.get_name() != "help");
    own.flat_map(|verb| if verb.has_subcommands() { verbs(verb) } else { vec![verb] }).collect()
}

/// A verb under a heading of its own.
fn section(verb: &Command) -> Result<String, Failure> {
    let name = verb.get_bin_name().unwrap_or_else(|| verb.get_name());
    let man = Man::new(verb.clone());
    let mut text = format!(".SH \"{}\"\n", name.to_uppercase());
    for part in [
        rendered(|out| man.render_synopsis_section(out))?,
        rendered(|out| man.render_description_section(out))?,
        rendered(|out| man.render_options_section(out))?,
    ] {
        text += ".PP\n";
        text.extend(part.lines().filter(|line| !is_frame(line)).map(|line| format!("{line}\n")));
    }
    Ok(text)
}

/// What only a page of its own needs.
fn is_frame(line: &str) -> bool {
    [".SH", ".TH", ".ie", ".el"].iter().any(|request| line.starts_with(request))
}

fn rendered(render: impl Fn(&mut Vec<u8>) -> std::io::Result<()>) -> Result<String, Failure> {
    let mut text = Vec::new();
    render(&mut text)
        .map_err(|error| Failure::Internal { doing: "the manual", error: error.into() })?;
    Ok(String::from_utf8_lossy(&text).into_owned())
}
