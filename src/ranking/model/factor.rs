//! Evidence as factors: how much better or worse what was seen fits each state of the findings
//! (virtual evidence; Pearl 1988, §2.2.2). Pieces that rest on the same doubtful answers hang together by
//! these: given whether each is right or off, they are independent.

use std::ops::Range;

use super::network::Network;
use crate::ranking::distinct::distinct;
use crate::ranking::refusal::Refusal;

/// Findings that were looked at together: which of them are true, and how well that fits.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// The truth of each finding of the group, in the group's order.
    pub truths: Vec<bool>,
    /// Likelihood of what was seen, should this pattern be the true one; 0 up, only ratios matter.
    pub weight: f64,
}

impl Pattern {
    /// Probability of the pattern where each finding is false with the probability given, in order,
    /// independently of the others.
    ///
    /// ```
    /// let pattern = boostwright::ranking::Pattern { truths: vec![true, false], weight: 1.0 };
    /// assert!((pattern.probability([0.4, 0.5]) - 0.6 * 0.5).abs() < 1e-12);
    /// ```
    pub fn probability(&self, p_false: impl IntoIterator<Item = f64>) -> f64 {
        joint_probability(&self.truths, p_false)
    }
}

/// Probability that findings have just these truths, each being false with the probability given, in
/// order, independently of the others. False rather than true: what is next to impossible to be
/// false keeps its digits.
///
/// ```
/// let both = boostwright::ranking::joint_probability(&[true, false], [0.4, 0.5]);
/// assert!((both - 0.6 * 0.5).abs() < 1e-12);
/// ```
pub fn joint_probability(truths: &[bool], p_false: impl IntoIterator<Item = f64>) -> f64 {
    let each = truths.iter().zip(p_false);
    each.map(|(truth, p_false)| if *truth { 1.0 - p_false } else { p_false }).product()
}

/// One piece of evidence.
#[derive(Debug, Clone, PartialEq)]
pub enum Factor {
    /// One finding: weighs `yes·P(finding) + no·P(not finding)`.
    Single {
        /// Index of the finding.
        finding: usize,
        /// Likelihood of what was seen, should the finding be true; 0 up.
        yes: f64,
        /// Likelihood of what was seen, should it be false; 0 up.
        no: f64,
    },
    /// Findings that only occur in certain patterns (the options of one choice, limits of one
    /// expression): weighs the mean of the patterns' weights, each pattern counting by its own
    /// probability, for every set of causes.
    Group {
        /// Indices of the findings.
        findings: Vec<usize>,
        /// The patterns that can occur.
        patterns: Vec<Pattern>,
    },
    /// Findings that rest on the same doubtful answers.
    Joint(Joint),
}

impl Factor {
    /// The finding is true, beyond doubt.
    ///
    /// ```
    /// use boostwright::ranking::Factor;
    ///
    /// assert_eq!(Factor::yes(3), Factor::Single { finding: 3, yes: 1.0, no: 0.0 });
    /// ```
    pub fn yes(finding: usize) -> Self {
        Self::Single { finding, yes: 1.0, no: 0.0 }
    }

    /// The finding is false, beyond doubt.
    ///
    /// ```
    /// use boostwright::ranking::Factor;
    ///
    /// assert_eq!(Factor::no(3), Factor::Single { finding: 3, yes: 0.0, no: 1.0 });
    /// ```
    pub fn no(finding: usize) -> Self {
        Self::Single { finding, yes: 0.0, no: 1.0 }
    }

    /// The finding is true with probability `q` (0 to 1) by what was seen alone.
    ///
    /// ```
    /// use boostwright::ranking::Factor;
    ///
    /// // What is as likely true as false says nothing.
    /// assert_eq!(Factor::doubtful(3, 0.5), Factor::Single { finding: 3, yes: 0.5, no: 0.5 });
    /// ```
    pub fn doubtful(finding: usize, q: f64) -> Self {
        Self::Single { finding, yes: q, no: 1.0 - q }
    }

    /// The findings it speaks of.
    ///
    /// ```
    /// assert_eq!(boostwright::ranking::Factor::yes(3).findings(), [3]);
    /// ```
    pub fn findings(&self) -> &[usize] {
        match self {
            Self::Single { finding, .. } => std::slice::from_ref(finding),
            Self::Group { findings, .. } => findings,
            Self::Joint(joint) => joint.findings(),
        }
    }

    /// Refuses an unknown finding, a weight that is negative or not finite, and patterns that do not
    /// fit the group.
    pub(in crate::ranking) fn check(&self, network: &Network) -> Result<(), Refusal> {
        for finding in self.findings() {
            network.finding(*finding)?;
        }
        match self {
            Self::Single { yes, no, finding } => {
                check_weight(*yes, || format!("weight of finding {finding} being true"))?;
                check_weight(*no, || format!("weight of finding {finding} being false"))
            }
            Self::Group { findings, patterns } => {
                check_group(findings, patterns.iter().map(|pattern| pattern.truths.as_slice()))?;
                patterns.iter().try_for_each(|pattern| {
                    check_weight(pattern.weight, || "weight of a pattern".to_owned())
                })
            }
            Self::Joint(joint) => joint.check(network),
        }
    }

    /// Its value where each finding it speaks of is false with the probability given, in order.
    pub(in crate::ranking) fn value(&self, p_false: &[f64]) -> f64 {
        match self {
            Self::Single { yes, no, .. } => {
                p_false.first().map_or(0.0, |p_false| yes * (1.0 - p_false) + no * p_false)
            }
            Self::Group { patterns, .. } => mean_weight(patterns, p_false),
            Self::Joint(joint) => joint.value(p_false),
        }
    }

    /// The largest value it can take: factors are divided by it, so that all of them reach 1 at most.
    pub(in crate::ranking) fn max_weight(&self) -> f64 {
        match self {
            Self::Single { yes, no, .. } => yes.max(*no),
            Self::Group { patterns, .. } => patterns.iter().map(|p| p.weight).fold(0.0, f64::max),
            Self::Joint(joint) => joint.max_weight(),
        }
    }

    /// Whether it can have a value above 0 with some of the causes present that take the probability
    /// of each of its findings being false from `now` down to `all`.
    pub(in crate::ranking) fn can_fit(&self, now: &[f64], all: &[f64]) -> bool {
        match self {
            Self::Single { yes, no, .. } => now
                .iter()
                .zip(all)
                .all(|(now, all)| (*yes > 0.0 && *all < 1.0) || (*no > 0.0 && *now > 0.0)),
            Self::Group { patterns, .. } => patterns.iter().any(|pattern| {
                let mut findings = pattern.truths.iter().zip(now.iter().zip(all));
                let can_be =
                    |truth: bool, now: f64, all: f64| if truth { all < 1.0 } else { now > 0.0 };
                pattern.weight > 0.0
                    && findings.all(|(truth, (now, all))| can_be(*truth, *now, *all))
            }),
            Self::Joint(joint) => joint.can_fit(now, all),
        }
    }

    /// Whether it says for certain that its one finding is false.
    pub(in crate::ranking) fn is_surely_false(&self) -> bool {
        matches!(self, Self::Single { yes, no, .. } if *yes == 0.0 && *no > 0.0)
    }
}

/// Most answers of one joint factor: every combination of them is summed over.
const MAX_SLIPS: usize = 10;

/// An answer that may be off altogether.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slip {
    /// Weight of its being right; 0 up, only the ratio to `off` matters.
    pub right: f64,
    /// Weight of its being off.
    pub off: f64,
}

/// A piece of evidence for each combination of the answers it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Which of the factor's answers it rests on, by their places there.
    pub slips: Vec<usize>,
    /// What it weighs with just those of its answers off whose bits are set in the index: a factor for
    /// each of the 2ⁿ combinations, all of them on the same findings in the same order.
    pub factors: Vec<Factor>,
    /// For each of its findings the same without it, where findings are weighed by common patterns; empty
    /// where a factor says that by itself.
    pub without: Vec<Vec<Factor>>,
}

impl Part {
    /// A piece whose factors each say what they weigh without one of their findings.
    #[must_use]
    pub fn new(slips: Vec<usize>, factors: Vec<Factor>) -> Self {
        Self { slips, factors, without: Vec::new() }
    }

    /// The indices of its findings.
    #[must_use]
    pub fn findings(&self) -> &[usize] {
        self.factors.first().map_or(&[], Factor::findings)
    }

    /// Which of its factors counts, where the answers of the whole are off as the bits of `off` say.
    fn place(&self, off: usize) -> usize {
        let own = self.slips.iter().enumerate();
        own.fold(0, |place, (bit, slip)| place | (off >> slip & 1) << bit)
    }
}

/// Pieces of evidence that hang together by the answers they rest on: weighs the sum, over all
/// combinations of answers being right or off, of the product of the answers' weights and of what each
/// piece weighs then.
///
/// ```
/// use boostwright::ranking::{Belief, Factor, Finding, Joint, Link, Network, Part, Slip, posterior};
///
/// // One reading, off once in ten times, shows both findings; off, it tells nothing of either.
/// let links = |strength| vec![Link { cause: 0, strength }];
/// let findings = vec![Finding { leak: 0.1, links: links(0.8) }, Finding { leak: 0.2, links: links(0.9) }];
/// let network = Network::new(vec![0.5], findings)?;
/// let nothing = |finding| Factor::Single { finding, yes: 1.0, no: 1.0 };
/// let told = |finding| Part::new(vec![0], vec![Factor::yes(finding), nothing(finding)]);
/// let both = Joint::new(vec![Slip { right: 0.9, off: 0.1 }], vec![told(0), told(1)]);
/// let believed = posterior(&network, &Belief::start(), &[Factor::Joint(both)])?;
/// // 0.9·0.82·0.92 + 0.1 with the cause, 0.9·0.1·0.2 + 0.1 without it.
/// assert!((believed.probabilities()[0] - 0.77896 / (0.77896 + 0.118)).abs() < 1e-12);
/// # Ok::<(), boostwright::ranking::Refusal>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    slips: Vec<Slip>,
    parts: Vec<Part>,
    /// Those of all parts, one part after the other.
    findings: Vec<usize>,
}

impl Joint {
    /// Pieces of evidence on the answers `slips`.
    #[must_use]
    pub fn new(slips: Vec<Slip>, parts: Vec<Part>) -> Self {
        let findings = parts.iter().flat_map(Part::findings).copied().collect();
        Self { slips, parts, findings }
    }

    /// The answers it rests on.
    #[must_use]
    pub fn slips(&self) -> &[Slip] {
        &self.slips
    }

    /// Its pieces.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// The indices of its findings, one piece after the other.
    #[must_use]
    pub fn findings(&self) -> &[usize] {
        &self.findings
    }

    /// The same, the answer at `slip` being off, or right, for certain; nothing where there is none.
    #[must_use]
    pub fn with(&self, slip: usize, off: bool) -> Option<Self> {
        let mut other = self.clone();
        let own = other.slips.get_mut(slip)?;
        *own = if off { Slip { right: 0.0, ..*own } } else { Slip { off: 0.0, ..*own } };
        Some(other)
    }

    /// The same without the finding at `place`; `thin` says what a plain factor is without one of its.
    /// Nothing where no other finding is left.
    pub(in crate::ranking) fn without(
        &self,
        place: usize,
        thin: impl Fn(&Factor, usize) -> Option<Factor>,
    ) -> Option<Self> {
        let mut parts = Vec::with_capacity(self.parts.len());
        for (part, places) in self.placed() {
            if !places.contains(&place) {
                parts.push(part.clone());
                continue;
            }
            let own = place - places.start;
            let left: Option<Vec<Factor>> = match part.without.get(own) {
                Some(factors) => Some(factors.clone()),
                None => part.factors.iter().map(|factor| thin(factor, own)).collect(),
            };
            parts.extend(left.map(|factors| Part::new(part.slips.clone(), factors)));
        }
        (!parts.is_empty()).then(|| Self::new(self.slips.clone(), parts))
    }

    /// The parts with the places of their findings.
    fn placed(&self) -> impl Iterator<Item = (&Part, Range<usize>)> {
        let mut next = 0;
        self.parts.iter().map(move |part| {
            let from = next;
            next += part.findings().len();
            (part, from..next)
        })
    }

    /// Every combination of answers that can be, as bits that say which are off, with its weight.
    fn combinations(&self) -> impl Iterator<Item = (usize, f64)> {
        let weight = |off: usize| {
            let each = self.slips.iter().enumerate();
            each.map(|(bit, slip)| if off >> bit & 1 == 1 { slip.off } else { slip.right })
                .product()
        };
        let all = (0..1_usize << self.slips.len()).map(move |off| (off, weight(off)));
        all.filter(|(_, weight)| *weight > 0.0)
    }

    /// The term of each combination, given what each part weighs in each of its own.
    fn terms(&self, of: impl Fn(&Factor, Range<usize>) -> f64) -> Vec<f64> {
        let each = |(part, places): (&Part, Range<usize>)| {
            part.factors.iter().map(|factor| of(factor, places.clone())).collect()
        };
        let values: Vec<Vec<f64>> = self.placed().map(each).collect();
        let product = |off: usize| {
            let own = self.parts.iter().zip(&values);
            own.map(|(part, values)| values[part.place(off)]).product::<f64>()
        };
        self.combinations().map(|(off, weight)| weight * product(off)).collect()
    }

    /// The terms that its value is the sum of, one for each combination of answers that can be.
    pub(in crate::ranking) fn terms_at(&self, p_false: &[f64]) -> Vec<f64> {
        self.terms(|factor, places| p_false.get(places).map_or(0.0, |own| factor.value(own)))
    }

    /// What it weighs where each of its findings is false with the probability given, in order.
    #[must_use]
    pub fn value(&self, p_false: &[f64]) -> f64 {
        self.terms_at(p_false).into_iter().sum()
    }

    /// A bound on the value.
    fn max_weight(&self) -> f64 {
        self.terms(|factor, _| factor.max_weight()).into_iter().sum()
    }

    fn can_fit(&self, now: &[f64], all: &[f64]) -> bool {
        self.combinations().any(|(off, _)| {
            self.placed().all(|(part, places)| {
                let own = part.factors.get(part.place(off));
                let ends = now.get(places.clone()).zip(all.get(places));
                own.zip(ends).is_some_and(|(factor, (now, all))| factor.can_fit(now, all))
            })
        })
    }

    fn check(&self, network: &Network) -> Result<(), Refusal> {
        let bad = |reason| Err(Refusal::BadGroup { reason });
        if self.slips.len() > MAX_SLIPS {
            return bad("it rests on too many answers");
        }
        for slip in &self.slips {
            check_weight(slip.right, || "weight of an answer being right".to_owned())?;
            check_weight(slip.off, || "weight of an answer being off".to_owned())?;
        }
        for part in &self.parts {
            let known = part.slips.iter().all(|slip| *slip < self.slips.len());
            if !known || part.factors.len() != 1 << part.slips.len() {
                return bad("a part doesn't fit its answers");
            }
            if part.without.iter().any(|left| left.len() != part.factors.len()) {
                return bad("a part without a finding doesn't fit its answers");
            }
            for factor in &part.factors {
                if matches!(factor, Factor::Joint(_)) || factor.findings() != part.findings() {
                    return bad("a part is on other findings with an answer off");
                }
                factor.check(network)?;
            }
        }
        check_distinct(&self.findings)
    }
}

/// Mean weight of the patterns, each by its probability; 0 where none of them can occur.
fn mean_weight(patterns: &[Pattern], p_false: &[f64]) -> f64 {
    let (mut all, mut weighed) = (0.0, 0.0);
    for pattern in patterns {
        let probability = pattern.probability(p_false.iter().copied());
        all += probability;
        weighed += probability * pattern.weight;
    }
    if all > 0.0 { weighed / all } else { 0.0 }
}

/// Refuses a finding named twice, no pattern, and a pattern that does not fit the findings.
pub(super) fn check_group<'p>(
    findings: &[usize],
    patterns: impl IntoIterator<Item = &'p [bool]>,
) -> Result<(), Refusal> {
    check_distinct(findings)?;
    let mut patterns = patterns.into_iter().peekable();
    if patterns.peek().is_none() {
        return Err(Refusal::BadGroup { reason: "no pattern can occur" });
    }
    if patterns.any(|truths| truths.len() != findings.len()) {
        return Err(Refusal::BadGroup { reason: "a pattern has another number of findings" });
    }
    Ok(())
}

/// Refuses a finding named twice.
pub(in crate::ranking) fn check_distinct(findings: &[usize]) -> Result<(), Refusal> {
    if distinct(findings.iter().copied()).len() < findings.len() {
        return Err(Refusal::BadGroup { reason: "a finding is named twice" });
    }
    Ok(())
}

fn check_weight(value: f64, what: impl FnOnce() -> String) -> Result<(), Refusal> {
    if value.is_finite() && value >= 0.0 {
        Ok(())
    } else {
        Err(Refusal::NotAWeight { what: what(), value })
    }
}
