//! Many mistakes at once: all are told, and none twice.

use boostwright::rules::MAX_DRAWN;

use super::bench::{SOUND, Told, checked, checked_text, told};

/// The sound pack with each of these put in place of what stands there.
fn with(mistakes: &[(&str, &str)]) -> String {
    mistakes.iter().fold(SOUND.to_owned(), |text, (sound, mistake)| {
        assert!(text.contains(sound), "{sound}");
        text.replacen(sound, mistake, 1)
    })
}

fn all_told(text: &str) -> Vec<Told> {
    let (_folder, loaded) = checked_text(text);
    loaded.faults.draw(false).iter().map(|drawn| told(drawn)).collect()
}

/// Code, line of the file and what is marked.
fn summary(told: &[Told]) -> Vec<(&str, usize, &str)> {
    let mut all: Vec<_> =
        told.iter().map(|told| (told.code.as_str(), told.line, told.marked.as_str())).collect();
    all.sort_by_key(|(_, line, _)| *line);
    all
}

#[test]
fn the_pack_that_mistakes_are_made_in_is_sound() {
    assert_eq!(summary(&all_told(SOUND)), []);
}

#[test]
fn one_file_with_ten_mistakes_is_told_of_ten() {
    let text = with(&[
        ("start: look", "start: lok"),
        ("to: 3 bar}", "to: 3}"),
        ("answer: yes_or_no", "anwser: yes_or_no"),
        ("peak > 1 bar\n    leak: 1 in 100", "peek > 1 bar\n    leak: 120 in 100"),
        ("high: usually", "hihg: usually"),
        ("title: A hose leaks\n", "title: A hose leaks\n    title: A pipe leaks\n"),
        ("mends: [spring_strong]", "mends: spring_strong"),
        ("mends: [hose_leaks]", "mends: [hose_leaks]\n    minutes: long"),
        ("go: conclude", "go: conclud"),
    ]);
    let told = all_told(&text);
    assert_eq!(
        summary(&told),
        [
            ("unknown-name", 5, "lok"),
            ("value", 9, "3"),
            ("unknown-field", 12, "anwser"),
            ("formula", 15, "peek"),
            ("chance", 16, "120 in 100"),
            ("unknown-name", 25, "hihg"),
            ("repeated-key", 28, "title"),
            ("wrong-shape", 34, "spring_strong"),
            ("number", 37, "long"),
            ("unknown-name", 42, "conclud"),
        ]
    );
}

#[test]
fn a_file_that_is_no_yaml_does_not_hide_what_is_wrong_in_another() {
    let rules = with(&[("start: look", "start: lok")]).into_bytes();
    let (_folder, loaded) =
        checked(&[("a.yaml", b"questions: [".to_vec()), ("b.yaml", rules), ("c.yaml", vec![0xff])]);
    let codes: Vec<&str> = loaded.faults.list.iter().map(|fault| fault.code().name()).collect();
    assert_eq!(codes, ["no-text", "no-yaml", "unknown-name"]);
}

#[test]
fn a_mark_of_byte_order_is_passed_over_and_shifts_no_place() {
    let text = format!("\u{feff}{}", with(&[("go: conclude", "go: conclud")]));
    assert_eq!(summary(&all_told(&text)), [("unknown-name", 40, "conclud")]);
}

#[test]
fn lines_that_end_as_on_other_systems_shift_no_place() {
    let text = with(&[("go: conclude", "go: conclud")]).replace('\n', "\r\n");
    assert_eq!(summary(&all_told(&text)), [("unknown-name", 40, "conclud")]);
}

#[test]
fn no_more_is_shown_than_anyone_mends_at_once() {
    let wrong: String = (0..2000).map(|place| format!("  cause_{place}: {{}}\n")).collect();
    let (_folder, loaded) = checked_text(&format!("causes:\n{wrong}"));
    assert_eq!(loaded.faults.draw(false).len(), MAX_DRAWN);
    assert!(loaded.faults.any_error());
}

#[test]
fn minutes_are_read_as_any_amount_of_time_is() {
    for (written, minutes) in [("10", 10.0), ("10 min", 10.0), ("2 h", 120.0), ("90 s", 1.5)] {
        let repair = format!("mends: [hose_leaks]\n    minutes: {written}");
        let (_folder, loaded) = checked_text(&with(&[("mends: [hose_leaks]", &repair)]));
        assert!(loaded.faults.list.is_empty(), "{written}: {:?}", loaded.faults.list);
        let repair = loaded.pack.repairs.find("new_hose").unwrap();
        assert_eq!(loaded.pack.repairs[repair].minutes, minutes, "{written}");
    }
}
