//! A session as it is written: YAML that a person can read and edit. Every field may be missing
//! here, so that all that is wrong can be named at once.
//!
//! An answers file is the same with less: a complaint and answers, or rounds.

use std::io::{self, Write};

use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

use super::format::FORMAT;
use super::kept::{PackMark, Session, SessionRound};
use crate::rules::fields_of;
use crate::rules::shape::FileKind;
use crate::rules::yaml::{Places, RouteStep, write};
use crate::rules::{Given, OneOrMore};

/// What a session must look like, for whoever wrote something else.
const HOLDS: &str =
    "a session holds a list rounds:, each with a mapping answers: of questions to answers";

/// How messages speak of these files.
pub(super) const SESSION_FILES: FileKind = FileKind {
    called: "sessions",
    top_key: "field",
    opening: HOLDS,
    fields_at,
    renamed: &[],
    more: HOLDS,
};

/// What every file opens with.
const HEAD: &str = "\
# A session of boostwright. It may be edited by hand while no program has it open; comments are
# not kept. Answers as you would say them: 0.92 bar, yes, a choice's id, unknown, later.
";

/// Whether a text opens as the files do that this program writes.
pub(super) fn opens_like_a_session(text: &str) -> bool {
    text.lines().next().is_some_and(|line| HEAD.starts_with(line) && line.starts_with(OPENING))
}

const OPENING: &str = "# A session of boostwright.";

/// A file of any format up to the present one.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields, expecting = "the fields of a session")]
pub(super) struct Written {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) format: Option<String>,
    /// The program that wrote it, with its version: the one to use where a format is too new.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) written_by: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) pack: Option<WrittenPack>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) car: Option<String>,
    /// Only in answers files of one round.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) complaint: Option<OneOrMore>,
    /// Only in answers files of one round.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) answers: Option<IndexMap<String, Given>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) rounds: Option<Vec<WrittenRound>>,
}

impl Written {
    /// Answers that YAML takes for numbers, with the digits that the person wrote: 1.10 says more than
    /// 1.1, and what other rules asked must come through a save as it was.
    pub(super) fn keep_numbers_as_written(&mut self, text: &str, places: &Places) {
        let key = |key: &str| RouteStep::Key(key.to_owned());
        let top = self.answers.iter_mut().map(|answers| (vec![key("answers")], answers));
        let rounds = self.rounds.iter_mut().flatten().enumerate();
        let rounds = rounds.filter_map(|(number, round)| {
            let route = vec![key("rounds"), RouteStep::Index(number), key("answers")];
            Some((route, round.answers.as_mut()?))
        });
        for (mut route, answers) in top.chain(rounds) {
            for (id, given) in answers {
                let Given::Text(read) = given else { continue };
                if read.parse::<f64>().is_err() {
                    continue;
                }
                route.push(key(id));
                let raw = places.value(&route).and_then(|bytes| text.get(bytes));
                if let Some(raw) = raw.filter(|raw| !raw.starts_with(['"', '\'', '|', '>'])) {
                    raw.trim().clone_into(read);
                }
                route.pop();
            }
        }
    }
}

#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields, expecting = "name and digest of the rules")]
pub(super) struct WrittenPack {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) digest: Option<String>,
}

#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields, expecting = "the fields of a round")]
pub(super) struct WrittenRound {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) complaint: Option<OneOrMore>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) repair: Option<String>,
    pub(super) answers: Option<IndexMap<String, Given>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) put_back: Option<OneOrMore>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) conclusion: Option<String>,
}

/// Writes a session in the present format.
///
/// # Errors
/// What the writer refuses.
pub fn write_session(session: &Session, out: &mut dyn Write) -> io::Result<()> {
    let written = Written {
        format: None,
        written_by: Some(concat!("boostwright ", env!("CARGO_PKG_VERSION")).to_owned()),
        pack: session.pack.as_ref().map(pack_as_written),
        car: session.car.clone(),
        complaint: None,
        answers: None,
        rounds: Some(session.rounds.iter().map(round_as_written).collect()),
    };
    let body = write(&written).map_err(io::Error::other)?;
    // The format stands first and bare: it is what a program looks at before all else.
    write!(out, "{HEAD}format: {FORMAT}\n{body}")
}

fn pack_as_written(mark: &PackMark) -> WrittenPack {
    WrittenPack {
        name: Some(mark.name.clone()),
        digest: (!mark.digest.is_empty()).then(|| mark.digest.clone()),
    }
}

fn round_as_written(round: &SessionRound) -> WrittenRound {
    WrittenRound {
        complaint: (!round.complaints.is_empty()).then(|| OneOrMore(round.complaints.clone())),
        repair: round.repair.clone(),
        answers: Some(round.answers.clone()),
        put_back: (!round.put_back.is_empty()).then(|| OneOrMore(round.put_back.clone())),
        conclusion: round.conclusion.clone(),
    }
}

/// The fields that the mapping at a route may have.
fn fields_at(route: &[RouteStep]) -> Option<Vec<&'static str>> {
    let fields = match route {
        [] => fields_of::<Written>(),
        [RouteStep::Key(key)] if key == "pack" => fields_of::<WrittenPack>(),
        [RouteStep::Key(key), RouteStep::Index(_)] if key == "rounds" => {
            fields_of::<WrittenRound>()
        }
        _ => None,
    };
    fields.map(<[_]>::to_vec)
}
