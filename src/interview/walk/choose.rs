//! Which question is worth its minutes next: the expected information about the causes for the
//! time it takes, changing the state of the car included.

use std::cell::OnceCell;

use crate::ranking::{Observable, Posterior, information};
use crate::rules::{CarStateId, QuestionId, SetupId};

use crate::interview::advice::danger::could_stop;
use crate::interview::evidence::facts::Facts;
use crate::interview::internal_error::InternalError;
use crate::interview::walk::candidates::Candidates;
use crate::interview::walk::clear_lead::is_clear;
use crate::interview::walk::known::Known;
use crate::interview::walk::observe::bundles;
use crate::interview::walk::put_off::AN_EFFORT;

/// Less information than this, in bits, can't matter.
const MIN_BITS: f64 = 0.05;

/// A question worth less for its minutes than this share of the best one that may still come up waits
/// for its turn: where a step asks for the best of a few, the best of all may lie further on.
const WORTH_NOW: f64 = 0.75;

/// Minutes of work that a bit saves: to know which of two causes it is spares about one repair in vain,
/// with the drive that shows it, every second time.
const MINUTES_A_BIT: f64 = 300.0;

/// After every so many questions of a round a further one costs twice as much: patience ends.
const PATIENCE: f64 = 10.0;

/// How many questions may be wanted before one another.
pub(in crate::interview) const MAX_DEPTH_BEFORE: usize = 32;

/// Chooses among questions by what is known.
pub(in crate::interview) struct Chooser<'a, 'p> {
    known: &'a dyn Known<'p>,
    /// None where the answers clash.
    believed: Option<&'a Posterior>,
    /// Where the last answer left the car, and the set-up that was made for it.
    car_now: Option<CarStateId>,
    setup_now: Option<SetupId>,
    /// Worked out when first asked for.
    valued: Valuation,
}

/// A question that a step would like answered, and the one to ask for that now: itself, or what must be
/// answered before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::interview) struct Askable {
    pub(in crate::interview) wanted: QuestionId,
    pub(in crate::interview) due: QuestionId,
}

/// A bundle of questions with what it is worth.
#[derive(Debug, Clone)]
pub(in crate::interview) struct Valued {
    pub(in crate::interview) questions: Vec<QuestionId>,
    pub(in crate::interview) observables: Vec<Observable>,
    /// These questions with all that must be answered before them, in order.
    order: Vec<QuestionId>,
    pub(in crate::interview) minutes: f64,
    /// What asking costs beside the work, in minutes: of these questions and of all that must be answered
    /// before them.
    asking: f64,
    pub(in crate::interview) bits: f64,
}

/// What bundles are worth, the best for its minutes first; empty until somebody had to know it.
pub(in crate::interview) type Valuation = OnceCell<Result<Vec<Valued>, InternalError>>;

impl Valued {
    fn rate(&self) -> f64 {
        self.bits / (self.minutes + self.asking)
    }

    /// Whether it saves more minutes than it takes.
    fn pays(&self, asked: &Asked) -> bool {
        self.bits * asked.answered * MINUTES_A_BIT >= self.minutes + self.asking * asked.wears
    }
}

/// Who is asked: with which chance the next question is answered, and how many times the first one it
/// costs by now.
struct Asked {
    answered: f64,
    wears: f64,
}

impl<'a, 'p> Chooser<'a, 'p> {
    pub(in crate::interview) fn new(
        known: &'a dyn Known<'p>,
        believed: Option<&'a Posterior>,
        car_now: Option<CarStateId>,
    ) -> Self {
        Self { known, believed, car_now, setup_now: None, valued: OnceCell::new() }
    }

    /// Who chooses by the facts of an interview.
    pub(in crate::interview) fn by_facts(
        facts: &'a Facts<'p>,
        believed: Option<&'a Posterior>,
    ) -> Self {
        // Nobody moved the car for a question that was put aside, nor for one of memory.
        let answered = facts.held.keys().rev().filter(|question| facts.answered(**question));
        let asked = answered.map(|question| &facts.pack.questions[*question]);
        let mut placed = asked.filter(|asked| asked.needs_a_place());
        let last = placed.next();
        let car_now = last.and_then(|last| last.car).or_else(|| placed.find_map(|own| own.car));
        Self { setup_now: last.and_then(|last| last.setup), ..Self::new(facts, believed, car_now) }
    }

    /// The same, with what its bundles are worth already told by one who knew the same.
    pub(in crate::interview) fn knowing(self, valued: Valuation) -> Self {
        Self { valued, ..self }
    }

    /// What the bundles are worth, as far as that was worked out.
    pub(in crate::interview) fn into_valued(self) -> Valuation {
        self.valued
    }

    /// The one of the pool to ask now, which has to hold its own against its rivals; none where the lead
    /// stands clear or nothing is worth its minutes. What could show a danger comes first.
    pub(in crate::interview) fn best(
        &self,
        pool: &[Askable],
        rivals: &[QuestionId],
        can_be_had: impl Fn(QuestionId) -> bool,
    ) -> Option<QuestionId> {
        self.believed?;
        let stops = |askable: &&Askable| could_stop(self.known.facts(), askable.due);
        let asked_for = |askable: &&Askable| askable.wanted == askable.due;
        if let Some(danger) = pool.iter().filter(asked_for).find(stops) {
            return Some(danger.due);
        }
        self.worth_asking(pool, rivals, can_be_had)
    }

    /// The same, dangers coming first only among what is worth asking for itself.
    pub(in crate::interview) fn worth_asking(
        &self,
        pool: &[Askable],
        rivals: &[QuestionId],
        can_be_had: impl Fn(QuestionId) -> bool,
    ) -> Option<QuestionId> {
        if pool.is_empty() || self.lead_is_clear() {
            return None;
        }
        let asked = self.asked();
        let is_rival =
            |bundle: &&Valued| bundle.questions.iter().all(|question| rivals.contains(question));
        // An error is kept beside what was valued, where the fold finds it.
        let valued = self.valued().unwrap_or_default();
        let paying = || valued.iter().filter(|bundle| bundle.pays(&asked));
        let best = paying().find(is_rival);
        let least = best.map_or(0.0, |best| WORTH_NOW * best.rate());
        let worth_asking = paying().take_while(|bundle| bundle.rate() >= least);
        // One half of what tells something is worth nothing where the other can't be had.
        let whole = |bundle: &Valued| bundle.questions.iter().all(|question| can_be_had(*question));
        let of_the_pool: Vec<&Askable> = worth_asking
            .filter_map(|bundle| {
                let asked_for = |askable: &&Askable| bundle.questions.contains(&askable.wanted);
                pool.iter().find(asked_for).filter(|_| whole(bundle))
            })
            .collect();
        let stops = |askable: &&Askable| could_stop(self.known.facts(), askable.due);
        let danger = of_the_pool.iter().copied().find(stops);
        danger.or(of_the_pool.first().copied()).map(|askable| askable.due)
    }

    fn asked(&self) -> Asked {
        #[expect(clippy::cast_precision_loss, reason = "some dozens of questions")]
        let put = self.known.put_this_round() as f64;
        Asked { answered: self.known.chance_of_an_answer(), wears: (put / PATIENCE).exp2() }
    }

    /// Whether a question, or what must be answered before it, is told apart by something that pays.
    pub(in crate::interview) fn leads_on(&self, question: QuestionId) -> bool {
        let asked = self.asked();
        self.believed.is_none()
            || self.valued().is_ok_and(|valued| {
                let mut paying = valued.iter().filter(|bundle| bundle.pays(&asked));
                paying.any(|bundle| bundle.order.contains(&question))
            })
    }

    /// Whether a question is answered where the car is, in the set-up it has: one of memory is answered
    /// anywhere.
    pub(in crate::interview) fn stays(&self, question: QuestionId) -> bool {
        let asked = &self.known.pack().questions[question];
        !asked.needs_a_place()
            || (asked.setup == self.setup_now && (asked.car.is_none() || asked.car == self.car_now))
    }

    /// Whether the car is in a set-up, or where it took an effort to get it.
    pub(in crate::interview) fn is_at_work(&self) -> bool {
        let states = &self.known.pack().car_states;
        self.setup_now.is_some() || self.car_now.is_some_and(|car| states[car].minutes >= AN_EFFORT)
    }

    /// Of the pool what is still to be had where the car is, worth its own minutes there, the best first;
    /// none where it took no effort to get there.
    pub(in crate::interview) fn still_here(
        &self,
        pool: &[Askable],
        can_be_had: impl Fn(QuestionId) -> bool,
    ) -> Option<QuestionId> {
        let pack = self.known.pack();
        let placed = |question: &QuestionId| pack.questions[*question].needs_a_place();
        if !self.is_at_work() || self.lead_is_clear() {
            return None;
        }
        // What is not asked now costs the way here once more.
        let asked = Asked { wears: 1.0, ..self.asked() };
        let mut here = self.valued().unwrap_or_default().iter().filter(|bundle| {
            bundle.pays(&asked)
                && bundle.order.iter().any(placed)
                && bundle
                    .order
                    .iter()
                    .all(|question| self.stays(*question) && can_be_had(*question))
        });
        here.find_map(|bundle| {
            let asked_for = |askable: &&Askable| bundle.questions.contains(&askable.wanted);
            pool.iter().find(asked_for).map(|askable| askable.due)
        })
    }

    /// Whether the lead stands clear of the other causes by now.
    pub(in crate::interview) fn lead_is_clear(&self) -> bool {
        self.believed.is_some_and(is_clear)
    }

    /// Every bundle that is worth something, the best for its minutes first.
    ///
    /// # Errors
    /// A slip of this program.
    pub(in crate::interview) fn valued(&self) -> Result<&[Valued], &InternalError> {
        let value =
            || self.believed.map_or_else(|| Ok(Vec::new()), |believed| self.value(believed));
        self.valued.get_or_init(value).as_ref().map(Vec::as_slice)
    }

    fn value(&self, posterior: &Posterior) -> Result<Vec<Valued>, InternalError> {
        let mut bundles = bundles(self.known);
        bundles.retain(|bundle| bundle.questions.iter().all(|question| self.known.fits(*question)));
        let candidates = Candidates::of(posterior);
        bundles.retain(|bundle| {
            let mut shown = bundle.observables.iter().flat_map(Observable::findings);
            shown.any(|finding| candidates.told_apart_by(self.known.pack(), *finding))
        });
        let observed: Vec<Vec<Observable>> =
            bundles.iter().map(|bundle| bundle.observables.clone()).collect();
        // Indices were checked when the pack was linked, so that nothing should be refused.
        let bits = information(&self.known.pack().network, posterior, &observed)
            .map_err(|refusal| InternalError::new("Telling what a question is worth", refusal))?;
        let mut valued: Vec<Valued> = bundles
            .into_iter()
            .zip(bits)
            .filter(|(_, bits)| *bits >= MIN_BITS)
            .map(|(bundle, bits)| {
                let order = self.lined_up(&bundle.questions);
                Valued {
                    minutes: self.minutes_of(&order),
                    #[expect(clippy::cast_precision_loss, reason = "a handful of questions")]
                    asking: self.known.pack().asking * order.len() as f64,
                    order,
                    questions: bundle.questions,
                    observables: bundle.observables,
                    bits,
                }
            })
            .collect();
        valued.sort_by(|a, b| b.rate().total_cmp(&a.rate()));
        Ok(valued)
    }

    /// The time that questions take, from where the car is now, in minutes, with all that must be
    /// answered before them: each question, each state of the car and each set-up counts once.
    pub(in crate::interview) fn minutes(&self, questions: &[QuestionId]) -> f64 {
        self.minutes_of(&self.lined_up(questions))
    }

    fn minutes_of(&self, order: &[QuestionId]) -> f64 {
        let pack = self.known.pack();
        let mut here = self.car_now;
        let mut setups = Vec::new();
        let mut minutes = 0.0;
        for question in order {
            let asked = &pack.questions[*question];
            minutes += asked.minutes;
            if asked.car.is_some() && asked.car != here {
                here = asked.car;
                minutes += asked.car.map_or(0.0, |car| pack.car_states[car].minutes);
            }
            if let Some(setup) = asked.setup.filter(|setup| !setups.contains(setup)) {
                setups.push(setup);
                minutes += pack.setups[setup].minutes;
            }
        }
        minutes
    }

    /// Questions with all that must be answered before them and isn't yet, each once, in order.
    fn lined_up(&self, questions: &[QuestionId]) -> Vec<QuestionId> {
        let mut order = Vec::new();
        questions.iter().for_each(|question| self.line_up(*question, &mut order, 0));
        order
    }

    /// Puts a question into the order behind what must be answered before it.
    fn line_up(&self, question: QuestionId, order: &mut Vec<QuestionId>, depth: usize) {
        let question = self.known.pack().asked_with(question);
        if order.contains(&question) || depth > MAX_DEPTH_BEFORE {
            return;
        }
        let kinds = self.known.kinds_before(question);
        for before in kinds.into_iter().chain(self.known.wanted_before(question)) {
            if !self.known.is_held(before) {
                self.line_up(before, order, depth + 1);
            }
        }
        order.push(question);
    }
}
