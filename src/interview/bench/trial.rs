//! A pack's own cases: the interview held with a person who knows just the case's answers.

use std::fmt;
use std::sync::Arc;

use crate::formula::Memo;
use crate::rules::{Case, CauseId, CautionId, Pack, QuestionId, RepairId, TypedIndex};

use crate::interview::advice::next_work::{Task, Work, next_work};
use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::{Refused, Round};
use crate::interview::fold::fold_with;
use crate::interview::internal_error::InternalError;
use crate::interview::state::{Ranked, State};

/// No interview asks more; one that would is told as such.
const MAX_QUESTIONS: usize = 500;

/// What a case came to.
#[derive(Debug, Clone)]
pub struct Trial {
    /// The causes, the likeliest first, with their chances.
    pub ranking: Vec<(CauseId, f64)>,
    /// What differs from what the case expects.
    pub differs: Vec<Difference>,
}

/// One way in which a case came out otherwise than expected.
#[derive(Debug, Clone, PartialEq)]
pub enum Difference {
    Answer(Refused),
    Contradiction { answers: Vec<String> },
    Internal(InternalError),
    Rank { cause: String, wanted: usize, found: usize, chance: f64, lead: String },
    CautionMissing { caution: String },
    CautionUnwanted { caution: String },
    Repair { wanted: String, found: Option<String> },
    TooManyQuestions { most: usize, asked: usize },
}

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Answer(refused) => refused.fmt(f),
            Self::Internal(error) => error.fmt(f),
            Self::Contradiction { answers } => {
                write!(f, "the answers clash: {}", answers.join(", "))
            }
            Self::Rank { cause, wanted, found, chance, lead } => write!(
                f,
                "{cause} came {found} in order ({:.0} %), wanted {wanted} or better; {lead} came \
                 first",
                chance * 100.0
            ),
            Self::CautionMissing { caution } => write!(f, "caution {caution} does not apply"),
            Self::CautionUnwanted { caution } => write!(f, "caution {caution} applies"),
            Self::Repair { wanted, found: Some(found) } => {
                write!(f, "the first repair proposed is {found}, wanted {wanted}")
            }
            Self::Repair { wanted, found: None } => {
                write!(f, "no repair is proposed, wanted {wanted}")
            }
            Self::TooManyQuestions { most, asked } => {
                write!(f, "{asked} questions were asked, at most {most} allowed")
            }
        }
    }
}

/// Holds the interview of a case.
#[must_use]
pub fn try_case(pack: &Pack, case: &Case, memo: &Arc<Memo>) -> Trial {
    let mut given = Round { complaints: case.complaints.clone(), ..Round::default() };
    let mut differs = Vec::new();
    if let Err(refused) = given.read_answers(pack, &case.answers) {
        differs.extend(refused.into_iter().map(Difference::Answer));
    }
    let state = fold_with(pack, std::slice::from_ref(&given), None, memo);
    let work = next_work(&state);
    if let Err(error) = &work {
        differs.push(Difference::Internal(error.clone()));
    }
    if let Ranked::Contradiction(answers) = &state.ranked {
        let answers = pack.questions.ids_at(answers);
        differs.push(Difference::Contradiction { answers });
    }
    let ranking = ranking(&state);
    let first = case.first.iter().map(|cause| (*cause, 1));
    for (cause, wanted) in first.chain(case.among_first.iter().copied()) {
        differs.extend(rank_difference(pack, &ranking, cause, wanted));
    }
    let name = |caution: &CautionId| pack.cautions.id(*caution).to_owned();
    let in_force = |caution: &&CautionId| state.danger.in_force.contains(caution);
    differs.extend(
        case.cautions
            .iter()
            .filter(|c| !in_force(c))
            .map(|c| Difference::CautionMissing { caution: name(c) }),
    );
    differs.extend(
        case.no_cautions
            .iter()
            .filter(in_force)
            .map(|c| Difference::CautionUnwanted { caution: name(c) }),
    );
    differs.extend(
        case.repair.and_then(|wanted| repair_difference(pack, work.as_deref().ok()?, wanted)),
    );
    if let Some(most) = case.questions_at_most {
        let asked = ask_through(pack, &given, memo);
        if asked > most {
            differs.push(Difference::TooManyQuestions { most, asked });
        }
    }
    Trial { ranking, differs }
}

/// Asks what is due until nothing is; who doesn't know says so. How many were asked.
fn ask_through(pack: &Pack, given: &Round, memo: &Arc<Memo>) -> usize {
    let mut round = Round { answers: indexmap::IndexMap::new(), ..given.clone() };
    for asked in 0..MAX_QUESTIONS {
        let state = fold_with(pack, std::slice::from_ref(&round), None, memo);
        let Some(next) = state.walk.next else { return asked };
        let answer = given.answers.get(&next.question).cloned();
        let answer = answer.or_else(|| picked(pack, given, next.question));
        let answer = answer.unwrap_or(Answer::CantSay);
        round.give(next.question, answer);
    }
    MAX_QUESTIONS
}

/// A list answered by those of its options that the case gives by themselves.
fn picked(pack: &Pack, given: &Round, list: QuestionId) -> Option<Answer> {
    let told = |option: &&QuestionId| given.answers.contains_key(*option);
    let told: Vec<QuestionId> = pack.options_of(list).iter().filter(told).copied().collect();
    let is_true = |option: &QuestionId| given.answers[option] == Answer::Truth(true);
    (!told.is_empty()).then(|| Answer::Picked(told.into_iter().filter(is_true).collect()))
}

fn ranking(state: &State<'_>) -> Vec<(CauseId, f64)> {
    let mut found: Vec<(CauseId, f64)> = state
        .ranked
        .probabilities()
        .iter()
        .enumerate()
        .map(|(index, chance)| (CauseId::from_index(index), *chance))
        .collect();
    found.sort_by(|a, b| b.1.total_cmp(&a.1));
    found
}

/// Held against the first repair proposed, whatever is checked before it.
fn repair_difference(pack: &Pack, work: &[Work], wanted: RepairId) -> Option<Difference> {
    let first = work.iter().find_map(|work| match work.what {
        Task::Repair(repair) => Some(repair),
        Task::Check(_) => None,
    });
    let id = |repair: RepairId| pack.repairs.id(repair).to_owned();
    (first != Some(wanted)).then(|| Difference::Repair { wanted: id(wanted), found: first.map(id) })
}

fn rank_difference(
    pack: &Pack,
    ranking: &[(CauseId, f64)],
    cause: CauseId,
    wanted: usize,
) -> Option<Difference> {
    let place = ranking.iter().position(|(known, _)| *known == cause)?;
    (place >= wanted).then(|| Difference::Rank {
        cause: pack.causes.id(cause).to_owned(),
        wanted,
        found: place + 1,
        chance: ranking[place].1,
        lead: ranking
            .first()
            .map_or_else(String::new, |(lead, _)| pack.causes.id(*lead).to_owned()),
    })
}
