//! `boostwright pack`: for authors of rules. One file a verb, but for the smallest.

mod by_findings;
mod check;
mod graph;
mod list;
mod progress;
mod simulate;

use std::path::Path;
use std::sync::Arc;

use progress::Progress;
use rayon::prelude::*;

use super::arguments::{PackOptions, PackVerb, StackOptions};
use super::exit::{Exit, Failure};
use super::{output, packs};
use crate::interview::try_case;
use crate::report::conclusion_schema;
use crate::rules::{Case, Loaded, PackSource, Severity, begin_pack, load, schema};
use crate::text::Clean;

pub(super) fn run(options: &PackOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    match &options.verb {
        PackVerb::New { dir } => new(dir),
        PackVerb::Check { dir, form } => check::run(stack, dir.as_deref(), *form),
        PackVerb::Test { dir } => test(&sound(stack, dir.as_deref())?),
        PackVerb::Simulate { dir, complaint, runs, shaken, misses, by_findings } => {
            let pack = sound(stack, dir.as_deref())?.pack;
            if *by_findings {
                return by_findings::run(&pack, complaint.as_deref(), *runs);
            }
            simulate::run(&pack, complaint.as_deref(), *runs, *shaken, *misses)
        }
        PackVerb::List { dir } => list::run(packs::to_the_end(loaded(stack, dir.as_deref())?)),
        PackVerb::Graph { dir, form, of, around, all } => {
            graph::run(&sound(stack, dir.as_deref())?, *form, *of, around.as_deref(), *all)
        }
        PackVerb::Schema { conclusion } => {
            let schema = if *conclusion { conclusion_schema() } else { schema() };
            output::result(output::json(&schema)?)?;
            Ok(Exit::Done)
        }
    }
}

/// The packs in use, with a folder over them; a folder that has complaints and needs nothing of them
/// (a pack of its own, or the built-in one's own files) is taken alone.
fn loaded(stack: &StackOptions, dir: Option<&Path>) -> Result<Loaded, Failure> {
    let Some(dir) = dir else { return packs::with_folder(stack, None) };
    let alone = load(&[PackSource::Folder(dir.to_path_buf())]).map_err(Failure::Packs)?;
    if stack.only {
        return Ok(alone);
    }
    let over = packs::with_folder(stack, Some(dir))?;
    let errors = |loaded: &Loaded| loaded.faults.count(Severity::Error);
    let stands_alone = !alone.pack.complaints.is_empty() && errors(&alone) <= errors(&over);
    Ok(if stands_alone { alone } else { over })
}

/// The same, to be walked.
fn sound(stack: &StackOptions, dir: Option<&Path>) -> Result<Loaded, Failure> {
    let loaded = loaded(stack, dir)?;
    if loaded.faults.any_error() {
        return Err(Failure::FaultyPack);
    }
    Ok(loaded)
}

fn new(dir: &Path) -> Result<Exit, Failure> {
    let file = begin_pack(dir).map_err(Failure::NotBegun)?;
    let (file, dir) = (file.display().to_string(), dir.display().to_string());
    output::result(Clean::line(format!(
        "{file} written: read it, change it, then run boostwright pack check {dir}"
    )))?;
    Ok(Exit::Done)
}

fn test(loaded: &Loaded) -> Result<Exit, Failure> {
    let pack = &loaded.pack;
    let memo = Arc::default();
    let progress = Progress::of(pack.cases.len(), "cases");
    let cases: Vec<&Case> = pack.cases.values().collect();
    let tried = |case: &&Case| {
        let differs = try_case(pack, case, &memo).differs;
        progress.step();
        differs
    };
    let tried: Vec<_> = cases.par_iter().map(tried).collect();
    drop(progress);
    let (mut passed, mut failed) = (0, 0);
    for (id, differs) in pack.cases.keys().zip(tried) {
        if differs.is_empty() {
            passed += 1;
            continue;
        }
        failed += 1;
        output::result(Clean::line(format!("{id}{}:", whose(loaded, id))))?;
        for difference in differs {
            output::result(Clean::line(format!("    {difference}")))?;
        }
    }
    output::result(format!("{passed} passed, {failed} failed"))?;
    Ok(if failed == 0 { Exit::Done } else { Exit::Failed })
}

/// The pack a case is from, where there are several: one of a pack below may fail by what lies over
/// it.
fn whose(loaded: &Loaded, case: &str) -> String {
    let layers = &loaded.pack.layers;
    let origin = loaded.origins.iter().find(|known| known.section == "cases" && known.id == case);
    match origin.and_then(|origin| layers.get(origin.layer)).filter(|_| layers.len() > 1) {
        Some(layer) => format!(", a case of {}", layer.name),
        None => String::new(),
    }
}
