//! `boostwright replay`: folds a file of answers and concludes, without a session.

use super::arguments::{ReplayOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::opening::look;
use super::render::Paper;
use super::slow_notice::{SlowNotice, WORKING};
use super::{packs, pager, render};
use crate::interview::fold;
use crate::report::conclude;

pub(super) fn run(options: &ReplayOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let (_, rounds) = look(&options.answers, pack)?;
    let repair = rounds.last().and_then(|round| round.repair);
    let slow_notice = SlowNotice::say(WORKING);
    let state = fold(pack, &rounds, None);
    let conclusion = conclude(&state, repair);
    drop(slow_notice);
    // On any screen the same as in a file, so that it can be compared.
    let text = render::form(&conclusion, options.form, Paper::FILE, true)?;
    match pager::result(&text, &options.paging)? {
        Exit::Done => render::exit(&conclusion),
        left => Ok(left),
    }
}
