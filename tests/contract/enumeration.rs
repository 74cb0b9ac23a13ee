//! What must be believed, from the definitions alone: every set of causes gets its weight, round
//! after round. Reads the pack's YAML by itself and shares no code with the program.

use std::collections::BTreeMap;

use serde_json::Value;
use serde_yaml::Value as Yaml;

use super::bench::{list, number};

/// The most that a printed probability may be off.
const CLOSE: f64 = 1e-9;

/// The words for strengths that every pack knows.
const WORDS: [(&str, f64); 6] = [
    ("always", 0.99),
    ("nearly_always", 0.95),
    ("usually", 0.8),
    ("often", 0.5),
    ("sometimes", 0.25),
    ("seldom", 0.05),
];

/// Causes with their priors, findings with their leaks and what brings them.
pub(super) struct Model {
    causes: Vec<(String, f64)>,
    findings: BTreeMap<String, Finding>,
}

struct Finding {
    leak: f64,
    /// Cause and strength.
    brought_by: Vec<(usize, f64)>,
}

/// One piece of evidence.
#[derive(Clone)]
pub(super) enum Seen {
    /// A finding with the likelihoods of what was answered, should it be true, should it be false.
    Truth { finding: String, yes: f64, no: f64 },
    /// Findings that exclude one another, each pattern that can occur with its weight.
    Group { findings: Vec<String>, patterns: Vec<(Vec<bool>, f64)> },
    /// Findings that rest on the same answers: everything that may really be, with its probability and
    /// with what each unit of findings shows then.
    Together { units: Vec<Unit>, states: Vec<(f64, Vec<Shown>)> },
}

/// One finding, or several that exclude one another, with the patterns that can occur.
#[derive(Clone)]
pub(super) struct Unit {
    pub(super) findings: Vec<String>,
    pub(super) possible: Vec<Vec<bool>>,
}

/// The patterns of a unit that fit, each with its weight.
pub(super) type Shown = Vec<(Vec<bool>, f64)>;

/// A round; behind it causes are mended, each with this chance.
#[derive(Clone, Default)]
pub(super) struct Round {
    pub(super) seen: Vec<Seen>,
    pub(super) mended: Vec<String>,
    pub(super) succeeds: f64,
}

/// Evidence on one finding that is true with this probability.
pub(super) fn soft(finding: &str, probability: f64) -> Seen {
    weighed(finding, probability, 1.0 - probability)
}

pub(super) fn yes(finding: &str) -> Seen {
    soft(finding, 1.0)
}

pub(super) fn no(finding: &str) -> Seen {
    soft(finding, 0.0)
}

pub(super) fn weighed(finding: &str, yes: f64, no: f64) -> Seen {
    Seen::Truth { finding: finding.to_owned(), yes, no }
}

/// Evidence on findings of which at most one can be true: a weight for each, and, where none of
/// them can be, one for that.
pub(super) fn one_of(findings: &[(&str, f64)], none: Option<f64>) -> Seen {
    let alone = |own: usize| (0..findings.len()).map(|other| other == own).collect::<Vec<bool>>();
    let mut patterns: Vec<(Vec<bool>, f64)> =
        findings.iter().enumerate().map(|(own, (_, weight))| (alone(own), *weight)).collect();
    patterns.extend(none.map(|weight| (vec![false; findings.len()], weight)));
    Seen::Group { findings: findings.iter().map(|(id, _)| (*id).to_owned()).collect(), patterns }
}

/// The evidence of a single round.
pub(super) fn seen(seen: &[Seen]) -> Vec<Round> {
    vec![Round { seen: seen.to_vec(), ..Round::default() }]
}

impl Model {
    /// Reads the causes and findings of a pack.
    pub(super) fn read(pack: &str) -> Self {
        let pack: Yaml = serde_yaml::from_str(pack).expect("YAML");
        let mut words: BTreeMap<String, f64> =
            WORDS.iter().map(|(word, strength)| ((*word).to_owned(), *strength)).collect();
        words.extend(section(&pack, "strengths").map(|(word, own)| (word, chance(own))));
        let mut findings: BTreeMap<String, Finding> = section(&pack, "findings")
            .map(|(id, finding)| {
                (id, Finding { leak: chance(&finding["leak"]), brought_by: Vec::new() })
            })
            .collect();
        let mut causes = Vec::new();
        for (index, (id, cause)) in section(&pack, "causes").enumerate() {
            causes.push((id, chance(&cause["common"])));
            for (finding, strength) in section(cause, "brings") {
                let word = strength.as_str().and_then(|word| words.get(word));
                let strength = word.copied().unwrap_or_else(|| chance(strength));
                let finding = findings.get_mut(&finding).expect("a finding of the pack");
                finding.brought_by.push((index, strength));
            }
        }
        Self { causes, findings }
    }

    /// The weight of every set of causes, a bit for each cause, summing to 1; none where what was
    /// seen can't be.
    pub(super) fn believed(&self, rounds: &[Round]) -> Option<Vec<f64>> {
        let mut sets: Vec<f64> =
            (0..1_usize << self.causes.len()).map(|set| self.prior(set)).collect();
        for round in rounds {
            for (set, weight) in sets.iter_mut().enumerate() {
                *weight *= round.seen.iter().map(|seen| self.weight(seen, set)).product::<f64>();
            }
            for mended in &round.mended {
                let cause = self.causes.iter().position(|(id, _)| id == mended).expect("a cause");
                mend(&mut sets, cause, round.succeeds);
            }
        }
        let total: f64 = sets.iter().sum();
        (total > 0.0).then(|| sets.iter().map(|weight| weight / total).collect())
    }

    /// The chance of a cause.
    pub(super) fn chance(&self, sets: &[f64], cause: &str) -> f64 {
        let index = self.causes.iter().position(|(id, _)| id == cause).expect("a cause");
        sets.iter().enumerate().filter(|(set, _)| set & 1 << index != 0).map(|(_, w)| w).sum()
    }

    fn prior(&self, set: usize) -> f64 {
        let causes = self.causes.iter().enumerate();
        causes.map(|(i, (_, p))| if set & 1 << i != 0 { *p } else { 1.0 - p }).product()
    }

    /// The chance of a finding with exactly these causes present.
    fn brought(&self, finding: &str, set: usize) -> f64 {
        let finding = &self.findings[finding];
        let present = finding.brought_by.iter().filter(|(cause, _)| set & 1 << cause != 0);
        1.0 - (1.0 - finding.leak) * present.map(|(_, strength)| 1.0 - strength).product::<f64>()
    }

    fn weight(&self, seen: &Seen, set: usize) -> f64 {
        match seen {
            Seen::Truth { finding, yes, no } => {
                let chance = self.brought(finding, set);
                yes * chance + no * (1.0 - chance)
            }
            Seen::Group { findings, patterns } => {
                let chance = |truths: &[bool]| -> f64 {
                    let each = findings.iter().zip(truths).map(|(finding, truth)| {
                        let chance = self.brought(finding, set);
                        if *truth { chance } else { 1.0 - chance }
                    });
                    each.product()
                };
                let all: f64 = patterns.iter().map(|(truths, _)| chance(truths)).sum();
                let seen: f64 = patterns.iter().map(|(truths, w)| w * chance(truths)).sum();
                if all > 0.0 { seen / all } else { 0.0 }
            }
            Seen::Together { units, states } => {
                let chance = |unit: &Unit, truths: &[bool]| -> f64 {
                    let each = unit.findings.iter().zip(truths).map(|(finding, truth)| {
                        let chance = self.brought(finding, set);
                        if *truth { chance } else { 1.0 - chance }
                    });
                    each.product()
                };
                let all: Vec<f64> = units
                    .iter()
                    .map(|unit| unit.possible.iter().map(|truths| chance(unit, truths)).sum())
                    .collect();
                let weigh = |(probability, shown): &(f64, Vec<Shown>)| {
                    let each = units.iter().zip(shown).zip(&all).map(|((unit, shown), all)| {
                        let fits: f64 = shown.iter().map(|(t, w)| w * chance(unit, t)).sum();
                        if *all > 0.0 { fits / all } else { 0.0 }
                    });
                    probability * each.product::<f64>()
                };
                states.iter().map(weigh).sum()
            }
        }
    }
}

fn mend(sets: &mut [f64], cause: usize, succeeds: f64) {
    for set in 0..sets.len() {
        if set & 1 << cause != 0 {
            let gone = sets[set] * succeeds;
            sets[set] -= gone;
            sets[set & !(1 << cause)] += gone;
        }
    }
}

fn section<'y>(yaml: &'y Yaml, key: &str) -> impl Iterator<Item = (String, &'y Yaml)> {
    let entries = yaml.get(key).and_then(Yaml::as_mapping).into_iter().flatten();
    entries.map(|(id, entry)| (id.as_str().expect("an id").to_owned(), entry))
}

/// "3 in 100", or a number.
fn chance(yaml: &Yaml) -> f64 {
    match yaml.as_str().and_then(|text| text.split_once(" in ")) {
        Some((part, whole)) => {
            part.parse::<f64>().expect("a number") / whole.parse::<f64>().expect("a number")
        }
        None => yaml.as_f64().expect("a chance"),
    }
}

/// Holds a printed conclusion against the enumeration: every cause's chance, the likely sets, what
/// speaks for and against each cause, and that nothing was left out.
pub(super) fn assert_agrees(conclusion: &Value, pack: &str, rounds: &[Round]) {
    let model = Model::read(pack);
    let sets = model.believed(rounds).expect("possible evidence");
    assert_eq!(conclusion["contradiction"], Value::Null);
    assert_eq!(conclusion["inference"]["exact"], Value::Bool(true));
    assert!(number(&conclusion["inference"], "left_out").abs() < CLOSE);
    assert_causes(conclusion, &model, &sets);
    assert_likely_sets(conclusion, &model, &sets);
    assert_reasons(conclusion, &model, rounds, &sets);
}

fn assert_causes(conclusion: &Value, model: &Model, sets: &[f64]) {
    let printed = list(conclusion, "causes");
    assert_eq!(printed.len(), model.causes.len(), "all causes are printed");
    let mut above = f64::INFINITY;
    for line in printed {
        let id = line["id"].as_str().expect("an id");
        let (probability, right) = (number(line, "probability"), model.chance(sets, id));
        assert!((probability - right).abs() < CLOSE, "{id}: {probability}, right is {right}");
        assert!(probability <= above, "{id} is out of order");
        above = probability;
    }
}

fn assert_likely_sets(conclusion: &Value, model: &Model, sets: &[f64]) {
    let printed = list(conclusion, "likely_sets");
    assert!(printed.len() <= 10, "{} sets", printed.len());
    let mut rest = sets.to_vec();
    for line in printed {
        let causes = list(line, "causes")
            .iter()
            .map(|id| model.causes.iter().position(|(known, _)| id == known).expect("a cause"));
        let set: usize = causes.map(|cause| 1 << cause).sum();
        let probability = number(line, "probability");
        assert!((probability - sets[set]).abs() < CLOSE, "{line}: right is {}", sets[set]);
        rest[set] = 0.0;
        let most = rest.iter().copied().fold(0.0, f64::max);
        assert!(probability > most - CLOSE, "{line} stands before a set of {most}");
    }
    let left = rest.iter().copied().fold(0.0, f64::max);
    assert!(printed.len() == 10 || left < CLOSE, "a set of {left} is missing");
}

/// Each finding that was seen, with the odds with it over the odds without it.
fn assert_reasons(conclusion: &Value, model: &Model, rounds: &[Round], sets: &[f64]) {
    for (cause, _) in &model.causes {
        let line = list(conclusion, "causes").iter().find(|line| line["id"] == *cause);
        let line = line.expect("all causes are printed");
        let mut expected = reasons(model, rounds, sets, cause);
        let mut told: Vec<(String, f64)> = Vec::new();
        for (side, speaks_for) in [("for", true), ("against", false)] {
            for reason in list(line, side) {
                let finding = reason["finding"].as_str().expect("an id");
                let printed = reason["times"].as_f64().unwrap_or(f64::INFINITY);
                // Odds near certainty are all rounding, on either side.
                let bounded = |times: f64| times.clamp(1e-8, 1e8);
                let close = |times: f64| (bounded(times) / bounded(printed)).ln().abs() < 1e-6;
                let known = expected.iter().position(|(id, times)| id == finding && close(*times));
                let Some(known) = known else {
                    panic!("{cause}: {finding} times {printed}; right are {expected:?}")
                };
                let (_, times) = expected.swap_remove(known);
                assert!(told.iter().all(|(id, _)| id != finding), "{cause}: {finding} twice");
                told.push((finding.to_owned(), times.ln().abs()));
                assert_eq!(times > 1.0, speaks_for, "{cause}: {finding} on the wrong side");
            }
        }
        // What changes the odds by a hundredth or less is not printed.
        expected.retain(|(_, times)| (times - 1.0).abs() > 0.010_001);
        // Nor is what the same finding did in another round, where it did less.
        let close = 1e-6;
        expected.retain(|(id, times)| {
            let weaker =
                |(other, most): &(String, f64)| other == id && times.ln().abs() <= most + close;
            !told.iter().any(weaker)
        });
        assert!(expected.is_empty(), "{cause}: not printed: {expected:?}");
    }
}

fn reasons(model: &Model, rounds: &[Round], sets: &[f64], cause: &str) -> Vec<(String, f64)> {
    let odds = |chance: f64| chance / (1.0 - chance).max(0.0);
    let with = model.chance(sets, cause);
    let mut found = Vec::new();
    for (round, evidence) in rounds.iter().enumerate() {
        for (index, seen) in evidence.seen.iter().enumerate() {
            for finding in seen.findings() {
                let mut fewer = rounds.to_vec();
                match seen.without(&finding) {
                    Some(thinner) => fewer[round].seen[index] = thinner,
                    None => drop(fewer[round].seen.remove(index)),
                }
                let Some(sets) = model.believed(&fewer) else { continue };
                let without = model.chance(&sets, cause);
                let same = (with - without).abs() < 1e-14;
                found.push((finding, if same { 1.0 } else { odds(with) / odds(without) }));
            }
        }
    }
    found
}

impl Seen {
    fn findings(&self) -> Vec<String> {
        match self {
            Self::Truth { finding, .. } => vec![finding.clone()],
            Self::Group { findings, .. } => findings.clone(),
            Self::Together { units, .. } => {
                units.iter().flat_map(|unit| unit.findings.clone()).collect()
            }
        }
    }

    /// The same evidence, had the finding never been in the pack.
    fn without(&self, finding: &str) -> Option<Self> {
        if let Self::Together { units, states } = self {
            return without_in(units, states, finding);
        }
        let Self::Group { findings, patterns } = self else { return None };
        let place = findings.iter().position(|id| id == finding)?;
        let mut left = findings.clone();
        left.remove(place);
        let mut fewer: Vec<(Vec<bool>, f64)> = Vec::new();
        for (truths, weight) in patterns {
            let mut truths = truths.clone();
            truths.remove(place);
            match fewer.iter_mut().find(|(known, _)| *known == truths) {
                Some((_, sum)) => *sum += weight,
                None => fewer.push((truths, *weight)),
            }
        }
        (!left.is_empty()).then_some(Self::Group { findings: left, patterns: fewer })
    }
}

fn without_in(units: &[Unit], states: &[(f64, Vec<Shown>)], finding: &str) -> Option<Seen> {
    let has = |unit: &Unit| unit.findings.iter().position(|id| id == finding);
    let (unit, place) = units.iter().enumerate().find_map(|(unit, own)| Some((unit, has(own)?)))?;
    let (mut units, mut states) = (units.to_vec(), states.to_vec());
    units[unit].findings.remove(place);
    if units[unit].findings.is_empty() {
        units.remove(unit);
        states.iter_mut().for_each(|(_, shown)| drop(shown.remove(unit)));
    } else {
        let possible = &mut units[unit].possible;
        for truths in possible.iter_mut() {
            truths.remove(place);
        }
        possible.sort();
        possible.dedup();
        for (_, shown) in &mut states {
            for (truths, _) in &mut shown[unit] {
                truths.remove(place);
            }
        }
    }
    (!units.is_empty()).then_some(Seen::Together { units, states })
}
