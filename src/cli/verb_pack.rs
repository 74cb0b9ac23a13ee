//! `boostwright pack`: for authors of rules.

use std::path::Path;

use super::arguments::{PackOptions, PackVerb, StackOptions};
use super::exit::{Exit, Failure};
use super::{output, packs};
use crate::rules::{Pack, PackSource, Severity, load};

pub(super) fn run(options: &PackOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    match &options.verb {
        PackVerb::Check { dir } => check(stack, dir.as_deref()),
        PackVerb::List { dir } => list(stack, dir.as_deref()),
    }
}

/// A folder that is the built-in pack's own source is checked alone, not over itself.
fn loaded(stack: &StackOptions, dir: Option<&Path>) -> Result<crate::rules::Loaded, Failure> {
    match dir {
        None => packs::with_folder(stack, None),
        Some(dir) => {
            let alone = load(&[PackSource::Folder(dir.to_path_buf())])
                .map_err(|error| Failure::new(error.to_string()))?;
            // A pack that stands on its own has a complaint of its own.
            if stack.only || !alone.pack.complaints.is_empty() || stands_alone(&alone.pack) {
                return Ok(alone);
            }
            packs::with_folder(stack, Some(dir))
        }
    }
}

fn stands_alone(pack: &Pack) -> bool {
    !pack.steps.is_empty()
}

fn check(stack: &StackOptions, dir: Option<&Path>) -> Result<Exit, Failure> {
    let loaded = loaded(stack, dir)?;
    for drawn in loaded.faults.draw(packs::colour()) {
        output::message(&drawn);
        output::message("");
    }
    let (errors, warnings) =
        (loaded.faults.count(Severity::Error), loaded.faults.count(Severity::Warning));
    output::result(&format!("{errors} errors, {warnings} warnings"));
    Ok(if errors == 0 { Exit::Done } else { Exit::Failed })
}

fn list(stack: &StackOptions, dir: Option<&Path>) -> Result<Exit, Failure> {
    let pack = loaded(stack, dir)?.pack;
    let counts = [
        ("complaints", pack.complaints.len()),
        ("steps", pack.steps.len()),
        ("questions", pack.questions.len()),
        ("workings", pack.workings.len()),
        ("curves", pack.curves.len()),
        ("findings", pack.findings.len()),
        ("causes", pack.causes.len()),
        ("repairs", pack.repairs.len()),
        ("cautions", pack.cautions.len()),
        ("setups", pack.setups.len()),
        ("instruments", pack.instruments.len()),
        ("sources", pack.sources.len()),
        ("cases", pack.cases.len()),
    ];
    let lines: Vec<String> =
        counts.iter().map(|(what, count)| format!("{what:12} {count:5}")).collect();
    output::result(&lines.join("\n"));
    Ok(Exit::Done)
}
