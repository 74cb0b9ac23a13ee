//! `boostwright show` and `boostwright sheet`.

use super::program::Bench;

fn answered() -> Bench {
    let bench = Bench::begun();
    let ran = bench.run(&["answer", "boost.yaml", "needle=climbs", "peak_boost=0.92 bar"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    bench
}

fn probability(json: &str, cause: &str) -> f64 {
    let json: serde_json::Value = serde_json::from_str(json).expect("the JSON reads");
    json["causes"]
        .as_array()
        .and_then(|causes| causes.iter().find(|one| one["id"] == cause))
        .and_then(|one| one["probability"].as_f64())
        .expect("the cause is listed")
}

#[test]
fn a_supposed_answer_moves_the_ranking_and_is_not_kept() {
    let bench = answered();
    let before = bench.read("boost.yaml");
    let show = ["show", "boost.yaml", "--form", "json"];
    let as_it_is = bench.run(&show);
    let what_if = bench.run(&[&show[..], &["--suppose", "hose_is_sound=no"]].concat());
    assert_eq!((as_it_is.code, what_if.code), (0, 0), "{what_if:?}");
    assert!(
        probability(&what_if.stdout, "hose_off") > probability(&as_it_is.stdout, "hose_off"),
        "{what_if:?}"
    );
    assert!(what_if.stdout.contains("\"hose_is_sound=no\""));
    assert_eq!(bench.read("boost.yaml"), before);
}

#[test]
fn what_is_supposed_is_said_at_the_top() {
    let ran = answered().run(&["show", "boost.yaml", "--suppose", "hose_is_sound=no"]);
    let top: Vec<&str> = ran.stdout.lines().take(2).collect();
    assert_eq!(top, ["Boost too high: round 1", "SUPPOSED, NOT ANSWERED: hose_is_sound=no"]);
}

#[test]
fn what_can_not_be_an_answer_can_not_be_supposed() {
    let ran = answered().run(&["show", "boost.yaml", "--suppose", "peak_boost=0.92"]);
    assert_eq!((ran.code, ran.stdout.as_str()), (2, ""));
    assert!(ran.stderr.contains("the unit is missing"), "{ran:?}");
}

#[test]
fn the_conclusion_goes_to_a_file_but_never_over_the_session() {
    let bench = answered();
    let printed = bench.run(&["show", "boost.yaml"]);
    let ran = bench.run(&["show", "boost.yaml", "--out", "conclusion.txt"]);
    assert_eq!((ran.code, ran.stdout.as_str(), ran.stderr.as_str()), (0, "", ""));
    assert_eq!(bench.read("conclusion.txt"), printed.stdout);
    let before = bench.read("boost.yaml");
    let ran = bench.run(&["show", "boost.yaml", "--out", "./boost.yaml"]);
    assert_eq!(ran.code, 2);
    assert!(ran.stderr.contains("is the session itself"), "{ran:?}");
    assert_eq!(bench.read("boost.yaml"), before);
}

#[cfg(unix)]
#[test]
fn a_device_named_for_the_result_stays_a_device() {
    use std::os::unix::fs::FileTypeExt;
    let ran = answered().run(&["show", "boost.yaml", "--out", "/dev/null"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert!(std::fs::metadata("/dev/null").unwrap().file_type().is_char_device());
}

#[test]
fn a_clash_is_shown_and_ends_with_one() {
    let bench = Bench::begun();
    bench.run(&["answer", "boost.yaml", "gauge_reads_zero=yes", "gauge_sticks=yes"]);
    let ran = bench.run(&["show", "boost.yaml", "--form", "json"]);
    assert_eq!(ran.code, 1);
    assert!(ran.stdout.contains("\"contradiction\": ["), "{ran:?}");
}

#[test]
fn the_sheet_has_each_state_once_in_working_order_with_room_to_write() {
    let bench = Bench::begun();
    bench.run(&["answer", "boost.yaml", "needle=later"]);
    let ran = bench.run(&["sheet", "--all", "boost.yaml"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""));
    assert!(ran.stdout.lines().all(|line| line.chars().count() <= 80));
    insta::assert_snapshot!(ran.stdout);
}

#[test]
fn a_sheet_with_nothing_open_says_so() {
    let bench = Bench::begun();
    let all = [
        "answer",
        "boost.yaml",
        "hose_is_sound=yes",
        "needle=level",
        "peak_boost=0.9 bar",
        "boost_gate_open=0.5 bar",
        "rod_starts_to_move=0.4 bar",
        "travel_under_air=unknown",
        "times_repaired=0",
        "gauge_reads_zero=unknown",
        "gauge_sticks=unknown",
    ];
    assert_eq!(bench.run(&all).code, 0);
    let ran = bench.run(&["sheet", "--all", "boost.yaml"]);
    assert!(ran.stdout.ends_with("\nThere is nothing left to check.\n"), "{ran:?}");
}

#[test]
fn answers_that_deny_the_complaint_stand_before_the_lead() {
    let bench = Bench::begun();
    bench.run(&["answer", "boost.yaml", "peak_boost=0.3 bar"]);
    let shown = bench.run(&["show", "boost.yaml"]).stdout;
    let said = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    let denied = said
        .find("The answers contradict the complaint. By them, this is not the case: ")
        .expect(&said);
    let lead =
        said.find("No cause is clearly ahead").or(said.find("Nothing stands out")).expect(&said);
    assert!(denied < lead, "{said}");
    assert!(said.contains("may be nothing wrong: What is the highest boost, controller off?"));
}

#[test]
fn a_session_that_is_not_named_is_the_one_in_this_folder() {
    let bench = answered();
    for verb in ["show", "sheet"] {
        let (named, default) = (bench.run(&[verb, "boost.yaml"]), bench.run(&[verb]));
        assert_eq!((default.code, default.stdout), (0, named.stdout), "{verb}");
        let nowhere = Bench::new().run(&[verb]);
        assert_eq!(nowhere.code, 2, "{verb}");
        assert!(nowhere.stderr.contains("boost.yaml"), "{nowhere:?}");
    }
}

/// What the next steps need is less than all that is open.
#[test]
fn the_sheet_has_what_comes_next_and_says_what_it_leaves_out() {
    let bench = Bench::begun();
    let short = bench.run(&["sheet"]).stdout;
    let all = bench.run(&["sheet", "--all"]).stdout;
    assert!(short.lines().count() <= 120 && short.lines().count() < all.lines().count());
    assert!(short.contains("Not on this sheet: "), "{short}");
    assert!(!all.contains("Not on this sheet: "), "{all}");
}
