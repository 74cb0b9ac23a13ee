//! `boostwright answer`.

use super::program::Bench;

#[test]
fn answers_are_kept_and_the_next_question_is_told() {
    let bench = Bench::begun();
    let ran = bench.run(&["answer", "boost.yaml", "hose_is_sound=yes", "peak_boost=0,92 bar"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert_eq!(ran.stdout, "needle: What does the needle do as the engine speed rises?\n");
    assert_eq!(ran.stderr, "hose_is_sound kept: yes\npeak_boost kept: 0,92 bar\n");
    assert!(bench.read("boost.yaml").contains("    peak_boost: 0,92 bar\n"));
}

#[test]
fn an_answer_that_denies_the_complaint_is_kept_and_doubted() {
    let bench = Bench::begun();
    let ran = bench.run(&["answer", "boost.yaml", "peak_boost=0.3 bar"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert_eq!(
        ran.stderr,
        "peak_boost kept: 0.3 bar\n\
         This contradicts the complaint (Boost too high): peak_boost. Check it again.\n"
    );
}

#[test]
fn nothing_begins_without_a_complaint() {
    let bench = Bench::new();
    let ran = bench.run(&["answer", "boost.yaml", "hose_is_sound=yes"]);
    assert_eq!(ran.code, 2);
    assert_eq!(ran.stdout, "");
    assert!(ran.stderr.contains("--complaint ID (one of: boost_too_high)"), "{ran:?}");
    assert!(!bench.folder.path().join("boost.yaml").exists());
}

#[test]
fn one_faulty_answer_holds_all_of_them_back_and_each_fault_is_told() {
    let bench = Bench::begun();
    let before = bench.read("boost.yaml");
    let ran = bench.run(&[
        "answer",
        "boost.yaml",
        "hose_is_sound=yes",
        "peak_boost=0.92",
        "needle=climb",
        "rod_starts_to_mov=0.4 bar",
        "--drop",
        "hose_is_sund",
    ]);
    assert_eq!(ran.code, 2);
    assert_eq!(ran.stdout, "");
    assert_eq!(
        ran.stderr,
        "peak_boost: the unit is missing: write 0.92 bar if that is how you read it\n\
         needle: climb is not one of the options: did you mean climbs?\n\
         there is no question rod_starts_to_mov: did you mean rod_starts_to_move?\n\
         hose_is_sund was not answered, so there is nothing to take back\n\
         Nothing was changed.\n"
    );
    assert_eq!(bench.read("boost.yaml"), before);
}

#[test]
fn a_session_does_not_begin_with_a_faulty_answer() {
    let bench = Bench::new();
    let ran =
        bench.run(&["answer", "boost.yaml", "--complaint", "boost_too_high", "peak_boost=much"]);
    assert_eq!(ran.code, 2, "{ran:?}");
    assert!(!bench.folder.path().join("boost.yaml").exists());
}

#[test]
fn an_answer_is_taken_back() {
    let bench = Bench::begun();
    bench.run(&["answer", "boost.yaml", "hose_is_sound=yes", "needle=level"]);
    let ran = bench.run(&["answer", "boost.yaml", "--drop", "hose_is_sound"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert_eq!(ran.stderr, "hose_is_sound taken back (it was given in round 1)\n");
    assert!(ran.stdout.starts_with("hose_is_sound: "), "{ran:?}");
    assert!(!bench.read("boost.yaml").contains("hose_is_sound"));
}

#[test]
fn cant_say_and_later_are_answers_of_their_own() {
    let bench = Bench::begun();
    bench.run(&["answer", "boost.yaml", "hose_is_sound=later", "needle=unknown"]);
    let text = bench.read("boost.yaml");
    assert!(text.contains("hose_is_sound: later\n    needle: unknown\n"), "{text}");
}

#[test]
fn a_table_is_written_on_one_line_or_in_a_file_with_a_row_a_line() {
    let bench = Bench::begun();
    let rows = "travel_under_air=0.4 bar: 0.5 mm; 0,6 bar: 2 mm";
    assert_eq!(bench.run(&["answer", "boost.yaml", rows]).code, 0);
    let on_one_line = bench.read("boost.yaml");
    bench.write("rows.txt", "# up\n0.4 bar: 0.5 mm\n\n0,6 bar: 2 mm\n");
    let ran = bench.run(&["answer", "boost.yaml", "travel_under_air=@rows.txt"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert_eq!(bench.read("boost.yaml"), on_one_line);
}

#[test]
fn a_row_that_can_not_be_read_is_named() {
    let bench = Bench::begun();
    for (rows, told) in [
        (
            "0.4 bar: 0.5 mm; 0.6 bar",
            "travel_under_air: row 2: the colon is missing: write pressure and travel with a colon",
        ),
        ("0.4 bar: 0.5", "travel_under_air: row 1: travel: "),
        (
            "5 mm",
            "travel_under_air: this question takes a table: write its rows, with units, as pressure: travel",
        ),
        ("@missing.txt", "missing.txt: the rows can't be read"),
    ] {
        let ran = bench.run(&["answer", "boost.yaml", &format!("travel_under_air={rows}")]);
        assert_eq!(ran.code, 2, "{ran:?}");
        assert!(ran.stderr.starts_with(told), "{ran:?}");
    }
}

#[test]
fn an_answer_twice_in_one_command_is_refused() {
    let bench = Bench::begun();
    let ran = bench.run(&["answer", "boost.yaml", "needle=level", "needle=climbs"]);
    assert_eq!(ran.code, 2);
    assert_eq!(ran.stderr, "needle is answered twice: leave one of them out\n");
}

#[test]
fn another_complaint_is_another_session() {
    let bench = Bench::begun();
    let ran = bench.run(&["answer", "boost.yaml", "--complaint", "boost_too_hihg"]);
    assert_eq!(ran.code, 2);
    assert_eq!(
        ran.stderr,
        "these rules have no complaint boost_too_hihg: did you mean boost_too_high?\n"
    );
}

#[test]
fn answers_that_clash_are_kept_and_named_with_exit_code_one() {
    let bench = Bench::begun();
    let ran = bench.run(&["answer", "boost.yaml", "gauge_reads_zero=yes", "gauge_sticks=yes"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(
        ran.stderr.contains("These answers can't all be true: gauge_reads_zero, gauge_sticks."),
        "{ran:?}"
    );
    assert!(bench.read("boost.yaml").contains("gauge_sticks: yes"));
    let ran = bench.run(&["answer", "boost.yaml", "--drop", "gauge_sticks"]);
    assert_eq!(ran.code, 0, "{ran:?}");
}

#[test]
fn what_is_typed_can_not_drive_the_terminal() {
    let bench = Bench::begun();
    let ran = bench.run(&["answer", "boost.yaml", "a\u{1b}[31mb=yes", "peak_boost=\u{1b}[2J"]);
    assert_eq!(ran.code, 2);
    assert!(!ran.stderr.contains('\u{1b}'), "{ran:?}");
}

#[test]
fn a_session_that_is_open_elsewhere_is_refused() {
    let bench = Bench::begun();
    let path = bench.folder.path().join("boost.yaml");
    let held = boostwright::session::SessionFile::open(&path).unwrap();
    let ran = bench.run(&["answer", "boost.yaml", "needle=level"]);
    assert_eq!(ran.code, 2);
    assert!(ran.stderr.contains("open in another boostwright"), "{ran:?}");
    drop(held);
    assert_eq!(bench.run(&["answer", "boost.yaml", "needle=level"]).code, 0);
}
