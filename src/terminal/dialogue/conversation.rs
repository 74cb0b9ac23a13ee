//! The order of a conversation: what is due is asked, the answer is kept before the next question shows,
//! and what it changed is said.

use crate::interview::{Next, Reason, State, Task, due_after_repair, in_place, next_work};
use crate::rules::{Given, Pack, QuestionId, SetupId};
use crate::terminal::dialogue::after::after;
use crate::terminal::dialogue::announced::Announced;
use crate::terminal::dialogue::answering::{Reply, Turn};
use crate::terminal::dialogue::before::before;
use crate::terminal::dialogue::cautions::cautions;
use crate::terminal::dialogue::help::help;
use crate::terminal::dialogue::lead_words::moved;
use crate::terminal::dialogue::put_off::{ComeBack, OnceMore, waiting_with};
use crate::terminal::dialogue::second_look::SecondLook;
use crate::terminal::dialogue::talk::{Scope, Talk};
use crate::terminal::dialogue::volunteer::Volunteered;
use crate::terminal::screen::command::{AT_A_CHOICE, Command};
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::Ended;
use crate::terminal::screen::taken::Chosen;

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

impl<'p> Talk<'_, 'p> {
    /// Asks until nothing is left, or the person stops.
    ///
    /// # Errors
    /// [`Ended`] where the conversation can't go on. What was answered is kept.
    pub fn run(&mut self) -> Result<Finish, Ended> {
        let mut announced = Announced::default();
        let mut state = self.fold();
        self.say_where_it_stands(&state, &mut announced);
        let mut come_back = ComeBack::default();
        let mut revisited = self.left_unfinished().map(|index| (index, Turn::Again));
        let mut offered = self.proposed(&state);
        loop {
            let again = revisited.and_then(|(index, turn)| Some((self.answered_at(index)?, turn)));
            let again = offered.take().or(again);
            let due = || self.next(&state).map(|next| (next, Turn::First));
            let Some((next, turn)) = again.or_else(due) else { break };
            if turn == Turn::First && next.reason != Reason::Volunteered {
                match self.once_more(&state, next, &mut come_back)? {
                    OnceMore::Take => {}
                    OnceMore::Conclude => break,
                    OnceMore::Stop => return Ok(Finish::Stopped),
                }
                if self.put_back(Some(next.question), &mut announced)? == Some(Command::Stop) {
                    return Ok(Finish::Stopped);
                }
            }
            self.prompter.say(&before(&state, next, &mut announced));
            match self.reply(&state, next, turn)? {
                Reply::Given(given) => {
                    match self.take(&mut state, (next, turn), &given, &mut announced)? {
                        Some(SecondLook::Stands) => revisited = None,
                        Some(SecondLook::Reopen(question)) => {
                            revisited =
                                self.place_of(question).map(|index| (index, Turn::Reopened));
                        }
                        Some(SecondLook::Stop) => return Ok(Finish::Stopped),
                        None => {}
                    }
                }
                Reply::Command(Command::More) => match self.volunteered(&state)? {
                    Volunteered::Question(question) => offered = Some(self.asked_for(question)),
                    Volunteered::Nothing => {}
                    Volunteered::Stop => return Ok(Finish::Stopped),
                },
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
        if self.put_back(None, &mut announced)? == Some(Command::Stop) {
            return Ok(Finish::Stopped);
        }
        Ok(Finish::Done)
    }

    /// Takes an answer in and says what it changed; nothing where it can't be kept.
    fn take(
        &mut self,
        state: &mut State<'p>,
        (next, turn): (Next, Turn),
        given: &Given,
        announced: &mut Announced,
    ) -> Result<Option<SecondLook>, Ended> {
        if !self.keep(next.question, given, turn.is_answered()) {
            return Ok(None);
        }
        let now = self.fold();
        self.prompter.say(&after(state, &now, next.question, announced));
        self.prompter.say(&waiting_with(&now, next.question));
        let looked = self.second_look(&now, next.question, announced)?;
        *state = now;
        Ok(Some(looked))
    }

    /// A question that the person wants to answer, whether or not that was done before.
    fn asked_for(&self, question: QuestionId) -> (Next, Turn) {
        let turn = self.place_of(question).map_or(Turn::First, |_| Turn::Again);
        (Next { question, step: None, reason: Reason::Volunteered }, turn)
    }

    fn next(&self, state: &State<'_>) -> Option<Next> {
        match self.scope {
            Scope::Everything => state.walk.next,
            Scope::Again => due_after_repair(state, &self.rounds),
        }
    }

    /// Where nothing is left to ask, the check that the conclusion proposes: who comes back has made it.
    fn proposed(&self, state: &State<'_>) -> Option<(Next, Turn)> {
        let has_answers = self.rounds.iter().any(|round| !round.answers.is_empty());
        if self.scope == Scope::Again || !has_answers || self.next(state).is_some() {
            return None;
        }
        let work = next_work(state).ok()?;
        let Task::Check(question) = work.first()?.what else { return None };
        Some(self.asked_for(question))
    }

    /// For one who comes back: how far it got, the lead, and what must not be done.
    fn say_where_it_stands(&mut self, state: &State<'_>, announced: &mut Announced) {
        let answers: usize = self.rounds.iter().map(|round| round.answers.len()).sum();
        let mut page = Page::default();
        if answers > 0 {
            page.add(Voice::Plain, format!("Answers so far: {answers}."));
            page.add(Voice::Lead, moved(state, state));
        }
        page.extend(cautions(self.pack, &announced.new_ones(&state.danger.in_force)));
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
            let first = "This is the first answer of this round.";
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

    /// Lets set-ups be put back that are in the way of what is asked next, which after a repair is
    /// not what the walk would ask.
    fn put_back(
        &mut self,
        next: Option<QuestionId>,
        announced: &mut Announced,
    ) -> Result<Option<Command>, Ended> {
        for setup in in_place(self.pack, self.rounds.last(), next) {
            loop {
                self.prompter.say(&to_put_back(self.pack, setup));
                let ways = ["it has been put back", "it was never set up"];
                match self.prompter.choose(&Menu::new(ways, &AT_A_CHOICE))? {
                    Chosen::Option(_) => break,
                    Chosen::Command(Command::Stop) => return Ok(Some(Command::Stop)),
                    _ => self.prompter.say(&help(&AT_A_CHOICE)),
                }
            }
            announced.put_back();
            self.note_put_back(setup, true);
        }
        Ok(None)
    }
}

fn to_put_back(pack: &Pack, setup: SetupId) -> Page {
    let setup = &pack.setups[setup];
    let mut page = Page::of(Voice::Task, format!("Put back first: {}", setup.title));
    page.add(Voice::Plain, &setup.put_back);
    page
}
