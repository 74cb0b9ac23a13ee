//! `boostwright pack check`: everything that is wrong with a pack, drawn for a person or as records
//! for an editor.

use crate::cli::arguments::PlainForm;
use crate::cli::exit::{Exit, Failure};
use crate::cli::{output, packs};
use crate::rules::{Loaded, Severity};

/// Says every fault; fails where one is an error.
pub(super) fn run(loaded: &Loaded, form: PlainForm) -> Result<Exit, Failure> {
    match form {
        PlainForm::Text => text(loaded),
        PlainForm::Json => {
            let records = output::json(&loaded.faults.records())?;
            output::result(&output::json_for_a_terminal(&records));
        }
    }
    Ok(if loaded.faults.any_error() { Exit::Failed } else { Exit::Done })
}

fn text(loaded: &Loaded) {
    for drawn in loaded.faults.draw(packs::colour()) {
        output::message(&drawn);
        output::message("");
    }
    let count = |severity| loaded.faults.count(severity);
    let (errors, warnings) = (count(Severity::Error), count(Severity::Warning));
    output::result(&format!("{}, {}", counted(errors, "error"), counted(warnings, "warning")));
}

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}
