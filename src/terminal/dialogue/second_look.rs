//! An answer that denies what brought the person here is looked at once more before it counts.

use crate::interview::{Denied, State};
use crate::rules::QuestionId;

use crate::terminal::dialogue::announced::Announced;
use crate::terminal::dialogue::help::help;
use crate::terminal::dialogue::talk::Talk;
use crate::terminal::screen::command::{AT_A_CHOICE, Command};
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::Ended;
use crate::terminal::screen::taken::Chosen;

/// What the second look came to.
pub(in crate::terminal) enum SecondLook {
    /// What was answered counts; or nothing had to be looked at again.
    Stands,
    /// This question is to be answered again.
    Reopen(QuestionId),
    Stop,
}

impl Talk<'_, '_> {
    /// Asks for a second look where the last answer denies what a complaint shows: once for each
    /// finding, since who looked again and says the same is believed.
    pub(in crate::terminal) fn second_look(
        &mut self,
        now: &State<'_>,
        last: QuestionId,
        announced: &mut Announced,
    ) -> Result<SecondLook, Ended> {
        let news =
            |denied: &Denied| denied.answers.contains(&last) && announced.is_new(denied.finding);
        let Some(denied) = now.denied().into_iter().find(news) else {
            return Ok(SecondLook::Stands);
        };
        let stands = "I checked again: it is right".to_owned();
        let again = denied.answers.iter().map(|question| {
            format!("change the answer to: {}", self.pack.questions[*question].text)
        });
        let menu = Menu::new(std::iter::once(stands).chain(again), &AT_A_CHOICE);
        loop {
            self.prompter.say(&speaks_against(now, &denied));
            match self.prompter.choose(&menu)? {
                Chosen::Option(0) => return Ok(SecondLook::Stands),
                Chosen::Option(index) => {
                    let question = denied.answers.get(index - 1).copied();
                    return Ok(SecondLook::Reopen(question.unwrap_or(last)));
                }
                Chosen::Command(Command::Stop) => return Ok(SecondLook::Stop),
                Chosen::Command(Command::Back) => return Ok(SecondLook::Reopen(last)),
                Chosen::Command(_) | Chosen::Text(_) | Chosen::Several(_) => {
                    self.prompter.say(&help(&AT_A_CHOICE))
                }
            }
        }
    }
}

fn speaks_against(now: &State<'_>, denied: &Denied) -> Page {
    let complaint = &now.pack.complaints[denied.complaint].title;
    let mut page = Page::of(
        Voice::Question,
        format!("That contradicts your complaint: {complaint}. Have you checked it twice?"),
    );
    page.add(
        Voice::Plain,
        "A misread gauge, a wrong scale or a wrong hose is commoner than a complaint about \
         nothing. Check again before it counts.",
    );
    page
}
