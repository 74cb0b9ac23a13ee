//! Whoever puts off work at a place, a set-up or a state of the car, puts off all that is done there:
//! nobody takes the downpipe off for the second question having refused to for the first.

use crate::rules::{CarStateId, Pack, QuestionId, SetupId};

use crate::interview::answers::answer::Answer;
use crate::interview::evidence::facts::Facts;

/// Where getting there takes fewer minutes the one question was put off, not the place.
pub(in crate::interview) const AN_EFFORT: f64 = 10.0;

/// What has to be made or reached before a question can be answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlaceOfWork {
    Setup(SetupId),
    Car(CarStateId),
}

impl PlaceOfWork {
    /// How it is called.
    #[must_use]
    pub fn title(self, pack: &Pack) -> &str {
        match self {
            Self::Setup(setup) => &pack.setups[setup].title,
            Self::Car(car) => &pack.car_states[car].title,
        }
    }

    /// The places that a question needs.
    fn of(pack: &Pack, question: QuestionId) -> impl Iterator<Item = Self> + use<> {
        let asked = &pack.questions[question];
        asked.setup.map(Self::Setup).into_iter().chain(asked.car.map(Self::Car))
    }

    fn minutes(self, pack: &Pack) -> f64 {
        match self {
            Self::Setup(setup) => pack.setups[setup].minutes,
            Self::Car(car) => pack.car_states[car].minutes,
        }
    }
}

impl Facts<'_> {
    /// What was put off, in the order in which it was.
    #[must_use]
    pub fn put_off(&self) -> Vec<QuestionId> {
        let held = self.held.iter();
        let is_asked = |question: QuestionId| self.pack.questions[question].list.is_none();
        held.filter(|(question, held)| held.answer == Answer::Later && is_asked(**question))
            .map(|(question, _)| *question)
            .collect()
    }

    /// The place that was put off with a question: one that the car was not at, and that takes an
    /// effort to get to.
    #[must_use]
    pub fn place_put_off(&self, question: QuestionId) -> Option<PlaceOfWork> {
        let pack = self.pack;
        let at = self.held.get_index_of(&question)?;
        let mut earlier = self
            .held
            .iter()
            .take(at)
            .rev()
            .filter(|(_, held)| !matches!(held.answer, Answer::Later | Answer::CantSay));
        let last = earlier.next().map(|(last, _)| *last);
        let last_car = last
            .into_iter()
            .chain(earlier.map(|(before, _)| *before))
            .find_map(|before| pack.questions[before].car);
        let is_there = |place: PlaceOfWork| match place {
            PlaceOfWork::Setup(setup) => {
                last.is_some_and(|last| pack.questions[last].setup == Some(setup))
            }
            PlaceOfWork::Car(car) => last_car == Some(car),
        };
        PlaceOfWork::of(pack, question)
            .find(|place| !is_there(*place) && place.minutes(pack) >= AN_EFFORT)
    }

    /// Whether a question waits because its place was put off with another, and nothing was answered
    /// there since.
    pub(in crate::interview) fn waits_with_another(&self, question: QuestionId) -> bool {
        let needs: Vec<PlaceOfWork> = PlaceOfWork::of(self.pack, question).collect();
        !needs.is_empty()
            && self.put_off().into_iter().any(|other| {
                self.place_put_off(other).is_some_and(|place| {
                    needs.contains(&place) && !self.was_there_after(other, place)
                })
            })
    }

    fn was_there_after(&self, put_off: QuestionId, place: PlaceOfWork) -> bool {
        let at = self.held.get_index_of(&put_off).unwrap_or_default();
        self.held.iter().skip(at + 1).any(|(question, held)| {
            !matches!(held.answer, Answer::Later | Answer::CantSay)
                && PlaceOfWork::of(self.pack, *question).any(|other| other == place)
        })
    }
}
