//! What a plan says on its first page: its numbers, its way of working, and what must be measured first.

use boostwright::report::{screen, text};

use super::{in_force, plan, planned, planned_beyond, value};
use crate::built_in::built_in;

const PORT: &str = "two litres, stroke too short";

#[test]
fn the_first_page_names_the_numbers_of_the_plan() {
    let pack = built_in();
    for (car, title, sizes) in [
        (
            PORT,
            "Enlarge the port and fit a larger flap",
            ["27.00", "32.80 mm", "10.84 mm", "-2.8 mm"],
        ),
        (
            "an actuator with too stiff a spring",
            "Set the actuator by its bench test",
            ["0.680", "0.00090 mm²", "5.8", "0.7 mm"],
        ),
        (
            "one external gate of 44 mm",
            "Fit an external wastegate",
            ["44.00", "30.7 mm", "54.6 mm", "0.67"],
        ),
        (
            "four injectors of 550 at lambda 0.75",
            "Raise the setting in steps",
            ["0.50 bar", "0.60 bar", "1.49 bar", "1.24 bar"],
        ),
    ] {
        let page = screen(&planned(pack, car, &[]), &[], 100);
        for wanted in [title].iter().chain(&sizes) {
            assert!(
                page.contains(wanted),
                "{wanted} is not on the first page of {car}:\n{}",
                page.as_str()
            );
        }
    }
}

#[test]
fn a_plan_without_a_fault_holds_the_way_of_working_and_its_cautions() {
    let said = planned(built_in(), PORT, &[]);
    let work = plan(&said, "open_the_port");
    assert!(work.how.as_ref().unwrap().contains("stop where the wall thickness is unknown"));
    for caution in ["chips_in_the_volute", "welding", "emission_law", "push_on_the_flap"] {
        assert!(work.cautions.iter().any(|id| id == caution), "{caution}");
    }
    assert!(text(&said, 100).contains("Enlarge the port"));
}

#[test]
fn what_was_not_measured_is_named_and_what_was_is_not() {
    let pack = built_in();
    let whole = planned(pack, PORT, &[]);
    let missing = |work: &boostwright::report::model::WorkLine| -> Vec<String> {
        work.missing.iter().map(|question| question.id.clone()).collect()
    };
    assert_eq!(missing(plan(&whole, "open_the_port")), ["housing_entry"]);
    let left_out = ["wall_round_port", "pocket_diameter", "flap_arm", "canister_stroke"];
    let said = planned(pack, PORT, &left_out);
    let open = missing(plan(&said, "open_the_port"));
    for id in left_out {
        assert!(open.iter().any(|named| named == id), "{id} is not among {open:?}");
    }
    let page = screen(&said, &[], 100);
    assert!(page.contains("Measure this before cutting"), "{}", page.as_str());
    assert!(in_force(&said, "wall_not_known"));
}

#[test]
fn a_higher_setting_has_no_number_while_the_cut_is_not_known() {
    let pack = built_in();
    let said = planned(pack, "four injectors of 550 at lambda 0.75", &["overboost_cut"]);
    assert_eq!(value(&said, "high_setting"), None);
    let work = plan(&said, "set_a_higher_boost");
    assert!(work.missing.iter().any(|question| question.id == "overboost_cut"));
    assert!(work.sizes.iter().all(|size| size.id != "high_setting"));
}

/// Whoever asks for a plan has no fault to be looked for: what the steps of the plan ask is all.
#[test]
fn the_questions_end_with_those_of_the_plan() {
    let pack = built_in();
    for car in [PORT, "one external gate of 44 mm", "an actuator with too stiff a spring"] {
        let mut asked: Vec<String> = Vec::new();
        while let Some(next) = planned_beyond(pack, car, &[], &asked).next_question {
            let of_a_step = pack.questions.find(&next.id).unwrap();
            let named = |step: &boostwright::rules::Step| step.ask.contains(&of_a_step);
            assert!(pack.steps.iter().any(|(_, step)| named(step)), "{}", next.id);
            asked.push(next.id);
            assert!(asked.len() < 15, "{car}: {asked:?}");
        }
    }
}
