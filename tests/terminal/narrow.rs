//! The built-in rules on narrow screens: every page fits, every interview ends.

use std::sync::OnceLock;

use boostwright::interview::Round;
use boostwright::quantity::typeset;
use boostwright::rules::{AnswerForm, PackSource};
use boostwright::terminal::{
    Blank, Chosen, Command, Ended, Finish, Menu, Page, Prompter, Scope, Talk, Typed,
};

use super::garage::{Memory, loaded};

/// A person who asks for everything there is to ask at every question, then can't say.
struct Clueless {
    columns: usize,
    asked: usize,
    transcript: String,
}

impl Clueless {
    fn next(&mut self) -> Command {
        let wishes = [Command::How, Command::Why, Command::Help, Command::CantSay];
        self.asked += 1;
        wishes[(self.asked - 1) % wishes.len()]
    }
}

impl Prompter for Clueless {
    fn say(&mut self, page: &Page) {
        self.transcript.push_str(&page.text(self.columns));
    }

    fn choose(&mut self, menu: &Menu) -> Result<Chosen, Ended> {
        self.say(&menu.page());
        if menu.commands.contains(&Command::CantSay) {
            Ok(Chosen::Command(self.next()))
        } else {
            Ok(Chosen::Option(0))
        }
    }

    fn fill_in(&mut self, _: &Blank<'_>) -> Result<Typed, Ended> {
        Ok(Typed::Command(self.next()))
    }
}

/// All that was said at forty columns, and the ids of the questions that came. Held once.
fn clueless() -> &'static (String, Vec<String>) {
    static HELD: OnceLock<(String, Vec<String>)> = OnceLock::new();
    HELD.get_or_init(|| {
        let pack = loaded(&[PackSource::BuiltIn]);
        let mut person = Clueless { columns: 40, asked: 0, transcript: String::new() };
        let mut memory = Memory::default();
        let complaints = pack.complaints.indices().take(1).collect();
        let rounds = vec![Round { complaints, ..Round::default() }];
        let end = Talk::new(&pack, rounds, Scope::Everything, &mut person, &mut memory).run();
        assert_eq!(end, Ok(Finish::Done), "{}", person.transcript);
        (person.transcript, memory.kept.into_keys().collect())
    })
}

#[test]
fn no_line_is_wider_than_forty_columns_and_the_interview_ends() {
    let (said, asked) = clueless();
    let wide: Vec<&str> = said.lines().filter(|line| line.chars().count() > 40).collect();
    assert!(wide.is_empty(), "{wide:#?}");
    assert!((5..=20).contains(&asked.len()), "{asked:?}");
}

#[test]
fn no_measurement_is_asked_for_without_its_unit_in_sight() {
    let pack = loaded(&[PackSource::BuiltIn]);
    let (said, asked) = clueless();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for id in asked {
        let question = &pack.questions[pack.questions.find(id).unwrap()];
        let AnswerForm::Measure(measure) = &question.answer else { continue };
        let kind = measure.kind.to_string();
        let shown = typeset(&format!("{} in {}", &kind[1..], measure.unit));
        let bare = measure.unit.symbol() == "1";
        assert!(bare || said.contains(&shown), "{id}: no \"{shown}\"");
    }
}
