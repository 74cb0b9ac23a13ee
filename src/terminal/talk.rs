//! The conversation: what is due is asked, the answer is kept before the next question shows, and
//! what it changed is said.

use std::rc::Rc;

use crate::formula::Memo;
use crate::interview::{
    Answer, CANT_SAY, LATER, Next, Reason, Round, State, due_again, fold_with, read_answer,
};
use crate::rules::{AnswerForm, CarStateId, Given, Pack, QuestionId, SetupId};

use super::after::after;
use super::before::{Told, asked, before};
use super::cautions::cautions;
use super::command::{AT_A_CHOICE, AT_A_QUESTION, Command};
use super::how::how;
use super::keeper::Keeper;
use super::lead::moved;
use super::menu::Menu;
use super::page::{Page, Voice};
use super::prompter::{Chosen, Ended, Prompter};
use super::table::{Row, RowAnswer, TableDesk};
use super::value::{Reading, ValueDesk};
use super::why::why;

/// The fewest rows a table can be read between.
const FEWEST_ROWS: usize = 2;

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
}

/// What came of asking one question.
enum Reply {
    Given(Given),
    Command(Command),
}

/// A conversation on one session.
pub struct Talk<'a, 'p> {
    pack: &'p Pack,
    prompter: &'a mut dyn Prompter,
    keeper: &'a mut dyn Keeper,
    /// Answers go into the last.
    rounds: Vec<Round>,
    car: Option<CarStateId>,
    scope: Scope,
    memo: Rc<Memo>,
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
        Self { pack, prompter, keeper, rounds, car: None, scope, memo: Rc::default() }
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
        let mut revisited = self.left_unfinished();
        loop {
            let again = revisited.and_then(|index| self.answered_at(index));
            let Some(next) = again.or_else(|| self.next(&state)) else { break };
            if again.is_none() && self.put_back(&state, &mut told)? == Some(Command::Stop) {
                return Ok(Finish::Stopped);
            }
            self.prompter.say(&before(&state, next, &mut told));
            match self.reply(&state, next, again.is_some())? {
                Reply::Given(given) => {
                    if self.keep(next.question, &given, again.is_some()) {
                        let now = self.fold();
                        self.prompter.say(&after(&state, &now, next.question, &mut told));
                        state = now;
                        revisited = None;
                    }
                }
                Reply::Command(Command::Back) => {
                    revisited = self.further_back(revisited);
                    // A reading of several may have been kept before.
                    state = self.fold();
                }
                Reply::Command(_) => return Ok(Finish::Stopped),
            }
        }
        if self.put_back(&state, &mut told)? == Some(Command::Stop) {
            return Ok(Finish::Stopped);
        }
        Ok(Finish::Done)
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
    fn put_back(&mut self, state: &State<'_>, told: &mut Told) -> Result<Option<Command>, Ended> {
        for setup in &state.in_place {
            if told.is_put_back(*setup) {
                continue;
            }
            loop {
                self.prompter.say(&to_put_back(self.pack, *setup));
                let ways = ["it is put back", "it was never made"];
                match self.prompter.choose(&Menu::new(ways, &AT_A_CHOICE))? {
                    Chosen::Option(_) => break,
                    Chosen::Command(Command::Stop) => return Ok(Some(Command::Stop)),
                    Chosen::Command(_) => self.prompter.say(&help(&AT_A_CHOICE)),
                }
            }
            told.put_back(*setup);
        }
        Ok(None)
    }

    /// Keeps an answer and takes it in; says so where it can't.
    fn keep(&mut self, question: QuestionId, given: &Given, corrected: bool) -> bool {
        let pack = self.pack;
        let id = pack.questions.id(question);
        let answer = match read_answer(pack, &pack.questions[question], given) {
            Ok(answer) => answer,
            Err(error) => {
                self.prompter.say(&Page::of(Voice::Trouble, error.to_string()));
                return false;
            }
        };
        if let Err(message) = self.keeper.keep(id, given, corrected) {
            self.prompter.say(&Page::of(Voice::Trouble, message));
            return false;
        }
        if let Some(round) = self.rounds.last_mut() {
            if corrected {
                round.answers.insert(question, answer);
            } else {
                round.give(question, answer);
            }
        }
        true
    }

    /// Asks one question until there is an answer, or a wish that leaves it.
    fn reply(&mut self, state: &State<'_>, next: Next, again: bool) -> Result<Reply, Ended> {
        loop {
            let reply = match &self.pack.questions[next.question].answer {
                AnswerForm::YesOrNo | AnswerForm::Choose(_) => self.choice(next.question, again)?,
                AnswerForm::Measure(_) => self.value(next.question, again)?,
                AnswerForm::Table(_) => self.table(next.question, again)?,
            };
            let page = match reply {
                Reply::Command(Command::Later) => return Ok(Reply::Given(word(LATER))),
                Reply::Command(Command::CantSay) => return Ok(Reply::Given(word(CANT_SAY))),
                Reply::Command(Command::How) => how(self.pack, next.question),
                Reply::Command(Command::Why) => why(state, &self.rounds, next, &self.memo),
                Reply::Command(Command::Help) => help(&AT_A_QUESTION),
                leaving => return Ok(leaving),
            };
            self.prompter.say(&page);
            self.prompter.say(&asked(self.pack, next.question));
        }
    }

    fn say_commands(&mut self) {
        self.prompter.say(&Page::of(Voice::Quiet, Command::line(&AT_A_QUESTION)));
    }

    fn choice(&mut self, question: QuestionId, again: bool) -> Result<Reply, Ended> {
        let answer = self.rounds.last().and_then(|round| round.answers.get(&question));
        let (menu, marked) = match &self.pack.questions[question].answer {
            AnswerForm::Choose(options) => {
                let marked = match answer {
                    Some(Answer::Option(index)) => Some(*index),
                    _ => None,
                };
                (Menu::new(options.values(), &AT_A_QUESTION), marked)
            }
            _ => {
                let marked = match answer {
                    Some(Answer::Truth(truth)) => Some(usize::from(!truth)),
                    _ => None,
                };
                (Menu::yes_or_no(&AT_A_QUESTION), marked)
            }
        };
        let chosen = self.prompter.choose(&menu.marking(marked.filter(|_| again)))?;
        Ok(match (chosen, &self.pack.questions[question].answer) {
            (Chosen::Command(command), _) => Reply::Command(command),
            (Chosen::Option(index), AnswerForm::Choose(options)) => {
                match options.get_index(index) {
                    Some((id, _)) => Reply::Given(Given::Text(id.clone())),
                    None => Reply::Command(Command::Help),
                }
            }
            (Chosen::Option(index), _) => Reply::Given(word(if index == 0 { "yes" } else { "no" })),
        })
    }

    /// The readings given so far, one by one.
    fn old_readings(&self, question: QuestionId) -> Vec<String> {
        match self.keeper.given(self.pack.questions.id(question)) {
            Some(Given::Text(text)) if text != CANT_SAY && text != LATER => text
                .split(';')
                .map(|part| part.trim().to_owned())
                .filter(|part| !part.is_empty())
                .collect(),
            _ => Vec::new(),
        }
    }

    /// One reading after another, each kept as soon as it is typed.
    fn value(&mut self, question: QuestionId, again: bool) -> Result<Reply, Ended> {
        let asked = &self.pack.questions[question];
        let AnswerForm::Measure(measure) = &asked.answer else {
            return Ok(Reply::Command(Command::Help));
        };
        let mut desk =
            ValueDesk { pack: self.pack, measure, repeats: asked.repeats.max(1), agreed: None };
        let mut readings = if again { self.old_readings(question) } else { Vec::new() };
        // What was broken off goes on; what was complete is looked at from the start.
        let mut index = if readings.len() < desk.repeats { readings.len() } else { 0 };
        if index > 0 {
            self.prompter.say(&Page::of(Voice::Quiet, format!("So far: {}.", readings.join("; "))));
        }
        self.say_commands();
        loop {
            let filled = readings.get(index).cloned().unwrap_or_default();
            match desk.reading(self.prompter, index, &filled)? {
                Reading::Nothing if index == 0 => self.prompter.say(&desk.hint()),
                Reading::Nothing => {
                    readings.truncate(index);
                    return Ok(Reply::Given(Given::Text(readings.join("; "))));
                }
                Reading::Command(Command::Back) if index > 0 => index -= 1,
                Reading::Command(command) => return Ok(Reply::Command(command)),
                // Several in one line are all of them.
                Reading::Text(text) if text.contains(';') => {
                    return Ok(Reply::Given(Given::Text(text)));
                }
                Reading::Text(text) => {
                    match readings.get_mut(index) {
                        Some(old) => *old = text,
                        None => readings.push(text),
                    }
                    index += 1;
                    let given = Given::Text(readings.join("; "));
                    if index >= desk.repeats {
                        return Ok(Reply::Given(given));
                    }
                    self.keep(question, &given, again || index > 1);
                }
            }
        }
    }

    fn table(&mut self, question: QuestionId, again: bool) -> Result<Reply, Ended> {
        let AnswerForm::Table(columns) = &self.pack.questions[question].answer else {
            return Ok(Reply::Command(Command::Help));
        };
        let mut desk = TableDesk { columns, agreed: Vec::new() };
        let mut rows: Vec<Row> = match self.keeper.given(self.pack.questions.id(question)) {
            Some(Given::Rows(rows)) if again => rows.clone(),
            _ => Vec::new(),
        };
        let mut index = 0;
        self.say_commands();
        loop {
            match desk.row(self.prompter, index, rows.get(index))? {
                RowAnswer::End if index < FEWEST_ROWS => {
                    let few = format!(
                        "A table needs {FEWEST_ROWS} rows at least; c if you can't say, l for later."
                    );
                    self.prompter.say(&Page::of(Voice::Trouble, few));
                }
                RowAnswer::End => {
                    rows.truncate(index);
                    return Ok(Reply::Given(Given::Rows(rows)));
                }
                RowAnswer::Command(Command::Back) if index > 0 => index -= 1,
                RowAnswer::Command(command) => return Ok(Reply::Command(command)),
                RowAnswer::Row(row) => {
                    match rows.get_mut(index) {
                        Some(old) => *old = row,
                        None => rows.push(row),
                    }
                    index += 1;
                    self.keep(question, &Given::Rows(rows.clone()), again || index > 1);
                }
            }
        }
    }
}

fn word(word: &str) -> Given {
    Given::Text(word.to_owned())
}

fn to_put_back(pack: &Pack, setup: SetupId) -> Page {
    let setup = &pack.setups[setup];
    let mut page = Page::of(Voice::Task, format!("Put back first: {}", setup.title));
    page.add(Voice::Plain, &setup.put_back);
    page
}

fn help(commands: &[Command]) -> Page {
    let mut page = Page::of(Voice::Heading, "What may be typed");
    page.add(
        Voice::Plain,
        "A menu: press a number, or move with the arrow keys and press Enter. A value: the number with its unit, 0.85 bar or 12 psi; a comma does for the point; behind ± one standard uncertainty, if you know it.",
    );
    for line in Command::explained(commands) {
        page.add(Voice::Quiet, line);
    }
    page
}
