//! An answer that denies the complaint is looked at once more.

use boostwright::rules::{Pack, PackSource};
use boostwright::terminal::Finish;

use super::garage::{Held, folder, loaded, talk};

/// The small pack, its complaint being boost far over the opening pressure.
fn with_a_complaint_that_shows() -> Pack {
    let over_it = tempfile::tempdir().unwrap();
    let more = "pack: {name: more, replaces: [too_high]}\n\
                complaints:\n  too_high:\n    title: Boost too high\n    start: look\n    shows: [high]\n";
    std::fs::write(over_it.path().join("more.yaml"), more).unwrap();
    loaded(&[PackSource::Folder(folder()), PackSource::Folder(over_it.path().to_path_buf())])
}

/// All answers up to the highest boost, and what comes then; the rod starts to move at 0.4 bar.
fn at_the_peak(peak: &str, then: &[&str]) -> Held {
    let before = ["y", "1", "0.4 bar", "c", peak, ""];
    talk(&with_a_complaint_that_shows(), &[&before, then].concat())
}

const ASKED: &str = "That contradicts your complaint: Boost too high. Have you checked it twice?";

#[test]
fn who_looked_again_and_says_the_same_is_believed() {
    let held = at_the_peak("0.45 bar", &["1", "later", "y", "later", "b", "b", "n"]);
    assert_eq!(held.times(ASKED), 1, "{}", held.said);
    assert!(held.says("1 I checked again: it is right"));
    assert_eq!(held.memory.lines()[4], "peak=0.45 bar");
}

#[test]
fn any_of_the_answers_behind_it_can_be_given_anew() {
    let peak = at_the_peak("0.45 bar", &["3", "0.95 bar", "", "s"]);
    assert!(peak.says("3 change the answer to: What is the highest boost?"), "{}", peak.said);
    assert_eq!(
        (peak.memory.lines()[4].as_str(), &peak.end),
        ("peak=0.95 bar", &Ok(Finish::Stopped))
    );
    let opens = at_the_peak("0.45 bar", &["2", "0.15 bar", "s"]);
    assert!(opens.memory.lines().contains(&"opens_at=0.15 bar".to_owned()), "{}", opens.said);
    assert!(
        !peak.says("So far: 0.45 bar."),
        "a doubted reading is not gone on with: {}",
        peak.said
    );
    // To go back there is to answer it anew.
    let back = at_the_peak("0.45 bar", &["b", "0.95 bar", "", "s"]);
    assert_eq!(back.memory.lines()[4], "peak=0.95 bar");
}

#[test]
fn an_answer_that_still_denies_it_is_taken_without_another_word() {
    let held = at_the_peak("0.45 bar", &["3", "0.5 bar", "", "s"]);
    assert_eq!((held.times(ASKED), held.memory.lines()[4].as_str()), (1, "peak=0.5 bar"));
}

#[test]
fn one_can_stop_there() {
    let held = at_the_peak("0.45 bar", &["s"]);
    assert_eq!((held.times(ASKED), &held.end), (1, &Ok(Finish::Stopped)));
}

#[test]
fn what_bears_the_complaint_out_or_leaves_it_open_is_not_asked_twice() {
    for peak in ["0.9 bar", "0.6 bar", "0.58 bar"] {
        let held = at_the_peak(peak, &["s"]);
        assert_eq!(held.times(ASKED), 0, "{peak}");
    }
}
