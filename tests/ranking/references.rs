//! Chances others have worked out.

use boostwright::ranking::{
    Belief, Effort, Factor, Finding, Joint, Link, Network, Part, Pattern, Slip, posterior,
    posterior_with,
};
use serde_json::Value;

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn index(value: &Value) -> usize {
    usize::try_from(value.as_u64().expect("a number")).expect("an index")
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

fn network(case: &Value) -> Network {
    let link = |pair: &Value| Link { cause: index(&pair[0]), strength: number(&pair[1]) };
    let finding = |finding: &Value| Finding {
        leak: number(&finding["leak"]),
        links: list(&finding["links"]).iter().map(link).collect(),
    };
    let priors = list(&case["priors"]).iter().map(number).collect();
    Network::new(priors, list(&case["findings"]).iter().map(finding).collect())
        .expect("made of chances")
}

#[test]
fn a_general_library_gives_the_same_chances() {
    // The file names the library and its version.
    let reference: Value =
        serde_json::from_str(include_str!("../reference/networks.json")).expect("well-formed");
    let cases = list(&reference["networks"]);
    assert!(cases.len() >= 10);
    for (place, case) in cases.iter().enumerate() {
        let network = network(case);
        let single = |seen: &Value| Factor::Single {
            finding: index(&seen[0]),
            yes: number(&seen[1]),
            no: number(&seen[2]),
        };
        let factors: Vec<Factor> = list(&case["seen"]).iter().map(single).collect();
        let got = posterior(&network, &Belief::start(), &factors).expect("possible");
        for (cause, right) in list(&case["causes"]).iter().enumerate() {
            let chance = got.probabilities()[cause];
            assert!(
                (chance - number(right)).abs() < 1e-9,
                "network {place}, cause {cause}: {chance}"
            );
        }
        for pair in list(&case["predicted"]) {
            let chance = got.probability_of(&network, index(&pair[0])).expect("known");
            assert!(
                (chance - number(&pair[1])).abs() < 1e-9,
                "network {place}, finding {}: {chance}",
                pair[0]
            );
        }
    }
}

#[test]
fn john_and_mary_call_and_a_burglary_is_as_likely_as_in_the_book() {
    // Russell & Norvig, Artificial Intelligence: A Modern Approach, chapter on Bayesian networks: the
    // alarm goes off with 0.94 for a burglary, 0.29 for an earthquake, 0.95 for both, 0.001 for
    // neither; P(burglary | both call) is printed as 0.284. The calls are doubtful evidence on the
    // alarm: 0.90·0.70 should it have gone off, 0.05·0.01 should it not. A noisy-OR gives 0.957 for
    // both causes in place of 0.95, and two in a million have both: no printed digit feels that.
    let strength = |with: f64| 1.0 - (1.0 - with) / (1.0 - 0.001);
    let links = vec![
        Link { cause: 0, strength: strength(0.94) },
        Link { cause: 1, strength: strength(0.29) },
    ];
    let network = Network::new(vec![0.001, 0.002], vec![Finding { leak: 0.001, links }])
        .expect("made of chances");
    let calls = [Factor::Single { finding: 0, yes: 0.90 * 0.70, no: 0.05 * 0.01 }];
    let got = posterior(&network, &Belief::start(), &calls).expect("possible");
    assert!((got.probabilities()[0] - 0.284).abs() < 0.0005, "{:?}", got.probabilities());
}

fn factor(seen: &Value) -> Factor {
    if seen.is_object() {
        let slip = |pair: &Value| Slip { right: number(&pair[0]), off: number(&pair[1]) };
        let part = |part: &Value| {
            let slips = list(&part["slips"]).iter().map(index).collect();
            Part::new(slips, list(&part["factors"]).iter().map(factor).collect())
        };
        let slips = list(&seen["slips"]).iter().map(slip).collect();
        return Factor::Joint(Joint::new(slips, list(&seen["parts"]).iter().map(part).collect()));
    }
    if !seen[0].is_array() {
        return Factor::Single {
            finding: index(&seen[0]),
            yes: number(&seen[1]),
            no: number(&seen[2]),
        };
    }
    let pattern = |pattern: &Value| Pattern {
        truths: list(&pattern[0]).iter().map(|truth| truth == 1).collect(),
        weight: number(&pattern[1]),
    };
    Factor::Group {
        findings: list(&seen[0]).iter().map(index).collect(),
        patterns: list(&seen[1]).iter().map(pattern).collect(),
    }
}

#[test]
fn long_markov_chains_give_the_same_chances_and_the_doubt_told_covers_the_rest() {
    let read = |text: &str| -> Value { serde_json::from_str(text).expect("well-formed") };
    let evidence = read(include_str!("../reference/evidence.json"));
    let chains = read(include_str!("../reference/posteriors.json"));
    let network = network(&evidence);
    let (sets, chains) = (list(&evidence["sets"]), list(&chains["sets"]));
    assert!(sets.len() >= 40 && sets.len() == chains.len());
    let is_tied = |set: &&Value| list(&set["factors"]).iter().any(Value::is_object);
    assert!(sets.iter().filter(is_tied).count() >= 20, "answers tie findings in most sets");
    for (place, (set, chain)) in sets.iter().zip(chains).enumerate() {
        let factors: Vec<Factor> = list(&set["factors"]).iter().map(factor).collect();
        let impossible = list(&set["impossible"]).iter().map(index).collect();
        let belief = Belief::start().ruling_out(impossible);
        let right: Vec<f64> = list(&chain["p"]).iter().map(number).collect();
        // The chains' own standard error, the largest of all causes.
        let own = 4.0 * number(&chain["se"]);
        let mut best: Vec<usize> = (0..right.len()).collect();
        best.sort_by(|a, b| right[*b].total_cmp(&right[*a]));
        for effort in [Effort::Question, Effort::Conclusion] {
            let got = posterior_with(&network, &belief, &factors, effort).expect("possible");
            for (cause, right) in right.iter().enumerate() {
                let off = (got.probabilities()[cause] - right).abs();
                assert!(off <= got.doubts()[cause] + own, "set {place}, cause {cause}: {off}");
            }
            if effort == Effort::Conclusion {
                // One set of the forty spends all the work it may, and says 0.016.
                assert!(got.inference().left_out < 0.02, "set {place}: {:?}", got.inference());
                for cause in best.iter().take(5) {
                    let off = (got.probabilities()[*cause] - right[*cause]).abs();
                    assert!(off <= 0.01, "set {place}, cause {cause}: off by {off}");
                }
            }
        }
    }
}
