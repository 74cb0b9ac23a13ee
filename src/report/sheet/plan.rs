//! In which order the open questions are worked off: each state of the car once, since nobody wants
//! to lift it twice; within a state each set-up as seldom as the questions allow.

use std::collections::HashSet;

use crate::interview::{Answer, State, cautions_with};
use crate::rules::{CarStateId, CautionId, Pack, QuestionId, SetupId, TypedIndex};

/// Above so many states of the car not every order is tried.
const MAX_ORDERED: usize = 6;

/// The open questions in working order.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Plan {
    pub parts: Vec<CarPart>,
}

/// What is done in one state of the car.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CarPart {
    /// None: in any state.
    pub car: Option<CarStateId>,
    pub stretches: Vec<Stretch>,
}

/// Questions that are answered with the same set-up in place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stretch {
    pub setup: Option<SetupId>,
    pub questions: Vec<QuestionId>,
}

impl Plan {
    /// All questions, as they are numbered on the sheet.
    pub fn questions(&self) -> impl Iterator<Item = QuestionId> {
        self.parts.iter().flat_map(CarPart::questions)
    }
}

impl CarPart {
    pub fn questions(&self) -> impl Iterator<Item = QuestionId> {
        self.stretches.iter().flat_map(|stretch| stretch.questions.iter().copied())
    }

    /// What can hurt in this state, by its set-ups and in its questions; the worst first.
    pub(super) fn cautions(&self, pack: &Pack) -> Vec<CautionId> {
        let mut found: Vec<CautionId> = Vec::new();
        for caution in self.questions().flat_map(|question| cautions_with(pack, question)) {
            if !found.contains(&caution) {
                found.push(caution);
            }
        }
        found.sort_by_key(|caution| pack.cautions[*caution].level);
        found
    }

    /// How long it takes, with getting the car there and the set-ups.
    pub(super) fn minutes(&self, pack: &Pack) -> f64 {
        let car = self.car.map_or(0.0, |car| pack.car_states[car].minutes);
        let stretches = self.stretches.iter().map(|stretch| {
            let setup = stretch.setup.map_or(0.0, |setup| pack.setups[setup].minutes);
            let asked: f64 =
                stretch.questions.iter().map(|question| pack.questions[*question].minutes).sum();
            setup + asked
        });
        car + stretches.sum::<f64>()
    }
}

/// Plans the open questions of an interview.
#[must_use]
pub fn plan(state: &State<'_>) -> Plan {
    plan_of(state, &state.open)
}

/// Plans some of the open questions.
pub(super) fn plan_of(state: &State<'_>, questions: &[QuestionId]) -> Plan {
    let planner = Planner { pack: state.pack, open: by_step(state, questions) };
    let parts = planner
        .cars()
        .into_iter()
        .map(|car| CarPart { car, stretches: planner.stretches(car) })
        .collect();
    Plan { parts }
}

/// Open questions in the order in which the steps ask them, those on the way first. What was
/// put off stands where it was.
fn by_step(state: &State<'_>, questions: &[QuestionId]) -> Vec<QuestionId> {
    let pack = state.pack;
    let asked: Vec<QuestionId> = state
        .walk
        .path
        .iter()
        .copied()
        .chain(pack.steps.indices())
        .flat_map(|step| pack.steps[step].ask.iter().chain(&pack.steps[step].ask_best_of).copied())
        .collect();
    let place = |question: &QuestionId| {
        asked.iter().position(|other| other == question).unwrap_or(asked.len())
    };
    let mut open = questions.to_vec();
    open.sort_by_key(place);
    open
}

/// Whether an open question was put off before.
pub(super) fn was_put_off(state: &State<'_>, question: QuestionId) -> bool {
    state.facts.held.get(&question).is_some_and(|held| held.answer == Answer::Later)
}

struct Planner<'p> {
    pack: &'p Pack,
    open: Vec<QuestionId>,
}

impl Planner<'_> {
    /// Where a question is best answered: in the state it needs, or, if it needs none, in that of
    /// what is wanted before it.
    fn car_for(&self, question: QuestionId) -> Option<CarStateId> {
        let mut seen = HashSet::new();
        let mut next = vec![question];
        while let Some(question) = next.pop() {
            if let Some(car) = self.pack.questions[question].car {
                return Some(car);
            }
            if seen.insert(question) {
                next.extend(self.open_before(question));
            }
        }
        None
    }

    /// What is wanted before a question and open itself.
    fn open_before(&self, question: QuestionId) -> impl Iterator<Item = QuestionId> {
        let before = &self.pack.questions[question].not_before;
        before.iter().copied().filter(|before| self.open.contains(before))
    }

    /// The states of the car that are needed, in the order in which the fewest questions come
    /// before what they wait for; among equals as the pack lists them, anywhere first.
    fn cars(&self) -> Vec<Option<CarStateId>> {
        let mut cars: Vec<Option<CarStateId>> =
            self.open.iter().map(|question| self.car_for(*question)).collect();
        cars.sort();
        cars.dedup();
        if cars.len() > MAX_ORDERED {
            return cars;
        }
        let waits = self.waits();
        let mut best = (usize::MAX, cars.clone());
        orders(&mut Vec::new(), &cars, &mut |order| {
            let place = |car: &Option<CarStateId>| order.iter().position(|other| other == car);
            let early = waits.iter().filter(|(first, then)| place(first) > place(then)).count();
            if early < best.0 {
                best = (early, order.to_vec());
            }
        });
        best.1
    }

    /// Which states wait for which, once for each question that does.
    fn waits(&self) -> Vec<(Option<CarStateId>, Option<CarStateId>)> {
        let pairs = self.open.iter().flat_map(|question| {
            self.open_before(*question)
                .map(|before| (self.car_for(before), self.car_for(*question)))
        });
        pairs.filter(|(first, then)| first != then).collect()
    }

    /// The questions of one state, those with the set-up at hand before a change of set-up.
    fn stretches(&self, car: Option<CarStateId>) -> Vec<Stretch> {
        let mut left: Vec<QuestionId> =
            self.open.iter().copied().filter(|question| self.car_for(*question) == car).collect();
        let mut stretches: Vec<Stretch> = Vec::new();
        while !left.is_empty() {
            let setup = stretches.last().and_then(|stretch| stretch.setup);
            let question = left.remove(self.next_of(&left, setup));
            let setup = self.pack.questions[question].setup;
            match stretches.last_mut().filter(|stretch| stretch.setup == setup) {
                Some(stretch) => stretch.questions.push(question),
                None => stretches.push(Stretch { setup, questions: vec![question] }),
            }
        }
        stretches
    }

    /// Which of these comes next: nothing that is wanted before it is left, and the set-up is in
    /// place if that can be.
    fn next_of(&self, left: &[QuestionId], setup: Option<SetupId>) -> usize {
        let set: HashSet<QuestionId> = left.iter().copied().collect();
        let free = |question: &&QuestionId| {
            !self.pack.questions[**question].not_before.iter().any(|before| set.contains(before))
        };
        let at_hand = |question: &&QuestionId| self.pack.questions[**question].setup == setup;
        let chosen = left
            .iter()
            .find(|question| free(question) && at_hand(question))
            .or_else(|| left.iter().find(free));
        chosen.and_then(|chosen| left.iter().position(|one| one == chosen)).unwrap_or(0)
    }
}

/// Tells every order of the items left behind those placed; earlier items first.
fn orders<T: Copy + PartialEq>(placed: &mut Vec<T>, left: &[T], tell: &mut impl FnMut(&[T])) {
    if left.is_empty() {
        tell(placed);
    }
    for item in left {
        let rest: Vec<T> = left.iter().copied().filter(|other| other != item).collect();
        placed.push(*item);
        orders(placed, &rest, tell);
        placed.pop();
    }
}

/// The number of a question on the sheet, from 1.
pub(super) fn number_of(plan: &Plan, question: QuestionId) -> Option<usize> {
    plan.questions().position(|other| other.index() == question.index()).map(|index| index + 1)
}
