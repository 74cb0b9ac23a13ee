//! `boostwright pack check`: everything that is wrong with a pack, drawn for a person or as records
//! for an editor.

use crate::cli::arguments::PlainForm;
use crate::cli::exit::{Exit, Failure};
use crate::cli::{output, packs};
use crate::interview::unanswerable;
use crate::rules::{Loaded, Severity};

/// Says every fault; fails where one is an error.
pub(super) fn run(mut loaded: Loaded, form: PlainForm) -> Result<Exit, Failure> {
    if !loaded.faults.any_error() {
        loaded.faults.list.extend(unanswerable(&loaded.pack));
    }
    match form {
        PlainForm::Text => text(&loaded)?,
        PlainForm::Json => {
            let records = output::json(&loaded.faults.records())?;
            output::result(&output::json_for_a_terminal(&records))?;
        }
    }
    Ok(if loaded.faults.any_error() { Exit::Failed } else { Exit::Done })
}

fn text(loaded: &Loaded) -> Result<(), Failure> {
    let drawn = loaded.faults.draw(packs::colour());
    for drawn in &drawn {
        output::drawn(drawn);
        output::message("");
    }
    let more = loaded.faults.list.len() - drawn.len();
    if more > 0 {
        output::message(&format!("{more} more are not shown: mend these first, and check again."));
    }
    let count = |severity| loaded.faults.count(severity);
    let (errors, warnings) = (count(Severity::Error), count(Severity::Warning));
    output::result(&format!("{}, {}", counted(errors, "error"), counted(warnings, "warning")))
}

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}
