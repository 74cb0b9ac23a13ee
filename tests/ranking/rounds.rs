//! A repair between two rounds.

use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior};

fn two_causes_of_one_complaint() -> Network {
    let links = vec![Link { cause: 0, strength: 0.9 }, Link { cause: 1, strength: 0.9 }];
    Network::new(vec![0.2, 0.05], vec![Finding { leak: 0.01, links }]).expect("made of chances")
}

#[test]
fn a_mended_cause_with_the_complaint_unchanged_hands_the_lead_to_the_other() {
    let network = two_causes_of_one_complaint();
    let complaint = [Factor::yes(0)];
    let before = posterior(&network, &Belief::start(), &complaint).expect("possible");
    assert_eq!(before.lead(), Some(0));
    let belief = Belief::start().after_repair(&complaint, &[0], 0.95).expect("a chance");
    let after = posterior(&network, &belief, &complaint).expect("possible");
    assert_eq!(after.lead(), Some(1));
    // Not proof: one repair in twenty fails, so the first cause is less likely but still there.
    assert!(after.probabilities()[0] > 0.0 && after.probabilities()[0] < before.probabilities()[0]);
}

#[test]
fn a_repair_alone_leaves_each_mended_cause_with_its_chance_of_failing() {
    let network = two_causes_of_one_complaint();
    let complaint = [Factor::yes(0)];
    let before = posterior(&network, &Belief::start(), &complaint).expect("possible");
    let belief = Belief::start().after_repair(&complaint, &[0], 0.9).expect("a chance");
    let after = posterior(&network, &belief, &[]).expect("possible");
    assert!((after.probabilities()[0] - 0.1 * before.probabilities()[0]).abs() < 1e-12);
    assert!((after.probabilities()[1] - before.probabilities()[1]).abs() < 1e-12);
}
