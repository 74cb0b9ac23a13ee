//! Findings tied together by an answer that may be off, on more causes than can be summed over one by
//! one.

use boostwright::ranking::{
    Belief, Effort, Factor, Finding, Joint, Link, Network, Part, RestsOn, Slip, posterior_with,
};

/// Causes that bring each of the two findings; together more than a table or a list holds.
const EACH: usize = 10;
const PRIOR: f64 = 0.02;
const STRENGTH: f64 = 0.9;
const LEAK: f64 = 0.01;
const OFF: f64 = 0.05;

/// One reading shows both findings, off in one of twenty cases. With the reading right neither finding
/// alone explains it: one cause lifts its weight from 0.0501 to 0.0586 only, one of each side to 0.82.
///
/// By hand, since the sides share no cause. `P(A) = 1 − 0.99·(1 − 0.02·0.9)^10 = 0.1744`, and with one of
/// its causes present `P(A | a) = 1 − 0.99·0.1·(1 − 0.02·0.9)^9 = 0.9159`; the cause's chance is
/// `0.02·(0.95·P(A | a)·P(A) + 0.05) / (0.95·P(A)² + 0.05) = 0.0511`.
#[test]
fn causes_that_only_together_lift_a_weight_are_in_doubt_until_they_are_summed() {
    let side = |side: usize| Finding {
        leak: LEAK,
        links: (0..EACH)
            .map(|cause| Link { cause: EACH * side + cause, strength: STRENGTH })
            .collect(),
    };
    let network = Network::new(vec![PRIOR; 2 * EACH], vec![side(0), side(1)]).expect("chances");
    let nothing = |finding| Factor::Single { finding, yes: 1.0, no: 1.0 };
    let told = |finding| Part::new(vec![0], vec![Factor::yes(finding), nothing(finding)]);
    let slip = Slip { right: 1.0 - OFF, off: OFF };
    let seen = [Factor::Joint(Joint::new(vec![slip], vec![told(0), told(1)]))];

    let left = |causes: i32| (1.0 - LEAK) * (1.0 - PRIOR * STRENGTH).powi(causes);
    let (shown, with) = (1.0 - left(10), 1.0 - (1.0 - STRENGTH) * left(9));
    let weight = |a: f64, b: f64| (1.0 - OFF) * a * b + OFF;
    let right = PRIOR * weight(with, shown) / weight(shown, shown);
    assert!((right - 0.0511).abs() < 5e-5, "{right}");
    for effort in [Effort::Question, Effort::Conclusion] {
        let got = posterior_with(&network, &Belief::start(), &seen, effort).expect("possible");
        assert_ne!(got.inference().rests_on, RestsOn::AllSets);
        for (cause, chance) in got.probabilities().iter().enumerate() {
            let off = (chance - right).abs();
            assert!(off <= got.doubts()[cause], "{effort:?}, cause {cause}: {chance}");
            assert!(off <= 0.01, "{effort:?}, cause {cause}: {chance}");
        }
    }
}
