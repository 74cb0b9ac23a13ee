//! What answers make of a truth, from the contract's words alone: three values, patterns of parts,
//! their probabilities under the answers.

use std::collections::BTreeMap;

/// A truth over the answers to numbered questions.
#[derive(Debug, Clone)]
pub(super) enum Truth {
    /// A yes-or-no question.
    Yes(usize),
    /// A choice's option.
    Is(usize, usize),
    /// A measurement above a limit, both in hundredths of a bar.
    Above(usize, i32),
    Both(Box<Truth>, Box<Truth>),
    Either(Box<Truth>, Box<Truth>),
    Not(Box<Truth>),
}

/// An answer, with how far it can be trusted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Given {
    YesOrNo {
        yes: bool,
        sure: f64,
    },
    Choice {
        option: usize,
        of: usize,
        sure: f64,
    },
    /// In hundredths of a bar.
    Reading {
        value: f64,
        uncertainty: f64,
    },
}

/// What is known, by question.
pub(super) type Known = BTreeMap<usize, Given>;

/// The states a question can be in, told apart by the parts that ask for it, each with its
/// probability.
type States = Vec<(Vec<bool>, f64)>;

/// The probability of a truth; none where it most likely hangs on what nobody answered.
#[derive(Debug, Clone, Copy)]
pub(super) struct Weighed {
    pub(super) probability: Option<f64>,
}

impl Truth {
    /// As a rule file writes it.
    pub(super) fn formula(&self) -> String {
        match self {
            Self::Yes(question) => format!("question_{question}"),
            Self::Is(question, option) => format!("question_{question} == option_{option}"),
            Self::Above(question, limit) => {
                format!("question_{question} > {:.2} bar", f64::from(*limit) / 100.0)
            }
            Self::Both(a, b) => format!("({} and {})", a.formula(), b.formula()),
            Self::Either(a, b) => format!("({} or {})", a.formula(), b.formula()),
            Self::Not(inner) => format!("not ({})", inner.formula()),
        }
    }

    /// The questions it asks for, in order.
    pub(super) fn questions(&self) -> Vec<usize> {
        let mut found: Vec<usize> = self.parts().iter().map(Truth::question).collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    fn parts(&self) -> Vec<Self> {
        match self {
            Self::Both(a, b) | Self::Either(a, b) => [a.parts(), b.parts()].concat(),
            Self::Not(inner) => inner.parts(),
            part => vec![part.clone()],
        }
    }

    fn question(&self) -> usize {
        match self {
            Self::Yes(question) | Self::Is(question, _) | Self::Above(question, _) => *question,
            _ => unreachable!("a part asks for one question"),
        }
    }

    /// Whether a part holds where the question's answer is exactly this.
    fn holds(&self, exactly: Given) -> bool {
        match (self, exactly) {
            (Self::Yes(_), Given::YesOrNo { yes, .. }) => yes,
            (Self::Is(_, wanted), Given::Choice { option, .. }) => *wanted == option,
            (Self::Above(_, limit), Given::Reading { value, .. }) => value > f64::from(*limit),
            _ => unreachable!("an answer of another form"),
        }
    }

    /// With the parts' values in order: no-and-unknown is no, yes-or-unknown is yes.
    fn value(&self, parts: &mut impl Iterator<Item = Option<bool>>) -> Option<bool> {
        match self {
            Self::Both(a, b) => match (a.value(parts), b.value(parts)) {
                (Some(false), _) | (_, Some(false)) => Some(false),
                (Some(true), Some(true)) => Some(true),
                _ => None,
            },
            Self::Either(a, b) => match (a.value(parts), b.value(parts)) {
                (Some(true), _) | (_, Some(true)) => Some(true),
                (Some(false), Some(false)) => Some(false),
                _ => None,
            },
            Self::Not(inner) => inner.value(parts).map(|value| !value),
            _ => parts.next().expect("a value for every part"),
        }
    }

    /// Its value where the answers are exactly these.
    pub(super) fn exactly(&self, exact: &Known) -> Option<bool> {
        let parts = self.parts();
        let mut values =
            parts.iter().map(|part| exact.get(&part.question()).map(|given| part.holds(*given)));
        self.value(&mut values)
    }

    /// By how many patterns of its parts it is true, and false; 1 of a truth on one thing.
    pub(super) fn counts(&self, known: &Known) -> (f64, f64) {
        let questions = self.questions();
        if questions.len() == 1 {
            return (1.0, 1.0);
        }
        let found = patterns(&self.parts(), &questions, known);
        let count = |wanted: bool| {
            let like = |(values, _): &&(Vec<Option<bool>>, f64)| {
                self.value(&mut values.iter().copied()) == Some(wanted)
            };
            found.iter().filter(like).count() as f64
        };
        (count(true), count(false))
    }

    /// What the answers make of it; none where they don't tell, or there are none.
    pub(super) fn weigh(&self, known: &Known) -> Option<Weighed> {
        let questions = self.questions();
        let (mut yes, mut no, mut open) = (0.0, 0.0, 0.0);
        for (values, probability) in patterns(&self.parts(), &questions, known) {
            match self.value(&mut values.into_iter()) {
                Some(true) => yes += probability,
                Some(false) => no += probability,
                None => open += probability,
            }
        }
        (yes + no > 0.0).then(|| Weighed { probability: (open <= 0.5).then_some(yes) })
    }
}

/// Every pattern of the parts that can occur, with its probability; parts that nobody answered
/// have no value.
fn patterns(parts: &[Truth], questions: &[usize], known: &Known) -> Vec<(Vec<Option<bool>>, f64)> {
    let mut found = vec![(vec![None; parts.len()], 1.0)];
    for question in questions {
        let Some(given) = known.get(question) else { continue };
        let own: Vec<usize> =
            (0..parts.len()).filter(|part| parts[*part].question() == *question).collect();
        let asked: Vec<&Truth> = own.iter().map(|part| &parts[*part]).collect();
        let (own, states) = (&own, &states(&asked, *given));
        found = found
            .iter()
            .flat_map(|(values, probability)| {
                states.iter().map(move |(truths, chance)| {
                    let mut values = values.clone();
                    own.iter().zip(truths).for_each(|(part, truth)| values[*part] = Some(*truth));
                    (values, probability * chance)
                })
            })
            .collect();
    }
    found
}

/// The states that these parts tell apart.
fn states(parts: &[&Truth], given: Given) -> States {
    let truths = |exactly: Given| parts.iter().map(|part| part.holds(exactly)).collect();
    let all: Vec<(Vec<bool>, f64)> = match given {
        Given::YesOrNo { yes, sure } => vec![
            (truths(Given::YesOrNo { yes, sure }), sure),
            (truths(Given::YesOrNo { yes: !yes, sure }), 1.0 - sure),
        ],
        Given::Choice { option, of, sure } => (0..of)
            .map(|other| {
                let rest = (1.0 - sure) / (of - 1) as f64;
                let chance = if other == option { sure } else { rest };
                (truths(Given::Choice { option: other, of, sure }), chance)
            })
            .collect(),
        Given::Reading { value, uncertainty } => stretches(parts)
            .into_iter()
            .map(|(low, high, inside)| {
                let chance =
                    chance_below(high, value, uncertainty) - chance_below(low, value, uncertainty);
                (truths(Given::Reading { value: inside, uncertainty }), chance)
            })
            .collect(),
    };
    merged(all)
}

/// What lies between neighbouring limits, with a point inside.
fn stretches(parts: &[&Truth]) -> Vec<(f64, f64, f64)> {
    let mut cuts: Vec<f64> = parts
        .iter()
        .filter_map(|part| match part {
            Truth::Above(_, limit) => Some(f64::from(*limit)),
            _ => None,
        })
        .collect();
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    let (first, last) = (cuts[0], cuts[cuts.len() - 1]);
    let mut found = vec![(f64::NEG_INFINITY, first, first - 1.0)];
    found.extend(cuts.windows(2).map(|pair| (pair[0], pair[1], pair[0].midpoint(pair[1]))));
    found.push((last, f64::INFINITY, last + 1.0));
    found
}

fn chance_below(limit: f64, value: f64, uncertainty: f64) -> f64 {
    if uncertainty == 0.0 {
        return if value < limit { 1.0 } else { 0.0 };
    }
    libm::erfc((value - limit) / uncertainty / 2.0_f64.sqrt()) / 2.0
}

fn merged(states: States) -> States {
    let mut found: States = Vec::new();
    for (truths, chance) in states {
        match found.iter_mut().find(|(known, _)| *known == truths) {
            Some((_, sum)) => *sum += chance,
            None => found.push((truths, chance)),
        }
    }
    found
}

/// Several truths on the same choice or measurement: the patterns of them that can occur.
pub(super) fn group(truths: &[&Truth], given: Given) -> States {
    let parts: Vec<Truth> = truths.iter().flat_map(|truth| truth.parts()).collect();
    let asked: Vec<&Truth> = parts.iter().collect();
    let all = states(&asked, given)
        .into_iter()
        .map(|(values, chance)| {
            let mut values = values.into_iter().map(Some);
            let each = truths.iter().map(|truth| truth.value(&mut values).expect("all is known"));
            (each.collect(), chance)
        })
        .collect();
    merged(all)
}

/// Everything that the answered questions below these truths may really be, with its probability.
pub(super) fn possibilities(truths: &[&Truth], known: &Known) -> Vec<(Known, f64)> {
    let parts: Vec<Truth> = truths.iter().flat_map(|truth| truth.parts()).collect();
    let mut found = vec![(Known::new(), 1.0)];
    for (question, given) in known {
        let asked: Vec<&Truth> = parts.iter().filter(|part| part.question() == *question).collect();
        if asked.is_empty() {
            continue;
        }
        let exact: Vec<(Given, f64)> = match *given {
            Given::YesOrNo { yes, sure } => vec![
                (Given::YesOrNo { yes, sure }, sure),
                (Given::YesOrNo { yes: !yes, sure }, 1.0 - sure),
            ],
            Given::Choice { option, of, sure } => (0..of)
                .map(|other| {
                    let rest = (1.0 - sure) / (of - 1) as f64;
                    let chance = if other == option { sure } else { rest };
                    (Given::Choice { option: other, of, sure }, chance)
                })
                .collect(),
            Given::Reading { value, uncertainty } => stretches(&asked)
                .into_iter()
                .map(|(low, high, inside)| {
                    let below = |limit: f64| chance_below(limit, value, uncertainty);
                    (Given::Reading { value: inside, uncertainty }, below(high) - below(low))
                })
                .collect(),
        };
        found = found
            .iter()
            .flat_map(|(before, chance)| {
                exact.iter().filter(|(_, own)| *own > 0.0).map(move |(given, own)| {
                    let mut all = before.clone();
                    all.insert(*question, *given);
                    (all, chance * own)
                })
            })
            .collect();
    }
    found
}
