//! What is asked, said and kept, on the scripted twin.

use boostwright::rules::{CarStateId, PackSource};
use boostwright::terminal::{Ended, Finish, Scope, Script, Talk, choose_complaints};

use super::garage::{Held, Memory, first_round, folder, garage, go_on, loaded, talk};

/// Every question of the small pack answered, in the order in which they come.
fn whole() -> Held {
    let look = ["y", "1", "0.42 bar", "0.4 bar", "0 mm", "0.6 bar", "5 mm", ""];
    let drive = ["0.9 bar", "0.92 bar", "0.91 bar", "0.88 bar", "1", "y"];
    talk(&garage(), &[&look[..], &drive].concat())
}

#[test]
fn a_whole_interview_keeps_every_answer_as_it_was_given() {
    let held = whole();
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert_eq!(
        held.memory.lines(),
        [
            "hose_sound=yes",
            "needle=climbs",
            "opens_at=0.42 bar",
            "travel={0.4 bar, 0 mm; 0.6 bar, 5 mm}",
            "peak=0.9 bar; 0.92 bar; 0.91 bar",
            "peak_tied_open=0.88 bar",
            "gate_sticks=yes",
        ]
    );
}

#[test]
fn a_step_is_named_once_and_the_car_is_moved_once() {
    let held = whole();
    assert_eq!(held.times("== Look first"), 1);
    assert_eq!(held.times("-> Car: parked, engine off"), 2, "at the start, and after the road");
    assert_eq!(held.times("-> Car: on the road (15 min)"), 1);
}

#[test]
fn a_caution_comes_the_first_time_and_says_its_level_in_words() {
    let held = whole();
    assert_eq!(held.times("DANGER: The housing burns."), 1);
    assert_eq!(held.times("Care: Eye protection."), 1);
}

#[test]
fn the_rules_of_the_road_come_with_every_change_to_it() {
    let pack = garage();
    let lines = ["y", "1", "0.4 bar", "c", "0.9 bar", "", "later", "y", "0.8 bar", "1"];
    let held = talk(&pack, &lines);
    assert_eq!(held.times("-> Car: on the road"), 2, "{}", held.said);
    assert_eq!(held.times("DANGER: Only where it is legal."), 2);
}

#[test]
fn a_set_up_is_made_before_its_question_and_put_back_before_the_next() {
    let held = whole();
    let made = held.said.find("-> Set-up: gate tied open (20 min)").unwrap();
    let asked = held.said.find("with the gate tied open?").unwrap();
    let back = held.said.find("-> Put back first: gate tied open").unwrap();
    let next = held.said.find("Does the gate stick?").unwrap();
    assert!(made < asked && asked < back && back < next, "{}", held.said);
    assert!(held.says("Take the wire off."));
}

#[test]
fn a_set_up_is_put_back_at_the_end_too() {
    let held =
        talk(&garage(), &["y", "1", "0.4 bar", "c", "0.9 bar", "", "later", "y", "0.8 bar", "1"]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert!(held.after("0.8 bar").contains("Put back first: gate tied open"));
}

#[test]
fn back_shows_the_answer_before_and_changes_it_in_its_place() {
    let held = talk(&garage(), &["y", "1", "b", "2", "b", "b", "n", "s"]);
    assert_eq!(held.end, Ok(Finish::Stopped));
    assert_eq!(held.memory.lines(), ["hose_sound=no", "needle=level"]);
}

#[test]
fn an_answer_is_kept_while_one_only_looks_back_at_it() {
    let held = talk(&garage(), &["y", "1", "b"]);
    assert_eq!(held.end, Err(Ended::Gone), "broken off at the earlier question");
    assert_eq!(held.memory.lines(), ["hose_sound=yes", "needle=climbs"]);
}

#[test]
fn back_at_the_first_question_leads_to_the_complaint() {
    assert_eq!(talk(&garage(), &["back"]).end, Ok(Finish::ToComplaint));
    let held = talk(&garage(), &["y", "b", "b"]);
    assert_eq!(held.end, Ok(Finish::ToComplaint));
    assert_eq!(held.memory.lines(), ["hose_sound=yes"], "what was answered stays");
}

/// The needle and the wire are put off. Each comes again once, then it is for the person to say.
#[test]
fn what_is_put_off_again_and_again_is_left_out_where_the_person_says_so() {
    let start = ["y", "l", "0.4 bar", "c", "0.9 bar", "", "l", "n"];
    let pack = garage();
    let concluded = talk(&pack, &[&start[..], &["l", "l", "2"]].concat());
    assert_eq!(concluded.end, Ok(Finish::Done), "{}", concluded.said);
    assert_eq!(
        concluded
            .times("2 questions were left for later: answer them now, or conclude without them?"),
        1
    );
    assert_eq!(concluded.times("What does the needle do?"), 2);
    assert_eq!(concluded.memory.lines()[5..], ["needle=later", "peak_tied_open=later"]);
    let taken = talk(&pack, &[&start[..], &["l", "l", "1", "2", "0.8 bar", "1"]].concat());
    assert_eq!(taken.end, Ok(Finish::Done), "{}", taken.said);
    assert_eq!(taken.memory.lines()[5..], ["needle=level", "peak_tied_open=0.8 bar"]);
}

#[test]
fn putting_off_a_drive_puts_off_what_else_is_done_on_the_road() {
    let held =
        talk(&garage(), &["y", "1", "0.4 bar", "c", "l", "n", "0.9 bar", "", "0.8 bar", "1"]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert!(
        held.says("Everything else that needs the same waits too: on the road."),
        "{}",
        held.said
    );
    let order: Vec<String> = held.memory.lines().split_off(4);
    assert_eq!(order, ["gate_sticks=no", "peak=0.9 bar", "peak_tied_open=0.8 bar"]);
}

#[test]
fn putting_off_one_look_where_the_car_stands_puts_off_no_other() {
    let held = talk(&garage(), &["y", "l", "0.4 bar", "s"]);
    assert!(!held.says("waits with it"), "{}", held.said);
    assert_eq!(held.memory.lines(), ["hose_sound=yes", "needle=later", "opens_at=0.4 bar"]);
}

#[test]
fn later_comes_again_when_nothing_else_is_left() {
    let held = talk(
        &garage(),
        &["y", "l", "0.4 bar", "c", "0.9 bar", "", "0.88 bar", "1", "n", "why", "2"],
    );
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert!(held.says("You left it for later, and nothing else remains."));
    assert_eq!(held.memory.lines().last().unwrap(), "needle=level");
}

#[test]
fn cant_say_says_which_typical_value_stands_in() {
    let held = talk(&garage(), &["y", "1", "can't say", "s"]);
    assert!(held.says("Assumed: 0.40 ± 0.05 bar, a typical value."), "{}", held.said);
    assert_eq!(held.memory.lines()[2], "opens_at=unknown");
}

#[test]
fn how_tells_the_way_tools_minutes_place_dangers_normal_and_source() {
    let held = talk(&garage(), &["how", "s"]);
    for part in [
        "Look and feel along it.",
        "Takes about 3 min.",
        "Tools: lamp.",
        "Car: parked, engine off.",
        "Normal: whole.",
        "Source: A book, page 7.",
    ] {
        assert!(held.says(part), "{part} not in:\n{}", held.said);
    }
    assert_eq!(held.times("DANGER: The housing burns."), 2, "before the question, and here");
    assert_eq!(held.times("Is the hose whole?"), 2, "asked again behind the help");
}

/// P(split | hose off) = 0.1 · h / (0.1 · h + 0.9 · 0.01) with h = 1 − 0.99 · 0.05 = 0.9505:
/// 0.09505 / 0.10405 = 0.9135. P(split | hose whole) = 0.1 · 0.05 / (0.1 · 0.05 + 0.9) = 0.0055;
/// the other cause then leads with its 0.05.
#[test]
fn why_tells_what_each_answer_would_bring() {
    let held = talk(&garage(), &["why", "s"]);
    assert!(held.says("A hose that is off lets boost run away."));
    assert!(held.says("If \"no\": hose split would lead, 10 % → 91 %."), "{}", held.said);
    assert!(held.says("If \"yes\": gate stuck would lead, 5 % → 5 %."), "{}", held.said);
}

#[test]
fn why_says_it_where_no_answer_moves_a_chance() {
    // Nothing rests on this one: it is asked for its own sake.
    let over_it = tempfile::tempdir().unwrap();
    let more = "pack: {name: more, replaces: [look]}\n\
                questions:\n  glass: {text: Is the glass whole?, answer: yes_or_no}\n\
                steps:\n  look: {ask: [glass], then: [{go: drive}]}\n";
    std::fs::write(over_it.path().join("more.yaml"), more).unwrap();
    let pack =
        loaded(&[PackSource::Folder(folder()), PackSource::Folder(over_it.path().to_path_buf())]);
    let held = talk(&pack, &["why", "s"]);
    assert!(
        held.says("Whatever the answer, no cause becomes more or less likely."),
        "{}",
        held.said
    );
    assert!(!held.says("would lead"), "{}", held.said);
}

#[test]
fn an_answer_says_what_it_means_and_how_the_lead_moved() {
    let held = talk(&garage(), &["n", "s"]);
    assert!(held.says("The hose is not whole."));
    assert!(held.says("Most likely: hose split, 10 % → 91 %."), "{}", held.said);
    assert!(held.says("!! STOP: No boost until the hose is whole."));
}

#[test]
fn an_answer_that_rules_something_out_says_so() {
    let held = talk(&garage(), &["y", "s"]);
    assert!(held.says("Ruled out: The hose is not whole."), "{}", held.said);
}

/// u² = 0.03² + 0.02² for one reading each: 0.036; 0.92 − 0.42 = 0.50.
#[test]
fn a_working_comes_with_its_numbers_its_uncertainty_and_its_source() {
    let held = talk(&garage(), &["y", "1", "0.42 bar", "c", "0.92 bar", "", "s"]);
    assert!(held.says("Boost stands 0.50 ± 0.04 bar over the opening pressure."), "{}", held.said);
    assert!(held.says("= 0.92 ± 0.03 bar - 0.420 ± 0.020 bar [A book]"), "{}", held.said);
}

#[test]
fn a_working_says_that_a_typical_value_was_assumed() {
    let held = talk(&garage(), &["y", "1", "c", "c", "0.92 bar", "", "s"]);
    assert!(held.says("with one typical value assumed [A book]"), "{}", held.said);
}

#[test]
fn what_a_stop_rule_forbids_is_not_asked() {
    let held = talk(&garage(), &["n", "1", "0.4 bar", "c", "n"]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert!(!held.says("What is the highest boost?"));
}

#[test]
fn a_stop_rule_is_told_again_when_the_session_goes_on() {
    let pack = garage();
    let first = talk(&pack, &["n", "s"]);
    let second = go_on(&pack, first.memory, &["s"]);
    assert!(second.says("!! STOP: No boost until the hose is whole."), "{}", second.said);
    assert!(second.says("What does the needle do?"), "and the next question comes");
}

#[test]
fn one_who_comes_back_is_told_how_far_it_got() {
    let pack = garage();
    let first = talk(&pack, &["n", "s"]);
    let second = go_on(&pack, first.memory, &["s"]);
    assert!(second.says("Answers so far: 1. Most likely: hose split, 91 %."), "{}", second.said);
}

#[test]
fn an_answer_that_cannot_be_kept_is_not_taken_in_but_asked_again() {
    let memory = Memory { refuses: Some("hose_sound"), ..Memory::default() };
    let held = go_on(&garage(), memory, &["n", "s"]);
    assert!(held.says("the disk is full"));
    assert_eq!(held.times("Is the hose whole?"), 2);
    assert!(!held.says("Lead:"));
}

#[test]
fn only_what_can_be_answered_where_the_car_is_is_asked() {
    let pack = garage();
    let car: Option<CarStateId> = pack.car_states.find("on_the_road");
    let mut script = Script::new(["0.9 bar", "", "0.8 bar", "1"], 80);
    let mut memory = Memory::default();
    let end = Talk::new(&pack, first_round(&pack), Scope::Everything, &mut script, &mut memory)
        .only_in(car)
        .run();
    assert_eq!(end, Ok(Finish::Done), "{}", script.transcript);
    assert_eq!(memory.lines(), ["peak=0.9 bar", "peak_tied_open=0.8 bar"]);
}

#[test]
fn a_word_that_means_nothing_is_told_and_answers_nothing() {
    let held = talk(&garage(), &["xyz", "s"]);
    assert_eq!(held.end, Ok(Finish::Stopped));
    assert!(held.says("\"xyz\" is not one of the choices"));
    assert!(held.memory.kept.is_empty());
}

#[test]
fn one_complaint_or_several_may_be_chosen() {
    let pack = garage();
    let chosen = |lines: &[&str]| {
        let mut script = Script::new(lines.iter().copied(), 80);
        let chosen = choose_complaints(&mut script, &pack).unwrap();
        chosen.map(|list| {
            list.iter().map(|place| pack.complaints.id(*place).to_owned()).collect::<Vec<_>>()
        })
    };
    assert_eq!(chosen(&["2"]), Some(vec!["too_low".to_owned()]));
    // The first number typed is the one that matters most.
    assert_eq!(chosen(&["2, 1"]), Some(vec!["too_low".to_owned(), "too_high".to_owned()]));
    assert_eq!(chosen(&["b", "0", "3", "1 3", "xyz", "1"]), Some(vec!["too_high".to_owned()]));
    assert_eq!(chosen(&["s"]), None);
}
