//! `boostwright recheck`: which repair was done, what it made stale, and whether it helped.

use std::path::Path;

use super::arguments::{RecheckOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::interviewing::{Kept, finish, say_what_it_is, screen};
use super::opening::{rounds, say_warning};
use super::{output, packs};
use crate::interview::{Round, due_after_repair, fold};
use crate::rules::Pack;
use crate::session::{SessionFile, session_path};
use crate::terminal::{Ended, Scope, Screen, Talk, choose_repair};

pub(super) fn run(options: &RecheckOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let mut screen = screen()?;
    let path = session_path(options.session.as_deref());
    let mut file = SessionFile::open(&path).map_err(Failure::Session)?;
    say_what_it_is(&mut screen, &file, pack);
    let mut rounds = rounds(&mut file, pack)?;
    if !goes_on(pack, &rounds)
        && let Some(exit) = open_round(&mut screen, pack, &mut file, &mut rounds)?
    {
        return Ok(exit);
    }
    let repair = rounds.last().and_then(|round| round.repair);
    let mut kept = Kept::in_file(&mut file);
    let mut talk = Talk::new(pack, rounds, Scope::Again, &mut screen, &mut kept);
    let outcome = talk.run();
    let state = talk.fold();
    finish(outcome, &mut screen, &mut file, &state, repair)
}

/// A recheck that was broken off goes on where it was.
fn goes_on(pack: &Pack, rounds: &[Round]) -> bool {
    rounds.len() > 1 && due_after_repair(&fold(pack, rounds, None), rounds).is_some()
}

/// Records the repair and opens a round behind it; an exit where the person stops here.
fn open_round(
    screen: &mut Screen,
    pack: &Pack,
    file: &mut SessionFile,
    rounds: &mut Vec<Round>,
) -> Result<Option<Exit>, Failure> {
    if file.session.is_full() {
        return Err(Failure::FullSession { path: file.path().to_path_buf() });
    }
    let state = fold(pack, rounds, None);
    let repair = match choose_repair(screen, &state) {
        Ok(Some(repair)) => repair,
        Ok(None) => {
            output::message(unchanged(file.path()));
            return Ok(Some(Exit::Done));
        }
        Err(Ended::Interrupted | Ended::Gone) => {
            output::message(format!("\n{}", unchanged(file.path())));
            return Ok(Some(Exit::Interrupted));
        }
    };
    file.session.open_round(pack.repairs.id(repair));
    file.save().map_err(Failure::Session)?;
    say_warning(file);
    rounds.push(Round { repair: Some(repair), ..Round::default() });
    Ok(None)
}

fn unchanged(path: &Path) -> String {
    format!("No repair was recorded; {} is unchanged.", path.display())
}
