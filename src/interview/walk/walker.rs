//! The walk through the decision graph: from the complaint's first step as far as the answers
//! lead, and the question that is due there.

use std::cell::OnceCell;
use std::collections::HashSet;

use crate::formula::Formula;
use crate::rules::{CarStateId, ComplaintId, Pack, QuestionId, StepId, WorkingId};

use crate::interview::advice::danger::{Danger, could_stop};
use crate::interview::walk::choose::{Askable, Chooser, MAX_DEPTH_BEFORE};
use crate::interview::walk::known::Known;

/// Why a question is asked now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// The step asks it.
    Step(StepId),
    /// It is wanted before another that the step asks.
    Before(QuestionId),
    /// Of those left it settles most for its minutes.
    Best,
    /// It was put off, and nothing else is left.
    PutOff,
    /// The repair made it due again.
    AfterRepair,
    /// The person has something to say to it.
    Volunteered,
}

/// The question that is due.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Next {
    pub question: QuestionId,
    pub step: Option<StepId>,
    pub reason: Reason,
}

/// Where the answers lead.
#[derive(Debug, Clone, Default)]
pub struct Walk {
    /// The steps entered, in order.
    pub path: Vec<StepId>,
    /// The workings that the steps entered name.
    pub named: Vec<WorkingId>,
    pub next: Option<Next>,
}

/// Who walks: what is known, what is forbidden, where the car is.
pub(in crate::interview) struct Walker<'a, 'p> {
    known: &'a dyn Known<'p>,
    danger: &'a Danger,
    complaints: &'a [ComplaintId],
    /// Only what can be answered in this state of the car is asked.
    car: Option<CarStateId>,
    chooser: &'a Chooser<'a, 'p>,
    /// What may still come up on the way, and what a step's questions are held against; worked out when
    /// first asked for.
    open: OnceCell<Vec<QuestionId>>,
    rivals: OnceCell<Vec<QuestionId>>,
}

impl<'a, 'p> Walker<'a, 'p> {
    pub(in crate::interview) fn new(
        known: &'a dyn Known<'p>,
        danger: &'a Danger,
        complaints: &'a [ComplaintId],
        chooser: &'a Chooser<'a, 'p>,
    ) -> Self {
        let (open, rivals) = (OnceCell::new(), OnceCell::new());
        Self { known, danger, complaints, car: None, chooser, open, rivals }
    }

    /// The same, asking only what can be answered in this state of the car.
    pub(in crate::interview) fn staying_at(self, car: Option<CarStateId>) -> Self {
        Self { car, ..self }
    }

    /// Walks from each complaint in turn. Each step is entered once.
    #[must_use]
    pub(in crate::interview) fn walk(&self) -> Walk {
        let mut walk = self.along_the_steps();
        walk.next = self.staying(walk.next);
        walk
    }

    fn along_the_steps(&self) -> Walk {
        let pack = self.known.pack();
        let mut walk = Walk::default();
        let mut entered = HashSet::new();
        let mut passed_over: Vec<Askable> = Vec::new();
        for complaint in self.complaints {
            let mut step = pack.complaints[*complaint].start;
            // Two complaints may start at one step.
            while let Some(here) = step.filter(|here| entered.insert(*here)) {
                walk.path.push(here);
                walk.named.extend(&pack.steps[here].work);
                if let Some(next) = self.due_in(here) {
                    walk.next = Some(next);
                    return walk;
                }
                passed_over.extend(self.askable(&pack.steps[here].ask_best_of));
                step = self.onward(here, &entered);
            }
        }
        walk.next = self.left_over(passed_over);
        walk
    }

    /// What is asked next: where that leaves the place the car is at, what may still be needed there
    /// comes first. Nobody lifts a car twice for what could be seen at once.
    fn staying(&self, next: Option<Next>) -> Option<Next> {
        let next = next?;
        if self.known.knows_no_more() {
            return None;
        }
        let is_fixed = next.reason == Reason::PutOff || self.is_for_a_plan();
        if is_fixed || self.chooser.stays(next.question) {
            return Some(next);
        }
        let pool = self.askable(self.rivals());
        let here = self.chooser.still_here(&pool, |question| self.can_be_had(question));
        let here = here.map(|question| Next { question, step: None, reason: Reason::Best });
        Some(here.unwrap_or(next))
    }

    /// The step that the first branch that holds leads to; a step entered before is passed over.
    fn onward(&self, step: StepId, entered: &HashSet<StepId>) -> Option<StepId> {
        self.known.pack().steps[step]
            .then
            .iter()
            .filter(|branch| branch.go.is_none_or(|go| !entered.contains(&go)))
            .find(|branch| branch.when.as_ref().is_none_or(|when| self.known.takes(when)))
            .and_then(|branch| branch.go)
    }

    fn due_in(&self, step: StepId) -> Option<Next> {
        let written = &self.known.pack().steps[step];
        // What could show a danger is asked all the same.
        let is_due = |question: &QuestionId| {
            !written.until_clear
                || (!self.chooser.lead_is_clear() && self.chooser.leads_on(*question))
                || could_stop(self.known.facts(), *question)
        };
        let due = || {
            let asked = written.ask.iter().filter(|question| is_due(question));
            asked.filter_map(|question| self.due(*question, Reason::Step(step), 0))
        };
        // The first, unless another can be answered without leaving the place.
        let first = due().next();
        let at_work = first.filter(|_| self.chooser.is_at_work());
        let asked = at_work.and_then(|_| due().find(|next| self.chooser.stays(next.question)));
        let asked = asked.or(first);
        let best = || {
            let can_be_had = |question| self.can_be_had(question);
            let pool = self.askable(&written.ask_best_of);
            self.chooser.best(&pool, self.rivals(), can_be_had).map(|question| Next {
                question,
                step: None,
                reason: Reason::Best,
            })
        };
        asked.or_else(best).map(|next| Next { step: Some(step), ..next })
    }

    /// The question itself, or one that must be answered well before it; none where it is
    /// answered, put off, or may not be asked.
    fn due(&self, question: QuestionId, reason: Reason, depth: usize) -> Option<Next> {
        let question = self.known.pack().asked_with(question);
        if depth > MAX_DEPTH_BEFORE || !self.is_open(question) {
            return None;
        }
        let mut kinds = self.known.kinds_before(question).into_iter();
        if let Some(kind) =
            kinds.find_map(|kind| self.due(kind, Reason::Before(question), depth + 1))
        {
            return Some(kind);
        }
        for before in self.known.wanted_before(question) {
            if self.known.is_held(before) {
                if !self.known.is_answered_well(before) {
                    return None;
                }
            } else {
                return self.due(before, Reason::Before(question), depth + 1);
            }
        }
        Some(Next { question, step: None, reason })
    }

    fn is_open(&self, question: QuestionId) -> bool {
        !self.known.is_held(question) && self.is_allowed(question) && !self.known.waits(question)
    }

    /// Not forbidden, fitting the car, and to be answered where the car is.
    fn is_allowed(&self, question: QuestionId) -> bool {
        let car = self.known.pack().questions[question].car;
        self.is_safe_and_fits(question) && (self.car.is_none() || car.is_none() || car == self.car)
    }

    fn is_safe_and_fits(&self, question: QuestionId) -> bool {
        // What the complaint says itself is not asked.
        !self.danger.forbids_question(self.known.pack(), question)
            && self.known.fits(question)
            && !self.known.is_told(question)
    }

    /// Of these questions, those for which something could be asked now.
    pub(in crate::interview) fn askable(&self, pool: &[QuestionId]) -> Vec<Askable> {
        pool.iter()
            .filter_map(|wanted| {
                let next = self.due(*wanted, Reason::Best, 0)?;
                Some(Askable { wanted: *wanted, due: next.question })
            })
            .collect()
    }

    /// Nothing is due on the path: of one who can say most of what is asked, whatever tells the causes
    /// apart best, in whichever step it stands; of others, what the steps passed over and what no step
    /// asks, as far as it is worth its minutes; then what was put off.
    fn left_over(&self, mut passed_over: Vec<Askable>) -> Option<Next> {
        let can_be_had = |question| self.can_be_had(question);
        let best = if self.is_for_a_plan() {
            None
        } else if self.known.says_most() {
            let rivals = self.rivals();
            self.chooser.worth_asking(&self.askable(rivals), rivals, can_be_had)
        } else {
            passed_over.extend(self.askable(&unplaced(self.known.pack())));
            self.chooser.best(&passed_over, &[], can_be_had)
        };
        if let Some(question) = best {
            return Some(Next { question, step: None, reason: Reason::Best });
        }
        let put_off = self.known.put_off().into_iter().find(|question| self.is_allowed(*question));
        put_off.map(|question| Next { question, step: None, reason: Reason::PutOff })
    }

    /// Whether nothing is complained of and a plan was asked for: nobody then looks for faults.
    fn is_for_a_plan(&self) -> bool {
        let pack = self.known.pack();
        let tells_of_a_fault = |own: &ComplaintId| pack.complaints[*own].tells_of_a_fault();
        let planned = |when: &Formula| self.known.takes(when);
        !self.complaints.iter().any(tells_of_a_fault)
            && pack.repairs.iter().any(|(_, own)| own.planned_when.as_ref().is_some_and(planned))
    }

    /// Every question that may still come up: asked by a step that can be reached from the
    /// complaints, wanted before such a question, or asked by no step at all.
    pub(in crate::interview) fn open(&self) -> &[QuestionId] {
        self.open.get_or_init(|| self.can_be_asked(self.asked_on_the_way()))
    }

    /// What a step's questions have to hold their own against: of one who can say most of what is asked,
    /// any question, in whichever step it stands; of others, only what lies on the way. What was put off
    /// has to wait for the rest, so that it is no rival.
    fn rivals(&self) -> &[QuestionId] {
        self.rivals.get_or_init(|| {
            let mut rivals = if self.known.says_most() {
                self.can_be_asked(self.known.pack().questions.indices().collect())
            } else {
                self.open().to_vec()
            };
            let waits = |question| self.known.is_held(question) || self.known.waits(question);
            rivals.retain(|question| !waits(*question));
            rivals
        })
    }

    /// Of these questions and those wanted before them, the ones that are open.
    fn can_be_asked(&self, mut wanted: Vec<QuestionId>) -> Vec<QuestionId> {
        let pack = self.known.pack();
        let mut seen: HashSet<QuestionId> = HashSet::new();
        while let Some(question) = wanted.pop().map(|question| pack.asked_with(question)) {
            if seen.insert(question) {
                wanted.extend(self.known.wanted_before(question));
            }
        }
        pack.questions
            .indices()
            .filter(|question| seen.contains(question) && self.can_be_had(*question))
            // What was put off waits wherever the car is.
            .filter(|question| self.known.is_held(*question) || self.is_allowed(*question))
            .collect()
    }

    /// Whether an answer to a question may still come, here or where the car is later.
    fn can_be_had(&self, question: QuestionId) -> bool {
        let is_new = !self.known.is_held(question);
        (is_new && self.is_safe_and_fits(question) && !self.blocked(question))
            || self.known.put_off().contains(&question)
    }

    /// What the steps that can be reached from the complaints ask, and what no step asks.
    fn asked_on_the_way(&self) -> Vec<QuestionId> {
        let pack = self.known.pack();
        let mut reached: HashSet<StepId> = HashSet::new();
        let mut next: Vec<StepId> =
            self.complaints.iter().filter_map(|own| pack.complaints[*own].start).collect();
        let mut asked = unplaced(pack);
        while let Some(step) = next.pop() {
            if reached.insert(step) {
                let step = &pack.steps[step];
                asked.extend(step.ask.iter().chain(&step.ask_best_of));
                next.extend(step.then.iter().filter_map(|branch| branch.go));
            }
        }
        asked
    }

    /// Whether something wanted before, however far back, was answered but not well, or may not be
    /// asked.
    fn blocked(&self, question: QuestionId) -> bool {
        let mut seen = HashSet::from([question]);
        let mut wanted = vec![question];
        while let Some(question) = wanted.pop() {
            for before in self.known.wanted_before(question) {
                let stands_in_the_way = if self.known.is_held(before) {
                    !self.known.is_answered_well(before)
                } else {
                    self.danger.forbids_question(self.known.pack(), before)
                };
                if stands_in_the_way {
                    return true;
                }
                if !self.known.is_held(before) && seen.insert(before) {
                    wanted.push(before);
                }
            }
        }
        false
    }
}

/// Questions that no step asks and nothing waits for.
fn unplaced(pack: &Pack) -> Vec<QuestionId> {
    let mut placed: HashSet<QuestionId> = HashSet::new();
    for (_, step) in pack.steps.iter() {
        placed.extend(step.ask.iter().chain(&step.ask_best_of));
    }
    for (_, question) in pack.questions.iter() {
        placed.extend(&question.not_before);
    }
    // What tells of a repair is asked after one.
    placed.extend(pack.complaints.iter().filter_map(|(_, complaint)| complaint.told_by));
    let is_option = |question: QuestionId| pack.questions[question].list.is_some();
    let open = |question: &QuestionId| !placed.contains(question) && !is_option(*question);
    pack.questions.indices().filter(open).collect()
}
