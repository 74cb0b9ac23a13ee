//! The stack of packs that a command works with.

use std::io::IsTerminal;
use std::path::Path;

use super::arguments::StackOptions;
use super::exit::Failure;
use super::output;
use crate::rules::{Loaded, Pack, PackSource, Severity, load, load_to_walk};

/// The packs named by the options, lowest first.
pub(super) fn sources(options: &StackOptions) -> Result<Vec<PackSource>, Failure> {
    if options.only && options.packs.is_empty() {
        return Err(Failure::NoPack);
    }
    let built_in = (!options.only).then_some(PackSource::BuiltIn);
    let folders = options.packs.iter().cloned().map(PackSource::Folder);
    Ok(built_in.into_iter().chain(folders).collect())
}

/// The packs named by the options, with a folder laid over them.
pub(super) fn with_folder(
    options: &StackOptions,
    folder: Option<&Path>,
) -> Result<Loaded, Failure> {
    let mut sources = sources(options)?;
    sources.extend(folder.map(|folder| PackSource::Folder(folder.to_path_buf())));
    load(&sources).map_err(Failure::Packs)
}

/// What a command needs until its process ends. Thousands of small pieces to give back one by one would
/// be a tenth of the time that it takes to start; the system takes them all at once.
pub(super) fn to_the_end<T>(value: T) -> &'static T {
    Box::leak(Box::new(value))
}

/// A pack to walk. A faulty one is drawn and refused.
pub(super) fn sound(options: &StackOptions) -> Result<&'static Pack, Failure> {
    let loaded = load_to_walk(&sources(options)?).map_err(Failure::Packs)?;
    let loaded = to_the_end(loaded);
    if !loaded.faults.any_error() {
        return Ok(&loaded.pack);
    }
    for (drawn, fault) in loaded.faults.draw(colour()).iter().zip(&loaded.faults.list) {
        if fault.severity == Severity::Error {
            output::message(drawn);
        }
    }
    Err(Failure::FaultyRules)
}

/// Whether messages may be coloured.
pub(super) fn colour() -> bool {
    wants_colour() && std::io::stderr().is_terminal()
}

/// Whether a terminal is to be given colours. `NO_COLOR` counts when it isn't empty (no-color.org); a
/// dumb terminal knows none.
pub(super) fn wants_colour() -> bool {
    std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
        && std::env::var_os("TERM").is_none_or(|kind| kind != "dumb")
}
