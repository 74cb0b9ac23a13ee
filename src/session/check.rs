//! A session's text to a session: the format first, then the shape, then what must stand in which
//! round. Whether the ids mean anything is not looked at.

use std::sync::Arc;

use serde::Deserialize;

use super::error::Problem;
use super::fault::SessionFault;
use super::format::FORMAT;
use super::kept::{MAX_ROUNDS, PackMark, Session, SessionRound};
use super::migrate::migrate;
use super::source::{Source, fault};
use super::written::{SESSION_FILES, Written, WrittenRound};
use crate::rules::shape::read_noting;
use crate::rules::yaml::{RouteStep, read};
use crate::rules::{Fault, Faults, FileText, Mark};

/// What tells the format, whatever else a file of it may hold.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Stamp {
    format: Option<String>,
    written_by: Option<String>,
}

/// Reads a session or an answers file.
pub(super) fn session_from(name: &str, text: String) -> Result<(Session, Source), Problem> {
    if text.trim().is_empty() {
        return Err(Problem::Empty);
    }
    let file = FileText { name: name.to_owned(), text: text.into() };
    let mut faults = Vec::new();
    let shaped = read_noting::<Written>(&SESSION_FILES, 0, &file.text, &mut faults);
    let mut written = match shaped.value {
        Some(written) if faults.is_empty() => written,
        _ => {
            // A newer format may have another shape, and then that is all there is to say.
            let stamp: Stamp = read(&file.text).unwrap_or_default();
            format_of(&stamp)?;
            return Err(faulty(file, faults));
        }
    };
    let Written { format, written_by, .. } = &written;
    let format = format_of(&Stamp { format: format.clone(), written_by: written_by.clone() })?;
    if let Some(places) = &shaped.places {
        written.keep_numbers_as_written(&file.text, places);
    }
    let Some(format) = format else {
        return Err(faulty(file, vec![no_number()]));
    };
    let single = written.rounds.is_none();
    let source = Source { file, single, places: shaped.places.map(Arc::new) };
    let written = migrate(written, format);
    check(&written, &source, &mut faults);
    if faults.is_empty() {
        Ok((kept(written), source))
    } else {
        Err(Problem::Faulty { faults: source.faults(faults) })
    }
}

fn faulty(file: FileText, list: Vec<Fault>) -> Problem {
    Problem::Faulty { faults: Faults { files: vec![file], list, places: Vec::new() } }
}

/// The format of a file; none where what stands there is no number.
fn format_of(stamp: &Stamp) -> Result<Option<usize>, Problem> {
    let Some(text) = &stamp.format else { return Ok(Some(0)) };
    let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    match text.parse::<usize>() {
        Ok(format) if format <= FORMAT => Ok(Some(format)),
        _ if digits => Err(Problem::Newer {
            format: text.chars().take(20).collect(),
            written_by: stamp.written_by.clone(),
        }),
        _ => Ok(None),
    }
}

fn no_number() -> Fault {
    fault(SessionFault::NoFormat, vec![RouteStep::Key("format".to_owned())], Mark::Value)
}

/// Names what stands in the wrong place, or is missing.
fn check(written: &Written, source: &Source, faults: &mut Vec<Fault>) {
    for (key, stands) in
        [("complaint", written.complaint.is_some()), ("answers", written.answers.is_some())]
    {
        if stands {
            let route = vec![RouteStep::Key(key.to_owned())];
            faults.push(fault(SessionFault::BesideTheRounds { key }, route, Mark::Key));
        }
    }
    let rounds = written.rounds.as_deref().unwrap_or_default();
    if rounds.is_empty() {
        faults.push(fault(SessionFault::NoRound, Vec::new(), Mark::Value));
    }
    if rounds.len() > MAX_ROUNDS {
        let route = source.route(MAX_ROUNDS, &[]);
        faults.push(fault(SessionFault::TooManyRounds, route, Mark::Value));
    }
    for (number, round) in rounds.iter().enumerate().take(MAX_ROUNDS) {
        let complaint = round.complaint.as_ref();
        let aimless = complaint.is_none_or(|complaint| complaint.0.is_empty());
        let first = number == 0;
        let checks = [
            (first && aimless, "complaint", SessionFault::NoComplaint),
            (first && round.repair.is_some(), "repair", SessionFault::RepairInTheFirst),
            (!first && complaint.is_some(), "complaint", SessionFault::ComplaintInALater),
            (
                !first && round.repair.is_none(),
                "repair",
                SessionFault::NoRepair { round: number + 1 },
            ),
        ];
        for (_, key, kind) in checks.into_iter().filter(|(wrong, ..)| *wrong) {
            faults.push(fault(kind, source.route(number, &[key]), Mark::Key));
        }
    }
}

fn kept(written: Written) -> Session {
    Session {
        pack: written.pack.map(|pack| PackMark {
            name: pack.name.unwrap_or_default(),
            digest: pack.digest.unwrap_or_default(),
        }),
        car: written.car,
        rounds: written.rounds.unwrap_or_default().into_iter().map(round).collect(),
    }
}

fn round(written: WrittenRound) -> SessionRound {
    SessionRound {
        complaints: written.complaint.map(|complaint| complaint.0).unwrap_or_default(),
        repair: written.repair,
        answers: written.answers.unwrap_or_default(),
        put_back: written.put_back.map(|put_back| put_back.0).unwrap_or_default(),
        conclusion: written.conclusion,
    }
}
