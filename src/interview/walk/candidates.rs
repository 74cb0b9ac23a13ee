//! Which causes are still in play: once a few explain the complaint, a look that doesn't tell these
//! few apart settles nothing.

use crate::ranking::Posterior;
use crate::rules::Pack;

/// A cause this many times less likely than the lead is out of play ...
const TIMES_BEHIND: f64 = 20.0;
/// ... as soon as the chances of those in play sum to this: one of them is almost surely there.
const EXPLAINED: f64 = 0.95;
/// A finding whose chance differs by less from one cause to the next doesn't tell them apart.
const TELLING: f64 = 0.1;

/// The causes that a question must tell apart to be worth asking.
pub(in crate::interview) struct Candidates {
    /// None as long as nothing explains the complaint: then everything is in play.
    causes: Option<Vec<usize>>,
}

impl Candidates {
    pub(in crate::interview) fn of(believed: &Posterior) -> Self {
        let chances = believed.probabilities();
        let lead = chances.iter().copied().fold(0.0, f64::max);
        let near = |cause: &usize| chances[*cause] * TIMES_BEHIND >= lead;
        let causes: Vec<usize> = (0..chances.len()).filter(near).collect();
        let sum: f64 = causes.iter().map(|cause| chances[*cause]).sum();
        Self { causes: Some(causes).filter(|_| sum >= EXPLAINED) }
    }

    /// Whether a finding tells the causes in play apart; where there is just one, whether it speaks
    /// for that one at all.
    pub(in crate::interview) fn told_apart_by(&self, pack: &Pack, finding: usize) -> bool {
        let (Some(causes), Some(finding)) = (&self.causes, pack.network.findings().get(finding))
        else {
            return true;
        };
        let with = |cause: &usize| finding.probability_given(|present| present == *cause);
        let mut chances: Vec<f64> = causes.iter().map(with).collect();
        if let [_] = chances.as_slice() {
            chances.push(finding.leak);
        }
        let most = chances.iter().copied().fold(0.0, f64::max);
        let least = chances.iter().copied().fold(1.0, f64::min);
        most - least >= TELLING
    }
}
