//! What a person knows without being asked, found by words, and what follows from it.

use boostwright::rules::{Pack, PackSource};
use boostwright::terminal::{Finish, Script, choose_complaints};

use super::garage::{Held, folder, loaded, talk};

fn built_in() -> Pack {
    loaded(&[PackSource::BuiltIn])
}

/// The small pack with more laid over it.
fn with(more: &str) -> Pack {
    let over_it = tempfile::tempdir().unwrap();
    std::fs::write(over_it.path().join("more.yaml"), more).unwrap();
    loaded(&[PackSource::Folder(folder()), PackSource::Folder(over_it.path().to_path_buf())])
}

const NOISES: &str = "
pack: {name: more, replaces: [look, too_high]}
complaints:
  too_high: {title: Boost too high, start: look, shows: [is_loud]}
questions:
  loud: {text: Is it loud?, answer: yes_or_no}
  heard: {text: What else is there?, answer: {any_of: {rough: it runs rough, hums: a hum}}, also: [drone]}
  hum_from: {text: How long does the hum last?, answer: {measure: time}, fits: hums, not_before: [hums]}
  fuse: {text: Is the fuse whole?, answer: yes_or_no}
steps:
  look: {ask: [loud, fuse, heard, hum_from], then: [{go: conclude}]}
findings:
  is_loud: {when: loud, leak: 0.1}
  is_rough: {when: rough, leak: 0.1}
  hums_on: {when: hums and hum_from > 3 s, leak: 0.1}
  blown: {when: not fuse, leak: 0.1}
";

#[test]
fn words_find_a_question_its_answer_counts_and_the_interview_goes_on_where_it_was() {
    let pack = with(NOISES);
    for words in ["drone", "dron", "rough"] {
        let held = talk(&pack, &["m", words, "1", "1 2", "y", "s"]);
        assert_eq!(
            held.memory.lines(),
            ["heard=[rough, hums]", "fuse=yes"],
            "{words}: {}",
            held.said
        );
        assert!(held.after("Which of these").contains("Is the fuse whole?"), "{}", held.said);
    }
}

#[test]
fn words_that_match_nothing_leave_the_question_as_it_was() {
    let pack = with(NOISES);
    for lines in
        [&["m", "xylophone", "", "y", "s"][..], &["m", "", "y", "s"], &["m", "b", "y", "s"]]
    {
        let held = talk(&pack, lines);
        assert_eq!(held.memory.lines(), ["fuse=yes"], "{lines:?}: {}", held.said);
    }
    assert!(talk(&pack, &["m", "xylophone", "", "s"]).says("Nothing matches \"xylophone\""));
    assert_eq!(talk(&pack, &["m", "s"]).end, Ok(Finish::Stopped));
}

#[test]
fn other_words_may_be_typed_where_the_first_found_the_wrong_questions() {
    let held = talk(&with(NOISES), &["m", "fuse", "rough", "1", "1", "s"]);
    assert_eq!(held.memory.lines(), ["heard=[rough]"], "{}", held.said);
}

#[test]
fn what_the_complaint_says_is_neither_asked_nor_denied() {
    let held = talk(&with(NOISES), &["y", "0", "s"]);
    assert!(!held.says("Is it loud?"), "{}", held.said);
    assert_eq!(held.memory.lines(), ["fuse=yes", "heard=none"]);
}

#[test]
fn what_follows_from_an_answer_is_said_not_asked_and_can_be_taken_back() {
    let pack = with(NOISES);
    let told = talk(&pack, &["m", "long", "1", "5 s", "y", "1", "s"]);
    assert!(told.says("So that is told, too: a hum yes."), "{}", told.said);
    // Saying otherwise comes first: the list without the hum, and what hung on it is not asked again.
    let back = talk(&pack, &["m", "long", "1", "5 s", "m", "drone", "1", "0", "y", "s"]);
    assert_eq!(back.memory.lines(), ["hum_from=5 s", "heard=none", "fuse=yes"], "{}", back.said);
}

fn found(words: &str) -> String {
    let pack = built_in();
    let mut script = Script::new([words, "s"], 80);
    assert_eq!(choose_complaints(&mut script, &pack), Ok(None));
    let said = &script.transcript;
    said[said.find("may be:").unwrap_or(said.len())..].to_owned()
}

#[test]
fn the_list_of_complaints_is_not_said_again_below_what_went_wrong() {
    let pack = built_in();
    for (typed, told) in [("qqq", "Nothing matches \"qqq\"."), ("0", "At least one is needed.")] {
        let mut script = Script::new([typed, "b", "16"], 80);
        let chosen = choose_complaints(&mut script, &pack).unwrap();
        let said = &script.transcript;
        let titled = |text: &str| text.contains("16 A noise has come with boost");
        let (_, after) = said.split_once(told).unwrap_or_else(|| panic!("{typed}: {said}"));
        let (at_once, asked_for) = after.split_once("> b").unwrap();
        assert!(!titled(at_once) && titled(asked_for), "{typed}: {said}");
        // Its numbers count all the same.
        assert_eq!(chosen.map(|chosen| chosen.len()), Some(1));
    }
}

#[test]
fn complaints_are_found_by_the_words_people_use() {
    for (words, title) in [
        ("whistle", "A noise has come with boost"),
        ("limp mode", "A warning lamp or limp mode"),
        ("wont rev", "Misfire or hesitation"),
        ("no power", "Down on power"),
        ("too much boost", "Boost too high"),
        ("lag", "slow to build"),
        ("whisle", "A noise has come with boost"),
    ] {
        assert!(found(words).contains(title), "{words}: {}", found(words));
    }
}

#[test]
fn what_was_done_to_the_car_is_found_by_the_part() {
    let pack = built_in();
    let Held { said, .. } = talk(&pack, &["m", "downpipe", "s"]);
    assert!(said.contains("What was done to the car in the weeks before"), "{said}");
}
