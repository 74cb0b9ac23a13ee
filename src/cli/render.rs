//! The conclusion in the form that was asked for.

use std::path::Path;

use console::Term;

use super::arguments::Form;
use super::exit::{Exit, Failure};
use crate::report::model::Conclusion;
use crate::report::{html, json, json_in_brief, markdown, screen, svg, text};
use crate::text::Clean;

/// Columns of a page that goes into a file or a pipe.
pub(super) const PAGE: usize = 80;

/// The conclusion with all there is to say, its lines of at most so many columns where the form has
/// lines; JSON with every reason where it is to be `full`.
///
/// # Errors
/// Where a drawing is wanted and nothing is planned.
pub(super) fn form(
    conclusion: &Conclusion,
    form: Form,
    columns: usize,
    full: bool,
) -> Result<Clean, Failure> {
    Ok(match form {
        Form::Text => text(conclusion, columns),
        Form::Json if full => Clean::json(&json(conclusion)),
        Form::Markdown => markdown(conclusion),
        Form::Html => html(conclusion),
        Form::Json => Clean::json(&json_in_brief(conclusion)),
        Form::Svg => svg(conclusion).ok_or(Failure::NothingToDraw)?,
    })
}

/// The first page of a session's conclusion, and the commands that go on from there.
pub(super) fn first_page(conclusion: &Conclusion, session: &Path, columns: usize) -> Clean {
    let path = session.display();
    let mut commands = vec![format!("everything: boostwright show --full {path}")];
    if !conclusion.next_work.is_empty() || !conclusion.open_questions.is_empty() {
        commands.push(format!("work to print: boostwright sheet {path}"));
    }
    if !conclusion.drawings.is_empty() {
        commands.push(format!("drawn to scale: boostwright show --form svg --out plan.svg {path}"));
    }
    commands.push(format!("after a repair: boostwright recheck {path}"));
    screen(conclusion, &commands, columns)
}

/// The columns of what goes to stdout.
pub(super) fn columns() -> usize {
    let stdout = Term::stdout();
    if stdout.is_term() { usize::from(stdout.size().1) } else { PAGE }
}

/// How a command ends that printed a conclusion.
///
/// # Errors
/// Where the program itself failed on the way.
pub(super) fn exit(conclusion: &Conclusion) -> Result<Exit, Failure> {
    match &conclusion.internal_error {
        Some(error) => Err(Failure::Inference(error.clone())),
        None if conclusion.contradiction.is_some() => Ok(Exit::Failed),
        None => Ok(Exit::Done),
    }
}
