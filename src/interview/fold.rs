//! The fold: the state of an interview is a pure function of the pack, the rounds of answers and
//! the state of the car. Nothing else is remembered.

use std::sync::Arc;

use crate::formula::Memo;
use crate::ranking::{Belief, Effort, Refusal, posterior_with};
use crate::rules::{CarStateId, ComplaintId, Pack, QuestionId, TypedIndex};

use crate::interview::advice::danger::Danger;
use crate::interview::advice::in_place::in_place;
use crate::interview::advice::verdict::{Outcome, verdict};
use crate::interview::answers::round::{Answers, Round, carried_over, lay_over, spread_lists};
use crate::interview::evidence::earlier::Earlier;
use crate::interview::evidence::factors::{Evidence, evidence};
use crate::interview::evidence::facts::Facts;
use crate::interview::evidence::learning;
use crate::interview::evidence::read_round::ReadRounds;
use crate::interview::evidence::told::told_by;
use crate::interview::internal_error::InternalError;
use crate::interview::state::{Ranked, State};
use crate::interview::walk::choose::{Chooser, Valuation};
use crate::interview::walk::clear_lead::hangs_on_doubt;
use crate::interview::walk::implied_kinds::imply_kinds;
use crate::interview::walk::known::Known;
use crate::interview::walk::walker::{Walk, Walker};

/// A cause's chance that may be off by more than this is worth more work where something is concluded.
const WORTH_MORE_WORK: f64 = 0.01;

/// Folds rounds of answers into where the interview stands, to conclude from. `car` narrows the next
/// question to what can be answered in that state of the car.
#[must_use]
pub fn fold<'p>(pack: &'p Pack, rounds: &[Round], car: Option<CarStateId>) -> State<'p> {
    folded(pack, rounds, car, &Arc::default(), true)
}

/// [`fold`] for one who folds again and again: sums done before are not done twice, and as long as
/// there is more to ask the chances are worked out no further than that takes.
#[must_use]
pub fn fold_with<'p>(
    pack: &'p Pack,
    rounds: &[Round],
    car: Option<CarStateId>,
    memo: &Arc<Memo>,
) -> State<'p> {
    folded(pack, rounds, car, memo, false)
}

fn folded<'p>(
    pack: &'p Pack,
    rounds: &[Round],
    car: Option<CarStateId>,
    memo: &Arc<Memo>,
    concludes: bool,
) -> State<'p> {
    let complaints = rounds.first().map(|round| round.complaints.clone()).unwrap_or_default();
    let Past { held, earlier, mut read, before, belief, mut pieces } =
        Past::of(pack, rounds, &complaints, memo);
    let number = rounds.len().saturating_sub(1);
    let facts = learning::facts(pack, held, &earlier, memo, &mut read);
    let facts = facts.hearing(shown_in(number, &complaints));
    let seen = evidence(&facts, number, shown_in(number, &complaints));
    pieces.push(seen.clone());
    // What the car is made of is known by all answers together, also for the rounds before.
    let belief = belief.map(|belief| belief.ruling_out(facts.impossible()));
    let danger = Danger::of(&facts);
    let here = Here { facts: &facts, danger: &danger, complaints: &complaints, car };
    let (mut ranked, (walk, open, valued)) = here.ranked_and_walked(&belief, &pieces, concludes);
    let belief = belief.unwrap_or_default();
    if let Some(Err(error)) = valued.get() {
        ranked = Ranked::Failed(error.clone());
    }
    let mut state = State {
        pack,
        complaints,
        round: number + 1,
        before,
        facts,
        belief,
        evidence: seen,
        ranked,
        danger,
        cured: false,
        walk,
        open,
        valued,
        in_place: Vec::new(),
    };
    state.cured = is_cured(&state, rounds.last());
    if state.cured {
        state.open.clear();
    }
    if state.cured || state.internal_error().is_some() {
        state.walk.next = None;
    }
    state.in_place = in_place(pack, rounds.last(), state.walk.next.map(|next| next.question));
    state
}

/// What the rounds before the last leave behind, and the answers that hold in the last.
struct Past<'p> {
    held: Answers,
    earlier: Earlier,
    read: ReadRounds<'p>,
    before: Vec<Facts<'p>>,
    belief: Result<Belief, InternalError>,
    /// The evidence of each round before the last.
    pieces: Vec<Vec<Evidence>>,
}

impl<'p> Past<'p> {
    fn of(pack: &'p Pack, rounds: &[Round], complaints: &[ComplaintId], memo: &Arc<Memo>) -> Self {
        let shown = complaints.iter().flat_map(|complaint| &pack.complaints[*complaint].shows);
        let told = told_by(pack, shown);
        let mut held = Answers::new();
        let mut earlier = Earlier::default();
        let mut read = ReadRounds::default();
        let mut before: Vec<Facts<'p>> = Vec::new();
        let mut belief = Ok(Belief::start());
        let mut pieces: Vec<Vec<Evidence>> = Vec::new();
        for (number, round) in rounds.iter().enumerate() {
            if number > 0 {
                let past = learning::facts(pack, held.clone(), &earlier, memo, &mut read);
                earlier.add(held.clone(), round.repair);
                let seen = evidence(&past, number - 1, shown_in(number - 1, complaints));
                belief = belief.and_then(|belief| after(pack, &belief, &seen, round));
                pieces.push(seen);
                held = carried_over(pack, &held, round.repair);
                before.push(past);
            }
            lay_over(pack, &mut held, round, number);
            spread_lists(pack, &mut held, &told, &|option, list, number| {
                let at = |question| rounds[number].answers.get_index_of(&question);
                at(option) > at(list)
            });
            imply_kinds(pack, &mut held, &|choice| last_changed(pack, &rounds[..=number], choice));
        }
        Self { held, earlier, read, before, belief, pieces }
    }
}

/// Whether the chances are in more doubt than what is concluded from them allows.
fn is_worth_more_work(ranked: &Ranked, concludes: bool) -> bool {
    ranked.posterior().is_some_and(|believed| {
        believed.inference().left_out > WORTH_MORE_WORK && (concludes || hangs_on_doubt(believed))
    })
}

/// What a walk starts from.
struct Here<'a, 'p> {
    facts: &'a Facts<'p>,
    danger: &'a Danger,
    complaints: &'a [ComplaintId],
    car: Option<CarStateId>,
}

impl Here<'_, '_> {
    /// The causes by all evidence and the walk by those, worked out further where it matters.
    fn ranked_and_walked(
        &self,
        belief: &Result<Belief, InternalError>,
        pieces: &[Vec<Evidence>],
        concludes: bool,
    ) -> (Ranked, (Walk, Vec<QuestionId>, Valuation)) {
        let rank = |effort| match belief {
            Ok(belief) => rank(self.facts.pack, belief, pieces, effort),
            Err(error) => Ranked::Failed(error.clone()),
        };
        let ranked = rank(Effort::Question);
        // A way that is walked again anyway need not be walked now.
        if !(concludes && is_worth_more_work(&ranked, true)) {
            let way = self.walked(&ranked);
            if !is_worth_more_work(&ranked, concludes || way.0.next.is_none()) {
                return (ranked, way);
            }
        }
        let ranked = rank(Effort::Conclusion);
        let way = self.walked(&ranked);
        (ranked, way)
    }

    /// The walk through the steps, the questions that may still come up, and what they are worth as far
    /// as the walk had to know it.
    fn walked(&self, ranked: &Ranked) -> (Walk, Vec<QuestionId>, Valuation) {
        let chooser = Chooser::by_facts(self.facts, ranked.posterior());
        let walker =
            Walker::new(self.facts, self.danger, self.complaints, &chooser).staying_at(self.car);
        let (walk, mut open) = (walker.walk(), walker.open().to_vec());
        // What is asked when the steps settle nothing may stand in a step of another complaint.
        open.extend(walk.next.map(|next| next.question).filter(|next| !open.contains(next)));
        (walk, open, chooser.into_valued())
    }
}

/// The last of these rounds that a repair opened which changed what a question asks about; 0 where none
/// did.
fn last_changed(pack: &Pack, rounds: &[Round], question: QuestionId) -> usize {
    let changes = |round: &Round| {
        round.repair.is_some_and(|repair| pack.repairs[repair].invalidates.contains(&question))
    };
    rounds.iter().rposition(changes).unwrap_or(0)
}

/// Answers that clash tell nothing for sure, not even that all is well.
fn is_cured(state: &State<'_>, round: Option<&Round>) -> bool {
    let verdict = verdict(state, round.and_then(|round| round.repair));
    let is_gone = verdict.is_some_and(|verdict| verdict.outcome == Outcome::Cured);
    is_gone && matches!(state.ranked, Ranked::Causes(_))
}

/// The complaint itself is evidence once, in the first round.
fn shown_in(round: usize, complaints: &[ComplaintId]) -> &[ComplaintId] {
    if round == 0 { complaints } else { &[] }
}

/// The belief that a later round starts from.
fn after(
    pack: &Pack,
    belief: &Belief,
    seen: &[Evidence],
    round: &Round,
) -> Result<Belief, InternalError> {
    let factors: Vec<_> = seen.iter().map(|evidence| evidence.factor.clone()).collect();
    let (mended, succeeds) = match round.repair {
        Some(repair) => {
            let repair = &pack.repairs[repair];
            (repair.mends.iter().map(|cause| cause.index()).collect(), repair.succeeds)
        }
        None => (Vec::new(), 1.0),
    };
    // Indices and chances were checked when the pack was linked, so that nothing should be refused.
    belief
        .after_repair(&factors, &mended, succeeds)
        .map_err(|refusal| InternalError::new("Taking the repair into account", refusal))
}

fn rank(pack: &Pack, belief: &Belief, pieces: &[Vec<Evidence>], effort: Effort) -> Ranked {
    let now: Vec<_> =
        pieces.last().into_iter().flatten().map(|evidence| evidence.factor.clone()).collect();
    match posterior_with(&pack.network, belief, &now, effort) {
        Ok(posterior) => Ranked::Causes(posterior),
        Err(Refusal::Contradiction { factors }) => {
            let mut answers: Vec<QuestionId> = factors
                .iter()
                .filter_map(|at| pieces.get(at.round)?.get(at.index))
                .flat_map(|evidence| evidence.answers.iter().copied())
                .collect();
            answers.sort_unstable();
            answers.dedup();
            Ranked::Contradiction(answers)
        }
        Err(refusal) => Ranked::Failed(InternalError::new("Ranking the causes", refusal)),
    }
}
