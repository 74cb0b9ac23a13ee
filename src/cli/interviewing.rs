//! What `ask` and `recheck` share: the terminal, the session's file, and what is shown at the end.

use std::io::{IsTerminal, stderr, stdin};
use std::path::Path;

use super::exit::{Exit, Failure};
use super::opening::say_warning;
use super::render::Paper;
use super::slow_notice::{SlowNotice, WORKING};
use super::{output, packs, render, signals};
use crate::interview::State;
use crate::report::conclude;
use crate::rules::{Given, Pack, RepairId};
use crate::session::SessionFile;
use crate::terminal::{
    AnswerStore, Ended, Finish, NotKept, Page, Prompter, Screen, Voice, summary,
};

/// A person at a terminal, and signals to end caught.
///
/// # Errors
/// Where there is no terminal to ask at.
pub(super) fn screen() -> Result<Screen, Failure> {
    let missing = match (stdin().is_terminal(), stderr().is_terminal()) {
        (true, true) => None,
        (false, _) => Some("stdin"),
        (true, false) => Some("stderr"),
    };
    if let Some(missing) = missing {
        return Err(Failure::NoTerminal { missing });
    }
    Ok(Screen::new(packs::colour(), signals::told_to_end()?))
}

/// A session's file as the place where answers are kept.
pub(super) struct Kept<'f> {
    pub(super) file: &'f mut SessionFile,
    /// That answers are not yet safe against a power cut was said; once is enough.
    pub(super) warned: bool,
}

impl<'f> Kept<'f> {
    pub(super) fn in_file(file: &'f mut SessionFile) -> Self {
        Self { file, warned: false }
    }
}

impl AnswerStore for Kept<'_> {
    fn keep(&mut self, question: &str, given: &Given, corrected: bool) -> Result<(), NotKept> {
        let before = self.file.session.clone();
        self.file.session.keep(question, given.clone(), corrected);
        if let Err(error) = self.file.save() {
            self.file.session = before;
            return Err(error.into());
        }
        if !self.warned {
            self.warned = say_warning(self.file);
        }
        Ok(())
    }

    fn put_back(&mut self, setup: &str, is_back: bool) -> Result<(), NotKept> {
        let before = self.file.session.clone();
        self.file.session.put_back(setup, is_back);
        self.file.save().map_err(|error| {
            self.file.session = before;
            error.into()
        })
    }

    fn given(&self, question: &str) -> Option<&Given> {
        self.file.session.rounds.last()?.answers.get(question)
    }
}

/// The end of a conversation: the conclusion, or how to go on another day.
pub(super) fn finish(
    outcome: Result<Finish, Ended>,
    screen: &mut Screen,
    file: &mut SessionFile,
    state: &State<'_>,
    repair: Option<RepairId>,
) -> Result<Exit, Failure> {
    let path = file.path().to_path_buf();
    match outcome {
        Ok(Finish::Done) => {
            file.session.conclude(&summary(state));
            file.save().map_err(Failure::Session)?;
            say_warning(file);
            let slow_notice = SlowNotice::say(WORKING);
            let conclusion = conclude(state, repair);
            drop(slow_notice);
            let page = render::first_page(&conclusion, &path, Paper::of_stdout());
            let printed = output::result(page);
            screen.say(&Page::of(Voice::Task, format!("Saved in {}.", path.display())));
            printed?;
            render::exit(&conclusion)
        }
        Ok(Finish::Stopped | Finish::ToComplaint) => {
            screen.say(&to_go_on(&path));
            Ok(Exit::Done)
        }
        Err(Ended::Gone | Ended::Interrupted) => {
            output::message("");
            screen.say(&to_go_on(&path));
            Ok(Exit::Interrupted)
        }
    }
}

/// Which car, complaint and round it is that is gone on with.
pub(super) fn say_what_it_is(screen: &mut Screen, file: &SessionFile, pack: &Pack) {
    let session = &file.session;
    let titles = session.rounds.iter().flat_map(|round| &round.complaints).map(|id| {
        pack.complaints.find(id).map_or(id.as_str(), |found| pack.complaints[found].title.as_str())
    });
    let titles = titles.collect::<Vec<&str>>().join(" / ");
    let car = session.car.as_ref().map_or_else(String::new, |car| format!(", {car}"));
    let (path, round) = (file.path().display(), session.rounds.len());
    screen.say(&Page::of(Voice::Heading, format!("{path}{car}: {titles}, round {round}")));
}

fn to_go_on(path: &Path) -> Page {
    let path = path.display();
    let mut page = Page::of(Voice::Task, format!("Every answer is saved in {path}."));
    page.add(Voice::Plain, format!("To continue: boostwright ask {path}"));
    page.add(Voice::Plain, format!("Conclusion so far: boostwright show {path}"));
    page
}
