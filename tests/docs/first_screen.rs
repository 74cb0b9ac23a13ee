//! The interview in the README: held again by the scripted person, it says what is shown.

use boostwright::interview::{Round, fold, read_answer};
use boostwright::report::{conclude, screen};
use boostwright::rules::{AnswerForm, Given, Pack, PackSource, Question, load};
use boostwright::terminal::{AnswerStore, NotKept, Scope, Script, Talk};

use super::markdown::blocks;
use crate::project;

/// What the person of the run says to each question, however the rules order them; the README
/// leaves most of it out.
const ANSWERS: [(&str, &str); 16] = [
    ("also_noticed", "noise_under_boost"),
    ("last_work", "hose_work"),
    ("boost_seen", "1.05 bar"),
    ("expected_base_boost", "0.5 bar"),
    ("expected_from", "from_print"),
    ("boost_over_the_pull", "races"),
    ("gauge_at_rest", "0.0 bar"),
    ("unit_on_dial", "yes"),
    ("gauge_tapped_at", "tap_at_plenum"),
    ("what_off_means", "plain_hose_fitted"),
    ("hose_taken_from", "from_compressor"),
    ("hose_is_sound", "no"),
    ("gate_kind", "internal_gate"),
    ("actuator_kind", "pressure_canister"),
    ("boost_control_kind", "own_controller"),
    ("hiss_from", "hiss_at_hose"),
];

/// Keeps nothing: the run is over when the test is.
struct Nowhere;

impl AnswerStore for Nowhere {
    fn keep(&mut self, _: &str, _: &Given, _: bool) -> Result<(), NotKept> {
        Ok(())
    }

    fn put_back(&mut self, _setup: &str, _is_back: bool) -> Result<(), NotKept> {
        Ok(())
    }

    fn given(&self, _: &str) -> Option<&Given> {
        None
    }
}

fn start(pack: &Pack) -> Round {
    let complaint = pack.complaints.find("boost_too_high_controller_off").unwrap();
    Round { complaints: vec![complaint], ..Round::default() }
}

/// What is typed, question by question, until nothing is due.
fn lines(pack: &Pack) -> Vec<String> {
    let mut round = start(pack);
    let mut lines = Vec::new();
    while let Some(next) = fold(pack, std::slice::from_ref(&round), None).walk.next {
        let (id, question) = (pack.questions.id(next.question), &pack.questions[next.question]);
        let answer = ANSWERS.iter().find(|(known, _)| *known == id).map(|(_, answer)| *answer);
        let answer = answer.unwrap_or_else(|| panic!("the run now comes to {id}"));
        lines.push(typed(pack, question, answer));
        round
            .give(next.question, read_answer(pack, question, &Given::Text(answer.into())).unwrap());
    }
    lines
}

/// In a menu the number of what is chosen, else the answer itself.
fn typed(pack: &Pack, question: &Question, answer: &str) -> String {
    if let AnswerForm::AnyOf(options) = &question.answer {
        let number = |id: &str| options.iter().position(|own| pack.questions.id(*own) == id.trim());
        let numbers = answer.split(',').filter_map(number).map(|place| (place + 1).to_string());
        let numbers = numbers.collect::<Vec<_>>().join(" ");
        return if numbers.is_empty() { answer.to_owned() } else { numbers };
    }
    let place = match &question.answer {
        AnswerForm::YesOrNo => Some(usize::from(answer == "no")),
        AnswerForm::Choose(options) => options.get_index_of(answer),
        AnswerForm::Measure(_) | AnswerForm::Table(_) | AnswerForm::AnyOf(_) => None,
    };
    place.map_or_else(|| answer.to_owned(), |place| (place + 1).to_string())
}

fn run() -> String {
    let pack = load(&[PackSource::BuiltIn]).unwrap().pack;
    let mut script = Script::new(lines(&pack), 80);
    let mut store = Nowhere;
    let mut talk = Talk::new(&pack, vec![start(&pack)], Scope::Everything, &mut script, &mut store);
    let end = talk.run();
    let conclusion = screen(&conclude(&talk.fold(), None), &[], 80);
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
fn the_interview_in_the_readme_is_what_the_program_says() {
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
