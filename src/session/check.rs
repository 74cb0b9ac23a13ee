//! A session's text to a session: the format first, then the shape, then what must stand in which
//! round. Whether the ids mean anything is not looked at.

use serde::Deserialize;

use super::error::Problem;
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
    let stamp: Stamp = read(&file.text).unwrap_or_default();
    let format = format_of(&stamp)?;
    let mut faults = Vec::new();
    let written = read_noting::<Written>(&SESSION_FILES, 0, &file.text, &mut faults).value;
    let written = match written {
        Some(written) if faults.is_empty() => written,
        _ => return Err(faulty(file, faults)),
    };
    let Some(format) = format else {
        return Err(faulty(file, vec![no_number()]));
    };
    let single = written.rounds.is_none();
    let source = Source { file, single };
    let written = migrate(written, format);
    check(&written, &source, &mut faults);
    if faults.is_empty() { Ok((kept(written), source)) } else { Err(faulty(source.file, faults)) }
}

fn faulty(file: FileText, list: Vec<Fault>) -> Problem {
    Problem::Faulty { faults: Faults { files: vec![file], list } }
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
    let place = (vec![RouteStep::Key("format".to_owned())], Mark::Value);
    let help = format!("write format: {FORMAT}, or delete the line if this is a file of answers");
    fault("no-format", place, "the format is no whole number".to_owned(), &help)
}

/// Names what stands in the wrong place, or is missing.
fn check(written: &Written, source: &Source, faults: &mut Vec<Fault>) {
    for (key, stands) in
        [("complaint", written.complaint.is_some()), ("answers", written.answers.is_some())]
    {
        if stands {
            let place = (vec![RouteStep::Key(key.to_owned())], Mark::Key);
            let message = format!("{key} stands beside the rounds");
            faults.push(fault("misplaced", place, message, "move it into the round it belongs to"));
        }
    }
    let rounds = written.rounds.as_deref().unwrap_or_default();
    if rounds.is_empty() {
        let help = "write complaint: with the id of a complaint, and answers: below it";
        let place = (Vec::new(), Mark::Value);
        faults.push(fault("no-round", place, "the file holds no round".to_owned(), help));
    }
    if rounds.len() > MAX_ROUNDS {
        let message = format!("more than {MAX_ROUNDS} rounds");
        let place = (source.route(MAX_ROUNDS, &[]), Mark::Value);
        faults.push(fault("too-many-rounds", place, message, "start a new session"));
    }
    for (number, round) in rounds.iter().enumerate().take(MAX_ROUNDS) {
        if number == 0 {
            check_first(round, source, faults);
        } else {
            check_later(round, number, source, faults);
        }
    }
}

fn check_first(round: &WrittenRound, source: &Source, faults: &mut Vec<Fault>) {
    if round.complaint.as_ref().is_none_or(|complaint| complaint.0.is_empty()) {
        let place = (source.route(0, &["complaint"]), Mark::Key);
        let message = "the first round has no complaint".to_owned();
        faults.push(fault(
            "no-complaint",
            place,
            message,
            "write complaint: with the id of a complaint",
        ));
    }
    if round.repair.is_some() {
        let place = (source.route(0, &["repair"]), Mark::Key);
        let message = "the first round comes before any repair".to_owned();
        let help = "move the repair to a second round, with the answers given after it";
        faults.push(fault("misplaced", place, message, help));
    }
}

fn check_later(round: &WrittenRound, number: usize, source: &Source, faults: &mut Vec<Fault>) {
    if round.complaint.is_some() {
        let place = (source.route(number, &["complaint"]), Mark::Key);
        let message = "only the first round has a complaint".to_owned();
        let help = "delete it here; another complaint is another session";
        faults.push(fault("misplaced", place, message, help));
    }
    if round.repair.is_none() {
        let place = (source.route(number, &["repair"]), Mark::Key);
        let message = format!("round {} names no repair", number + 1);
        let help = "write repair: with the id of what was done before this round";
        faults.push(fault("no-repair", place, message, help));
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
