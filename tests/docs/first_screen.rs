//! The run on the README's first screen: held again by the scripted person, it says what is shown.

use boostwright::interview::Round;
use boostwright::report::{conclude, text};
use boostwright::rules::{Given, PackSource, load};
use boostwright::terminal::{Keeper, Scope, Script, Talk, clean_line};

use super::markdown::blocks;
use crate::project;

/// The answers of the run, in the order of the questions; the README leaves most of them out.
const ANSWERS: [&str; 11] =
    ["3", "1.05 bar", "0.5 bar", "1", "1", "0.0 bar", "1", "1", "1", "1", "2"];

/// Keeps nothing: the run is over when the test is.
struct Nowhere;

impl Keeper for Nowhere {
    fn keep(&mut self, _: &str, _: &Given, _: bool) -> Result<(), String> {
        Ok(())
    }

    fn given(&self, _: &str) -> Option<&Given> {
        None
    }
}

fn run() -> String {
    let pack = load(&[PackSource::BuiltIn]).unwrap().pack;
    let complaints = vec![pack.complaints.find("boost_too_high_controller_off").unwrap()];
    let rounds = vec![Round { complaints, ..Round::default() }];
    let mut script = Script::new(ANSWERS, 80);
    let mut keeper = Nowhere;
    let mut talk = Talk::new(&pack, rounds, Scope::Everything, &mut script, &mut keeper);
    let end = talk.run();
    let conclusion = text(&conclude(&talk.fold(), None), 80, &clean_line);
    drop(talk);
    assert!(end.is_ok() && script.left() == 0, "it went another way:\n{}", script.transcript);
    script.transcript + &conclusion
}

/// A menu shows the words of what was chosen; the scripted person gives the number alone.
fn is_shown_as(said: &str, shown: &str) -> bool {
    let chosen = said.strip_prefix("> ").is_some_and(|number| number.parse::<u8>().is_ok());
    said == shown || (chosen && shown.starts_with(&format!("{said} ")))
}

#[test]
fn the_run_on_the_first_screen_is_what_the_program_says() {
    let readme = project::text("README.md");
    let shown = blocks(&readme).into_iter().find(|block| block.language == "text").unwrap().text;
    let mut parts = shown.lines();
    assert_eq!(parts.next(), Some("$ boostwright ask boost.yaml"));
    let run = run();
    let mut said = run.lines().map(str::trim_end);
    let mut skipping = false;
    for wanted in parts {
        if wanted == "..." {
            skipping = true;
            continue;
        }
        let found = if skipping {
            said.find(|said| is_shown_as(said, wanted))
        } else {
            said.next().filter(|said| is_shown_as(said, wanted))
        };
        assert!(found.is_some(), "{wanted:?} is not said (any more) at its place in:\n{run}");
        skipping = false;
    }
}
