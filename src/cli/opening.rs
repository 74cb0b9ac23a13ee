//! Sessions and files of answers taken in with the rules in use, and what has to be said about it.

use std::path::Path;

use super::exit::Failure;
use super::{output, packs};
use crate::interview::Round;
use crate::rules::{Faults, Pack};
use crate::session::{Session, SessionFile, Taken, read_session, take};

/// Says what the last save left to be said, and whether there was anything.
pub(super) fn say_warning(file: &mut SessionFile) -> bool {
    let warning = file.take_warning();
    if let Some(warning) = &warning {
        output::message(warning.draw(packs::colour()));
    }
    warning.is_some()
}

/// Reads a session or a file of answers, without holding it.
pub(super) fn look(path: &Path, pack: &Pack) -> Result<(Session, Vec<Round>), Failure> {
    let (session, source) = read_session(path).map_err(Failure::Session)?;
    let rounds = told(take(&session, &source, pack), path)?;
    Ok((session, rounds))
}

/// The rounds of an open session.
pub(super) fn rounds(file: &mut SessionFile, pack: &Pack) -> Result<Vec<Round>, Failure> {
    let taken = file.rounds(pack);
    told(taken, file.path())
}

/// Says what was left out, or why nothing could be taken.
fn told(taken: Result<Taken, Faults>, path: &Path) -> Result<Vec<Round>, Failure> {
    let taken = taken.map_err(|faults| Failure::NotTaken { path: path.to_path_buf(), faults })?;
    if taken.other_rules {
        output::message(format!("{} was recorded with different rules.", path.display()));
    }
    for drawn in taken.left_out.draw(packs::colour()) {
        output::message(&drawn);
    }
    if !taken.left_out.list.is_empty() {
        output::message("What is marked above stays in the file but is ignored.");
    }
    Ok(taken.rounds)
}
