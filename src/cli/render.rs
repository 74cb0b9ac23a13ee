//! The conclusion in the form that was asked for.

use super::arguments::Form;
use crate::report::model::Conclusion;
use crate::report::{json, text};

/// Columns of a page that goes into a file or a pipe.
const PAGE: usize = 80;

pub(super) fn form(conclusion: &Conclusion, form: Form) -> String {
    match form {
        Form::Text => text(conclusion, PAGE),
        Form::Json => json(conclusion),
    }
}
