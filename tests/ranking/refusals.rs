//! What the ranking refuses, and how it says why.

use boostwright::ranking::{
    Belief, Factor, FactorAt, Finding, Link, Network, Pattern, Refusal, posterior,
};

fn link(cause: usize, strength: f64) -> Link {
    Link { cause, strength }
}

/// Two causes, a finding each without a leak, and one both bring.
fn network() -> Network {
    let finding = |links| Finding { leak: 0.0, links };
    let findings = vec![
        finding(vec![link(0, 1.0)]),
        finding(vec![link(1, 1.0)]),
        finding(vec![link(0, 0.5), link(1, 0.5)]),
    ];
    Network::new(vec![0.1, 0.2], findings).expect("made of chances")
}

fn at(round: usize, index: usize) -> FactorAt {
    FactorAt { round, index }
}

#[test]
fn a_network_with_a_number_that_is_no_chance_is_refused() {
    for bad in [-0.1, 1.1, f64::NAN, f64::INFINITY] {
        let prior = Network::new(vec![bad], vec![]);
        assert!(matches!(prior, Err(Refusal::NotAChance { .. })), "{prior:?}");
        let leak = Network::new(vec![0.1], vec![Finding { leak: bad, links: vec![] }]);
        assert!(matches!(leak, Err(Refusal::NotAChance { .. })), "{leak:?}");
        let strength =
            Network::new(vec![0.1], vec![Finding { leak: 0.0, links: vec![link(0, bad)] }]);
        assert!(matches!(strength, Err(Refusal::NotAChance { .. })), "{strength:?}");
    }
}

#[test]
fn links_to_no_cause_or_twice_to_one_are_refused() {
    let stray = Network::new(vec![0.1], vec![Finding { leak: 0.0, links: vec![link(1, 0.5)] }]);
    assert_eq!(stray, Err(Refusal::UnknownCause { cause: 1 }));
    let twice = Network::new(
        vec![0.1],
        vec![Finding { leak: 0.0, links: vec![link(0, 0.5), link(0, 0.2)] }],
    );
    assert_eq!(twice, Err(Refusal::CauseTwice { finding: 0, cause: 0 }));
}

#[test]
fn evidence_out_of_range_is_refused() {
    let refused = |factor: Factor| {
        posterior(&network(), &Belief::start(), &[factor]).expect_err("out of range")
    };
    assert_eq!(refused(Factor::yes(3)), Refusal::UnknownFinding { finding: 3 });
    assert!(matches!(refused(Factor::doubtful(0, 1.5)), Refusal::NotAWeight { .. }));
    assert!(matches!(refused(Factor::doubtful(0, f64::NAN)), Refusal::NotAWeight { .. }));
    let group = |truths: Vec<bool>| Factor::Group {
        findings: vec![0, 1],
        patterns: vec![Pattern { truths, weight: 1.0 }],
    };
    assert!(matches!(refused(group(vec![true])), Refusal::BadGroup { .. }));
    let none = Factor::Group { findings: vec![0, 1], patterns: vec![] };
    assert!(matches!(refused(none), Refusal::BadGroup { .. }));
    let twice = Factor::Group {
        findings: vec![0, 0],
        patterns: vec![Pattern { truths: vec![true; 2], weight: 1.0 }],
    };
    assert!(matches!(refused(twice), Refusal::BadGroup { .. }));
    let belief = Belief::start().after_repair(&[], &[2], 0.9).expect("a chance");
    let repair = posterior(&network(), &belief, &[]).expect_err("out of range");
    assert_eq!(repair, Refusal::UnknownCause { cause: 2 });
}

#[test]
fn a_contradiction_names_the_answers_that_clash_and_no_others() {
    // The third finding needs one of the causes; the first two, false, rule both out. The doubtful
    // answer in front has no part in it.
    let factors = [Factor::doubtful(2, 0.6), Factor::no(0), Factor::yes(2), Factor::no(1)];
    let refusal = posterior(&network(), &Belief::start(), &factors).expect_err("cannot be");
    assert_eq!(refusal, Refusal::Contradiction { factors: vec![at(0, 1), at(0, 2), at(0, 3)] });
}

#[test]
fn a_finding_true_and_false_clashes_across_rounds_unless_a_repair_lies_between() {
    let seen = Belief::start().after_repair(&[Factor::yes(0)], &[], 1.0).expect("a chance");
    let refusal = posterior(&network(), &seen, &[Factor::no(0)]).expect_err("cannot be");
    assert_eq!(refusal, Refusal::Contradiction { factors: vec![at(0, 0), at(1, 0)] });
    let mended = Belief::start().after_repair(&[Factor::yes(0)], &[0], 0.5).expect("a chance");
    let got = posterior(&network(), &mended, &[Factor::no(0)]).expect("possible");
    assert_eq!(got.probabilities()[0], 0.0);
}

#[test]
fn evidence_of_no_weight_at_all_is_a_contradiction_by_itself() {
    let nothing = Factor::Single { finding: 1, yes: 0.0, no: 0.0 };
    let refusal =
        posterior(&network(), &Belief::start(), &[Factor::yes(0), nothing]).expect_err("cannot be");
    assert_eq!(refusal, Refusal::Contradiction { factors: vec![at(0, 1)] });
}
