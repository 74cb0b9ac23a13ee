//! What would be believed if one thing more were seen, against all sets counted.

use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior, with_each};
use rand::RngExt;

use super::{oracle, random_network};

/// Each finding true, and false, as what is seen beside `factors`.
fn looks(findings: std::ops::Range<usize>) -> Vec<Factor> {
    findings.flat_map(|finding| [Factor::yes(finding), Factor::no(finding)]).collect()
}

#[test]
fn one_more_answer_supposed_is_as_good_as_seen() {
    let mut compared = 0;
    for case in 300..400 {
        let mut rng = random_network::chance(case);
        let (causes, findings) = (rng.random_range(2..=7), rng.random_range(4..=10));
        let network = random_network::network(&mut rng, causes, findings, 4);
        // The last findings are those that nobody has looked at yet; what they speak of may have hung
        // together in no other way.
        let factors = random_network::factors(&mut rng, &network, 0.7);
        let factors: Vec<Factor> = factors
            .into_iter()
            .filter(|factor| factor.findings().iter().all(|finding| *finding < findings - 2))
            .collect();
        let Ok(got) = posterior(&network, &Belief::start(), &factors) else { continue };
        let more = looks(findings - 2..findings);
        let supposed = with_each(&network, &Belief::start(), &factors, &got, &more);
        for (factor, supposed) in more.iter().zip(supposed.expect("of this network")) {
            let all = [factors.as_slice(), std::slice::from_ref(factor)].concat();
            let Some(wanted) = oracle::posterior(&network, &[], &all) else {
                assert_eq!(supposed, None, "case {case}: made possible");
                continue;
            };
            let supposed = supposed.expect("possible");
            for (cause, probability) in supposed.iter().enumerate() {
                let off = (probability - oracle::marginal(&wanted, cause)).abs();
                assert!(off < 1e-9, "case {case}: cause {cause} is off by {off}");
                compared += 1;
            }
        }
    }
    assert!(compared > 1000, "only {compared} compared");
}

/// Too wide to be summed: the listed sets stand for it.
#[test]
fn one_more_answer_beside_an_estimated_sum_is_near() {
    let mut rng = random_network::chance(2);
    // Each cause brings eleven findings in a row, so that all of them hang together.
    let mut findings = vec![Finding { leak: 0.02, links: Vec::new() }; 24];
    for cause in 0..19 {
        for near in 0..11 {
            let link = Link { cause, strength: rng.random_range(0.1..0.95) };
            findings[(cause * 24 / 19 + near) % 24].links.push(link);
        }
    }
    let priors = (0..19).map(|_| rng.random_range(0.01..0.2)).collect();
    let network = Network::new(priors, findings).expect("made of chances");
    let seen = |finding| Factor::doubtful(finding, rng.random_range(0.02..0.98));
    let factors: Vec<Factor> = (0..21).map(seen).collect();
    let got = posterior(&network, &Belief::start(), &factors).expect("possible");
    assert!(!got.inference().exact, "narrow enough to be summed: nothing to see here");
    let more = looks(21..24);
    let supposed = with_each(&network, &Belief::start(), &factors, &got, &more);
    for (factor, supposed) in more.iter().zip(supposed.expect("of this network")) {
        let all = [factors.as_slice(), std::slice::from_ref(factor)].concat();
        let wanted = oracle::posterior(&network, &[], &all).expect("possible");
        for (cause, probability) in supposed.expect("possible").iter().enumerate() {
            let off = (probability - oracle::marginal(&wanted, cause)).abs();
            // The list holds the likeliest sets, not all.
            assert!(off < 0.03, "{factor:?}: cause {cause} is off by {off}");
        }
    }
}
