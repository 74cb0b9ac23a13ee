//! The conclusion in the form that was asked for.

use console::Term;

use super::arguments::Form;
use super::exit::{Exit, Failure};
use crate::report::model::Conclusion;
use crate::report::{html, json, markdown, text};
use crate::text::Clean;

/// Columns of a page that goes into a file or a pipe.
pub(super) const PAGE: usize = 80;

/// The conclusion, its lines of at most so many columns where the form has lines.
pub(super) fn form(conclusion: &Conclusion, form: Form, columns: usize) -> Clean {
    match form {
        Form::Text => text(conclusion, columns),
        Form::Markdown => markdown(conclusion),
        Form::Html => html(conclusion),
        Form::Json => Clean::json(&json(conclusion)),
    }
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
