//! What each recording comes to on one screen.

use boostwright::interview::{Round, fold};
use boostwright::report::{conclude, model::CautionLine, screen};

use super::recording::{Recording, conclusions};
use crate::built_in::built_in;

#[test]
fn every_recording_fits_on_one_screen_and_says_what_to_do() {
    let mut looked_at = 0;
    for one in conclusions() {
        let lines = one.screen.lines().count();
        assert!(lines <= 45, "{} round {}: {lines} lines\n{}", one.name, one.round, one.screen);
        let cured = one.screen.contains("WHAT TO KEEP AN EYE ON");
        let clash = one.screen.contains("THE ANSWERS CLASH");
        // A plan that lacks nothing is what there is to do.
        let work = one.screen.contains("WHAT TO DO NOW") || one.screen.contains("THE PLAN");
        assert!(cured || clash || work, "{}: nothing to do\n{}", one.name, one.screen);
        for level in ["stop", "danger"] {
            let in_force = one.json["cautions"].as_array().unwrap().iter();
            let hurts = in_force.filter(|one| one["in_force"] == true && one["level"] == level);
            let told = one.screen.matches(&format!("{}: ", level.to_uppercase())).count();
            assert_eq!(told, hurts.count(), "{}: {level}", one.name);
        }
        looked_at += 1;
    }
    assert!(looked_at > 15, "only {looked_at}");
}

/// Where there is much to mind, what can hurt stands whole and the rest is counted.
#[test]
fn what_can_hurt_is_never_left_out() {
    let recording = Recording::of("port_planned");
    let rounds: &[Round] = &recording.rounds;
    let mut conclusion = conclude(&fold(built_in(), rounds, None), None);
    let caution = |level: &str, place: usize| CautionLine {
        id: format!("{level}_{place}"),
        level: level.into(),
        text: format!("Mind the invented {level} number {place}."),
        in_force: true,
    };
    conclusion.cautions = vec![caution("stop", 1), caution("danger", 1)];
    conclusion.cautions.extend((0..30).map(|place| caution("care", place)));
    let page = screen(&conclusion, &[], 80);
    assert!(page.contains("STOP: Mind the invented stop number 1."), "{page}");
    assert!(page.contains("DANGER: Mind the invented danger number 1."), "{page}");
    assert!(page.contains("30 more cautions"), "{page}");
    assert!(page.lines().count() <= 45, "{page}");
}

/// The sizes that the port is cut by stand beside the job.
#[test]
fn a_repair_stands_with_its_sizes() {
    let all = conclusions();
    let port = all.iter().find(|one| one.name == "port_planned" && one.last).unwrap();
    for size in ["Planned port", "Diameter of the new flap", "Rod travel for the lift aimed for"] {
        assert!(port.screen.contains(size), "{size}\n{}", port.screen);
    }
    let work = &port.json["next_work"][0]["sizes"];
    assert!(work.as_array().unwrap().iter().any(|size| size["id"] == "flap_diameter"), "{work}");
}

/// Chances that nothing is known of lead to no lead.
#[test]
fn chances_in_far_too_much_doubt_are_not_told_as_a_lead() {
    let recording = Recording::of("port_planned");
    let mut conclusion = conclude(&fold(built_in(), &recording.rounds, None), None);
    conclusion.inference.left_out = 0.6;
    let page = screen(&conclusion, &[], 80);
    assert!(page.contains("off by up to 60") && !page.contains("Most likely"), "{page}");
}

/// Where there is no room for all that asks for care, the first of it stands whole, so that "more" is more
/// than nothing.
#[test]
fn more_cautions_are_more_than_one_that_is_told() {
    for one in conclusions() {
        let Some((before, _)) = one.screen.split_once("more caution") else { continue };
        let told =
            ["STOP: ", "DANGER: ", "CARE: "].iter().map(|level| before.matches(level).count());
        // One of these is the line that counts the others.
        assert!(told.sum::<usize>() > 1, "{}\n{}", one.name, one.screen);
    }
}

/// Whoever reads no further than the first page is told there what can hurt in the job.
#[test]
fn a_job_stands_with_what_can_hurt_in_it() {
    let mut looked_at = 0;
    for one in conclusions().iter().filter(|one| one.last) {
        let job = if one.screen.contains("THE PLAN") { "planned" } else { "next_work" };
        let work = &one.json[job][0];
        let cautions = one.json["cautions"].as_array().unwrap();
        let own = work["cautions"].as_array().into_iter().flatten();
        let ahead = own.filter(|id| {
            cautions.iter().any(|caution| caution["id"] == **id && caution["in_force"] == false)
        });
        let is_told = |label: &str| one.screen.contains(&format!("    {label}: "));
        if ahead.count() == 0 || one.screen.contains("WHAT TO KEEP AN EYE ON") {
            continue;
        }
        let told = ["stop", "danger", "care", "mind"].into_iter().any(is_told);
        assert!(told, "{}\n{}", one.name, one.screen);
        looked_at += 1;
    }
    assert!(looked_at >= 5, "only {looked_at}");
}

/// A repair whose own forecast is what was read already promises no cure.
#[test]
fn a_repair_that_changes_nothing_is_said_to() {
    let recording = Recording::of("port_planned");
    let mut conclusion = conclude(&fold(built_in(), &recording.rounds, None), None);
    assert!(screen(&conclusion, &[], 80).contains("likely to cure"));
    conclusion.next_work[0].leaves_as_is = true;
    let page = screen(&conclusion, &[], 80);
    assert!(page.contains("leaves the fault as it is"), "{page}");
    assert!(!page.contains("likely to cure"), "{page}");
}
