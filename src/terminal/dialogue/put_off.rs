//! What was put off: it comes again once by itself; after that the person says whether to take it now
//! or to conclude without it.

use std::collections::HashSet;

use crate::interview::{Answer, Next, Reason, State};
use crate::rules::QuestionId;

use crate::terminal::dialogue::help::help;
use crate::terminal::dialogue::talk::Talk;
use crate::terminal::screen::command::{AT_A_CHOICE, Command};
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::Ended;
use crate::terminal::screen::taken::Chosen;

/// The questions put off that came again in this conversation.
#[derive(Debug, Default)]
pub(in crate::terminal) struct ComeBack(HashSet<QuestionId>);

/// Whether a question is asked once more.
pub(in crate::terminal) enum OnceMore {
    Take,
    /// The interview ends without it.
    Conclude,
    Stop,
}

impl Talk<'_, '_> {
    /// Asks whether to go on where all that is left was put off twice.
    pub(in crate::terminal) fn once_more(
        &mut self,
        state: &State<'_>,
        next: Next,
        come_back: &mut ComeBack,
    ) -> Result<OnceMore, Ended> {
        if next.reason != Reason::PutOff || come_back.0.insert(next.question) {
            return Ok(OnceMore::Take);
        }
        let text = match state.facts.put_off().len() {
            0 | 1 => "One question was left for later: answer it now, or conclude without \
                it?"
            .to_owned(),
            count => format!(
                "{count} questions were left for later: answer them now, or conclude \
                without them?"
            ),
        };
        let menu = Menu::new(["answer now", "conclude without"], &AT_A_CHOICE);
        loop {
            self.prompter.say(&Page::of(Voice::Question, &text));
            match self.prompter.choose(&menu)? {
                Chosen::Option(0) => {
                    *come_back = ComeBack(HashSet::from([next.question]));
                    return Ok(OnceMore::Take);
                }
                Chosen::Option(_) => return Ok(OnceMore::Conclude),
                Chosen::Command(Command::Stop) => return Ok(OnceMore::Stop),
                _ => self.prompter.say(&help(&AT_A_CHOICE)),
            }
        }
    }
}

/// What waits with a question that was put off.
pub(in crate::terminal) fn waiting_with(now: &State<'_>, question: QuestionId) -> Page {
    let is_put_off = now.facts.held.get(&question).is_some_and(|held| held.answer == Answer::Later);
    let place = now.facts.place_put_off(question).filter(|_| is_put_off);
    place.map_or_else(Page::default, |place| {
        let what = place.title(now.pack);
        Page::of(Voice::Plain, format!("Everything else that needs the same waits too: {what}."))
    })
}
