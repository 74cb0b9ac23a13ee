//! `boostwright sheet`: what comes next, on paper.

use super::arguments::{SheetOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::opening::look;
use super::out_file::deliver;
use super::packs;
use super::render::PAGE;
use super::slow_notice::{SlowNotice, WORKING};
use crate::interview::fold;
use crate::report::{conclude, plan, sheet_text, short_sheet};
use crate::session::session_path;

pub(super) fn run(options: &SheetOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let path = session_path(options.session.as_deref());
    let (session, rounds) = look(&path, pack)?;
    let slow_notice = SlowNotice::say(WORKING);
    let state = fold(pack, &rounds, None);
    let name = path.display().to_string();
    let called = (name.as_str(), session.car.as_deref());
    let text = if options.all {
        sheet_text(&state, &plan(&state), called, PAGE)
    } else {
        let repair = rounds.last().and_then(|round| round.repair);
        short_sheet(&state, &conclude(&state, repair), called, PAGE)
    };
    drop(slow_notice);
    let left = deliver(&text, options.out.as_deref(), &path, &options.paging)?;
    match state.internal_error() {
        Some(error) => Err(Failure::Inference(error.to_string())),
        None => Ok(left),
    }
}
