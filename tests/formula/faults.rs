//! The caret stands under the very spot, and the way out is named.

use boostwright::quantity::{AbsolutePressure, GaugePressure};

use super::workbench::{Bench, answer, choice, truth};

fn names() -> Bench {
    Bench(vec![
        answer::<GaugePressure>("boost", "0.8 bar"),
        answer::<AbsolutePressure>("outside", "1 bar"),
        truth("hose_is_sound", true, 1.0),
        choice("over_the_pull", &["climbs", "level", "falls"], 0, 1.0),
    ])
}

#[test]
fn every_fault_marks_its_culprit_and_offers_a_way_out() {
    for (formula, marked, help) in [
        ("2 * bost", "bost", "did you mean boost?"),
        ("nozzel_flow(1)", "nozzel_flow", "did you mean nozzle_flow?"),
        ("circle_area(daimeter = 2 mm)", "daimeter", "did you mean diameter?"),
        ("circle_area(2 bar)", "2 bar", "give a length"),
        ("circle_area(2 mm, 3 mm)", "3 mm", "write circle_area(diameter)"),
        ("circle_area(2 mm, diameter = 3 mm)", "diameter", "keep one of them"),
        ("1 + circle_area()", "circle_area()", "write circle_area(diameter)"),
        ("circle_area + 1", "circle_area", "write circle_area(diameter)"),
        ("2 + boost(3)", "boost", "an operator is missing"),
        ("1 bar + 3 mm", "3 mm", "add like to like"),
        ("boost + outside", "outside", "convert one of them"),
        ("5 baar", "baar", "did you mean bar?"),
        ("20 C", "C", "did you mean °C?"),
        ("5 bar 3", "3", "join the two"),
        ("(1 + 2", "(", "add )"),
        ("1 + 2)", ")", "remove it"),
        ("min(1, 2", "(", "add )"),
        ("1 +", "", "complete it"),
        ("", "", "complete it"),
        ("1 < 2 < 3", "<", "join two comparisons with and"),
        ("boost = 1 bar", "=", "compare with =="),
        ("if boost > 1 bar then 2", "", "every if has its else"),
        ("boost & 1", "&", "use the words and, or, not"),
        ("[1]", "[", "use round brackets"),
        ("bar * 2", "bar", "write a number before it"),
        ("over_the_pull == climb", "climb", "did you mean climbs?"),
        ("over_the_pull < climbs", "over_the_pull < climbs", "use == or !="),
        ("known(boost + 1 bar)", "boost + 1 bar", "write known(id)"),
        ("true and hose_is_sound", "true", "write yes or no"),
        ("5 ± bar", "", "write 0.85 bar ± 0.02 bar"),
        ("boost ± 1", "±", "± follows a number"),
        ("min(boost)", "min(boost)", "write min(a, b)"),
        ("Ω", "Ω", "remove it"),
    ] {
        let faults = names().check(formula).expect_err(formula);
        let [fault] = faults.as_slice() else { panic!("{formula}: {faults:?}") };
        assert_eq!(&formula[fault.span.clone()], marked, "{formula}: {fault:?}");
        assert!(fault.help().contains(help), "{formula}: {fault:?}");
    }
}

#[test]
fn all_faults_of_a_formula_are_reported_at_once() {
    let faults = names().check("bost + circle_area(1 bar) + nope").expect_err("three faults");
    let marked: Vec<&str> = faults
        .iter()
        .map(|fault| &"bost + circle_area(1 bar) + nope"[fault.span.clone()])
        .collect();
    assert_eq!(marked, ["bost", "1 bar", "nope"]);
}

#[test]
fn the_other_side_of_a_clash_is_marked_too() {
    let faults = names().check("boost - outside").expect_err("a clash");
    let (span, label) = *faults[0].other.clone().expect("the other side");
    assert_eq!((&"boost - outside"[span], label.as_str()), ("boost", "gauge pressure"));
}

#[test]
fn a_fault_is_drawn_with_a_caret_under_the_spot() {
    let formula = "2 bar + 3 mm";
    let faults = names().check(formula).expect_err("a clash");
    let drawn = faults[0].draw(formula, false);
    let lines: Vec<&str> = drawn.lines().collect();
    let line = lines.iter().position(|line| line.contains(formula)).expect("the formula");
    assert_eq!(lines[line].find("3 mm"), lines[line + 1].find("^^^^"), "{drawn}");
}

#[test]
fn what_could_drive_a_terminal_is_not_drawn() {
    let formula = "1 + \u{1b}[31m\u{202e}x";
    let faults = names().check(formula).expect_err("stray letters");
    let drawn = faults[0].draw(formula, false);
    assert!(!drawn.contains(['\u{1b}', '\u{202e}']), "{drawn:?}");
}
