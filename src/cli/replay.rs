//! `boostwright replay`: folds a file of answers and concludes, without a session.

use super::arguments::{ReplayOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::{output, packs, render};
use crate::interview::fold;
use crate::report::conclude;
use crate::session::{read_session, take};

pub(super) fn run(options: &ReplayOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let colour = packs::colour();
    let (session, source) =
        read_session(&options.answers).map_err(|error| Failure::new(error.draw(colour)))?;
    let taken = take(&session, &source, &pack)
        .map_err(|faults| Failure::new(faults.draw(colour).join("\n\n")))?;
    for left_out in taken.left_out.draw(colour) {
        output::message(&left_out);
    }
    let state = fold(&pack, &taken.rounds, None);
    let repair = taken.rounds.last().and_then(|round| round.repair);
    let conclusion = conclude(&state, repair);
    output::result(&render::form(&conclusion, options.form));
    Ok(if conclusion.contradiction.is_some() { Exit::Failed } else { Exit::Done })
}
