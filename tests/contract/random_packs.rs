//! Packs and answers at random, in up to three rounds, against the enumeration.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::panic::catch_unwind;

use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::bench::{Bench, finding, list};
use super::enumeration::{Model, Round, Seen, Shown, Unit, assert_agrees, yes};
use super::truth::{Given, Known, Truth, group, possibilities};

type Chance = Xoshiro256PlusPlus;

#[derive(Debug, Clone, Copy)]
enum Form {
    YesOrNo,
    Choice(usize),
    Reading,
}

struct Question {
    form: Form,
    sure: f64,
    each_run: bool,
}

/// A pack made up at random.
struct Made {
    questions: Vec<Question>,
    findings: Vec<Truth>,
    shows: Option<usize>,
    repair: Repair,
    yaml: String,
}

struct Repair {
    mends: Vec<String>,
    succeeds: f64,
    invalidates: Vec<usize>,
}

fn questions(chance: &mut Chance) -> Vec<Question> {
    let count = chance.random_range(2..=6);
    (0..count)
        .map(|_| Question {
            form: match chance.random_range(0..3) {
                0 => Form::YesOrNo,
                1 => Form::Choice(chance.random_range(2..=4)),
                _ => Form::Reading,
            },
            sure: if chance.random_bool(0.4) { 1.0 } else { chance.random_range(0.6..0.99) },
            each_run: chance.random_bool(0.3),
        })
        .collect()
}

fn part(chance: &mut Chance, questions: &[Question]) -> Truth {
    let question = chance.random_range(0..questions.len());
    match questions[question].form {
        Form::YesOrNo => Truth::Yes(question),
        Form::Choice(of) => Truth::Is(question, chance.random_range(0..of)),
        // Readings end in odd thousandths, so that none lies on a limit.
        Form::Reading => Truth::Above(question, chance.random_range(50..=60)),
    }
}

fn truth(chance: &mut Chance, questions: &[Question], depth: usize) -> Truth {
    if depth == 0 || chance.random_bool(0.45) {
        return part(chance, questions);
    }
    let mut inner = || Box::new(truth(chance, questions, depth - 1));
    let (a, b) = (inner(), inner());
    match chance.random_range(0..5) {
        0 | 1 => Truth::Both(a, b),
        2 | 3 => Truth::Either(a, b),
        _ => Truth::Not(a),
    }
}

fn made(chance: &mut Chance) -> Made {
    let questions = questions(chance);
    let findings: Vec<Truth> =
        (0..chance.random_range(1..=7)).map(|_| truth(chance, &questions, 2)).collect();
    let causes = chance.random_range(1..=5);
    let shows = chance.random_bool(0.5).then(|| chance.random_range(0..findings.len()));
    let repair = Repair {
        mends: (0..causes)
            .filter(|_| chance.random_bool(0.5))
            .map(|c| format!("cause_{c}"))
            .collect(),
        succeeds: chance.random_range(0.3..1.0),
        invalidates: (0..questions.len()).filter(|_| chance.random_bool(0.4)).collect(),
    };
    let mut made = Made { questions, findings, shows, repair, yaml: String::new() };
    made.yaml = yaml(chance, &made, causes);
    made
}

fn yaml(chance: &mut Chance, made: &Made, causes: usize) -> String {
    let mut text = String::from("complaints:\n  too_high: {title: Too high, start: look");
    if let Some(shown) = made.shows {
        let _ = write!(text, ", shows: [finding_{shown}]");
    }
    text += "}\nquestions:\n";
    for (index, question) in made.questions.iter().enumerate() {
        let answer = match question.form {
            Form::YesOrNo => "yes_or_no".to_owned(),
            Form::Choice(of) => {
                let options: Vec<String> = (0..of).map(|o| format!("option_{o}: words")).collect();
                format!("{{choose: {{{}}}}}", options.join(", "))
            }
            Form::Reading => "{measure: gauge_pressure, uncertainty: 0.02 bar}".to_owned(),
        };
        let holds = if question.each_run { ", holds: each_run" } else { "" };
        let sure = question.sure;
        let _ = writeln!(
            text,
            "  question_{index}: {{text: What?, answer: {answer}, sure: {sure}{holds}}}"
        );
    }
    text += "findings:\n";
    for (index, truth) in made.findings.iter().enumerate() {
        let leak = if chance.random_bool(0.2) { 0.0 } else { chance.random_range(0.01..0.3) };
        let when = truth.formula();
        let _ = writeln!(text, "  finding_{index}: {{when: \"{when}\", leak: {leak}}}");
    }
    text += "causes:\n";
    for cause in 0..causes {
        let common: f64 = chance.random_range(0.01..0.4);
        let _ = write!(text, "  cause_{cause}: {{title: A cause, common: {common}, brings: {{");
        let brings: Vec<String> = (0..made.findings.len())
            .filter_map(|finding| {
                let strength: f64 = chance.random_range(0.05..0.99);
                chance.random_bool(0.6).then(|| format!("finding_{finding}: {strength}"))
            })
            .collect();
        let _ = writeln!(text, "{}}}}}", brings.join(", "));
    }
    let invalidates: Vec<String> =
        made.repair.invalidates.iter().map(|q| format!("question_{q}")).collect();
    let (mends, invalidates) = (made.repair.mends.join(", "), invalidates.join(", "));
    let succeeds = made.repair.succeeds;
    let _ = writeln!(
        text,
        "repairs:\n  mend: {{mends: [{mends}], succeeds: {succeeds}, invalidates: [{invalidates}]}}"
    );
    text + "steps:\n  look: {then: [{go: conclude}]}\n"
}

/// Answers given in one round, as written and as meant; none is "can't say".
type Answers = BTreeMap<usize, (String, Option<Given>)>;

fn answers(chance: &mut Chance, questions: &[Question], share: f64) -> Answers {
    let mut found = Answers::new();
    for (index, question) in questions.iter().enumerate() {
        if !chance.random_bool(share) {
            continue;
        }
        let sure = question.sure;
        let (text, given) = match question.form {
            _ if chance.random_bool(0.1) => ("unknown".to_owned(), None),
            Form::YesOrNo => {
                let yes = chance.random_bool(0.5);
                let text = if yes { "yes" } else { "no" };
                (text.to_owned(), Some(Given::YesOrNo { yes, sure }))
            }
            Form::Choice(of) => {
                let option = chance.random_range(0..of);
                (format!("option_{option}"), Some(Given::Choice { option, of, sure }))
            }
            Form::Reading => {
                let thousandths = 2 * chance.random_range(240..=310) + 1;
                let spread = chance.random_range(0..3);
                let own = ["", " ± 0", " ± 0.05"][spread];
                let value = f64::from(thousandths) / 10.0;
                let uncertainty = [2.0, 0.0, 5.0][spread];
                let text = format!("{} bar{own}", f64::from(thousandths) / 1000.0);
                (text, Some(Given::Reading { value, uncertainty }))
            }
        };
        found.insert(index, (text, given));
    }
    found
}

fn written(rounds: &[Answers]) -> String {
    let mut text = String::from("rounds:\n");
    for (number, round) in rounds.iter().enumerate() {
        text += if number == 0 { "- complaint: too_high\n" } else { "- repair: mend\n" };
        let answers: Vec<String> =
            round.iter().map(|(q, (answer, _))| format!("question_{q}: {answer}")).collect();
        let _ = writeln!(text, "  answers: {{{}}}", answers.join(", "));
    }
    text
}

/// The round each answer that holds was given in, with the answer.
type Held = BTreeMap<usize, (usize, Given)>;

impl Made {
    /// What holds at the end of each round.
    fn held(&self, rounds: &[Answers]) -> Vec<Held> {
        let mut all = Vec::new();
        let mut held = Held::new();
        for (number, round) in rounds.iter().enumerate() {
            held.retain(|question, _| {
                let stale = self.repair.invalidates.contains(question);
                number == 0 || !(stale || self.questions[*question].each_run)
            });
            for (question, (_, given)) in round {
                held.remove(question);
                held.extend(given.map(|given| (*question, (number, given))));
            }
            all.push(held.clone());
        }
        all
    }

    /// The evidence of one round.
    fn seen(&self, number: usize, held: &Held) -> Vec<Seen> {
        let known: Known = held.iter().map(|(q, (_, given))| (*q, *given)).collect();
        let new = |truth: &Truth| {
            let questions = truth.questions();
            questions.iter().any(|q| held.get(q).is_some_and(|(round, _)| *round == number))
        };
        let mut found = Vec::new();
        let mut alone: Vec<usize> = Vec::new();
        let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (index, truth) in self.findings.iter().enumerate() {
            match truth.weigh(&known) {
                None if number == 0 && self.shows == Some(index) => {
                    found.push(yes(&format!("finding_{index}")));
                }
                Some(_) if new(truth) => match self.group_of(truth) {
                    Some(question) => groups.entry(question).or_default().push(index),
                    None => alone.push(index),
                },
                _ => {}
            }
        }
        found.extend(self.together(&alone, &groups, &known));
        found
    }

    /// All findings as one piece of evidence: whatever the answers share is shared so.
    fn together(
        &self,
        alone: &[usize],
        groups: &BTreeMap<usize, Vec<usize>>,
        known: &Known,
    ) -> Option<Seen> {
        let truths = |members: &[usize]| -> Vec<&Truth> {
            members.iter().map(|index| &self.findings[*index]).collect()
        };
        let ids = |members: &[usize]| -> Vec<String> {
            members.iter().map(|index| format!("finding_{index}")).collect()
        };
        let mut units: Vec<Unit> = alone
            .iter()
            .map(|index| Unit { findings: ids(&[*index]), possible: vec![vec![true], vec![false]] })
            .collect();
        units.extend(groups.iter().map(|(question, members)| {
            let patterns = group(&truths(members), known[question]);
            let possible = patterns.into_iter().map(|(truths, _)| truths).collect();
            Unit { findings: ids(members), possible }
        }));
        let all: Vec<usize> = alone.iter().chain(groups.values().flatten()).copied().collect();
        let counts: Vec<(f64, f64)> =
            alone.iter().map(|index| self.findings[*index].counts(known)).collect();
        let shown = |exact: &Known| -> Vec<Shown> {
            let single = alone.iter().zip(&counts).map(|(index, (yes, no))| {
                match self.findings[*index].exactly(exact) {
                    Some(true) => vec![(vec![true], 1.0 / yes)],
                    Some(false) => vec![(vec![false], 1.0 / no)],
                    None => vec![(vec![true], 1.0), (vec![false], 1.0)],
                }
            });
            let grouped = groups.values().map(|members| {
                let each = truths(members).into_iter().map(|truth| truth.exactly(exact));
                vec![(each.map(|value| value.expect("all is known")).collect(), 1.0)]
            });
            single.chain(grouped).collect()
        };
        let states = possibilities(&truths(&all), known)
            .into_iter()
            .map(|(exact, probability)| (probability, shown(&exact)))
            .collect();
        (!units.is_empty()).then_some(Seen::Together { units, states })
    }

    /// The one choice or measurement that a truth rests on.
    fn group_of(&self, truth: &Truth) -> Option<usize> {
        match truth.questions().as_slice() {
            [one] if !matches!(self.questions[*one].form, Form::YesOrNo) => Some(*one),
            _ => None,
        }
    }
}

/// A pack and answers in rounds.
fn drawn(case: u64) -> (Made, Vec<Answers>) {
    let mut chance = Chance::seed_from_u64(case);
    let made = made(&mut chance);
    let rounds = (0..chance.random_range(1..=3))
        .map(|number| answers(&mut chance, &made.questions, [0.7, 0.4, 0.4][number]))
        .collect();
    (made, rounds)
}

/// Holds what is printed against the enumeration; whether the answers can all be true.
fn hold(made: &Made, rounds: &[Answers]) -> bool {
    let told = Bench::new(&made.yaml).replay(&written(rounds));
    let held = made.held(rounds);
    let last = held.len() - 1;
    let evidence: Vec<Round> = held
        .iter()
        .enumerate()
        .map(|(number, held)| Round {
            seen: made.seen(number, held),
            mended: if number < last { made.repair.mends.clone() } else { Vec::new() },
            succeeds: made.repair.succeeds,
        })
        .collect();
    let known: Known = held[last].iter().map(|(q, (_, given))| (*q, *given)).collect();
    for (index, truth) in made.findings.iter().enumerate() {
        let printed = finding(&told, &format!("finding_{index}"));
        let shown = (last == 0 && made.shows == Some(index)).then_some(1.0);
        let right = match truth.weigh(&known) {
            Some(weighed) => weighed.probability,
            None => shown,
        };
        match (printed, right) {
            (Some(printed), Some(right)) => {
                assert!((printed - right).abs() < 1e-9, "finding_{index}: {printed}, not {right}");
            }
            (printed, right) => assert_eq!(printed, right, "finding_{index}"),
        }
    }
    let possible = Model::read(&made.yaml).believed(&evidence).is_some();
    if possible {
        assert_agrees(&told, &made.yaml, &evidence);
    } else {
        // Where nothing can bring what the complaint shows, there is no answer to name.
        assert!(told["contradiction"].is_array());
        assert!(list(&told, "causes").is_empty() && list(&told, "likely_sets").is_empty());
    }
    possible
}

#[test]
fn random_packs_agree_with_enumeration() {
    let mut clashed = 0;
    for case in 0..200 {
        let (made, rounds) = drawn(case);
        match catch_unwind(|| hold(&made, &rounds)) {
            Ok(possible) => clashed += u32::from(!possible),
            Err(_) => panic!("case {case}\n{}\n{}", made.yaml, written(&rounds)),
        }
    }
    assert!((1..50).contains(&clashed), "{clashed} of 200 clashed");
}
