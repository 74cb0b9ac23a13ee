//! A handful of vague answers, each brought by dozens of causes. Causes of a kind are all alike here, so
//! that the sum over all sets is a sum over how many of each kind are present, made here by itself.

use boostwright::ranking::{
    Belief, Effort, Factor, Finding, Link, Network, Pattern, Refusal, RestsOn, Without,
    posterior_with, without_each,
};

/// Causes of each kind, and how likely each is beforehand.
const KINDS: [(u32, f64); 4] = [(90, 0.012), (70, 0.02), (100, 0.008), (3, 0.05)];

/// How strongly a cause of each kind brings each finding, and how often the finding shows without any.
const FINDINGS: [([f64; 4], f64); 8] = [
    ([0.8, 0.5, 0.0, 0.9], 0.005),
    ([0.6, 0.0, 0.7, 0.5], 0.01),
    ([0.0, 0.8, 0.6, 0.9], 0.005),
    ([0.5, 0.5, 0.5, 0.0], 0.02),
    ([0.7, 0.0, 0.3, 0.8], 0.01),
    // The options of one choice.
    ([0.3, 0.4, 0.1, 0.6], 0.1),
    ([0.3, 0.1, 0.5, 0.1], 0.1),
    ([0.2, 0.3, 0.2, 0.1], 0.1),
];

/// No more of a kind are looked at: twelve of ninety at one in eighty are not seen in a billion cars.
const MOST: u32 = 11;

fn network() -> Network {
    let kinds = KINDS.iter().enumerate();
    let kind_of: Vec<usize> =
        kinds.flat_map(|(kind, (count, _))| vec![kind; *count as usize]).collect();
    let finding = |(strengths, leak): &([f64; 4], f64)| {
        let links = kind_of.iter().enumerate().filter(|(_, kind)| strengths[**kind] > 0.0);
        let links = links.map(|(cause, kind)| Link { cause, strength: strengths[*kind] });
        Finding { leak: *leak, links: links.collect() }
    };
    let priors = kind_of.iter().map(|kind| KINDS[*kind].1).collect();
    Network::new(priors, FINDINGS.iter().map(finding).collect()).expect("chances")
}

fn answers() -> Vec<Factor> {
    let option = |option: usize| Pattern {
        truths: (0..3).map(|other| other == option).collect(),
        weight: [0.9, 0.06, 0.04][option],
    };
    let choice = Factor::Group { findings: vec![5, 6, 7], patterns: (0..3).map(option).collect() };
    (0..5).map(|finding| Factor::doubtful(finding, 0.95)).chain([choice]).collect()
}

/// The weight of the evidence without the factors in `left_out`, with so many causes of each kind.
fn weight(counts: [u32; 4], left_out: &[usize]) -> f64 {
    let p_false = |finding: usize| {
        let (strengths, leak) = FINDINGS[finding];
        let kinds = strengths.iter().zip(counts);
        (1.0 - leak)
            * kinds
                .map(|(strength, count)| (1.0 - strength).powi(count.cast_signed()))
                .product::<f64>()
    };
    let singles = (0..5).filter(|finding| !left_out.contains(finding));
    let singles: f64 =
        singles.map(|finding| 0.95 * (1.0 - p_false(finding)) + 0.05 * p_false(finding)).product();
    let option =
        |option: usize| {
            let truths = (0..3).map(|other| {
                if other == option { 1.0 - p_false(5 + other) } else { p_false(5 + other) }
            });
            truths.product::<f64>()
        };
    let all: f64 = (0..3).map(option).sum();
    let choice = (0..3).map(|at| [0.9, 0.06, 0.04][at] * option(at)).sum::<f64>() / all;
    singles * if left_out.contains(&5) { 1.0 } else { choice }
}

/// The probability of one cause of each kind.
fn wanted(left_out: &[usize]) -> [f64; 4] {
    let (mut sums, mut total) = ([0.0; 4], 0.0);
    let chance = |kind: usize, count: u32| -> f64 {
        let (all, prior) = KINDS[kind];
        let ways: f64 = (0..count).map(|at| f64::from(all - at) / f64::from(at + 1)).product();
        ways * prior.powi(count.cast_signed()) * (1.0 - prior).powi((all - count).cast_signed())
    };
    let most = |kind: usize| KINDS[kind].0.min(MOST);
    for a in 0..=most(0) {
        for b in 0..=most(1) {
            for c in 0..=most(2) {
                for d in 0..=most(3) {
                    let counts = [a, b, c, d];
                    let chances = (0..4).map(|kind| chance(kind, counts[kind])).product::<f64>();
                    let own = chances * weight(counts, left_out);
                    total += own;
                    for (sum, (count, (all, _))) in sums.iter_mut().zip(counts.iter().zip(KINDS)) {
                        *sum += own * f64::from(*count) / f64::from(all);
                    }
                }
            }
        }
    }
    sums.map(|sum| sum / total)
}

#[test]
fn chances_after_vague_answers_are_right_to_the_doubt_that_is_told() -> Result<(), Refusal> {
    let (network, answers, wanted) = (network(), answers(), wanted(&[]));
    for (effort, most) in [(Effort::Question, 0.2), (Effort::Conclusion, 0.02)] {
        let got = posterior_with(&network, &Belief::start(), &answers, effort)?;
        assert_eq!(got.inference().rests_on, RestsOn::Chains, "{effort:?}");
        assert!(got.inference().left_out <= most, "{effort:?}: {:?}", got.inference());
        let kinds = KINDS.iter().zip(wanted).flat_map(|((count, _), p)| vec![p; *count as usize]);
        for (cause, wanted) in kinds.enumerate() {
            let (own, doubt) = (got.probabilities()[cause], got.doubts()[cause]);
            assert!((own - wanted).abs() <= doubt, "{effort:?}, {cause}: {own} for {wanted}");
        }
        let again = posterior_with(&network, &Belief::start(), &answers, effort)?;
        assert_eq!(got.probabilities(), again.probabilities());
    }
    Ok(())
}

/// The sum of a kind is compared: of each single cause the few sets that hold it tell little.
#[test]
fn an_answer_left_out_goes_over_the_sets_that_were_drawn() -> Result<(), Refusal> {
    let (network, answers) = (network(), answers());
    let got = posterior_with(&network, &Belief::start(), &answers, Effort::Conclusion)?;
    let without = without_each(&network, &Belief::start(), &answers, &got);
    for left_out in [0, 3, 4] {
        let wanted = wanted(&[left_out]);
        let found: Option<&Without> = without.iter().find(|one| one.at.index == left_out);
        let found = &found.expect("each answer").probabilities;
        let mut first = 0;
        for ((count, _), wanted) in KINDS.iter().zip(wanted) {
            let own = &found[first..first + *count as usize];
            let mean = own.iter().sum::<f64>() / f64::from(*count);
            assert!((mean / wanted - 1.0).abs() < 0.15, "{left_out}: {mean} for {wanted}");
            first += *count as usize;
        }
    }
    Ok(())
}
