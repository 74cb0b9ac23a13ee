//! From a session to the interview's rounds. What can't be taken is named where it stands in the
//! file. With the rules the session was held with that is a mistake in the file; with other rules
//! it may be their doing: the session goes on, and what they don't know stays in the file.

use super::fault::SessionFault;
use super::kept::{Session, SessionRound};
use super::source::{Source, fault};
use crate::formula::nearest;
use crate::interview::{Refused, Round};
use crate::rules::{Fault, Faults, Mark, Pack, Severity};

/// A session taken in.
#[derive(Debug)]
pub struct Taken {
    pub rounds: Vec<Round>,
    /// What these rules don't know or can't take: kept in the file, not counted. Warnings, and
    /// only with other rules than the session was held with.
    pub left_out: Faults,
    /// Whether the session was held with other rules.
    pub other_rules: bool,
}

/// Looks every id up and reads every answer.
///
/// # Errors
/// Everything that can't be taken, if the session was held with these rules or doesn't say with
/// which; also where no complaint is known to them.
pub fn take(session: &Session, source: &Source, pack: &Pack) -> Result<Taken, Faults> {
    let digest = session.pack.as_ref().map_or("", |mark| mark.digest.as_str());
    let other_rules = !digest.is_empty() && digest != pack.digest;
    let mut taker = Taker { source, pack, faults: Vec::new() };
    let rounds: Vec<Round> = session
        .rounds
        .iter()
        .enumerate()
        .map(|(number, written)| taker.round(number, written))
        .collect();
    let aimless = rounds.first().is_none_or(|first| first.complaints.is_empty());
    let refused = aimless || (!other_rules && !taker.faults.is_empty());
    let severity = if refused { Severity::Error } else { Severity::Warning };
    for fault in &mut taker.faults {
        fault.severity = severity;
    }
    let faults = source.faults(taker.faults);
    if refused { Err(faults) } else { Ok(Taken { rounds, left_out: faults, other_rules }) }
}

struct Taker<'a> {
    source: &'a Source,
    pack: &'a Pack,
    faults: Vec<Fault>,
}

impl Taker<'_> {
    fn round(&mut self, number: usize, written: &SessionRound) -> Round {
        let mut round = Round::default();
        for id in &written.complaints {
            match self.pack.complaints.find(id) {
                Some(complaint) => round.complaints.push(complaint),
                None => {
                    self.unknown((number, "complaint"), id, self.pack.complaints.ids().collect());
                }
            }
        }
        if let Some(id) = &written.repair {
            round.repair = self.pack.repairs.find(id);
            if round.repair.is_none() {
                self.unknown((number, "repair"), id, self.pack.repairs.ids().collect());
            }
        }
        if let Err(refused) = round.read_answers(self.pack, &written.answers) {
            let faults = refused.into_iter().map(|refused| refusal(self.source, number, refused));
            self.faults.extend(faults);
        }
        // A set-up that these rules don't know is none that they could list.
        let put_back = written.put_back.iter();
        round.put_back = put_back.filter_map(|id| self.pack.setups.find(id)).collect();
        round
    }

    fn unknown(&mut self, (round, what): (usize, &'static str), id: &str, known: Vec<&str>) {
        let near = nearest(id, known.iter().copied()).map(str::to_owned);
        let known = known.into_iter().map(str::to_owned).collect();
        let unknown = SessionFault::UnknownName { id: id.to_owned(), what, near, known };
        self.faults.push(fault(unknown, self.source.route(round, &[what]), Mark::Value));
    }
}

fn refusal(source: &Source, round: usize, refused: Refused) -> Fault {
    let route = |id| source.route(round, &["answers", id]);
    match &refused {
        Refused::NoSuchQuestion { id, .. } => {
            let route = route(id);
            fault(SessionFault::UnknownQuestion { refused }, route, Mark::Key)
        }
        Refused::Answer { id, .. } => {
            let route = route(id);
            fault(SessionFault::NoAnswer { refused }, route, Mark::Value)
        }
    }
}
