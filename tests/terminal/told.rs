//! After a repair the person tells first whether the trouble is gone; that counts beside the numbers.

use boostwright::interview::{Outcome, Round, Verdict, fold, verdict};
use boostwright::report::{conclude, text};
use boostwright::rules::{Given, Pack, PackSource};
use boostwright::terminal::{Finish, Scope};

use super::garage::{Held, Memory, first_round, folder, loaded, talk, talk_on};

/// The small pack, with a complaint that can be told of.
fn telling() -> Pack {
    let over_it = tempfile::tempdir().unwrap();
    let more = "pack: {name: more, replaces: [too_high]}\n\
                complaints:\n  too_high:\n    {title: Boost too high, start: look, judged_by: peak, \
                gone_when: peak < 0.7 bar, better: lower, told_by: trouble}\n\
                questions:\n  trouble:\n    text: Is the trouble gone?\n    answer:\n      choose: \
                {gone: gone, better: better, same: the same, worse: worse, not_driven: not driven}\n    \
                sure: 9 in 10\n    holds: each_run\n";
    std::fs::write(over_it.path().join("more.yaml"), more).unwrap();
    loaded(&[PackSource::Folder(folder()), PackSource::Folder(over_it.path().to_path_buf())])
}

const BEFORE: [(&str, &str); 3] =
    [("hose_sound", "no"), ("opens_at", "0.42 bar"), ("peak", "0.9 bar")];

fn given(pack: &Pack, round: Round, answers: &[(&str, &str)]) -> Round {
    let mut round = round;
    let answers =
        answers.iter().map(|(id, text)| ((*id).to_owned(), Given::Text((*text).to_owned())));
    round.read_answers(pack, &answers.collect()).unwrap();
    round
}

fn rounds(pack: &Pack, after: &[(&str, &str)]) -> Vec<Round> {
    let first = given(pack, first_round(pack).remove(0), &BEFORE);
    let repair = pack.repairs.find("new_hose");
    vec![first, given(pack, Round { repair, ..Round::default() }, after)]
}

fn judged(after: &[(&str, &str)]) -> Verdict {
    let pack = telling();
    let rounds = rounds(&pack, after);
    verdict(&fold(&pack, &rounds, None), rounds[1].repair).unwrap()
}

fn recheck(lines: &[&str]) -> Held {
    let pack = telling();
    talk_on(&pack, rounds(&pack, &[]), Scope::Again, Memory::default(), lines)
}

#[test]
fn the_trouble_itself_is_asked_after_first() {
    let held = recheck(&["1", "y", "0.5 bar", ""]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert_eq!(held.memory.lines(), ["trouble=gone", "hose_sound=yes", "peak=0.5 bar"]);
}

#[test]
fn before_any_repair_nobody_is_asked_whether_the_trouble_is_gone() {
    let held = talk(&telling(), &["n", "1", "0.4 bar", "c", "n"]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert!(!held.says("Is the trouble gone?"));
}

#[test]
fn not_driven_yet_is_asked_again_at_the_end() {
    let held = recheck(&["5", "y", "c", "1"]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert_eq!(held.memory.lines(), ["hose_sound=yes", "peak=unknown", "trouble=gone"]);
    let held = recheck(&["5", "y", "c", "5", "2"]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
}

#[test]
fn where_no_number_tells_the_word_does() {
    for (word, outcome) in [
        ("gone", Outcome::Cured),
        ("better", Outcome::Better),
        ("same", Outcome::Unchanged),
        ("worse", Outcome::Worse),
    ] {
        let verdict = judged(&[("trouble", word), ("hose_sound", "yes")]);
        assert_eq!((verdict.outcome, verdict.by_word), (outcome, true), "{word}");
        assert!((verdict.probability - 0.9).abs() < 1e-9, "as sure as the question");
    }
    let verdict = judged(&[("trouble", "not_driven"), ("hose_sound", "yes")]);
    assert_eq!((verdict.outcome, verdict.by_word), (Outcome::NotComparable, false));
}

#[test]
fn no_number_cures_what_the_person_still_has_and_numbers_say_the_rest() {
    let with = |word, peak| {
        let verdict = judged(&[("trouble", word), ("peak", peak)]);
        (verdict.outcome, verdict.by_word)
    };
    assert_eq!(with("same", "0.5 bar"), (Outcome::Unchanged, true));
    assert_eq!(with("gone", "0.5 bar"), (Outcome::Cured, false));
    assert_eq!(with("gone", "0.8 bar"), (Outcome::Better, false), "the number says: not yet");
}

#[test]
fn the_conclusion_says_whose_word_it_is_and_that_nothing_points_to_a_fault() {
    let pack = telling();
    let said = |after: &[(&str, &str)]| {
        let rounds = rounds(&pack, after);
        let state = fold(&pack, &rounds, None);
        let text = text(&conclude(&state, rounds[1].repair), 80);
        (state.cured, text)
    };
    let (cured, text) = said(&[("trouble", "gone"), ("hose_sound", "yes")]);
    assert!(cured && text.contains("After the repair: cured, by your account."), "{text}");
    let sound =
        [("trouble", "same"), ("hose_sound", "yes"), ("gate_sticks", "no"), ("needle", "level")];
    let (cured, text) = said(&sound);
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        !cured && flat.contains("points to a fault any more, but the trouble remains"),
        "{text}"
    );
    assert!(!flat.contains("The most likely:"), "{text}");
}
