//! What a walk needs to know: which questions are answered, and how, and which branches hold. Held
//! by the facts of an interview, and by a simulated person who knows findings instead of readings.

use crate::formula::Formula;
use crate::rules::{AnswerForm, FindingId, Holds, Pack, QuestionId, TypedIndex, VarOwner};

use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::Held;
use crate::interview::evidence::facts::Facts;

/// Laplace's rule starts with so many answers: three, and the one that it adds.
const SAID_BEFORE: f64 = 4.0;
/// Whoever can't say so often in a row knows no more.
const MOST_UNKNOWN: usize = 12;

/// What is known at one moment.
pub(in crate::interview) trait Known<'p> {
    fn pack(&self) -> &'p Pack;

    /// The facts, which tell what rests on what; its values are the interview's own business.
    fn facts(&self) -> &Facts<'p>;

    /// Whether a question was put and met with anything at all.
    fn is_held(&self, question: QuestionId) -> bool;

    /// Whether it was answered with something that says something.
    fn is_answered(&self, question: QuestionId) -> bool;

    /// Whether it was answered as what comes after it wants: yes to a yes-or-no question, anything
    /// that says something to others.
    fn is_answered_well(&self, question: QuestionId) -> bool;

    /// What was put off, in order.
    fn put_off(&self) -> Vec<QuestionId>;

    /// Whether its place was put off with another question.
    fn waits(&self, _question: QuestionId) -> bool {
        false
    }

    /// Whether two in three of the questions put were answered: whoever can't say is not helped by more.
    fn says_most(&self) -> bool;

    /// How many questions were put in this round.
    fn put_this_round(&self) -> usize;

    /// How many of the last questions in a row were met with "can't say".
    fn in_a_row(&self) -> usize;

    /// The chance that the next question is answered: who couldn't say several times in a row will hardly
    /// know the next. By Laplace's rule, as if three had been answered before.
    fn chance_of_an_answer(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a few questions")]
        let in_a_row = self.in_a_row() as f64;
        SAID_BEFORE / (SAID_BEFORE + in_a_row)
    }

    /// Whether nothing was known for so long that nothing more is asked.
    fn knows_no_more(&self) -> bool {
        self.in_a_row() >= MOST_UNKNOWN
    }

    /// Whether a finding is decided by what was answered.
    fn is_decided(&self, finding: FindingId) -> bool;

    /// Whether a branch with this condition is taken.
    fn takes(&self, when: &Formula) -> bool;

    /// Whether a condition is known not to hold.
    fn rules_out(&self, when: &Formula) -> bool;

    /// Whether the car may have what a question asks about.
    fn fits(&self, question: QuestionId) -> bool {
        let fits = &self.pack().questions[question].fits;
        !fits.as_ref().is_some_and(|when| self.rules_out(when))
    }

    /// The causes that this car can't have, by index.
    fn impossible(&self) -> Vec<usize> {
        let causes = self.pack().causes.iter();
        let ruled_out = causes
            .filter(|(_, cause)| cause.fits.as_ref().is_some_and(|when| self.rules_out(when)));
        ruled_out.map(|(place, _)| place.index()).collect()
    }

    /// What must be answered well before a question. What doesn't fit the car is not waited for: nobody
    /// could answer it, and there is nothing there that it would have to show to be sound.
    fn wanted_before(&self, question: QuestionId) -> Vec<QuestionId> {
        let before = self.pack().questions[question].not_before.iter().copied();
        before.filter(|before| self.fits(*before) && !self.is_told(*before)).collect()
    }

    /// What has to be known of the car before work on a part: a look or a word tells whether it has that
    /// part. Before questions that take no work there is no waiting.
    fn kinds_before(&self, question: QuestionId) -> Vec<QuestionId> {
        let pack = self.pack();
        let asked = &pack.questions[question];
        let Some(fits) = asked.fits.as_ref().filter(|_| !asked.is_light()) else {
            return Vec::new();
        };
        let read = fits.node.reads().into_iter().filter_map(|slot| match pack.owner_of(slot) {
            VarOwner::Question(kind) => Some(kind),
            VarOwner::Working(_) | VarOwner::CurveVariable => None,
        });
        read.filter(|kind| {
            let kind_asked = &pack.questions[*kind];
            kind_asked.holds == Holds::Car && kind_asked.is_light() && !self.is_held(*kind)
        })
        .collect()
    }

    /// Whether the complaint itself says yes to a question: what brought the person here is not asked
    /// before what follows from it.
    fn is_told(&self, question: QuestionId) -> bool;

    /// Whether it would first have to be told that the car has what a question is about: a noise comes
    /// before its kind.
    fn waits_to_be_told(&self, question: QuestionId) -> bool {
        let pack = self.pack();
        let Some(fits) = &pack.questions[question].fits else { return false };
        let read = fits.node.reads();
        let mut before = self.wanted_before(question).into_iter();
        before.any(|before| !self.is_held(before) && read.contains(&pack.question_slot(before)))
    }
}

/// The questions that were put, with their answers, in the order they were given: a list with all its
/// options is one.
fn put<'a>(facts: &'a Facts<'_>) -> impl DoubleEndedIterator<Item = (QuestionId, &'a Held)> {
    let held = facts.held.iter().map(|(question, held)| (*question, held));
    held.filter(|(question, _)| facts.pack.questions[*question].list.is_none())
}

impl<'p> Known<'p> for Facts<'p> {
    fn pack(&self) -> &'p Pack {
        self.pack
    }

    fn facts(&self) -> &Facts<'p> {
        self
    }

    fn is_held(&self, question: QuestionId) -> bool {
        self.held.contains_key(&question)
    }

    fn is_answered(&self, question: QuestionId) -> bool {
        self.answered(question)
    }

    fn is_answered_well(&self, question: QuestionId) -> bool {
        let yes_or_no = matches!(self.pack.questions[question].answer, AnswerForm::YesOrNo);
        match self.held.get(&question).map(|held| &held.answer) {
            Some(Answer::Truth(truth)) if yes_or_no => *truth,
            Some(Answer::CantSay | Answer::Later) | None => false,
            Some(Answer::Picked(picked)) => !picked.is_empty(),
            Some(_) => true,
        }
    }

    fn is_told(&self, question: QuestionId) -> bool {
        Facts::is_told(self, question)
    }

    fn put_off(&self) -> Vec<QuestionId> {
        Facts::put_off(self)
    }

    fn waits(&self, question: QuestionId) -> bool {
        self.waits_with_another(question)
    }

    fn says_most(&self) -> bool {
        let put: Vec<QuestionId> = put(self).map(|(question, _)| question).collect();
        let said = put.iter().filter(|question| self.answered(**question)).count();
        3 * said >= 2 * put.len()
    }

    fn put_this_round(&self) -> usize {
        let rounds = || put(self).map(|(_, held)| held.round);
        let last = rounds().max();
        rounds().filter(|round| Some(*round) == last).count()
    }

    fn in_a_row(&self) -> usize {
        let put = put(self).rev().filter(|(_, held)| held.answer != Answer::Later);
        put.take_while(|(_, held)| held.answer == Answer::CantSay).count()
    }

    fn is_decided(&self, finding: FindingId) -> bool {
        self.weigh(&self.pack.findings[finding].when)
            .is_some_and(|weight| weight.decided().is_some())
    }

    fn takes(&self, when: &Formula) -> bool {
        self.holds(when)
    }

    fn rules_out(&self, when: &Formula) -> bool {
        self.weigh(when).and_then(|weight| weight.decided()).is_some_and(|chance| chance < 0.5)
    }
}
