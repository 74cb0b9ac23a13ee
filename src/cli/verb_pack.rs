//! `boostwright pack`: for authors of rules.

use std::path::Path;
use std::rc::Rc;

use super::arguments::{PackOptions, PackVerb, StackOptions};
use super::exit::{Exit, Failure};
use super::{output, packs, simulate};
use crate::interview::try_case;
use crate::rules::{Loaded, PackSource, Severity, load};

pub(super) fn run(options: &PackOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    match &options.verb {
        PackVerb::Check { dir } => check(stack, dir.as_deref()),
        PackVerb::Test { dir } => test(stack, dir.as_deref()),
        PackVerb::Simulate { dir, complaint, runs } => {
            let loaded = loaded(stack, dir.as_deref())?;
            if loaded.faults.any_error() {
                return Err(Failure::new("the pack has faults: run pack check first"));
            }
            simulate::run(&loaded.pack, complaint.as_deref(), *runs)
        }
        PackVerb::List { dir } => list(stack, dir.as_deref()),
    }
}

/// The packs in use, with a folder over them; a folder that has complaints and needs nothing of them
/// (a pack of its own, or the built-in one's own files) is taken alone.
fn loaded(stack: &StackOptions, dir: Option<&Path>) -> Result<Loaded, Failure> {
    let Some(dir) = dir else { return packs::with_folder(stack, None) };
    let alone = load(&[PackSource::Folder(dir.to_path_buf())])
        .map_err(|error| Failure::new(error.to_string()))?;
    if stack.only {
        return Ok(alone);
    }
    let over = packs::with_folder(stack, Some(dir))?;
    let errors = |loaded: &Loaded| loaded.faults.count(Severity::Error);
    let stands_alone = !alone.pack.complaints.is_empty() && errors(&alone) <= errors(&over);
    Ok(if stands_alone { alone } else { over })
}

fn check(stack: &StackOptions, dir: Option<&Path>) -> Result<Exit, Failure> {
    let loaded = loaded(stack, dir)?;
    for drawn in loaded.faults.draw(packs::colour()) {
        output::message(&drawn);
        output::message("");
    }
    let (errors, warnings) =
        (loaded.faults.count(Severity::Error), loaded.faults.count(Severity::Warning));
    output::result(&format!("{}, {}", counted(errors, "error"), counted(warnings, "warning")));
    Ok(if errors == 0 { Exit::Done } else { Exit::Failed })
}

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

fn test(stack: &StackOptions, dir: Option<&Path>) -> Result<Exit, Failure> {
    let loaded = loaded(stack, dir)?;
    if loaded.faults.any_error() {
        return Err(Failure::new("the pack has faults: run pack check first"));
    }
    let pack = &loaded.pack;
    let memo = Rc::default();
    let (mut passed, mut failed) = (0, 0);
    for (id, case) in &pack.cases {
        let trial = try_case(pack, case, &memo);
        if trial.differs.is_empty() {
            passed += 1;
            continue;
        }
        failed += 1;
        output::result(&format!("{id}:"));
        for difference in &trial.differs {
            output::result(&format!("    {difference}"));
        }
    }
    output::result(&format!("{passed} passed, {failed} failed"));
    Ok(if failed == 0 { Exit::Done } else { Exit::Failed })
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
