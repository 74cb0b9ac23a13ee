//! `boostwright sheet`: what is still open, on paper.

use super::arguments::{SheetOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::opening::look;
use super::out_file::deliver;
use super::packs;
use super::render::PAGE;
use crate::interview::fold;
use crate::report::{plan, sheet_text};

pub(super) fn run(options: &SheetOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let (session, rounds) = look(&options.session, pack)?;
    let state = fold(pack, &rounds, None);
    let name = options.session.display().to_string();
    let text = sheet_text(&state, &plan(&state), (&name, session.car.as_deref()), PAGE);
    deliver(&text, options.out.as_deref(), &options.session)?;
    match state.internal_error() {
        Some(error) => Err(Failure::Inference(error.to_string())),
        None => Ok(Exit::Done),
    }
}
