//! What the reader of the arguments says itself: help and version, which are results, and what is
//! wrong with the arguments.

use std::io::{Write, stdout};

use super::exit::{Exit, Failure};
use super::output;
use crate::text::is_clean;

/// Says it where it belongs.
///
/// # Errors
/// Help or version that can't be written.
pub(super) fn say(said: &clap::Error) -> Result<Exit, Failure> {
    if !said.use_stderr() {
        output::written(said.print().and_then(|()| stdout().flush()))?;
        return Ok(Exit::Done);
    }
    // It quotes what was typed, or what a script was made to pass on.
    let plain = said.render().to_string();
    if plain.chars().all(|letter| letter == '\n' || is_clean(letter)) {
        // Where messages can't be written, nor can the message that says so.
        let _ = said.print();
    } else {
        output::message(plain);
    }
    Ok(Exit::CouldNotRun)
}
