//! After a repair: did it do what it should? The number the complaint is judged by, before and
//! after, held against what was predicted.

use crate::formula::{VarId, normal};
use crate::rules::{AnswerForm, Better, Complaint, QuestionId, RepairId, VarOwner};

use crate::interview::advice::figure::{Figure, figure};
use crate::interview::advice::forecast::{Fell, Forecast, NOTICEABLE};
use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::says_something;
use crate::interview::evidence::facts::Facts;
use crate::interview::state::State;

/// How a repair turned out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    Cured,
    Better,
    Unchanged,
    Worse,
    NotComparable,
}

/// What a person says of the trouble since the repair, in a choice that a complaint names for that; none
/// where that says nothing of it.
#[must_use]
pub(in crate::interview) fn told(facts: &Facts<'_>, question: QuestionId) -> Option<Outcome> {
    let AnswerForm::Choose(options) = &facts.pack.questions[question].answer else { return None };
    let Answer::Option(chosen) = &facts.held.get(&question)?.answer else { return None };
    match options.get_index(*chosen)?.0.as_str() {
        "gone" => Some(Outcome::Cured),
        "better" => Some(Outcome::Better),
        "same" => Some(Outcome::Unchanged),
        "worse" => Some(Outcome::Worse),
        _ => None,
    }
}

impl Outcome {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Cured => "cured",
            Self::Better => "better",
            Self::Unchanged => "unchanged",
            Self::Worse => "worse",
            Self::NotComparable => "not_comparable",
        }
    }
}

/// What became of the complaint.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    pub repair: Option<RepairId>,
    pub outcome: Outcome,
    /// How sure that is.
    pub probability: f64,
    /// What the person says of it; of several complaints the one that is worst off.
    pub told: Option<Outcome>,
    /// The outcome rests on what the person says alone.
    pub by_word: bool,
    /// The number it is judged by.
    pub judged_by: Option<VarId>,
    pub before: Option<Figure>,
    pub after: Option<Figure>,
    pub predicted: Option<Figure>,
    /// Where what was measured fell in the distribution of what was predicted; none where nothing was
    /// predicted or measured.
    pub fell: Option<Fell>,
    /// Where the model did not hold: what the same forecast gives by all that is known now.
    pub forecast_now: Option<Figure>,
    /// Why it can't be compared, where it can't.
    pub because: Option<Incomparable>,
}

/// Why before and after can't be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Incomparable {
    /// What must be alike was too different in the two rounds.
    ConditionsDiffer(QuestionId),
    NothingNew,
    /// The number that would tell lacks one of the two. What was read in its place may say that the
    /// trouble is still there: a pull broken off tells the least that boost would have been.
    NotMeasuredTwice {
        still_there: bool,
    },
}

/// The verdict on the last repair; none in the first round.
#[must_use]
pub fn verdict(state: &State<'_>, repair: Option<RepairId>) -> Option<Verdict> {
    let past = state.before.last()?;
    let judge = RepairAssessment { state, past, now: &state.facts, repair };
    Some(judge.verdict())
}

struct RepairAssessment<'a, 'p> {
    state: &'a State<'p>,
    past: &'a Facts<'p>,
    now: &'a Facts<'p>,
    repair: Option<RepairId>,
}

impl RepairAssessment<'_, '_> {
    fn verdict(&self) -> Verdict {
        let judged_by = self.judged_by();
        let before = judged_by.and_then(|slot| figure(self.past, slot));
        let after = judged_by
            .filter(|slot| self.measured_now(*slot))
            .and_then(|slot| figure(self.now, slot));
        let forecast = judged_by.and_then(|slot| self.forecast(slot));
        let predicted = forecast.as_ref().and_then(Forecast::figure);
        let told = self.told();
        let measured = self.outcome(before.as_ref(), after.as_ref(), predicted.as_ref());
        let (outcome, probability, because, by_word) = match told {
            Some((told, sure)) => self.with_word(told, sure, measured),
            None => (measured.0, measured.1, measured.2, false),
        };
        let fell = forecast.as_ref().zip(after.as_ref());
        let fell = fell.and_then(|(forecast, after)| forecast.fell(after));
        let forecast_now = forecast
            .filter(|_| fell.as_ref().is_some_and(|fell| !fell.held))
            .and_then(|forecast| figure(self.now, forecast.by));
        Verdict {
            repair: self.repair,
            outcome,
            probability,
            told: told.map(|(told, _)| told),
            by_word,
            judged_by,
            before,
            after,
            fell,
            forecast_now,
            predicted,
            because,
        }
    }

    fn complaints(&self) -> impl Iterator<Item = &Complaint> {
        self.state.complaints.iter().map(|complaint| &self.state.pack.complaints[*complaint])
    }

    /// What the person says since the repair, and how sure such a word is. Of several complaints the
    /// one that is worst off; none unless each was spoken of.
    fn told(&self) -> Option<(Outcome, f64)> {
        let worst_first = [Outcome::Worse, Outcome::Unchanged, Outcome::Better, Outcome::Cured];
        let mut all: Vec<(Outcome, f64)> = Vec::new();
        for question in self.complaints().filter_map(|complaint| complaint.told_by) {
            let told = told(self.now, question).filter(|_| self.answered_now(question))?;
            all.push((told, self.state.pack.questions[question].right()));
        }
        worst_first.iter().find_map(|worst| all.iter().find(|(told, _)| told == worst).copied())
    }

    /// The numbers and the person's word together: numbers say how much, but no number cures what the
    /// person still has, and where no number tells the word does.
    fn with_word(
        &self,
        told: Outcome,
        sure: f64,
        measured: (Outcome, f64, Option<Incomparable>),
    ) -> (Outcome, f64, Option<Incomparable>, bool) {
        let by_word = (told, sure, None, true);
        match (measured, told) {
            ((Outcome::NotComparable, ..), _) => by_word,
            ((Outcome::Cured, ..), Outcome::Better | Outcome::Unchanged | Outcome::Worse) => {
                by_word
            }
            // Better than before, and nothing says that it isn't good enough.
            ((Outcome::Better | Outcome::Unchanged, ..), Outcome::Cured)
                if self.gone().is_none() =>
            {
                by_word
            }
            ((outcome, probability, because), _) => (outcome, probability, because, false),
        }
    }

    /// What the complaint says it is judged by, else what the repair should change.
    fn judged_by(&self) -> Option<VarId> {
        let pack = self.state.pack;
        let by_complaint = self.complaints().find_map(|complaint| complaint.judged_by);
        let by_repair = || {
            let predicted = &pack.repairs[self.repair?].predicts;
            // What is read in a run shows the cure, what is read on the bench only that the work was done.
            let in_a_run =
                predicted.iter().find(|(question, _)| pack.questions[*question].is_of_one_run());
            let judging = in_a_run.or(predicted.first());
            judging.map(|(question, _)| pack.question_slot(*question))
        };
        by_complaint.or_else(by_repair)
    }

    /// Whether a number rests on an answer given in this round.
    fn measured_now(&self, slot: VarId) -> bool {
        self.rests_on(slot).iter().any(|question| self.answered_now(*question))
    }

    /// The questions that a number is read from.
    fn rests_on(&self, slot: VarId) -> Vec<QuestionId> {
        match self.state.pack.owner_of(slot) {
            VarOwner::Question(question) => vec![question],
            VarOwner::Working(working) => {
                self.now.questions_below(&self.state.pack.workings[working].formula.node).collect()
            }
            VarOwner::CurveVariable => Vec::new(),
        }
    }

    /// What the repair promised for a question that this number is read from, worked out on what
    /// was known before the repair; where that was not enough, on what is known now.
    fn forecast(&self, slot: VarId) -> Option<Forecast<'_, '_>> {
        let repair = &self.state.pack.repairs[self.repair?];
        let rests_on = self.rests_on(slot);
        let (of, by) = repair.predicts.iter().find(|(question, _)| rests_on.contains(question))?;
        let (of, by) = (*of, *by);
        let by_facts = |facts| Forecast { facts, of, by };
        [self.past, self.now].map(by_facts).into_iter().find(|one| one.figure().is_some())
    }

    fn answered_now(&self, question: QuestionId) -> bool {
        let round = self.state.round - 1;
        says_something(&self.now.held, question)
            && self.now.held.get(&question).is_some_and(|held| held.round == round)
    }

    /// How sure it is that the complaint is gone; none where nothing tells.
    fn gone(&self) -> Option<f64> {
        let pack = self.state.pack;
        let mut all = None;
        for complaint in self.complaints() {
            let one = match &complaint.gone_when {
                Some(gone) => self.now.weigh(gone)?.decided()?,
                None => {
                    let shown = complaint.shows.iter().map(|finding| {
                        self.now
                            .weigh(&pack.findings[*finding].when)
                            .and_then(|weight| weight.decided())
                            .map(|shown| 1.0 - shown)
                    });
                    let shown: Option<Vec<f64>> = shown.collect();
                    shown.filter(|shown| !shown.is_empty())?.iter().product()
                }
            };
            all = Some(all.unwrap_or(1.0) * one);
        }
        all
    }

    fn outcome(
        &self,
        before: Option<&Figure>,
        after: Option<&Figure>,
        predicted: Option<&Figure>,
    ) -> (Outcome, f64, Option<Incomparable>) {
        if let Some(question) = self.weather_differs() {
            let why = Incomparable::ConditionsDiffer(question);
            return (Outcome::NotComparable, 1.0, Some(why));
        }
        if !self.anything_new() {
            return (Outcome::NotComparable, 1.0, Some(Incomparable::NothingNew));
        }
        let gone = self.gone();
        if let Some(gone) = gone.filter(|gone| *gone > 0.5) {
            return (Outcome::Cured, gone, None);
        }
        let better = self.better(before, predicted);
        match (before, after, better, gone) {
            (Some(before), Some(after), Some(better), _) => {
                let (outcome, probability) = compare(before, after, better);
                (outcome, probability, None)
            }
            // Only part of the number was read: that is no reading like the one before.
            (_, None, _, gone) if self.complaints().any(|one| one.judged_by.is_some()) => {
                let why = Incomparable::NotMeasuredTwice { still_there: gone.is_some() };
                (Outcome::NotComparable, 1.0, Some(why))
            }
            (_, _, _, Some(gone)) => (Outcome::Unchanged, 1.0 - gone, None),
            _ => {
                let why = Incomparable::NotMeasuredTwice { still_there: false };
                (Outcome::NotComparable, 1.0, Some(why))
            }
        }
    }

    fn anything_new(&self) -> bool {
        let round = self.state.round - 1;
        let held = &self.now.held;
        let is_word =
            |question: QuestionId| self.complaints().any(|own| own.told_by == Some(question));
        held.iter().any(|(question, answer)| {
            answer.round == round && says_something(held, *question) && !is_word(*question)
        })
    }

    /// Which way the number should move: as the complaint says, else towards the prediction.
    fn better(&self, before: Option<&Figure>, predicted: Option<&Figure>) -> Option<Better> {
        let by_complaint = self.complaints().find_map(|complaint| complaint.better);
        by_complaint.or_else(|| {
            let (before, predicted) = (before?.value, predicted?.value);
            Some(if predicted < before { Better::Lower } else { Better::Higher })
        })
    }

    /// Two runs in different weather are not held against each other.
    fn weather_differs(&self) -> Option<QuestionId> {
        for (question, within) in
            self.complaints().flat_map(|complaint| &complaint.comparable_within)
        {
            let read = |facts: &Facts<'_>| match facts.held.get(question).map(|held| &held.answer) {
                Some(Answer::Number(reading)) => Some(reading.value),
                _ => None,
            };
            let (Some(before), Some(after)) = (read(self.past), read(self.now)) else { continue };
            if (after - before).abs() > *within {
                return Some(*question);
            }
        }
        None
    }
}

/// Better, worse or unchanged by more than anyone would notice, whichever is likeliest.
fn compare(before: &Figure, after: &Figure, better: Better) -> (Outcome, f64) {
    let gain = match better {
        Better::Lower => before.value - after.value,
        Better::Higher => after.value - before.value,
    };
    let uncertainty = before.uncertainty.hypot(after.uncertainty);
    let noticeable = NOTICEABLE * before.value.abs();
    let worse = normal::chance_negative(gain + noticeable, uncertainty);
    let improved = normal::chance_negative(noticeable - gain, uncertainty);
    let same = (1.0 - worse - improved).max(0.0);
    let mut likeliest = (Outcome::Unchanged, same);
    for other in [(Outcome::Better, improved), (Outcome::Worse, worse)] {
        if other.1 > likeliest.1 {
            likeliest = other;
        }
    }
    likeliest
}
