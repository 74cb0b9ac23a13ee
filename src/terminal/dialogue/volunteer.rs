//! What a person knows without being asked: words are typed, questions that match are offered.

use crate::interview::State;
use crate::rules::{AnswerForm, Pack, QuestionId};

use crate::terminal::dialogue::find::matching;
use crate::terminal::dialogue::help::help;
use crate::terminal::dialogue::talk::Talk;
use crate::terminal::screen::command::{AT_A_CHOICE, Command};
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::{Blank, Ended};
use crate::terminal::screen::taken::{Chosen, Typed};

/// More would not be read.
const MAX_OFFERED: usize = 8;

/// What takes no longer than this, in minutes, is told from memory.
const FROM_MEMORY: f64 = 3.0;

/// What came of it.
pub(in crate::terminal) enum Volunteered {
    Question(QuestionId),
    Nothing,
    Stop,
}

impl Talk<'_, '_> {
    /// Lets a question be looked for by words, to be asked at once.
    pub(in crate::terminal) fn volunteered(
        &mut self,
        state: &State<'_>,
    ) -> Result<Volunteered, Ended> {
        let mut page = Page::of(Voice::Question, "What else do you know?");
        page.add(
            Voice::Quiet,
            "Type a word or two, such as hiss, oil, after the exhaust. Enter alone goes back to the \
             question.",
        );
        self.prompter.say(&page);
        loop {
            let blank = Blank { prompt: "Words:", filled: "", commands: &AT_A_CHOICE };
            let mut typed = match self.prompter.fill_in(&blank)? {
                Typed::Command(Command::Stop) => return Ok(Volunteered::Stop),
                Typed::Command(Command::Help) => {
                    self.prompter.say(&help(&AT_A_CHOICE));
                    continue;
                }
                Typed::Command(_) => return Ok(Volunteered::Nothing),
                Typed::Text(text) if text.is_empty() => return Ok(Volunteered::Nothing),
                Typed::Text(text) => text,
            };
            loop {
                let found = offered(state, &typed);
                if found.is_empty() {
                    self.prompter.say(&nothing_found(&typed));
                    break;
                }
                let texts = found.iter().map(|(_, text)| text);
                self.prompter.say(&Page::of(Voice::Question, "Which of these is it about?"));
                match self.prompter.choose(&Menu::new(texts, &AT_A_CHOICE).taking_text())? {
                    Chosen::Option(index) => {
                        return Ok(found
                            .get(index)
                            .map_or(Volunteered::Nothing, |(own, _)| Volunteered::Question(*own)));
                    }
                    Chosen::Text(text) => typed = text,
                    Chosen::Command(Command::Stop) => return Ok(Volunteered::Stop),
                    Chosen::Command(Command::Help) => self.prompter.say(&help(&AT_A_CHOICE)),
                    Chosen::Command(_) | Chosen::Several(_) => break,
                }
            }
        }
    }
}

fn nothing_found(typed: &str) -> Page {
    let text = format!(
        "Nothing matches \"{typed}\". Try another word: what it sounds like, what it smells of, the \
         name of the part."
    );
    Page::of(Voice::Trouble, text)
}

/// The questions that match, each with its text and the option that matches best, if one does.
fn offered(state: &State<'_>, typed: &str) -> Vec<(QuestionId, String)> {
    let pack = state.pack;
    let may_be_asked = |question: &QuestionId| {
        pack.questions[*question].list.is_none()
            && state.fits(*question)
            && !state.danger.forbids_question(pack, *question)
            && pack.complaints.iter().all(|(_, complaint)| complaint.told_by != Some(*question))
    };
    let questions: Vec<QuestionId> = pack.questions.indices().filter(may_be_asked).collect();
    let texts: Vec<String> = questions.iter().map(|own| all_words(pack, *own)).collect();
    let mut found: Vec<QuestionId> =
        matching(typed, &texts).into_iter().map(|place| questions[place]).collect();
    // What a person knows was seen or done before; what takes work comes after that.
    let takes_work = |own: &QuestionId| {
        let asked = &pack.questions[*own];
        asked.car.is_some() || asked.setup.is_some() || asked.minutes > FROM_MEMORY
    };
    found.sort_by_key(takes_work);
    found.truncate(MAX_OFFERED);
    found.into_iter().map(|own| (own, line(pack, own, typed))).collect()
}

fn all_words(pack: &Pack, question: QuestionId) -> String {
    let asked = &pack.questions[question];
    let mut words = vec![asked.text.clone()];
    words.extend(options(pack, question));
    words.extend(asked.also.iter().cloned());
    words.join(" ")
}

fn options(pack: &Pack, question: QuestionId) -> Vec<String> {
    match &pack.questions[question].answer {
        AnswerForm::Choose(options) => options.values().cloned().collect(),
        AnswerForm::AnyOf(options) => {
            options.iter().map(|option| pack.questions[*option].text.clone()).collect()
        }
        AnswerForm::YesOrNo | AnswerForm::Measure(_) | AnswerForm::Table(_) => Vec::new(),
    }
}

fn line(pack: &Pack, question: QuestionId, typed: &str) -> String {
    let text = &pack.questions[question].text;
    let options = options(pack, question);
    match matching(typed, &options).first() {
        Some(best) => format!("{text} ({})", options[*best]),
        None => text.clone(),
    }
}
