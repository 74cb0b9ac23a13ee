//! `boostwright pack check`: everything that is wrong with a pack, drawn for a person or as records
//! for an editor.

use std::fmt::Write as _;
use std::path::Path;

use crate::cli::arguments::{PlainForm, StackOptions};
use crate::cli::exit::{Exit, Failure};
use crate::cli::{output, packs};
use crate::interview::unanswerable;
use crate::rules::{Loaded, PackSource, Replaced, Severity, load};
use crate::text::{Clean, spaced};

/// Says every fault; fails where one is an error.
pub(super) fn run(
    stack: &StackOptions,
    dir: Option<&Path>,
    form: PlainForm,
) -> Result<Exit, Failure> {
    let (mut loaded, how) = to_check(stack, dir)?;
    if !loaded.faults.any_error() {
        loaded.faults.list.extend(unanswerable(&loaded.pack));
    }
    match form {
        PlainForm::Text => text(&loaded, how.as_deref())?,
        PlainForm::Json => {
            output::result(output::json(&loaded.faults.records())?)?;
        }
    }
    Ok(if loaded.faults.any_error() { Exit::Failed } else { Exit::Done })
}

/// The packs as they are used, and in words how that is: a folder laid over the packs in use, as
/// `--pack` lays it. Only one with complaints of its own that stands better alone is checked alone.
fn to_check(stack: &StackOptions, dir: Option<&Path>) -> Result<(Loaded, Option<String>), Failure> {
    let Some(dir) = dir else { return Ok((packs::with_folder(stack, None)?, None)) };
    let alone = load(&[PackSource::Folder(dir.to_path_buf())]).map_err(Failure::Packs)?;
    if stack.only {
        return Ok((alone, None));
    }
    let over = packs::with_folder(stack, Some(dir))?;
    let errors = |loaded: &Loaded| loaded.faults.count(Severity::Error);
    let below = if stack.packs.is_empty() { "the built-in rules" } else { "the packs in use" };
    if alone.pack.complaints.is_empty() || errors(&alone) >= errors(&over) {
        return Ok((over, Some(format!("Laid over {below}."))));
    }
    let count = counted(errors(&over), "error");
    let how = format!(
        "Checked on its own, as with --only. Laid over {below} it has {count}: see `boostwright \
         pack check --pack {}`.",
        dir.display()
    );
    Ok((alone, Some(how)))
}

/// What a pack gives anew of what lies below it.
fn replacement(replaced: &Replaced, causes: usize) -> String {
    let what = spaced(replaced.section.trim_end_matches('s'));
    let mut said = format!("The {what} {} is replaced", replaced.id);
    if let Some((before, now)) = &replaced.values {
        let _ = write!(said, ": {before} becomes {now}");
    }
    if let Some(moved) = replaced.causes {
        let _ = write!(said, ", which affects {moved} of {}", counted(causes, "cause"));
    }
    said + "."
}

fn text(loaded: &Loaded, how: Option<&str>) -> Result<(), Failure> {
    let drawn = loaded.faults.draw(packs::colour());
    for drawn in &drawn {
        output::message(drawn);
        output::message("");
    }
    let more = loaded.faults.list.len() - drawn.len();
    if more > 0 {
        output::message(format!("{more} more are not shown: correct these first and check again."));
    }
    for replaced in &loaded.replaced {
        output::message(Clean::line(replacement(replaced, loaded.pack.causes.len())));
    }
    if let Some(how) = how {
        output::message(how);
    }
    let count = |severity| loaded.faults.count(severity);
    let (errors, warnings) = (count(Severity::Error), count(Severity::Warning));
    output::result(format!("{}, {}", counted(errors, "error"), counted(warnings, "warning")))
}

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}
