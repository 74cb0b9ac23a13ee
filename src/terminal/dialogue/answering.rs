//! One question of the conversation, asked until there is an answer or a wish that leaves it.

use crate::interview::{Answer, CANT_SAY, LATER, NONE, Next, State};
use crate::rules::{AnswerForm, Given, QuestionId};

use crate::terminal::dialogue::before::asked;
use crate::terminal::dialogue::help::help;
use crate::terminal::dialogue::how::how;
use crate::terminal::dialogue::table_prompt::{Row, RowAnswer, TablePrompt};
use crate::terminal::dialogue::talk::Talk;
use crate::terminal::dialogue::value_prompt::{TypedReading, ValuePrompt};
use crate::terminal::dialogue::why::why;
use crate::terminal::screen::command::{AT_A_QUESTION, Command};
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::Ended;
use crate::terminal::screen::taken::Chosen;

/// The fewest rows a table can be read between.
const MIN_ROWS: usize = 2;

/// Which time a question is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::terminal) enum Turn {
    First,
    /// What was answered stands there, and what was broken off goes on.
    Again,
    /// What was answered is doubted: asked as if for the first time, it takes the old one's place.
    Reopened,
}

impl Turn {
    /// Whether there is an answer already.
    pub(in crate::terminal) fn is_answered(self) -> bool {
        self != Self::First
    }
}

/// What was typed so far of an answer in several lines: a look at the help must not lose it.
#[derive(Default)]
struct Draft {
    /// None until the first prompt: what stands there then depends on which time it is asked.
    readings: Option<Vec<String>>,
    rows: Option<Vec<Row>>,
    /// The cells of the row that is being typed.
    cells: Row,
    /// The line that is due.
    index: usize,
}

/// What came of asking one question.
pub(in crate::terminal) enum Reply {
    Given(Given),
    Command(Command),
}

impl Talk<'_, '_> {
    /// Asks one question until there is an answer, or a wish that leaves it.
    pub(in crate::terminal) fn reply(
        &mut self,
        state: &State<'_>,
        next: Next,
        turn: Turn,
    ) -> Result<Reply, Ended> {
        let mut draft = Draft::default();
        loop {
            let reply = match &self.pack.questions[next.question].answer {
                AnswerForm::YesOrNo | AnswerForm::Choose(_) => self.choice(next.question, turn)?,
                AnswerForm::AnyOf(options) => {
                    self.several(state, (next.question, options), turn)?
                }
                AnswerForm::Measure(_) => self.value(next.question, turn, &mut draft)?,
                AnswerForm::Table(_) => self.table(next.question, turn, &mut draft)?,
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
        let commands = Command::line(&AT_A_QUESTION);
        self.prompter.say(&Page::of(Voice::Quiet, format!("The value {commands}")));
    }

    fn choice(&mut self, question: QuestionId, turn: Turn) -> Result<Reply, Ended> {
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
        let chosen = self.prompter.choose(&menu.marking(marked.filter(|_| turn == Turn::Again)))?;
        Ok(match (chosen, &self.pack.questions[question].answer) {
            (Chosen::Command(command), _) => Reply::Command(command),
            (Chosen::Text(_) | Chosen::Several(_), _) => Reply::Command(Command::Help),
            (Chosen::Option(index), AnswerForm::Choose(options)) => {
                match options.get_index(index) {
                    Some((id, _)) => Reply::Given(Given::Text(id.clone())),
                    None => Reply::Command(Command::Help),
                }
            }
            (Chosen::Option(index), _) => Reply::Given(word(if index == 0 { "yes" } else { "no" })),
        })
    }

    /// Several options at once, or none of them.
    fn several(
        &mut self,
        state: &State<'_>,
        (question, options): (QuestionId, &[QuestionId]),
        turn: Turn,
    ) -> Result<Reply, Ended> {
        // What the complaint says itself is not offered.
        let options: Vec<QuestionId> =
            options.iter().copied().filter(|option| !state.facts.is_told(*option)).collect();
        let answer = self.rounds.last().and_then(|round| round.answers.get(&question));
        let taken = match answer {
            Some(Answer::Picked(picked)) if turn == Turn::Again => {
                let place = |own: &QuestionId| options.iter().position(|option| option == own);
                Some(picked.iter().filter_map(place).collect::<Vec<usize>>())
            }
            _ => None,
        };
        let texts = options.iter().map(|option| &self.pack.questions[*option].text);
        let menu = Menu::new(texts, &AT_A_QUESTION).taking_several(taken.as_deref());
        let id = |index: &usize| Some(self.pack.questions.id(*options.get(*index)?).to_owned());
        Ok(match self.prompter.choose(&menu)? {
            Chosen::Command(command) => Reply::Command(command),
            Chosen::Several(taken) if taken.is_empty() => Reply::Given(word(NONE)),
            Chosen::Several(mut taken) => {
                taken.sort_unstable();
                Reply::Given(Given::Picked(taken.iter().filter_map(id).collect()))
            }
            Chosen::Option(_) | Chosen::Text(_) => Reply::Command(Command::Help),
        })
    }

    /// One reading after another, each kept as soon as it is typed.
    fn value(
        &mut self,
        question: QuestionId,
        turn: Turn,
        draft: &mut Draft,
    ) -> Result<Reply, Ended> {
        let asked = &self.pack.questions[question];
        let AnswerForm::Measure(measure) = &asked.answer else {
            return Ok(Reply::Command(Command::Help));
        };
        let mut prompt = ValuePrompt {
            pack: self.pack,
            measure,
            repeats: asked.repeats.max(1),
            agreed: None,
            used_before: self.pressure_unit(measure),
        };
        let Draft { readings, index, .. } = draft;
        let readings = readings.get_or_insert_with(|| {
            let old = if turn == Turn::Again { self.old_readings(question) } else { Vec::new() };
            // What was broken off goes on; what was complete is looked at from the start.
            *index = if old.len() < prompt.repeats { old.len() } else { 0 };
            old
        });
        if let Some(so_far) = readings.get(..*index).filter(|so_far| !so_far.is_empty()) {
            let so_far = format!("So far: {}.", so_far.join("; "));
            self.prompter.say(&Page::of(Voice::Quiet, so_far));
        }
        self.say_commands();
        loop {
            let filled = readings.get(*index).cloned().unwrap_or_default();
            match prompt.reading(self.prompter, *index, &filled)? {
                TypedReading::Nothing if *index == 0 => self.prompter.say(&prompt.hint()),
                TypedReading::Nothing => {
                    readings.truncate(*index);
                    return Ok(Reply::Given(Given::Text(readings.join("; "))));
                }
                TypedReading::Command(Command::Back) if *index > 0 => *index -= 1,
                TypedReading::Command(command) => return Ok(Reply::Command(command)),
                // Several in one line are all of them.
                TypedReading::Text(text) if text.contains(';') => {
                    return Ok(Reply::Given(Given::Text(text)));
                }
                TypedReading::Text(text) => {
                    match readings.get_mut(*index) {
                        Some(old) => *old = text,
                        None => readings.push(text),
                    }
                    *index += 1;
                    let given = Given::Text(readings.join("; "));
                    if *index >= prompt.repeats {
                        return Ok(Reply::Given(given));
                    }
                    self.keep(question, &given, turn.is_answered() || *index > 1);
                }
            }
        }
    }

    fn table(
        &mut self,
        question: QuestionId,
        turn: Turn,
        draft: &mut Draft,
    ) -> Result<Reply, Ended> {
        let AnswerForm::Table(columns) = &self.pack.questions[question].answer else {
            return Ok(Reply::Command(Command::Help));
        };
        let mut prompt = TablePrompt { columns, agreed: Vec::new() };
        let Draft { rows, cells, index, .. } = draft;
        let rows =
            rows.get_or_insert_with(|| match self.store.given(self.pack.questions.id(question)) {
                Some(Given::Rows(rows)) if turn == Turn::Again => rows.clone(),
                _ => Vec::new(),
            });
        self.say_commands();
        loop {
            match prompt.row(self.prompter, *index, rows.get(*index), cells)? {
                RowAnswer::End if *index < MIN_ROWS => {
                    let few = format!(
                        "A table needs at least {MIN_ROWS} rows. Type c if you can't say, l for \
                         later."
                    );
                    self.prompter.say(&Page::of(Voice::Trouble, few));
                }
                RowAnswer::End => {
                    rows.truncate(*index);
                    return Ok(Reply::Given(Given::Rows(rows.clone())));
                }
                RowAnswer::Command(Command::Back) if *index > 0 => *index -= 1,
                RowAnswer::Command(command) => return Ok(Reply::Command(command)),
                RowAnswer::Row(row) => {
                    match rows.get_mut(*index) {
                        Some(old) => *old = row,
                        None => rows.push(row),
                    }
                    *index += 1;
                    self.keep(
                        question,
                        &Given::Rows(rows.clone()),
                        turn.is_answered() || *index > 1,
                    );
                }
            }
        }
    }
}

fn word(word: &str) -> Given {
    Given::Text(word.to_owned())
}
