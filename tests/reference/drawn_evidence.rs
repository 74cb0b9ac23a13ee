//! Draws cars and what their owners would answer, and prints the evidence as JSON for the scripts of
//! this folder: `cargo bench --bench drawn_evidence > evidence.json`.
//!
//! A complaint, one to three causes, then questions in random order. Of each question a few answers
//! are tried, and one is taken by how well all evidence together fits the causes drawn.

#![allow(clippy::expect_used, reason = "the built-in rules are sound")]
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "what it is for")]

use boostwright::interview::{Answer, Reading, Round, State, fold};
use boostwright::ranking::{Factor, Network};
use boostwright::rules::{
    AnswerForm, ComplaintId, Measure, Pack, PackSource, QuestionId, TypedIndex, UsualUncertainty,
    load_to_walk,
};
use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;
use serde_json::{Value, json};

/// How many evidence sets, and the fewest and most answers in one.
const SETS: usize = 40;
const FEWEST: usize = 10;
const MOST: usize = 70;
/// How many readings are tried for a measurement.
const READINGS: usize = 7;

fn main() {
    let pack = load_to_walk(&[PackSource::BuiltIn]).expect("it is in the binary").pack;
    let mut sets = Vec::new();
    for set in 0..SETS {
        let mut rng = Xoshiro256PlusPlus::seed_from_u64(1 + set as u64);
        let answers = FEWEST + set * (MOST - FEWEST) / (SETS - 1);
        sets.push(drawn(&pack, answers, &mut rng));
        eprintln!("{} of {SETS}", set + 1);
    }
    let network = &pack.network;
    let findings = network.findings().iter().map(|finding| {
        let links: Vec<Value> =
            finding.links.iter().map(|link| json!([link.cause, link.strength])).collect();
        json!({"leak": finding.leak, "links": links})
    });
    let findings: Vec<Value> = findings.collect();
    println!("{}", json!({"priors": network.priors(), "findings": findings, "sets": sets}));
}

fn drawn(pack: &Pack, answers: usize, rng: &mut Xoshiro256PlusPlus) -> Value {
    let complaint =
        pack.complaints.indices().nth(rng.random_range(0..pack.complaints.indices().count()));
    let complaint = complaint.expect("there are some");
    let causes = causes(pack, complaint, rng);
    let mut questions: Vec<QuestionId> = pack.questions.indices().collect();
    questions.shuffle(rng);
    let mut round = Round { complaints: vec![complaint], ..Round::default() };
    for question in questions {
        if round.answers.len() == answers {
            break;
        }
        answer(pack, &mut round, question, &causes, rng);
    }
    let state = fold(pack, &[round.clone()], None);
    let impossible: Vec<usize> = state
        .ranked
        .probabilities()
        .iter()
        .enumerate()
        .filter(|(_, chance)| **chance == 0.0)
        .map(|(cause, _)| cause)
        .collect();
    json!({
        "answers": round.answers.len(),
        "impossible": impossible,
        "factors": state.evidence.iter().map(|evidence| as_json(&evidence.factor)).collect::<Vec<_>>(),
    })
}

/// One to three causes that bring the complaint, drawn by their priors.
fn causes(pack: &Pack, complaint: ComplaintId, rng: &mut Xoshiro256PlusPlus) -> Vec<bool> {
    let network = &pack.network;
    let shows = &pack.complaints[complaint].shows;
    loop {
        let causes: Vec<bool> =
            network.priors().iter().map(|prior| rng.random::<f64>() < *prior).collect();
        let present = causes.iter().filter(|present| **present).count();
        let shown = shows.iter().all(|finding| {
            let chance = network.findings()[finding.index()].probability_given(|c| causes[c]);
            rng.random::<f64>() < chance
        });
        if (1..=3).contains(&present) && shown {
            return causes;
        }
    }
}

/// Gives an answer that such a car would show; none where a question shows nothing of any.
fn answer(
    pack: &Pack,
    round: &mut Round,
    question: QuestionId,
    causes: &[bool],
    rng: &mut Xoshiro256PlusPlus,
) {
    let candidates: Vec<Answer> = match &pack.questions[question].answer {
        AnswerForm::AnyOf(options) => {
            let one = options.iter().map(|option| Answer::Picked(vec![*option]));
            one.chain([Answer::Picked(Vec::new())]).collect()
        }
        AnswerForm::YesOrNo => vec![Answer::Truth(true), Answer::Truth(false)],
        AnswerForm::Choose(options) => (0..options.len()).map(Answer::Option).collect(),
        AnswerForm::Measure(measure) => {
            (0..READINGS).filter_map(|_| reading(measure, rng)).collect()
        }
        AnswerForm::Table(_) => Vec::new(),
    };
    let weigh = |answer: &Answer| {
        let mut tried = round.clone();
        tried.give(question, answer.clone());
        let state = fold(pack, &[tried], None);
        if state.ranked.posterior().is_none() { 0.0 } else { fit(&state, causes) }
    };
    let weights: Vec<f64> = candidates.iter().map(weigh).collect();
    let mut left = rng.random::<f64>() * weights.iter().sum::<f64>();
    for (candidate, weight) in candidates.into_iter().zip(weights) {
        left -= weight;
        if weight > 0.0 && left <= 0.0 {
            round.give(question, candidate);
            return;
        }
    }
}

fn reading(measure: &Measure, rng: &mut Xoshiro256PlusPlus) -> Option<Answer> {
    let (from, to) = (measure.from?, measure.to?);
    let value = rng.random_range(from..=to);
    let uncertainty = match measure.uncertainty {
        UsualUncertainty::Amount(amount) => amount,
        UsualUncertainty::Relative(share) => share * value.abs(),
    };
    Some(Answer::Number(Reading { value, uncertainty, unit: measure.unit.clone() }))
}

/// How well all evidence fits the causes.
fn fit(state: &State<'_>, causes: &[bool]) -> f64 {
    state
        .evidence
        .iter()
        .map(|evidence| value(&state.pack.network, &evidence.factor, causes))
        .product()
}

fn value(network: &Network, factor: &Factor, causes: &[bool]) -> f64 {
    let p_false = |finding: &usize| network.findings()[*finding].p_false(|c| f64::from(causes[c]));
    match factor {
        Factor::Single { finding, yes, no } => {
            let p_false = p_false(finding);
            (yes * (1.0 - p_false) + no * p_false) / yes.max(*no)
        }
        Factor::Group { findings, patterns } => {
            let p_false: Vec<f64> = findings.iter().map(p_false).collect();
            let (mut all, mut weighed, mut most) = (0.0, 0.0, 0.0_f64);
            for pattern in patterns {
                let probability = pattern.probability(p_false.iter().copied());
                all += probability;
                weighed += probability * pattern.weight;
                most = most.max(pattern.weight);
            }
            if all > 0.0 { weighed / all / most } else { 0.0 }
        }
        Factor::Joint(joint) => {
            let p_false: Vec<f64> = joint.findings().iter().map(p_false).collect();
            joint.value(&p_false)
        }
    }
}

fn as_json(factor: &Factor) -> Value {
    match factor {
        Factor::Single { finding, yes, no } => json!([finding, yes, no]),
        Factor::Group { findings, patterns } => {
            let patterns: Vec<Value> = patterns
                .iter()
                .map(|p| {
                    json!([p.truths.iter().map(|t| u8::from(*t)).collect::<Vec<_>>(), p.weight])
                })
                .collect();
            json!([findings, patterns])
        }
        Factor::Joint(joint) => json!({
            "slips": joint.slips().iter().map(|slip| [slip.right, slip.off]).collect::<Vec<_>>(),
            "parts": joint.parts().iter().map(|part| json!({
                "slips": part.slips,
                "factors": part.factors.iter().map(as_json).collect::<Vec<_>>(),
            })).collect::<Vec<_>>(),
        }),
    }
}
