//! Parts too large to list whole: the sweep against brute force, and the estimate where even that is
//! too wide.

use boostwright::ranking::{
    Belief, Effort, Factor, Finding, Link, Network, Pattern, RestsOn, posterior, posterior_with,
    without_each,
};
use rand::{Rng, RngExt};

use super::{oracle, random_network};

/// Causes in a row, each bringing findings near its own place, so that all of them hang together.
fn chain(rng: &mut impl Rng, causes: usize, findings: usize, reach: usize) -> Network {
    let mut brought = vec![Finding { leak: 0.02, links: Vec::new() }; findings];
    for cause in 0..causes {
        let home = cause * findings / causes;
        for near in 0..reach {
            let link = Link { cause, strength: rng.random_range(0.1..0.95) };
            brought[(home + near) % findings].links.push(link);
        }
    }
    Network::new((0..causes).map(|_| rng.random_range(0.01..0.2)).collect(), brought)
        .expect("made of chances")
}

fn doubtful(rng: &mut impl Rng, findings: usize) -> Vec<Factor> {
    (0..findings).map(|finding| Factor::doubtful(finding, rng.random_range(0.02..0.98))).collect()
}

#[test]
fn a_part_of_nineteen_causes_is_exact_without_being_listed() {
    let mut rng = random_network::chance(1);
    let network = chain(&mut rng, 19, 19, 4);
    let mut factors = doubtful(&mut rng, 19);
    factors[3] = Factor::yes(3);
    factors[9] = Factor::yes(9);
    let wanted = oracle::posterior(&network, &[], &factors).expect("possible");
    let got = posterior(&network, &Belief::start(), &factors).expect("possible");
    assert_eq!(got.inference().rests_on, RestsOn::AllSets);
    for (cause, probability) in got.probabilities().iter().enumerate() {
        assert!((probability - oracle::marginal(&wanted, cause)).abs() < 1e-9, "cause {cause}");
    }
    let mut best: Vec<f64> = wanted.values().copied().collect();
    best.sort_by(|a, b| b.total_cmp(a));
    for (set, best) in got.likely_sets(10).iter().zip(best) {
        assert!((set.probability - best).abs() < 1e-9, "{set:?} in place of {best}");
    }
}

#[test]
fn what_a_wide_part_leaves_in_doubt_is_no_less_than_what_is_wrong() {
    let mut rng = random_network::chance(2);
    let network = chain(&mut rng, 19, 24, 11);
    let factors = doubtful(&mut rng, 24);
    let wanted = oracle::posterior(&network, &[], &factors).expect("possible");
    let got = posterior(&network, &Belief::start(), &factors).expect("possible");
    let inference = got.inference();
    assert_ne!(inference.rests_on, RestsOn::AllSets);
    assert!(!inference.exact && inference.left_out > 0.0 && inference.left_out <= 1.0);
    for (cause, probability) in got.probabilities().iter().enumerate() {
        let off = (probability - oracle::marginal(&wanted, cause)).abs();
        assert!(off <= inference.left_out, "cause {cause} is off by {off}");
        assert!(off < 5e-3, "cause {cause} is off by {off}: likely sets were missed");
    }
    // Leaving an answer out goes over the sets already listed here.
    let without = without_each(&network, &Belief::start(), &factors, &got);
    let left_out = without.iter().find(|without| without.at.index == 5).expect("each answer");
    let rest = [&factors[..5], &factors[6..]].concat();
    let wanted = oracle::posterior(&network, &[], &rest).expect("possible");
    for (cause, probability) in left_out.probabilities.iter().enumerate() {
        let off = (probability - oracle::marginal(&wanted, cause)).abs();
        assert!(off < 1e-2, "cause {cause} without the answer is off by {off}");
    }
}

/// Findings that nearly every cause brings, strongly, and that nothing else explains: deciding a cause
/// settles little of them, so that branches alone leave most in doubt.
#[test]
fn where_every_cause_explains_everything_the_doubt_is_told_and_the_sum_is_not_given_up() {
    for seed in 20..22 {
        let mut rng = random_network::chance(seed);
        let mut findings = Vec::new();
        for _ in 0..22 {
            let mut links = Vec::new();
            for cause in 0..19 {
                if rng.random_bool(0.8) {
                    links.push(Link { cause, strength: rng.random_range(0.2..0.95) });
                }
            }
            findings.push(Finding { leak: 0.004, links });
        }
        let priors = (0..19).map(|_| rng.random_range(0.005..0.1)).collect();
        let network = Network::new(priors, findings).expect("made of chances");
        let factors: Vec<Factor> =
            (0..22).map(|finding| Factor::doubtful(finding, rng.random_range(0.6..0.98))).collect();
        let wanted = oracle::posterior(&network, &[], &factors).expect("possible");
        for (effort, most) in [(Effort::Question, 0.4), (Effort::Conclusion, 0.01)] {
            let got =
                posterior_with(&network, &Belief::start(), &factors, effort).expect("possible");
            assert!(got.inference().rests_on >= RestsOn::Draws, "{:?}", got.inference());
            assert!(got.inference().left_out <= most, "{seed}: {:?}", got.inference());
            for (cause, probability) in got.probabilities().iter().enumerate() {
                let off = (probability - oracle::marginal(&wanted, cause)).abs();
                let doubt = got.doubts()[cause];
                assert!(off <= doubt, "{seed}: cause {cause} is off by {off}, told {doubt}");
            }
            let again = posterior_with(&network, &Belief::start(), &factors, effort);
            assert_eq!(got.probabilities(), again.expect("possible").probabilities());
        }
    }
}

/// Choices of three, each option brought by many causes: too wide for a sweep, since a choice ties all
/// its causes together. `strengths` are drawn from.
fn choices(seed: u64, strengths: &[f64], leak: f64) -> (Network, Vec<Factor>) {
    let mut rng = random_network::chance(seed);
    let options = 3;
    let mut findings = Vec::new();
    for _ in 0..4 * options {
        let mut links = Vec::new();
        for cause in 0..19 {
            if rng.random_bool(0.4) {
                links.push(Link {
                    cause,
                    strength: strengths[rng.random_range(0..strengths.len())],
                });
            }
        }
        findings.push(Finding { leak: leak + rng.random_range(0.0..0.3), links });
    }
    let network =
        Network::new((0..19).map(|_| rng.random_range(0.01..0.08)).collect(), findings).unwrap();
    let choice = |first: usize, taken: usize, sure: f64| Factor::Group {
        findings: (first..first + options).collect(),
        patterns: (0..options)
            .map(|option| Pattern {
                truths: (0..options).map(|other| other == option).collect(),
                weight: if option == taken { sure } else { (1.0 - sure) / 2.0 },
            })
            .collect(),
    };
    let factors = vec![choice(0, 0, 1.0), choice(3, 2, 0.9), choice(6, 1, 0.95), choice(9, 0, 0.8)];
    (network, factors)
}

#[test]
fn choices_that_tie_nineteen_causes_together_are_estimated() {
    let words = [0.05, 0.25, 0.5, 0.8, 0.95];
    // What is never or always so rules sets out altogether.
    let sure = [0.25, 0.8, 1.0];
    for (seed, strengths, leak) in
        [(7, &words[..], 0.02), (8, &sure[..], 0.0), (9, &sure[..], 0.02)]
    {
        let (network, factors) = choices(seed, strengths, leak);
        let wanted = oracle::posterior(&network, &[], &factors).expect("possible");
        let got = posterior(&network, &Belief::start(), &factors).expect("possible");
        let inference = got.inference();
        // What is ruled out altogether may leave few enough to count every set.
        assert!(seed != 7 || inference.rests_on != RestsOn::AllSets);
        assert!(inference.left_out <= 0.2, "{seed}: {inference:?}");
        for (cause, probability) in got.probabilities().iter().enumerate() {
            let off = (probability - oracle::marginal(&wanted, cause)).abs();
            assert!(off <= inference.left_out + 1e-12, "{seed}: cause {cause} is off by {off}");
            assert!(off <= 5e-3, "{seed}: cause {cause} is off by {off}");
        }
    }
}

#[test]
fn a_hundred_unlikely_positive_findings_do_not_underflow() {
    // One finding a cause, all true: each cause is then p·s against (1 − p)·leak plus its own leak.
    let finding = |cause| Finding { leak: 1e-9, links: vec![Link { cause, strength: 0.5 }] };
    let shared = (0..200).map(|index| {
        let (a, b) = (index % 100, (index + 1) % 100);
        let links = vec![Link { cause: a, strength: 1e-6 }, Link { cause: b, strength: 1e-6 }];
        Finding { leak: 1e-9, links }
    });
    let findings: Vec<Finding> = (0..100).map(finding).chain(shared).collect();
    let network = Network::new(vec![1e-4; 100], findings).expect("made of chances");
    let factors: Vec<Factor> = (0..300).map(Factor::yes).collect();
    let got = posterior(&network, &Belief::start(), &factors).expect("possible");
    assert!(got.inference().exact);
    // By symmetry all causes are alike; each explains its own finding 0.5 against 1e-9.
    for probability in got.probabilities() {
        assert!(*probability > 0.99 && *probability <= 1.0, "{probability}");
    }
}
