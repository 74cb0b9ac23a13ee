//! What is believed about the causes once everything seen is weighed.

use super::likely_sets::{LikelySet, combined, present_sets};
use super::minimal_conflict::minimal_conflict;
use crate::ranking::inference::{
    ComponentPosterior, Effort, RestsOn, WeightedSets, components, solve,
};
use crate::ranking::model::{Belief, Factor, Network};
use crate::ranking::refusal::Refusal;

/// How far the numbers can be trusted as numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inference {
    /// Whether each cause's probability counts every set.
    pub exact: bool,
    /// By how much any cause's probability may be off, 0 to 1; 0 where exact.
    pub left_out: f64,
    /// What `left_out` rests on.
    pub rests_on: RestsOn,
}

/// The causes after the evidence.
#[derive(Debug, Clone)]
pub struct Posterior {
    pub(super) probabilities: Vec<f64>,
    doubts: Vec<f64>,
    pub(super) components: Vec<ComponentPosterior>,
    /// The index of the component each cause is in.
    pub(super) component_of: Vec<usize>,
    /// The number of the present round.
    pub(super) now: usize,
    inference: Inference,
}

/// Weighs the evidence of this round's `factors` on the `belief` earlier rounds left.
///
/// ```
/// use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior};
///
/// // Two causes; only the first brings the finding, which is seen.
/// let links = vec![Link { cause: 0, strength: 0.8 }];
/// let network = Network::new(vec![0.1, 0.1], vec![Finding { leak: 0.0, links }])?;
/// let believed = posterior(&network, &Belief::start(), &[Factor::yes(0)])?;
/// assert_eq!(believed.lead(), Some(0));
/// assert!((believed.probabilities()[0] - 1.0).abs() < 1e-12);
/// assert!((believed.probabilities()[1] - 0.1).abs() < 1e-12);
/// # Ok::<(), boostwright::ranking::Refusal>(())
/// ```
///
/// # Errors
/// [`Refusal`] where an index or a number is out of range, and where what was seen cannot all be true.
pub fn posterior(
    network: &Network,
    belief: &Belief,
    factors: &[Factor],
) -> Result<Posterior, Refusal> {
    posterior_with(network, belief, factors, Effort::Question)
}

/// [`posterior`] with as much work as the answer is worth, where not every set can be counted.
///
/// # Errors
/// As there.
pub fn posterior_with(
    network: &Network,
    belief: &Belief,
    factors: &[Factor],
    effort: Effort,
) -> Result<Posterior, Refusal> {
    belief.check(network)?;
    factors.iter().try_for_each(|factor| factor.check(network))?;
    let evidence = belief.evidence(factors);
    let now = belief.rounds();
    let solved: Option<Vec<ComponentPosterior>> = components(network, &evidence, belief)
        .and_then(|all| all.iter().map(|component| solve(component, now, effort)).collect());
    match solved {
        Some(components) => Ok(Posterior::new(network, now, components)),
        None => {
            Err(Refusal::Contradiction { factors: minimal_conflict(network, belief, evidence) })
        }
    }
}

impl Posterior {
    fn new(network: &Network, now: usize, components: Vec<ComponentPosterior>) -> Self {
        let causes = network.priors().len();
        let (mut probabilities, mut component_of) = (vec![0.0; causes], vec![0; causes]);
        let mut doubts = vec![0.0; causes];
        for (index, component) in components.iter().enumerate() {
            for ((cause, probability), doubt) in
                component.probabilities.iter().zip(&component.doubts)
            {
                (probabilities[*cause], component_of[*cause]) = (*probability, index);
                doubts[*cause] = *doubt;
            }
        }
        let left_out = doubts.iter().copied().fold(0.0, f64::max);
        let rests_on = components.iter().map(|one| one.rests_on).max();
        let rests_on = rests_on.unwrap_or(RestsOn::AllSets);
        let inference = Inference { exact: rests_on == RestsOn::AllSets, left_out, rests_on };
        Self { probabilities, doubts, components, component_of, now, inference }
    }

    /// Probability of each cause being present now, by index.
    ///
    /// ```
    /// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior};
    /// # let link = |cause, strength| Link { cause, strength };
    /// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
    /// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
    /// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
    /// let evidence = [Factor::yes(0), Factor::yes(1)];
    /// let seen = posterior(&network, &Belief::start(), &evidence)?;
    /// assert!(seen.probabilities()[0] > seen.probabilities()[1]);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn probabilities(&self) -> &[f64] {
        &self.probabilities
    }

    /// By how much each cause's probability may be off, by index; 0 where every set was counted.
    pub fn doubts(&self) -> &[f64] {
        &self.doubts
    }

    /// The likeliest cause; of equals the first. None in a network without causes.
    ///
    /// ```
    /// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior};
    /// # let link = |cause, strength| Link { cause, strength };
    /// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
    /// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
    /// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
    /// let evidence = [Factor::yes(0), Factor::yes(1)];
    /// let seen = posterior(&network, &Belief::start(), &evidence)?;
    /// assert_eq!(seen.lead(), Some(0));
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn lead(&self) -> Option<usize> {
        lead(&self.probabilities)
    }

    /// How far the numbers can be trusted.
    ///
    /// ```
    /// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior};
    /// # let link = |cause, strength| Link { cause, strength };
    /// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
    /// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
    /// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
    /// let evidence = [Factor::yes(0), Factor::yes(1)];
    /// let seen = posterior(&network, &Belief::start(), &evidence)?;
    /// // Two causes are few enough for every set of them.
    /// assert!(seen.inference().exact);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn inference(&self) -> Inference {
        self.inference
    }

    /// The `count` likeliest sets of causes present now, likeliest first; sets of probability 0 are
    /// left out.
    ///
    /// ```
    /// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior};
    /// # let link = |cause, strength| Link { cause, strength };
    /// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
    /// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
    /// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
    /// let evidence = [Factor::yes(0), Factor::yes(1)];
    /// let seen = posterior(&network, &Belief::start(), &evidence)?;
    /// assert_eq!(seen.likely_sets(1)[0].causes, [0]);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn likely_sets(&self, count: usize) -> Vec<LikelySet> {
        let nothing = vec![LikelySet { causes: Vec::new(), probability: 1.0 }];
        self.components.iter().fold(nothing, |best, component| {
            combined(&best, &present_sets(component, self.now, count), count)
        })
    }

    /// Probability of a finding being true, were it looked at now. Over a component too large to be
    /// listed whole it is good to about 1e-4: the likeliest sets speak for the rest.
    ///
    /// ```
    /// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior};
    /// # let link = |cause, strength| Link { cause, strength };
    /// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
    /// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
    /// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
    /// let evidence = [Factor::yes(0), Factor::yes(1)];
    /// let seen = posterior(&network, &Belief::start(), &evidence)?;
    /// // Whoever looks again at what was seen to be true will most likely find it so.
    /// assert!(seen.probability_of(&network, 1)? > 0.8);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    ///
    /// # Errors
    /// [`Refusal`] where the network has no such finding, or more causes than the posterior.
    pub fn probability_of(&self, network: &Network, finding: usize) -> Result<f64, Refusal> {
        let finding = network.finding(finding)?;
        let mut inhibitions = vec![1.0; self.probabilities.len()];
        for link in &finding.links {
            let unknown = Refusal::UnknownCause { cause: link.cause };
            *inhibitions.get_mut(link.cause).ok_or(unknown)? = link.inhibition();
        }
        let linked = self.components.iter().filter(|component| {
            component.probabilities.iter().any(|(cause, _)| inhibitions[*cause] < 1.0)
        });
        let inhibited: f64 =
            linked.map(|one| mean_inhibition(&one.sets, self.now, &inhibitions)).product();
        Ok(1.0 - finding.p_false_by_leak() * inhibited)
    }
}

/// The likeliest cause by these probabilities: the index of the largest, of equals the first. None of
/// an empty list.
///
/// ```
/// assert_eq!(boostwright::ranking::lead(&[0.2, 0.7, 0.7]), Some(1));
/// ```
pub fn lead(probabilities: &[f64]) -> Option<usize> {
    let best = probabilities.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    probabilities.iter().position(|p| *p == best)
}

/// Mean over the listed sets of the product of the inhibitions of the causes present now.
fn mean_inhibition(sets: &WeightedSets, now: usize, inhibitions: &[f64]) -> f64 {
    let (mut sum, mut total) = (0.0, 0.0);
    for (members, weight) in sets.iter() {
        let present = members.iter().filter(|member| member.is_present_in(now));
        sum += weight * present.map(|member| inhibitions[member.cause]).product::<f64>();
        total += weight;
    }
    sum / total
}
