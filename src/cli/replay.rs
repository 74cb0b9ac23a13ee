//! `boostwright replay`: folds a file of answers and concludes, without a session.

use super::arguments::{ReplayOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::opening::look;
use super::slow_notice::{SlowNotice, WORKING};
use super::{output, packs, render};
use crate::interview::fold;
use crate::report::conclude;

pub(super) fn run(options: &ReplayOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let (_, rounds) = look(&options.answers, pack)?;
    let state = fold(pack, &rounds, None);
    let repair = rounds.last().and_then(|round| round.repair);
    let slow_notice = SlowNotice::say(WORKING);
    let conclusion = conclude(&state, repair);
    drop(slow_notice);
    output::result(render::form(&conclusion, options.form, render::PAGE, true)?)?;
    render::exit(&conclusion)
}
