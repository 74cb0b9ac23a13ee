//! Which single answer, were it wrong, would put another cause in the lead; and how well each fits
//! what else is known.

use crate::ranking::{Factor, Network, Part, Slip, Without, joint_probability, overturns};
use crate::rules::{AnswerForm, CauseId, Holds, Pack, QuestionId, TypedIndex};

use crate::interview::state::State;

/// An answer that holds the lead where it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// The answers behind the piece of evidence.
    pub answers: Vec<QuestionId>,
    /// The cause that would lead without them, or with the opposite.
    pub lead: CauseId,
    /// That cause's chance then.
    pub probability: f64,
    /// The chance that everything else gives to what was answered: a small one speaks of a slip.
    pub fits: f64,
}

/// The answers that the lead hangs on, the most doubtful first; `without` as
/// [`without`](crate::interview::without) gives it.
#[must_use]
pub fn doubts(state: &State<'_>, without: &[Without]) -> Vec<Doubt> {
    let Some(believed) = state.ranked.posterior() else { return Vec::new() };
    let network = &state.pack.network;
    let factors: Vec<Factor> =
        state.evidence.iter().map(|evidence| evidence.factor.clone()).collect();
    let now = state.belief.rounds();
    let mut found: Vec<Doubt> = Vec::new();
    for overturn in overturns(network, &state.belief, &factors, believed, without) {
        let Some(evidence) =
            state.evidence.get(overturn.at.index).filter(|_| overturn.at.round == now)
        else {
            continue;
        };
        let answers = match overturn.slip {
            Some(slip) => evidence.slips.get(slip).copied().into_iter().collect(),
            None => evidence.answers.clone(),
        };
        if answers.is_empty()
            || decides_the_complaint(state, &resting(&evidence.factor, overturn.slip))
            || answers.iter().all(|question| is_surely_known(state.pack, *question))
            || found.iter().any(|known| known.answers == answers)
        {
            continue;
        }
        let rest: Vec<&Without> =
            without.iter().filter(|without| without.at == overturn.at).collect();
        found.push(Doubt {
            answers,
            lead: CauseId::from_index(overturn.lead),
            probability: overturn.probability,
            fits: fits(network, &evidence.factor, overturn.slip, &rest),
        });
    }
    found.sort_by(|a, b| a.fits.total_cmp(&b.fits));
    found
}

/// Whether a question asks what kind of car it is: its owner need not look again.
fn is_surely_known(pack: &Pack, question: QuestionId) -> bool {
    let asked = &pack.questions[question];
    let is_told =
        matches!(asked.answer, AnswerForm::YesOrNo | AnswerForm::Choose(_) | AnswerForm::AnyOf(_));
    is_told && asked.holds == Holds::Car
}

/// The findings that rest on an answer of a joint factor; all of any other.
fn resting(factor: &Factor, slip: Option<usize>) -> Vec<usize> {
    let (Factor::Joint(joint), Some(slip)) = (factor, slip) else {
        return factor.findings().to_vec();
    };
    let parts = joint.parts().iter().filter(|part| part.slips.contains(&slip));
    parts.flat_map(Part::findings).copied().collect()
}

/// Whether evidence is on what the person came with. That is known to whoever lives with the car; an
/// answer that denies it is looked at once more when it is given, and not doubted again for agreeing.
fn decides_the_complaint(state: &State<'_>, findings: &[usize]) -> bool {
    let complaints = state.complaints.iter().map(|complaint| &state.pack.complaints[*complaint]);
    let mut shown = complaints.flat_map(|complaint| &complaint.shows);
    shown.any(|finding| findings.contains(&finding.index()))
}

/// About the chance of what was seen by all else: each finding from the causes' chances without it,
/// taken one by one. Of an answer that several findings rest on: how much better what they show fits
/// than if it were off, on a scale from 0 to 1 on which ½ is neither.
fn fits(network: &Network, factor: &Factor, slip: Option<usize>, without: &[&Without]) -> f64 {
    let p_false = |finding: &usize| {
        let chances = without
            .iter()
            .find(|without| without.finding == *finding)
            .map(|without| &without.probabilities);
        network.findings()[*finding]
            .p_false(|cause| chances.and_then(|chances| chances.get(cause)).copied().unwrap_or(0.0))
    };
    let p_false: Vec<f64> = factor.findings().iter().map(p_false).collect();
    match factor {
        Factor::Single { yes, no, .. } => {
            let p_false = p_false.first().copied().unwrap_or(1.0);
            (yes * (1.0 - p_false) + no * p_false) / (yes + no).max(f64::MIN_POSITIVE)
        }
        Factor::Group { patterns, .. } => {
            let weigh = |truths: &[bool]| joint_probability(truths, p_false.iter().copied());
            let all: f64 = patterns.iter().map(|pattern| weigh(&pattern.truths)).sum();
            let seen: f64 =
                patterns.iter().map(|pattern| pattern.weight * weigh(&pattern.truths)).sum();
            let weights: f64 = patterns.iter().map(|pattern| pattern.weight).sum();
            seen / (all * weights).max(f64::MIN_POSITIVE)
        }
        Factor::Joint(joint) => {
            let Some(slip) = slip else { return 1.0 };
            let value = |off: bool| joint.with(slip, off).map_or(0.0, |with| with.value(&p_false));
            // The weights of being right and off are what the answer itself says, not all else.
            let own = joint.slips().get(slip).copied().unwrap_or(Slip { right: 1.0, off: 1.0 });
            let right = value(false) / own.right.max(f64::MIN_POSITIVE);
            let off = value(true) / (1.0 - own.right).max(f64::MIN_POSITIVE);
            right / (right + off).max(f64::MIN_POSITIVE)
        }
    }
}
