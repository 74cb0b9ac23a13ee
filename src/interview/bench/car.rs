//! A drawn car: its causes by their priors, what they show by their strengths.

use rand::RngExt;
use rand_xoshiro::Xoshiro256PlusPlus;

use crate::ranking::{Finding, Network, joint_probability};
use crate::rules::{ComplaintId, Pack, TypedIndex};

use crate::interview::bench::person::Group;

/// Cars are drawn until one shows the complaint, but no longer than this.
const MAX_DRAWS: usize = 20_000;

/// A car: which causes are present, and which findings are true.
pub(in crate::interview) struct Car {
    pub(in crate::interview) causes: Vec<bool>,
    pub(in crate::interview) findings: Vec<bool>,
}

/// A car with at least one cause that shows the complaint; `could_be` tells of causes and findings whether
/// one car can have them.
pub(in crate::interview) fn draw_car(
    pack: &Pack,
    network: &Network,
    complaint: ComplaintId,
    groups: &[Group],
    could_be: &dyn Fn(&[bool], &[bool]) -> bool,
    chance: &mut Xoshiro256PlusPlus,
) -> Option<Car> {
    let shows = &pack.complaints[complaint].shows;
    for _ in 0..MAX_DRAWS {
        let causes: Vec<bool> =
            network.priors().iter().map(|prior| chance.random::<f64>() < *prior).collect();
        if !causes.contains(&true) {
            continue;
        }
        let p_false = |finding: &Finding| finding.p_false(|cause| f64::from(causes[cause]));
        let p_false: Vec<f64> = network.findings().iter().map(p_false).collect();
        let mut findings: Vec<bool> =
            p_false.iter().map(|no| chance.random::<f64>() < 1.0 - no).collect();
        for group in groups {
            draw_pattern(group, &p_false, &mut findings, chance);
        }
        let is_possible = could_be(&causes, &findings);
        if is_possible && shows.iter().all(|finding| findings[finding.index()]) {
            return Some(Car { causes, findings });
        }
    }
    None
}

/// Draws one of the patterns that findings on one choice or one expression can take together.
fn draw_pattern(
    group: &Group,
    p_false: &[f64],
    findings: &mut [bool],
    chance: &mut Xoshiro256PlusPlus,
) {
    let (members, patterns) = group;
    let weight = |truths: &Vec<bool>| {
        joint_probability(truths, members.iter().map(|finding| p_false[finding.index()]))
    };
    let total: f64 = patterns.iter().map(weight).sum();
    let mut left = chance.random::<f64>() * total;
    let drawn = patterns.iter().find(|truths| {
        left -= weight(truths);
        left <= 0.0
    });
    for (finding, truth) in members.iter().zip(drawn.or(patterns.last()).into_iter().flatten()) {
        findings[finding.index()] = *truth;
    }
}
