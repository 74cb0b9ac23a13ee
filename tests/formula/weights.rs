//! How strongly answers speak for a truth and against it: the contract for evidence, worked out by
//! hand beside each test.

use boostwright::formula::Weight;
use boostwright::quantity::{GaugePressure, Length};

use super::workbench::{Bench, answer, choice, close, missing, truth, unanswered};

/// Φ(1), from tables of the normal distribution.
const ONE_AWAY: f64 = 0.841_344_746_068_543;

/// Likelihoods of yes and of no.
#[track_caller]
fn weighs(names: &Bench, formula: &str, (yes, no): (f64, f64)) {
    let Some(weight) = names.weigh(formula) else { panic!("{formula} has no weight") };
    close(weight.yes, yes, 1e-9);
    close(weight.no, no, 1e-9);
}

fn answers() -> Bench {
    Bench(vec![
        truth("sound", true, 0.9),
        truth("tight", false, 0.8),
        truth("certain", true, 1.0),
        unanswered("open"),
        answer::<GaugePressure>("boost", "0.92 bar ± 0.02"),
        answer::<GaugePressure>("spring", "0.90 bar ± 0.02"),
        missing::<Length>("lift"),
        choice("needle", &["climbs", "level", "settles", "falls"], 1, 0.85),
    ])
}

#[test]
fn a_single_comparison_weighs_by_its_probability() {
    // One uncertainty above the limit: q = Φ(1).
    weighs(&answers(), "boost > 0.9 bar", (ONE_AWAY, 1.0 - ONE_AWAY));
    weighs(&answers(), "0.9 bar < boost", (ONE_AWAY, 1.0 - ONE_AWAY));
    weighs(&answers(), "not (boost > 0.9 bar)", (1.0 - ONE_AWAY, ONE_AWAY));
    // 0.02 bar apart, each ± 0.02: Φ(1/√2) = 0.760249938907.
    weighs(&answers(), "boost > spring", (0.760_249_938_907, 1.0 - 0.760_249_938_907));
}

#[test]
fn how_sure_an_answer_is_enters_the_same_way() {
    weighs(&answers(), "sound", (0.9, 0.1));
    weighs(&answers(), "not sound", (0.1, 0.9));
    weighs(&answers(), "tight", (0.2, 0.8));
    weighs(&answers(), "certain", (1.0, 0.0));
    weighs(&answers(), "sound == no", (0.1, 0.9));
}

#[test]
fn the_rest_of_a_choice_is_spread_evenly_over_its_other_options() {
    // Chosen: 0.85; each of the three others (1 − 0.85)/3 = 0.05.
    weighs(&answers(), "needle == level", (0.85, 0.15));
    weighs(&answers(), "needle == climbs", (0.05, 0.95));
    weighs(&answers(), "needle != climbs", (0.95, 0.05));
    // One variable with several of its options is still a single one.
    weighs(&answers(), "needle == climbs or needle == level", (0.9, 0.1));
}

#[test]
fn a_compound_weighs_by_the_mean_of_its_patterns() {
    // sound (0.9) and tight (0.2): one pattern makes it true, 0.9·0.2 = 0.18; three make it false
    // and share the other 0.82.
    weighs(&answers(), "sound and tight", (0.18, 0.82 / 3.0));
    // or: three patterns true, 1 − 0.1·0.8 = 0.92; one false, 0.08.
    weighs(&answers(), "sound or tight", (0.92 / 3.0, 0.08));
    // Two patterns on either side: same 0.9·0.2 + 0.1·0.8 = 0.26.
    weighs(&answers(), "sound == tight", (0.13, 0.37));
}

#[test]
fn a_coin_toss_of_an_answer_gives_no_weight() {
    let names = Bench(vec![truth("a", true, 0.5), truth("b", true, 0.5)]);
    for formula in ["a", "a and b", "a or b", "a == b"] {
        let Some(Weight { yes, no, .. }) = names.weigh(formula) else { panic!("{formula}") };
        close(yes, no, 1e-12);
    }
}

#[test]
fn no_and_unknown_is_no_and_yes_or_unknown_is_yes() {
    let names = Bench(vec![
        truth("yes_surely", true, 1.0),
        truth("no_surely", false, 1.0),
        unanswered("open"),
    ]);
    weighs(&names, "no_surely and open", (0.0, 1.0));
    weighs(&names, "open and no_surely", (0.0, 1.0));
    weighs(&names, "yes_surely or open", (1.0, 0.0));
    weighs(&names, "open or yes_surely", (1.0, 0.0));
    for formula in
        ["yes_surely and open", "no_surely or open", "open", "not open", "open == yes_surely"]
    {
        assert_eq!(names.weigh(formula), None, "{formula}");
    }
}

#[test]
fn what_is_not_known_counts_neither_way() {
    // sound is yes with 0.9, and then nothing is known: 0.9 on both sides. With 0.1 it is no,
    // whatever open is: 0.1 against.
    weighs(&answers(), "sound and open", (0.9, 1.0));
    assert_eq!(answers().weigh("lift > 3 mm"), None);
    weighs(&answers(), "certain or lift > 3 mm", (1.0, 0.0));
}

#[test]
fn known_is_true_of_what_was_answered() {
    weighs(&answers(), "known(sound)", (1.0, 0.0));
    weighs(&answers(), "known(open)", (0.0, 1.0));
    weighs(&answers(), "not known(lift)", (1.0, 0.0));
    weighs(&answers(), "known(boost) and known(needle)", (1.0, 0.0));
}

#[test]
fn a_choice_between_truths_follows_its_condition() {
    // certain is yes, so only the first branch counts. Patterns: certain × sound × tight; true
    // where certain and sound or not certain and tight: four each way; with certain surely yes
    // 0.9 over four, 0.1 over four.
    weighs(&answers(), "if certain then sound else tight", (0.9 / 4.0, 0.1 / 4.0));
}

#[test]
fn findings_on_one_choice_form_patterns_that_exclude_one_another() {
    let names = answers();
    let formulas = [
        names.sound("needle == climbs"),
        names.sound("needle == level"),
        names.sound("needle == falls"),
    ];
    let patterns = names.evaluator().patterns(&formulas.each_ref()).expect("one choice");
    let probability = |wanted: [bool; 3]| {
        patterns
            .iter()
            .find(|(pattern, _)| pattern[..] == wanted)
            .map(|(_, probability)| *probability)
    };
    close(probability([true, false, false]).expect("climbs"), 0.05, 1e-12);
    close(probability([false, true, false]).expect("level"), 0.85, 1e-12);
    close(probability([false, false, true]).expect("falls"), 0.05, 1e-12);
    // It settles: none of the three.
    close(probability([false, false, false]).expect("none"), 0.05, 1e-12);
    assert_eq!(probability([true, true, false]), None, "two at once can't be");
}

#[test]
fn findings_on_one_expression_form_patterns_of_stretches() {
    let names = answers();
    // 0.92 ± 0.02 against 0.90, 0.94 and, exclusively, below 0.90.
    let formulas = [
        names.sound("boost > 0.9 bar"),
        names.sound("boost > 0.94 bar"),
        names.sound("boost < 0.9 bar"),
    ];
    let patterns = names.evaluator().patterns(&formulas.each_ref()).expect("one expression");
    let probability = |wanted: [bool; 3]| {
        patterns
            .iter()
            .find(|(pattern, _)| pattern[..] == wanted)
            .map(|(_, probability)| *probability)
    };
    close(probability([false, false, true]).expect("below"), 1.0 - ONE_AWAY, 1e-9);
    close(probability([true, false, false]).expect("between"), 2.0 * ONE_AWAY - 1.0, 1e-9);
    close(probability([true, true, false]).expect("above"), 1.0 - ONE_AWAY, 1e-9);
    assert_eq!(patterns.len(), 3);
}

#[test]
fn findings_on_different_things_form_no_group() {
    let names = answers();
    let formulas = [names.sound("boost > 0.9 bar"), names.sound("sound")];
    assert_eq!(names.evaluator().patterns(&formulas.each_ref()), None);
}

#[test]
fn a_pattern_that_can_occur_is_listed_though_it_has_no_probability() {
    let names = Bench(vec![truth("certain", true, 1.0)]);
    let formula = names.sound("certain");
    let patterns = names.evaluator().patterns(&[&formula]).expect("one answer");
    assert_eq!(patterns, [(vec![true], 1.0), (vec![false], 0.0)]);
}
