//! `boostwright show`: the conclusion so far.

use super::arguments::{Form, ShowOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::given::answers;
use super::opening::look;
use super::out_file::deliver;
use super::slow_notice::{SlowNotice, WORKING};
use super::{packs, render};
use crate::interview::{Round, fold};
use crate::report::conclude;
use crate::report::model::Conclusion;
use crate::rules::Pack;

pub(super) fn run(options: &ShowOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let (_, mut rounds) = look(&options.session, pack)?;
    suppose(&options.supposed, rounds.last_mut(), pack)?;
    let repair = rounds.last().and_then(|round| round.repair);
    let state = fold(pack, &rounds, None);
    let slow_notice = SlowNotice::say(WORKING);
    let conclusion = Conclusion { supposed: options.supposed.clone(), ..conclude(&state, repair) };
    drop(slow_notice);
    let columns = if options.out.is_some() { render::PAGE } else { render::columns() };
    let text = match options.form {
        Form::Text if !options.full => render::first_page(&conclusion, &options.session, columns),
        form => render::form(&conclusion, form, columns, options.full)?,
    };
    deliver(&text, options.out.as_deref(), &options.session)?;
    render::exit(&conclusion)
}

/// Lays supposed answers over those of the present round.
fn suppose(texts: &[String], round: Option<&mut Round>, pack: &Pack) -> Result<(), Failure> {
    let Some(round) = round.filter(|_| !texts.is_empty()) else { return Ok(()) };
    let supposed = answers(texts)?;
    round.read_answers(pack, &supposed).map_err(Failure::NotSupposed)
}
