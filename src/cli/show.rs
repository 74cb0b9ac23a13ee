//! `boostwright show`: the conclusion so far.

use super::arguments::{Form, ShowOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::given::answers;
use super::opening::look;
use super::out_file::deliver;
use super::render::Paper;
use super::slow_notice::{SlowNotice, WORKING};
use super::{packs, render};
use crate::interview::{Round, fold};
use crate::report::conclude;
use crate::report::model::Conclusion;
use crate::rules::Pack;
use crate::session::session_path;

pub(super) fn run(options: &ShowOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let path = session_path(options.session.as_deref());
    let (_, mut rounds) = look(&path, pack)?;
    suppose(&options.supposed, rounds.last_mut(), pack)?;
    let repair = rounds.last().and_then(|round| round.repair);
    let slow_notice = SlowNotice::say(WORKING);
    let state = fold(pack, &rounds, None);
    let conclusion = Conclusion { supposed: options.supposed.clone(), ..conclude(&state, repair) };
    drop(slow_notice);
    let paper = if options.out.is_some() { Paper::FILE } else { Paper::of_stdout() };
    let text = match options.form {
        Form::Text if !options.full => render::first_page(&conclusion, &path, paper),
        form => render::form(&conclusion, form, paper, options.full)?,
    };
    match deliver(&text, options.out.as_deref(), &path, &options.paging)? {
        Exit::Done => render::exit(&conclusion),
        left => Ok(left),
    }
}

/// Lays supposed answers over those of the present round.
fn suppose(texts: &[String], round: Option<&mut Round>, pack: &Pack) -> Result<(), Failure> {
    let Some(round) = round.filter(|_| !texts.is_empty()) else { return Ok(()) };
    let supposed = answers(texts)?;
    round.read_answers(pack, &supposed).map_err(Failure::NotSupposed)
}
