//! The conversation: what is due is asked, the answer is kept before the next question shows, and
//! what it changed is said.

use std::sync::Arc;

use crate::formula::Memo;
use crate::interview::{Answer, Next, Reason, Round, State, due_again, fold_with, read_answer};
use crate::rules::{CarStateId, Given, Pack, QuestionId, SetupId};

use super::after::after;
use super::answering::{Reply, Turn};
use super::before::{Told, before};
use super::cautions::cautions;
use super::command::{AT_A_CHOICE, Command};
use super::denied::SecondLook;
use super::keeper::Keeper;
use super::lead::moved;
use super::menu::Menu;
use super::page::{Page, Voice};
use super::prompter::{Chosen, Ended, Prompter};
use super::put_off::{ComeBack, OnceMore, waiting_with};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    /// Whatever the interview has next.
    Everything,
    /// Only what the repair made worth asking again.
    Again,
}

/// How the conversation came to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finish {
    /// Nothing is left to ask.
    Done,
    /// The person stopped for today.
    Stopped,
    /// The person wants to say anew what brought them here.
    ToComplaint,
}

/// A conversation on one session.
pub struct Talk<'a, 'p> {
    pub(super) pack: &'p Pack,
    pub(super) prompter: &'a mut dyn Prompter,
    pub(super) keeper: &'a mut dyn Keeper,
    /// Answers go into the last.
    pub(super) rounds: Vec<Round>,
    car: Option<CarStateId>,
    scope: Scope,
    pub(super) memo: Arc<Memo>,
}

impl<'a, 'p> Talk<'a, 'p> {
    /// A conversation that goes on behind these rounds, of which there is at least one.
    #[must_use]
    pub fn new(
        pack: &'p Pack,
        rounds: Vec<Round>,
        scope: Scope,
        prompter: &'a mut dyn Prompter,
        keeper: &'a mut dyn Keeper,
    ) -> Self {
        Self { pack, prompter, keeper, rounds, car: None, scope, memo: Arc::default() }
    }

    /// Asks only what can be answered in this state of the car.
    #[must_use]
    pub fn only_in(self, car: Option<CarStateId>) -> Self {
        Self { car, ..self }
    }

    /// Asks until nothing is left, or the person stops.
    ///
    /// # Errors
    /// [`Ended`] where the conversation can't go on. What was answered is kept.
    pub fn run(&mut self) -> Result<Finish, Ended> {
        let mut told = Told::default();
        let mut state = self.fold();
        self.say_where_it_stands(&state, &mut told);
        let mut come_back = ComeBack::default();
        let mut revisited = self.left_unfinished().map(|index| (index, Turn::Again));
        loop {
            let again = revisited.and_then(|(index, turn)| Some((self.answered_at(index)?, turn)));
            let due = || self.next(&state).map(|next| (next, Turn::First));
            let Some((next, turn)) = again.or_else(due) else { break };
            if turn == Turn::First {
                match self.once_more(&state, next, &mut come_back)? {
                    OnceMore::Take => {}
                    OnceMore::Conclude => break,
                    OnceMore::Stop => return Ok(Finish::Stopped),
                }
                if self.put_back(&mut state, &mut told)? == Some(Command::Stop) {
                    return Ok(Finish::Stopped);
                }
            }
            self.prompter.say(&before(&state, next, &mut told));
            match self.reply(&state, next, turn)? {
                Reply::Given(given) => {
                    if self.keep(next.question, &given, turn.is_answered()) {
                        let now = self.fold();
                        self.prompter.say(&after(&state, &now, next.question, &mut told));
                        self.prompter.say(&waiting_with(&now, next.question));
                        revisited = match self.second_look(&now, next.question, &mut told)? {
                            SecondLook::Stands => None,
                            SecondLook::Anew(question) => {
                                self.place_of(question).map(|index| (index, Turn::Anew))
                            }
                            SecondLook::Stop => return Ok(Finish::Stopped),
                        };
                        state = now;
                    }
                }
                Reply::Command(Command::Back) => {
                    let from = revisited.map(|(index, _)| index);
                    if self.is_at_the_start(from) {
                        return Ok(Finish::ToComplaint);
                    }
                    revisited = self.further_back(from).map(|index| (index, Turn::Again));
                    // A reading of several may have been kept before.
                    state = self.fold();
                }
                Reply::Command(_) => return Ok(Finish::Stopped),
            }
        }
        if self.put_back(&mut state, &mut told)? == Some(Command::Stop) {
            return Ok(Finish::Stopped);
        }
        Ok(Finish::Done)
    }

    /// The rounds as they are now.
    #[must_use]
    pub fn rounds(self) -> Vec<Round> {
        self.rounds
    }

    /// Where the interview stands.
    #[must_use]
    pub fn fold(&self) -> State<'p> {
        fold_with(self.pack, &self.rounds, self.car, &self.memo)
    }

    fn next(&self, state: &State<'_>) -> Option<Next> {
        match self.scope {
            Scope::Everything => state.walk.next,
            Scope::Again => due_again(state, &self.rounds),
        }
    }

    /// For one who comes back: how far it got, the lead, and what must not be done.
    fn say_where_it_stands(&mut self, state: &State<'_>, told: &mut Told) {
        let answers: usize = self.rounds.iter().map(|round| round.answers.len()).sum();
        let mut page = Page::default();
        if answers > 0 {
            page.add(Voice::Plain, format!("Answers so far: {answers}."));
            page.add(Voice::Lead, moved(state, state));
        }
        page.extend(cautions(self.pack, &told.new_ones(&state.danger.in_force)));
        self.prompter.say(&page);
    }

    /// An answer of the present round, to be given again.
    fn answered_at(&self, index: usize) -> Option<Next> {
        let (question, _) = self.rounds.last()?.answers.get_index(index)?;
        Some(Next { question: *question, step: None, reason: Reason::Best })
    }

    /// Where an answer stands in the present round.
    fn place_of(&self, question: QuestionId) -> Option<usize> {
        self.rounds.last()?.answers.get_index_of(&question)
    }

    /// Whether nothing but the complaint lies before the question that is asked.
    fn is_at_the_start(&self, from: Option<usize>) -> bool {
        let nothing_given = self.rounds.last().is_none_or(|round| round.answers.is_empty());
        let at_the_first = from.map_or(nothing_given, |index| index == 0);
        at_the_first && self.scope == Scope::Everything && self.rounds.len() == 1
    }

    /// The answer before the one that is being looked at.
    fn further_back(&mut self, from: Option<usize>) -> Option<usize> {
        let count = self.rounds.last().map_or(0, |round| round.answers.len());
        let back = from.unwrap_or(count).checked_sub(1);
        if back.is_none() {
            let first = "There is no answer before this one in this round.";
            self.prompter.say(&Page::of(Voice::Trouble, first));
        }
        back.or(from)
    }

    /// The last answer, where it was broken off between two readings.
    fn left_unfinished(&self) -> Option<usize> {
        let round = self.rounds.last()?;
        let (question, _) = round.answers.last()?;
        let given = self.old_readings(*question).len();
        let broken_off = given > 0 && given < self.pack.questions[*question].repeats;
        broken_off.then(|| round.answers.len() - 1)
    }

    /// Lets set-ups be put back that are in the way of what comes next.
    fn put_back(
        &mut self,
        state: &mut State<'_>,
        told: &mut Told,
    ) -> Result<Option<Command>, Ended> {
        for setup in std::mem::take(&mut state.in_place) {
            loop {
                self.prompter.say(&to_put_back(self.pack, setup));
                let ways = ["it is put back", "it was never made"];
                match self.prompter.choose(&Menu::new(ways, &AT_A_CHOICE))? {
                    Chosen::Option(_) => break,
                    Chosen::Command(Command::Stop) => return Ok(Some(Command::Stop)),
                    _ => self.prompter.say(&help(&AT_A_CHOICE)),
                }
            }
            told.put_back();
            self.note_put_back(setup, true);
        }
        Ok(None)
    }

    /// Keeps that a set-up is put back, or made again.
    fn note_put_back(&mut self, setup: SetupId, is_back: bool) {
        let Some(round) = self.rounds.last_mut() else { return };
        if round.put_back.contains(&setup) == is_back {
            return;
        }
        round.put_back.retain(|known| *known != setup);
        if is_back {
            round.put_back.push(setup);
        }
        if let Err(error) = self.keeper.put_back(self.pack.setups.id(setup), is_back) {
            self.prompter.say(&Page::of(Voice::Trouble, error.to_string()));
        }
    }

    /// Keeps an answer and takes it in; says so where it can't.
    pub(super) fn keep(&mut self, question: QuestionId, given: &Given, corrected: bool) -> bool {
        let pack = self.pack;
        let id = pack.questions.id(question);
        let answer = match read_answer(pack, &pack.questions[question], given) {
            Ok(answer) => answer,
            Err(error) => {
                self.prompter.say(&Page::of(Voice::Trouble, error.to_string()));
                return false;
            }
        };
        if let Err(error) = self.keeper.keep(id, given, corrected) {
            self.prompter.say(&Page::of(Voice::Trouble, error.to_string()));
            return false;
        }
        let says_something = !matches!(answer, Answer::Later | Answer::CantSay);
        if let Some(round) = self.rounds.last_mut() {
            if corrected {
                round.answers.insert(question, answer);
            } else {
                round.give(question, answer);
            }
        }
        if let Some(setup) = pack.questions[question].setup.filter(|_| says_something) {
            self.note_put_back(setup, false);
        }
        true
    }
}

fn to_put_back(pack: &Pack, setup: SetupId) -> Page {
    let setup = &pack.setups[setup];
    let mut page = Page::of(Voice::Task, format!("Put back first: {}", setup.title));
    page.add(Voice::Plain, &setup.put_back);
    page
}

pub(super) fn help(commands: &[Command]) -> Page {
    let mut page = Page::of(Voice::Heading, "What may be typed");
    page.add(
        Voice::Plain,
        "A menu: type the number, or move with the arrow keys; then Enter. A value: the number with its unit, 0.85 bar or 12 psi; a comma does for the point; behind ± one standard uncertainty, if you know it.",
    );
    for line in Command::explained(commands) {
        page.add(Voice::Quiet, line);
    }
    page
}
